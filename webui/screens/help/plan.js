// @ts-check
// The plan: what is searched, what is best, and what proven means.

import { curvesDrawing } from "../../draw/curves.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { sure, UNIT } from "./example.js";
import { formula, inline, over } from "./formula.js";
import { word } from "./words.js";

/** @type {import("../../engine/calculations.js").ShelfPiece[]} */
const SHELF = [
  ...[2.4, 2.5, 2.55, 2.6].map((mm) => ({
    name: `F ${mm.toFixed(2)}`,
    part: /** @type {const} */ ("friction"),
    mm,
    count: 4,
  })),
  ...[1.9, 2, 2.1].map((mm) => ({
    name: `S ${mm.toFixed(1)}`,
    part: /** @type {const} */ ("separator"),
    mm,
    count: 6,
  })),
];

const WORKING = html`<p>A check at a known crush says what each newton of preload gives:</p>
  ${formula("k =", over("T", "F ( c )"))}
  <p>
    So a thickness ${inline("x")} in the stack gives ${inline("k · F ( c )")} with its own crush, and what is wanted
    becomes a window of thicknesses, kept below the spring's peak:
  </p>
  ${formula("| k · F ( c ) − T_w | ≤ d")}
  <p>
    Every place takes a plate that is fitted now or a piece from the shelf, counted in whole micrometres. Among all
    fillings inside the window the best one has
  </p>
  <ol class="steps">
    <li>the fewest plates changed; of those</li>
    <li>sides as equal as can be; of those</li>
    <li>the torque closest to what is wanted.</li>
  </ol>
  <h3>What proven means</h3>
  <p>
    No filling is skipped by a rule of thumb. All sums of thickness that can be reached are built up plate by plate
    as sets, for every number of changes; a branch is cut only where those sets show that nothing in it can be
    better. The count that is shown is the number of fillings so covered. Where brute force can be run at all, our
    tests run it, and it finds the same. From a shelf of dozens of odd thicknesses that may take too long: then the
    fewest changes are proven, the rest is not, and the plan says so.
  </p>
  <h3>How far it may come out off</h3>
  <p>
    From the pieces' own tolerance, the spring's where it is new, and the doubt of the measured torque: see
    <a href="#/help/stack">Stack and crush</a>.
  </p>`;

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["T", "torque at the last check", "N·m"],
  ["F", "preload at a crush", "N"],
  ["c", "crush", "mm"],
  ["k", "torque for each newton", "N·m/N"],
  ["T_w", "torque that is wanted", "N·m"],
  ["d", "give or take", "N·m"],
];

const LIMITS = [
  "Best means best by these three rules, from this shelf, with these thicknesses. A plate that was counted " +
    "wrong makes it the best of something else.",
  "Without a check the friction is assumed from the definition, and the torque is no better than that.",
  html`Another order of the plates or another spring is tried beside it and named for what it changes: order changes
      lock as well, thickness only preload.`,
  "Check the torque before it goes out, whatever the plan says.",
];

const SOURCES = [
  "The search and why it covers every filling: our own; the sets are worked out exactly in whole numbers, " +
    "and tested against brute force.",
  "The spring's curve: DIN EN 16984:2017. Load of a new spring: DIN EN 16983:2017, from a spring maker's " +
    "table; above 6 mm from memory.",
  "Fewest plates first, then even sides, then closest; classes within 0.02 mm: common practice, no source.",
];

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  const fitted = UNIT.chain.filter((item) => item.part === "friction").map((item) => ({ slot: item.slot, mm: 2.46 }));
  const plan = await calc("plan", {
    unit: UNIT,
    fitted,
    measured: { torque_nm: 82, expanded_nm: 2 },
    wanted: { torque_nm: 100, tolerance_nm: 3 },
    shelf: SHELF,
    write_in: read.torqueUnit,
    write_lengths_in: read.lengthUnit,
  });
  const result = sure(plan.possible && plan);
  const torque = result.wanted_nm;
  const swaps = result.stack.filter((one) => one.action !== "keep");
  return {
    purpose: html`Which plates from the ${word("shelf")} bring the unit to the torque that was ordered? Slipbook covers
    every choice there is and says how many they were.`,
    figures: html`<figure>
      ${curvesDrawing({
        series: [
          {
            name: "",
            points: result.curve.map((point) => ({
              x: point.added_mm,
              y: read.torqueIn(point.torque_nm),
            })),
          },
        ],
        marks: [
          { x: 0, name: "now" },
          { x: result.added_mm, name: "planned" },
        ],
        zones: result.zones.map((zone) => ({ from: zone.from_mm, to: zone.to_mm, name: zone.name })),
        band: {
          low: read.torqueIn(torque.low_nm),
          high: read.torqueIn(torque.high_nm),
        },
        xName: "thickness added, mm",
        yName: read.torqueLabel,
        words: "Torque against thickness added: now, planned, and the stretches to stay out of.",
      })}
      <figcaption>
        The curve is the spring's. The strip across is what is wanted, give or take; where the curve passes through it,
        every thickness will do.
      </figcaption>
    </figure>`,
    working: WORKING,
    symbols: SYMBOLS,
    example: html`<p>
        ${read.torque(82)} measured, ${read.torque(torque.torque_nm)} ± ${read.torqueFigure(torque.tolerance_nm)}
        wanted: ${read.torque(result.torque_nm)} with ${result.changes} ${result.changes === 1 ? "plate" : "plates"}
        changed.
      </p>
      <table class="facts">
        <thead>
          <tr>
            <th scope="col">Place</th>
            <th scope="col" class="number">Out</th>
            <th scope="col" class="number">In</th>
          </tr>
        </thead>
        <tbody>
          ${swaps.map(
            (one) =>
              html`<tr>
                <th scope="row">${one.slot}</th>
                <td class="number">${read.length(one.was_mm)}</td>
                <td class="number">${read.length(one.mm)}</td>
              </tr>`,
          )}
        </tbody>
      </table>
      <p>It may come out from ${read.torque(result.spread_nm.low_nm)} to ${read.torque(result.spread_nm.high_nm)}.</p>
      <p class="finding">${result.proof.text}</p>`,
    limits: LIMITS,
    sources: SOURCES,
    words: ["shelf", "crush", "preload", "order", "stack", "shim", "apparent friction"],
  };
}
