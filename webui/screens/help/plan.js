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
    Every place keeps its plate or takes a piece from the shelf, counted in whole micrometres. The packs differ by no
    more, and no place changes by more, than the builder allows; a worn plate may always get back to its thickness when
    new. For every number of plates changed the filling is looked for that meets the order most often; where several
    are about as sure, the most even one. Of these the ones worth a plate more are shown, at most five, from the most
    certain to the fewest plates. One plate more has to be worth 1 in 100.
  </p>
  <h3>How it may come out, and the chance to meet the order</h3>
  <p>
    Nothing is known exactly: the pieces that are fitted, the plates that stay and those that go, the depth, the
    spring's free height, the torque that was measured. Each is taken to lie evenly within its own doubt, the reading
    normally by its expanded uncertainty, and all are carried through the curve together. The chance is the share of
    such rebuilds that come out within the order; the two torques beside it hold 95 of 100. A measured torque brings
    the friction and the spring's load with it. Where none was measured, friction counts by a factor of 2.5 either way,
    and the load by its tolerance.
  </p>
  <h3>What proven means</h3>
  <p>
    All sums of thickness that can be reached are built up plate by plate as sets, for every number of changes, each
    pack by itself; what is not in them cannot be had. So it is certain how sure a choice with fewer plates, or any
    other, can be at most. The count that is shown is the number of fillings so covered. Where brute force can be run
    at all, our tests run it, and it finds the same.
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
  "The chance is that of these thicknesses and doubts. A plate that was counted wrong makes it the chance of " +
    "something else.",
  "Without a check the friction is assumed from the definition, and hardly any plan is sure then.",
  "New plates are taken to rub like those that were measured, and a fresh pack drops a little while it beds in. " +
    "Where the log shows by how much, from the first check after a rebuild and those of its first three outings, " +
    "of this unit or of units built alike, the plan aims above the order by that, never beyond its upper edge, and " +
    "each chance is that once it has bedded in. You can switch it off.",
  "No plan is worked out from a check with the spring below 15 % of its travel, or with a friction outside 0.04 to " +
    "0.25: it says what to measure first.",
  html`Another order of the plates or another spring is tried beside it and named for what it changes: order changes
      lock as well, thickness only preload.`,
  "Check the torque before it goes out, whatever the plan says.",
];

const SOURCES = [
  "The search and why it covers every filling: our own; the sets are worked out exactly in whole numbers, " +
    "and tested against brute force.",
  "Distributions carried through: JCGM 101:2008. Our tests hold the stated 95 of 100 by Monte Carlo.",
  "The spring's curve: DIN EN 16984:2017. Load and free height of a new spring: DIN EN 16983:2017, from a spring " +
    "maker's table; above 6 mm from memory.",
  "Packs within 0.10 mm, a place changed by 0.30 mm at most, classes within 0.02 mm, a depth within 0.05 mm, " +
    "plates in oil from 0.04 to 0.25, bedded in by the third outing: common practice, no source.",
  "Rebuilds pooled: DerSimonian and Laird 1986, with equal weights, from memory; Student's t: JCGM 100:2008, G.4.",
];

/**
 * The plates that are changed.
 * @param {import("../../engine/calculations.js").PlannedPart[]} swaps
 * @param {import("./topics.js").Tools["read"]} read
 */
const swapsTable = (swaps, read) =>
  html`<table class="facts">
        <thead>
          <tr>
            <th scope="col">Place</th>
            <th scope="col" class="number">Out</th>
            <th scope="col" class="number">In</th>
          </tr>
        </thead>
        <tbody>
          ${swaps.map(
            (part) =>
              html`<tr>
                <th scope="row">${part.slot}</th>
                <td class="number">${read.length(part.was_mm)}</td>
                <td class="number">${read.length(part.mm)}</td>
              </tr>`,
          )}
        </tbody>
      </table>`;

export const purpose = html`Which plates from the ${word("shelf")} bring the unit to the torque that was ordered, and
  how surely? Slipbook covers every choice there is, and shows the few that are worth considering.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  const fitted = UNIT.chain.filter((item) => item.part === "friction").map((item) => ({ slot: item.slot, mm: 2.46 }));
  const plan = await calc("plan", {
    unit: UNIT,
    fitted,
    measured: { torque_nm: 82, expanded_nm: 4 },
    wanted: { torque_nm: 100, tolerance_nm: 8 },
    shelf: SHELF,
    write_in: read.torqueUnit,
    write_lengths_in: read.lengthUnit,
    alternatives: false,
  });
  const result = sure(plan.possible && plan);
  const torque = result.wanted_nm;
  const swaps = result.stack.filter((place) => place.action !== "keep");
  return {
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
        wanted. The most certain choice: ${sure(result.choices[0]).chance_text}.
      </p>
      ${swapsTable(swaps, read)}
      <ul class="steps">
        ${result.choices.map((choice) => html`<li>${choice.chance_text}: ${choice.text}</li>`)}
      </ul>
      <p class="finding">${sure(result.choices[0]).proof}</p>`,
    limits: LIMITS,
    sources: SOURCES,
    words: ["shelf", "crush", "preload", "order", "stack", "shim", "apparent friction"],
  };
}
