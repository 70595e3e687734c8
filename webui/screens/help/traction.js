// @ts-check
// Traction: what two driven wheels put down, open, with the unit, and solid.

import { curvesDrawing } from "../../draw/curves.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { sure } from "./example.js";
import { formula, inline, over, plainWords } from "./formula.js";

const LOCK = 0.4;
const PRELOAD_NM = 120;
const GRIPS = Array.from({ length: 21 }, (_, place) => place / 20);

const WORKING = html`<p>
    Each wheel can put down its load times ${inline("g")} times grip times tyre radius. The weaker is at its limit
    ${inline("W")}, and the other carries as much more as the packs hold at that very torque. With the spring in
    line the larger of preload and ramps counts, so the larger of two solutions:
  </p>
  ${formula("T =", plainWords("larger of"), "2 · W + P ,", over("2 · W", "1 − S"))}
  <p>With the spring between the rings both count:</p>
  ${formula("T =", over("2 · W + P", "1 − S"))}
  <p>
    Never more than a solid axle, ${inline("W + V")}. In a turn of radius ${inline("R")} wheels on a track
    ${inline("b")} roll different ways; locked, each slips by half of it,
    ${inline("b / ( 2 · R )")}, one dragged on and the other held back.
  </p>`;

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["T", "torque into the case that is put down", "N·m"],
  ["W", "what the weaker wheel can put down", "N·m"],
  ["V", "what the stronger can", "N·m"],
  ["P", "lock of both packs from preload", "N·m"],
  ["S", "locking value of the ramps", "–"],
  ["R", "radius of the turn", "m"],
  ["b", "track", "m"],
];

const LIMITS = [
  "Loads as they are at that moment: in a corner, over a crest or under power they are not those of the scales.",
  "A tyre's grip is neither constant nor shared evenly between pulling and turning.",
  "It says what can be put down, not how the car feels. With rear-wheel drive more " +
    "coast lock pushes the nose wide on the way in, and more drive lock on the way out; with front-wheel drive it is " +
    "otherwise.",
];

/** @typedef {import("../../engine/door.js").RequestOf<"traction">} Asked */

/**
 * What each axle puts down, a row for each grip of the left wheel.
 * @param {{words: string, result: import("../../engine/door.js").ResultOf<"traction">}[]} rows
 * @param {import("./topics.js").Tools["read"]} read
 */
const putDown = (rows, read) =>
  html`<table class="facts">
        <thead>
          <tr>
            <th scope="col">Left wheel</th>
            <th scope="col" class="number">Open</th>
            <th scope="col" class="number">This unit</th>
            <th scope="col" class="number">Solid</th>
          </tr>
        </thead>
        <tbody>
          ${rows.map(
            ({ words, result }) =>
              html`<tr>
                <th scope="row">${words}</th>
                <td class="number">${read.torque(result.open_nm)}</td>
                <td class="number">${read.torque(result.unit_nm)}</td>
                <td class="number">${read.torque(result.solid_nm)}</td>
              </tr>`,
          )}
        </tbody>
      </table>`;

export const purpose = html`An open axle puts down twice what its worse wheel can. Lock lets the better wheel carry
  more. Here is how much, and what it costs in a turn.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  const answerAt = (/** @type {number} */ grip, /** @type {Partial<Asked>} */ more = {}) =>
    calc("traction", {
      left: { load_kg: 200, grip },
      right: { load_kg: 240, grip: 1 },
      tyre_radius_mm: 300,
      locking_value: LOCK,
      preload_lock_nm: PRELOAD_NM,
      write_in: read.torqueUnit,
      ...more,
    });
  const [wet, air, turn, ...all] = await Promise.all([
    answerAt(0.3),
    answerAt(0),
    answerAt(1, { input_nm: 300, turn: { radius_mm: 15000, track_mm: 1300 } }),
    ...GRIPS.map((grip) => answerAt(grip)),
  ]);
  const series = (
    /** @type {string} */ name,
    /** @type {"solid_nm" | "unit_nm" | "open_nm"} */ field,
    /** @type {boolean} */ dashed,
  ) => ({
    name,
    dashed,
    points: all.map((result, place) => ({ x: GRIPS[place], y: read.torqueIn(result[field]) })),
  });
  return {
    figures: html`<figure>
      ${curvesDrawing({
        series: [series("", "solid_nm", true), series("", "unit_nm", false), series("", "open_nm", true)],
        xName: `grip of the left wheel (the right has 1)`,
        yName: `put down, ${read.torqueLabel}`,
        words:
          `With a left grip of 0.3: open ${read.torque(wet.open_nm)}, this unit ${read.torque(wet.unit_nm)}, ` +
          `solid ${read.torque(wet.solid_nm)}.`,
      })}
      <figcaption>
        Dashed below: open. Dashed above: solid. Line: locking value ${Math.round(100 * LOCK)} % and
        ${read.torque(PRELOAD_NM)} from preload.
      </figcaption>
    </figure>`,
    working: WORKING,
    symbols: SYMBOLS,
    example: html`${putDown(
      [
        { words: "grip 0.3", result: wet },
        { words: "in the air", result: air },
      ],
      read,
    )}
      <p>
        With one wheel in the air only preload is left to pull with. In a turn of 15 m radius each wheel of a
        solid axle slips by ${sure(turn.turn_slip_each_percent).toFixed(1)} %, and at
        ${read.torque(300)} the unit resists the turn with
        ${read.torque(sure(turn.turn_lock_nm))}.
      </p>`,
    limits: LIMITS,
    sources: [
      "Equal torques on an open axle, difference limited by the lock: statics.",
      "Grip about 1 on dry tarmac and 0.3 on wet grass: common practice, no source.",
    ],
    words: ["grip", "lock", "locking value", "bias ratio", "preload", "solid"],
  };
}
