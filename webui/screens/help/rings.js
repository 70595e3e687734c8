// @ts-check
// Ramp rings and cross pins: how deep a step may be worn.

import { guardDrawing } from "../../draw/guard.js";
import { stepDrawing } from "../../draw/step.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { verdictMark } from "../form/fields.js";
import { formula, inline, plainWords, root, row, squared } from "./formula.js";
import { word } from "./words.js";

const WORKING = html`<p>
    The deepest step of a ring judges it, and the deepest flat of a pin, worked out from its thickness when new:
  </p>
  ${formula("w =", plainWords("new"), "−", plainWords("thinnest end"))}
  <p>
    The guard band is that of the gauge, from its permitted error ${inline("a")} and half a division ${inline("d")} for
    each reading. A step is the difference of two readings, ${inline("n")} = 2; a pin is read once, ${inline("n")} = 1:
  </p>
  ${formula("g = 1.645 ·", root(row(squared("a", root("3")), "+ n ·", squared("d / 2", root("3")))))}
  ${formula("L − w ≥ g")}
  <p class="quiet">go; replace from L + g on; measure again between</p>`;

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["w", "deepest step or flat", "mm"],
  ["L", "limit", "mm"],
  ["a", "permitted error of the gauge", "mm"],
  ["d", "one division", "mm"],
  ["n", "readings that a figure takes", ""],
  ["g", "guard band", "mm"],
];

const LIMITS = [
  "Depth says nothing of cracks. Look at the foot of each ramp in good light, or have it crack-tested.",
  "A ring turned over works on its other ramps: measure those too.",
  "Rings and pins wear to each other. Put them back where they were, or change them together.",
];

const SOURCES = [
  "Guard band: ISO 14253-1:2017.",
  "A step of 0.05 mm, a flat of 0.05 mm, and a gauge within 0.02 mm where you give nothing else: common " +
    "practice, no source. The maker's figures come first.",
];

export const purpose = html`The ${word("cross pin", "cross pins")} push hard on the ramps and wear steps into them. A
  pin that has to climb out of a step first sticks and then jumps: the lock comes late and all at once.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  const judgedOf = async (/** @type {number[]} */ steps) =>
    (await calc("ring_check", { gauge: {}, write_in: read.lengthUnit, rings: [{ slot: "R1", steps_mm: steps }] }))
      .rings[0];
  const [good, close, worn] = await Promise.all([
    judgedOf([0.01, 0.02, 0.01, 0.01]),
    judgedOf([0.03, 0.05, 0.04, 0.03]),
    judgedOf([0.08, 0.11, 0.09, 0.07]),
  ]);
  return {
    figures: html`<figure>
      ${stepDrawing(read.length(worn.highest_mm))}
      <figcaption>
        The step sits where the pin rests; here it is drawn far deeper than it is. Feel for it with a nail, then measure
        its depth in every ramp.
      </figcaption>
    </figure>`,
    working: WORKING,
    symbols: SYMBOLS,
    example: html`${guardDrawing({
      value: good.highest_mm,
      expanded: good.guard_mm,
      low: null,
      high: good.high_mm,
      guardLow: null,
      guardHigh: good.guard_mm,
      say: read.length,
      words: good.reason,
    })}
    ${[good, close, worn].map((row) => html`<p>${verdictMark(row.verdict)} ${row.reason}</p>`)}`,
    limits: LIMITS,
    sources: SOURCES,
    words: ["ramp ring", "cross pin", "guard band", "division", "replace"],
  };
}
