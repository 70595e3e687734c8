// @ts-check
// Ramps: the wedge, lock on drive and coast, locking value, bias ratio.

import { curvesDrawing } from "../../draw/curves.js";
import { wedgeDrawing } from "../../draw/wedge.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { percent } from "../form/fields.js";
import { UNIT } from "./example.js";
import { formula, inline, over, said } from "./formula.js";
import { word } from "./words.js";

const ANGLES = [30, 45, 60, 75, 90];

const WORKING = html`<p>
    Half of the input torque goes through each ring, at the pins' radius. A wedge with friction turns that push into
    an axial force:
  </p>
  ${formula("F =", over("T", "2 · r"), "· cot ( α + φ )")}${formula("φ =", said("arctan"), "μ_r")}
  <p>
    Where the spring is in line with the packs the ramps relieve it, and the packs feel the larger; between the
    rings it pushes the same way, and they feel both:
  </p>
  ${formula("P =", said("larger of"), "F_0 , F")}
  <p class="quiet">in line</p>
  ${formula("P = F_0 + F")}
  <p class="quiet">between the rings</p>
  <p>
    What both packs hold between the outputs is the lock, and for the ramps alone the ${word("locking value")} and
    the ${word("bias ratio")} are
  </p>
  ${formula("S =", over("T_a − T_b", "T_a + T_b"), "=", over("2 · M", "T"))}
  ${formula("B =", over("1 + S", "1 − S"))}
  <p>From ${inline("S = 1")} on it locks solid under torque. The ramps beat the preload from</p>
  ${formula("T =", over("2 · M_0", "S"))}`;

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["T", "torque into the case", "N·m"],
  ["r", "radius at which the pins bear", "m"],
  ["α", "ramp angle from the plane of rotation", "°"],
  ["μ_r", "friction of pin on ramp", "–"],
  ["F", "axial force on each pack from the ramps", "N"],
  ["F_0", "preload", "N"],
  ["M", "torque of one pack under the ramps' force alone", "N·m"],
  ["M_0", "torque of one pack under preload alone", "N·m"],
  ["T_a", "larger output torque", "N·m"],
  ["T_b", "smaller output torque", "N·m"],
  ["S", "locking value", "–"],
  ["B", "bias ratio", "–"],
];

const LIMITS = [
  "Makers state angles from the plane of rotation or from the shaft: 30° of the one is 60° of the other. " +
    "Check which, on the ring.",
  "Lock follows the packs' friction, which is the least certain figure there is; a measured breakaway " +
    "makes it better.",
  "Below 20° a ramp presses very hard and may wedge and not let go.",
  "Spreading forces of the bevel gears are left out; they add some lock.",
];

const SOURCES = [
  "Locking value, difference over sum of the output torques: the common definition. The rest is statics of " +
    "a wedge with friction.",
  "That a ramp below 20° may wedge: common practice, no source.",
];

const TERMS = [
  "ramp ring",
  "cross pin",
  "ramp angle",
  "drive ramp",
  "coast ramp",
  "lock",
  "locking value",
  "bias ratio",
  "solid",
  "preload",
];

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  const asked = (/** @type {number} */ drive) =>
    calc("ramps", {
      unit: UNIT,
      ramps: { ...UNIT.ramps, drive_deg: drive },
      most_nm: 800,
      points: 41,
      write_in: read.torqueUnit,
    });
  const [result, ...others] = await Promise.all([asked(UNIT.ramps.drive_deg), ...ANGLES.map(asked)]);
  const { drive, coast } = result.fittings[0];
  const lockOf = (/** @type {import("../../engine/calculations.js").Lock} */ side) =>
    side.solid ? "solid" : percent(side.locking_value);
  return {
    purpose: html`Torque into the case goes through the ${word("cross pin", "cross pins")}, which wedge the
    ${word("ramp ring", "ramp rings")} apart and press the packs harder. The shallower the ramp, the harder the lock.`,
    figures: html`<figure>
        <div class="two">
          ${wedgeDrawing({
            angle: UNIT.ramps.drive_deg,
            name: "drive",
          })}${wedgeDrawing({ angle: UNIT.ramps.coast_deg, name: "coast" })}
        </div>
        <figcaption>Angles are measured from the plane of rotation. 90° pushes nothing apart.</figcaption>
      </figure>
      <figure>
        ${curvesDrawing({
          series: [
            { name: "drive", side: drive },
            { name: "coast", side: coast },
          ].map(({ name, side }) => ({
            name,
            dashed: name === "coast",
            points: side.curve.map((point) => ({
              x: read.torqueIn(point.torque_nm),
              y: read.torqueIn(point.lock_nm),
            })),
          })),
          xName: `torque into the case, ${read.torqueLabel}`,
          yName: `lock, ${read.torqueLabel}`,
          words:
            `Preload alone holds up to ${read.torque(drive.takes_over_nm ?? 0)} on drive; then the ramps take ` +
            "over.",
        })}
        <figcaption>Level: preload alone. Rising: the ramps have taken over.</figcaption>
      </figure>`,
    working: WORKING,
    symbols: SYMBOLS,
    example: html`<p>${result.text}</p>
      <table class="facts">
        <thead>
          <tr>
            <th scope="col">Ramp</th>
            <th scope="col" class="number">Lock</th>
            <th scope="col" class="number">Bias ratio</th>
            <th scope="col" class="number">Takes over from</th>
          </tr>
        </thead>
        <tbody>
          ${others.map((one, place) => {
            const side = one.fittings[0].drive;
            return html`<tr>
              <th scope="row">${ANGLES[place]}°</th>
              <td class="number">${lockOf(side)}</td>
              <td class="number">${side.bias_ratio ? side.bias_ratio.toFixed(2) : "–"}</td>
              <td class="number">${side.takes_over}</td>
            </tr>`;
          })}
        </tbody>
      </table>
      <p>
        Rings turned over: ${lockOf(result.fittings[1].drive)} on drive, ${lockOf(result.fittings[1].coast)} on coast.
      </p>`,
    limits: LIMITS,
    sources: SOURCES,
    words: TERMS,
  };
}
