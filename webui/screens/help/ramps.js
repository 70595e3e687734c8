// @ts-check
// Ramps: the wedge, lock on drive and coast, locking value, bias ratio.

import { bevelDrawing } from "../../draw/bevel.js";
import { curvesDrawing } from "../../draw/curves.js";
import { wedgeDrawing } from "../../draw/wedge.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { UNIT } from "./example.js";
import { formula, inline, over, plainWords, row } from "./formula.js";
import { word } from "./words.js";

const ANGLES = [30, 45, 60, 75, 90];

const WORKING = html`<p>
    Half of the input torque goes through each ring, at the pins' radius. A wedge with friction turns that push into
    an axial force:
  </p>
  ${formula("F =", over("T", "2 · r"), "· cot ( α + φ )")}${formula("φ =", plainWords("arctan"), "μ_r")}
  <p>
    Where the spring is in line with the packs the ramps relieve it, and the packs feel the larger; between the
    rings it pushes the same way, and they feel both:
  </p>
  ${formula("P =", plainWords("larger of"), "F_0 , F")}
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

const DEEPER = {
  title: "Bevel gears, ears, warmth, and why it is a range",
  text: html`<p>
      Each of these is left out unless the definition gives it, under <i>More about the drive</i>. The teeth of a side
      gear carry half of the torque too, and push the gear away from its pinions. Where it bears on a ramp ring or a
      pack, that presses as well:
    </p>
    ${formula("F_g =", over("T", "2 · r_g"), "· tan φ_z · sin γ")}
    <figure>${bevelDrawing()}</figure>
    <p>
      The cone angle follows from the teeth, ${inline(row("tan γ =", over("z_g", "z_p")))}, the shafts being square to
      each other. While torque rises, the rings' ears rub in the case's slots and hold back
    </p>
    ${formula("F_e =", over("μ_e · T", "2 · r_e"))}
    <p>so that ramps, gears and ears together press each pack with</p>
    ${formula("F_p = F + F_g − F_e")}
    <p>A case of another metal grows more than what is in it. Warmer by ${inline("θ")}, the crush is</p>
    ${formula("c_w = c + θ · ( a_s · g − a_c · d )")}
    <p>with the free stack ${inline("g = d + c")} as it was built.</p>
    <p>
      Friction is never known exactly, so lock, bias ratio and traction have a range. Counted in are the friction of
      plates, pins and ears, the gears' thrust, a measured torque's own doubt, and what spring and plates may be off,
      each as far as the example below says. Their variances add, and the range holds 95 %: 19 times in 20. The screen
      says which of them counts most.
    </p>`,
};

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["T", "torque into the case", "N·m"],
  ["r", "radius at which the pins bear", "m"],
  ["α", "ramp angle from the plane of rotation", "°"],
  ["μ_r", "friction of pin on ramp", "–"],
  ["F", "axial force on each pack from the ramps", "N"],
  ["F_g", "thrust of a side gear", "N"],
  ["r_g", "radius of a side gear at the middle of its teeth", "m"],
  ["φ_z", "pressure angle of the teeth", "°"],
  ["γ", "pitch cone angle of a side gear", "°"],
  ["z_g", "teeth of a side gear", "–"],
  ["z_p", "teeth of a pinion", "–"],
  ["F_e", "what the ears hold back", "N"],
  ["μ_e", "friction of ear in slot", "–"],
  ["r_e", "radius at which the ears bear", "m"],
  ["F_p", "what reaches each pack under torque, preload aside", "N"],
  ["c_w", "crush when warm", "mm"],
  ["c", "crush as it was built", "mm"],
  ["g", "height of the free stack", "mm"],
  ["d", "depth from the cover's face to the floor", "mm"],
  ["θ", "how much warmer", "K"],
  ["a_s", "expansion of the stack for each K", "1/K"],
  ["a_c", "expansion of the case for each K", "1/K"],
  ["F_0", "preload", "N"],
  ["M", "torque of one pack under the ramps' force alone", "N·m"],
  ["M_0", "torque of one pack under preload alone", "N·m"],
  ["T_a", "larger output torque", "N·m"],
  ["T_b", "smaller output torque", "N·m"],
  ["S", "locking value", "–"],
  ["B", "bias ratio", "–"],
];

const LIMITS = [
  "Coast ramps press on the way into a corner, off the throttle; drive ramps on the way out, under power. With " +
    "rear-wheel drive it is the coast lock that pushes the nose wide on the way in, and the drive lock on the way " +
    "out. With front-wheel drive it is otherwise: under power the lock pulls the nose in, and at the steering.",
  "Makers state angles from the plane of rotation or from the shaft: 30° of the one is 60° of the other. " +
    "Check which, on the ring.",
  "Lock follows the packs' friction, which is the least certain figure there is: go by the range. A measured " +
    "breakaway makes it narrower.",
  "Below 20° a ramp presses very hard and may wedge and not let go.",
  "Bevel gears that bear on the rings add about half of what ramps of 45° give. They are left out until the " +
    "definition says so, and the lock is then too low.",
  "While torque falls, friction of ramps and ears turns round and the packs let go later than they took hold: " +
    "that is left out. So is the softer steel of a hot spring, about 3\u00a0% for 100 K, from memory.",
];

const SOURCES = [
  "Locking value, difference over sum of the output torques: the common definition. The rest is statics of " +
    "a wedge with friction.",
  "Axial force of a straight bevel gear: J. E. Shigley, Mechanical Engineering Design, from memory.",
  "Expansion of aluminium 23 and of steel 11.5 millionths for each K: handbook values, from memory.",
  "Range: JCGM 100:2008, 4.3.7, 4.3.9 and 5.1. How far friction and thrust may be off: common practice, no source.",
  "That a ramp below 20° may wedge, and which ramp pushes where: common practice, no source.",
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

/** The lock at each of the angles. @param {import("../../engine/door.js").ResultOf<"ramps">[]} results */
const anglesTable = (results) =>
  html`<table class="facts">
        <thead>
          <tr>
            <th scope="col">Ramp</th>
            <th scope="col" class="number">Lock</th>
            <th scope="col" class="number">Bias ratio</th>
            <th scope="col" class="number">Takes over from</th>
          </tr>
        </thead>
        <tbody>
          ${results.map((result, place) => {
            const side = result.fittings[0].drive;
            return html`<tr>
              <th scope="row">${ANGLES[place]}°</th>
              <td class="number">${side.locking} <small>${side.locking_range}</small></td>
              <td class="number">${side.bias} <small>${side.bias_range}</small></td>
              <td class="number">${side.takes_over}</td>
            </tr>`;
          })}
        </tbody>
      </table>`;

export const purpose = html`Torque into the case goes through the ${word("cross pin", "cross pins")}, which wedge the
  ${word("ramp ring", "ramp rings")} apart and press the packs harder. The shallower the ramp, the harder the lock.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  const answerAt = (/** @type {number} */ drive) =>
    calc("ramps", {
      unit: UNIT,
      ramps: { ...UNIT.ramps, drive_deg: drive },
      most_nm: 800,
      points: 41,
      write_in: read.torqueUnit,
    });
  const [result, ...others] = await Promise.all([answerAt(UNIT.ramps.drive_deg), ...ANGLES.map(answerAt)]);
  const { drive, coast } = result.fittings[0];
  const list = (/** @type {{meaning: string}[]} */ doubt) => doubt.map(({ meaning }) => meaning).join("; ");
  return {
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
              low: read.torqueIn(point.low_nm),
              high: read.torqueIn(point.high_nm),
            })),
          })),
          xName: `torque into the case, ${read.torqueLabel}`,
          yName: `lock, ${read.torqueLabel}`,
          words:
            `Preload alone holds up to ${read.torque(drive.takes_over_nm ?? 0)} on drive; then the ramps take ` +
            "over.",
        })}
        <figcaption>
          Level: preload alone. Rising: the ramps have taken over. Shaded: the range, for all that is not known exactly.
        </figcaption>
      </figure>`,
    working: WORKING,
    deeper: DEEPER,
    symbols: SYMBOLS,
    example: html`<p>${result.text}</p>
      ${anglesTable(others)}
      <p>
        Rings turned over: ${result.fittings[1].drive.locking} on drive, ${result.fittings[1].coast.locking} on coast.
      </p>
      <p>The range of the lock: ${list(drive.doubt)}. That of the preload: ${list(result.preload_doubt)}.</p>`,
    limits: LIMITS,
    sources: SOURCES,
    words: TERMS,
  };
}
