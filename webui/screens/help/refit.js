// @ts-check
// Back into the axle: backlash, turning torque of the bearings, torque of the screws.

import { backlashDrawing } from "../../draw/backlash.js";
import { guardDrawing } from "../../draw/guard.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { verdictMark } from "../form/fields.js";
import { sure } from "./example.js";
import { formula, inline, root, row, squared } from "./formula.js";
import { word } from "./words.js";

const TEETH = { low_mm: 0.1, high_mm: 0.2, gauge: {} };

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["x", "backlash at a tooth, or torque", "mm, N·m"],
  ["L", "least that is allowed", "as x"],
  ["U", "most that is allowed", "as x"],
  ["n", "readings of the bearings", "–"],
  ["s", "their scatter", "N·m"],
  ["a", "permitted error of the tool", "as x"],
  ["d", "one division", "as x"],
  ["k", "2 for backlash, else 1", "–"],
  ["E", "most from tooth to tooth", "mm"],
  ["t", "1.645; for few readings Student's, one side, 95 %", "–"],
  ["g", "guard band", "as x"],
];

const LIMITS = [
  "Read nearer to the middle of the wheel, backlash comes out smaller: makers state it for the outer end " +
    "of the tooth.",
  "The bearings' torque is that of the carrier alone. With the pinion in mesh, or new bearings dry, it is " +
    "another figure.",
  "A screw's torque says little of its clamp: oil or dirt on the thread changes it. One that turns again " +
    "before it clicks was loose.",
  "Screws set in compound that has cured, or tightened by angle, are not clicked again: the click breaks the bond, " +
    "or stretches them further. Mark them with paint and look at the marks.",
  "What was found bad stands until that check is made again: reading backlash tightens no screw.",
  "In this order: crown-wheel screws, carrier bearings, backlash, tooth contact; then all of it once more, since " +
    "each moves the one before.",
];

export const purpose = html`A unit that is good on the bench can still be put back badly. Three checks tell:
  ${word("backlash")} of crown wheel and pinion, what it takes to turn the carrier in its bearings, and how tight the
  crown wheel's screws are.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  const judgedOf = async (/** @type {import("../../engine/door.js").RequestOf<"refit">} */ parts) =>
    (await calc("refit", { write_in: read.torqueUnit, write_lengths_in: read.lengthUnit, ...parts })).checks;
  const checks = await judgedOf({
    backlash: { points_mm: [0.13, 0.15, 0.14, 0.13], ...TEETH },
    bearings: { readings_nm: [1.8, 1.9, 1.8], low_nm: 1.2, high_nm: 2.5, tool: { division_nm: 0.1 } },
    screws: { readings_nm: [88, 90, 89, 91], low_nm: 80, high_nm: 105, tool: { division_nm: 2 } },
  });
  const good = sure(checks.find((check) => check.name === "backlash"));
  const others = checks.filter((check) => check !== good);
  const [uneven] = await judgedOf({ backlash: { points_mm: [0.12, 0.13, 0.16, 0.18], ...TEETH } });
  return {
    figures: html`<figure>
      ${backlashDrawing(read.length(good.lowest_mm))}
      <figcaption>
        The gap is drawn far wider than it is. The gauge's tip stands square to the tooth, at its outer end.
      </figcaption>
    </figure>`,
    working: html`<p>
        The tightest and the loosest tooth are both held against the axle maker's limits ${inline("L")} and
        ${inline("U")}, and so are the loosest and the tightest screw:
      </p>
      ${formula("x_min − L ≥ g")}${formula("U − x_max ≥ g")}
      <p class="quiet">go; rework from g beyond a limit on; measure again between</p>
      <p>Backlash has to be even round the wheel as well, without a guard band:</p>
      ${formula("x_max − x_min ≤ E")}
      <p>
        Of the bearings the mean of ${inline("n")} readings counts. The guard band holds the tool's permitted error
        ${inline("a")}, half a division ${inline("d")} and, where readings are repeated, their scatter ${inline("s")}.
        Backlash is how far the needle goes, so it is read at both ends, and half a division counts twice:
      </p>
      ${formula(
        "g = t ·",
        root(row(squared("s", root("n")), "+", squared("a", root("3")), "+ k ·", squared("d / 2", root("3")))),
      )}
      <p>or with a certificate ${inline("c")}: ${inline("c / 2")} for the middle one.</p>`,
    symbols: SYMBOLS,
    example: html`${guardDrawing({
      value: good.lowest_mm,
      expanded: good.guard_mm,
      low: good.low_mm,
      high: good.high_mm,
      guardLow: good.guard_mm,
      guardHigh: good.guard_mm,
      say: read.length,
      words: good.reason,
    })}
    ${[good, uneven, ...others].map((row) => html`<p>${verdictMark(row.verdict)} ${row.reason}</p>`)}`,
    limits: LIMITS,
    sources: [
      "Guard band: ISO 14253-1:2017. Sum of the parts: JCGM 100:2008 (GUM), 4.2, 4.3.7, 5.1.2.",
      "A wrench within 6 % where you give nothing else: ISO 6789-1:2017, from memory.",
      html`A dial gauge within ${read.length(0.02)}, ${read.length(0.05)} from tooth to tooth, four teeth, screws
      crosswise, and the order of the checks: common practice, no source. The axle maker's figures come first.`,
    ],
    words: ["backlash", "guard band", "scatter", "division", "certificate", "rework"],
  };
}
