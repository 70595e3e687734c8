// @ts-check
// Torque from a pull scale or a weight on a bar.

import { barDrawing } from "../../draw/levers.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { percent, sayIn } from "../form/fields.js";
import { rough } from "./example.js";
import { formula, inline, over, root } from "./formula.js";
import { word } from "./words.js";

const BAR = { length_mm: 500, moment_nm: 2.5, doubt_mm: 3 };
const SLANT = 15;

const WORKING = html`${formula("T = F · l + M")}
  <p>
    A hung weight pulls with its mass times ${inline("g")}: type it in kgf and Slipbook does that. The bar's own
    torque ${inline("M")} is its weight times the distance from the shaft to where it balances: positive where it
    helps the pull, negative where you lift it, zero with the bar upright.
  </p>
  <p>The length may be off by ${inline("d")}, anywhere within:</p>
  ${formula("u =", over("d", root("3")), "· F")}`;

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["T", "torque at the shaft", "N·m"],
  ["F", "pull, or the weight's force", "N"],
  ["l", "shaft's middle to the pull, square to the bar", "m"],
  ["M", "torque of the bar's own weight", "N·m"],
  ["d", "how far off the length may be", "m"],
  ["g", "standard gravity, 9.80665", "m/s²"],
];

const LIMITS = [
  `Out of square by ${SLANT}° the arm is already ` +
    `${Math.round(100 * (1 - Math.cos((SLANT * Math.PI) / 180)))} % too short. Pull square, or measure the ` +
    "arm square to the pull.",
  "A scale is good from about a fifth of its range up; below that Slipbook asks for another one.",
  "A hanging weight that jerks the bar through gives the first move, not the steady torque. Keep feet clear of it.",
];

const SOURCES = [
  "Force times arm: statics. Standard gravity: third CGPM, 1901. The pound-force and the others: NIST SP " +
    "811 (2008), appendix B.",
  "A pull scale within 2 %, a weight within 1 %, where you say nothing better: common practice, no source.",
  "Doubt of the length: JCGM 100:2008 (GUM), 4.3.7.",
];

export const purpose = html`No torque wrench at hand? A bar, a tape measure and a ${word("pull scale")} or a known
  weight measure torque as well.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  const force = (/** @type {number} */ n) => sayIn(read.units, "n", "n", n);
  const result = await calc("breakaway", {
    held: "car_one_wheel_down",
    scale: { kind: "pull_scale", low_n: 0, high_n: 500, division_n: 2 },
    bar: BAR,
    steady_n: { forward: [170, 172, 171], reverse: [168, 170, 169] },
    limits: { low_nm: 70, high_nm: 130 },
    write_in: read.torqueUnit,
  });
  return {
    figures: html`<figure>
      ${barDrawing({ length: rough(read, BAR.length_mm), force: force(170), own: "its own weight" })}
      <figcaption>
        The pull is square to the bar while you read. With the bar level and the pull straight down, the bar's own
        weight helps.
      </figcaption>
    </figure>`,
    working: WORKING,
    symbols: SYMBOLS,
    example: html`<p>
        Six pulls of about ${force(170)} on ${rough(read, BAR.length_mm)}, the bar's own torque
        ${read.torque(BAR.moment_nm)}: ${read.torque(result.value_nm)}, ± ${read.torqueFigure(result.expanded_nm)} at 95
        %.
      </p>
      <table class="facts">
        <thead>
          <tr>
            <th scope="col">Where the doubt comes from</th>
            <th scope="col" class="number">Share</th>
          </tr>
        </thead>
        <tbody>
          ${result.budget.map(
            (part) =>
              html`<tr>
                <td>${part.meaning}</td>
                <td class="number">${percent(part.share)}</td>
              </tr>`,
          )}
        </tbody>
      </table>`,
    limits: LIMITS,
    sources: SOURCES,
    words: ["bar", "pull scale", "steady turning", "doubt", "division"],
  };
}
