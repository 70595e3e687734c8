// @ts-check
// Setting a crown wheel: which shims to move, from backlash, turning torque and contact pattern.

import { contactDrawing } from "../../draw/contact.js";
import { crownWheelDrawing } from "../../draw/crown-wheel.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { style } from "../form/style.js";
import { sure } from "./example.js";
import { formula, inline, over } from "./formula.js";
import { word } from "./words.js";

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["j", "backlash, middle between tightest and loosest tooth", "mm"],
  ["w", "backlash that is wanted", "mm"],
  ["s", "how far the crown wheel moves away from the pinion", "mm"],
  ["k", "change of backlash for each mm sideways", "–"],
  ["φ", "normal pressure angle", "degrees"],
  ["ψ", "spiral angle at the middle of the tooth", "degrees"],
  ["Γ", "pitch cone angle of the crown wheel", "degrees"],
  ["R", "radius at which the gauge touches", "mm"],
  ["r", "pitch radius at the middle of the tooth", "mm"],
  ["T", "turning torque of the bearings", "N·m"],
  ["V", "turning torque that is wanted", "N·m"],
  ["c", "turning torque for each mm of shims", "N·m/mm"],
  ["D", "shims to add, both sides together", "mm"],
];

const LIMITS = [
  "The angles hold at the middle of the tooth; the contact lies somewhere near it. So 10 % is added to the doubt " +
    "of the ratio, common practice, no source.",
  "With a hypoid pinion, whose shaft passes beside the middle, the numbers of teeth give the cone angle to a few " +
    "degrees only. Take it from the drawing where you can.",
  "Torque of tapered bearings rises ever more steeply with the shims. A line through two tries holds between them, " +
    "and hardly beyond.",
  "The contact pattern answers as told here with most spiral bevel and hypoid gears. Gears that were cut by another " +
    "method answer a little otherwise: the maker's own pictures come first.",
  "Some axles set the carrier by threaded rings, or spread the case: the movement counts there too, the shims do not.",
];

const TRIED = { behind_mm: 2.5, tooth_mm: 2.3, points_mm: [0.08, 0.09, 0.08] };

export const purpose = html`${word("backlash", "Backlash")} out of its limits says that shims have to move. This says
  which, how far, and how sure that is; after two tries it goes by what the axle itself has shown.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  const settingOf = async (/** @type {import("../../engine/door.js").RequestOf<"refit">} */ request) =>
    sure((await calc("refit", { write_in: read.torqueUnit, write_lengths_in: read.lengthUnit, ...request })).setting);
  const backlash = { points_mm: [0.24, 0.26, 0.25], low_mm: 0.1, high_mm: 0.2, gauge: { deviation_mm: 0.01 } };
  const [first, gears, second] = await Promise.all([
    settingOf({ backlash }),
    settingOf({ backlash, gears: { pressure_deg: 22.5, spiral_deg: 35, crown_teeth: 41, pinion_teeth: 11 } }),
    settingOf({ backlash, shims: { behind_mm: 2.4, tooth_mm: 2.6 }, tries: [TRIED] }),
    style("refit"),
  ]);
  const adviceWords = (/** @type {typeof first} */ { advice }) =>
    advice.filter(({ about }) => about !== "contact").map(({ text }) => html`<p>${text}</p>`);
  return {
    figures: html`<figure>
        ${crownWheelDrawing({
          way: "towards",
          behind: first.behind_text,
          tooth: first.tooth_text,
          pinion: "",
          words: "A crown wheel between its two packs of shims, moved towards the pinion.",
        })}
        <figcaption>Shims go from the tooth side to behind the crown wheel: it comes nearer to the pinion.</figcaption>
      </figure>
      <figure>
        <div class="pair">${contactDrawing("heel")} ${contactDrawing("face")}</div>
        <figcaption>
          Drive side of a tooth. Left: wiped off at the heel; the crown wheel belongs towards the pinion. Right: high,
          at the tip; the pinion belongs deeper.
        </figcaption>
      </figure>`,
    working: html`<p>
        Moving the crown wheel sideways by ${inline("s")} changes backlash by ${inline("k")} times that:
      </p>
      ${formula("s =", over("w − j", "k"))}
      <p>
        Each flank leans by the pressure angle, and its normal has a part along the crown wheel's axis. Both flanks
        together open by
      </p>
      ${formula("k =", over("2 tan φ · sin Γ", "cos ψ"), "·", over("R", "r"))}
      <p>
        measured along the circle; square to the flank it is ${inline("cos φ · cos ψ")} times as much. What the spiral
        adds to one flank it takes from the other. Where both flanks differ, 2 tan φ is the sum of both tangents.
        Without the radii ${inline("R / r")} is 1.1, from 1.0 to 1.2; without angles ${inline("k")} is 0.7, from 0.5 to
        0.9.
      </p>
      <p>
        Where the pinion goes deeper, the crown wheel goes away by ${inline("cot Γ")} times as much, and backlash stays.
      </p>
      <p>
        With tries, ${inline("k")} is the slope of the line through them, as long as its doubt (95 %) is at most half of
        it; likewise the turning torque for each mm of shims. The bearings get half of a change on each side:
      </p>
      ${formula("D =", over("V − T", "c"))}
      <p>
        The range of ${inline("s")} goes from the least to the most that the dial gauge (two readings, 95 %) and the
        ratio allow. Shims in steps keep their total first, and come as near to ${inline("s")} as they can.
      </p>`,
    symbols: SYMBOLS,
    example: html`<p><b>Nothing known of the gears:</b></p>
      ${adviceWords(first)}
      <p><b>41 to 11 teeth, 22.5° pressure angle, 35° spiral angle:</b></p>
      ${adviceWords(gears)}
      <p><b>Second try, the first one kept:</b></p>
      ${adviceWords(second)}`,
    limits: LIMITS,
    sources: [
      "Change of backlash by the gears' angles: makers' handbooks for setting bevel gears, from memory; checked " +
        "against flanks turned in three dimensions. Cone angle by the teeth: ISO 23509:2016, from memory.",
      "Doubt of a reading and of a line: JCGM 100:2008 (GUM), 4.3.7, 5.1.2, H.3.",
      "Ratio 0.7, its range, the radii, what to move for which contact pattern and how far for a start: common " +
        "practice, no source. The maker's figures and pictures come first.",
    ],
    words: ["backlash", "scatter"],
  };
}
