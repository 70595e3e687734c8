// @ts-check
// The contact pattern of crown wheel and pinion: where the paste is wiped off, and what to move for it.

import { contactDrawing } from "../../draw/contact.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { verdictMark } from "../form/fields.js";
import { style } from "../form/style.js";
import { sure } from "./example.js";
import { formula, inline, over } from "./formula.js";
import { word } from "./words.js";

/** @type {["toe" | "heel" | "face" | "flank", string][]} */
const PATTERNS = [
  ["toe", "toe, the inner end"],
  ["heel", "heel, the outer end"],
  ["face", "high, along the tip"],
  ["flank", "low, along the root"],
];

const WORKING = html`<p>
    Brush a thin coat of ${word("marking paste")} onto a few teeth of the crown wheel, clean and dry before. Turn the
    pinion by hand, a few turns each way, while somebody holds the crown wheel back a little. The paste is wiped off
    where the teeth touch. Look at the side of the teeth that drives the car forward.
  </p>
  <p>
    Along the tooth, toe to heel, the crown wheel moves it; up and down, the pinion. Each moves the other a little, so:
    pinion first, then ${word("backlash")}, then paste again.
  </p>
  <p>
    The crown wheel can move only as far as backlash has room, with the guard band ${inline("g")} of the dial gauge kept
    free. Away from the pinion, where backlash grows, and towards it:
  </p>
  ${formula("s ≤", over("U − g − x_max", "k"))} ${formula("s ≤", over("x_min − g − L", "k"))}
  <p>
    Without a try before, the move is ${inline("0.05")} to ${inline("0.10")} mm. Where an earlier try had the opposite
    pattern, it is half the way to that try.
  </p>`;

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["s", "how far the crown wheel may move", "mm"],
  ["x_min", "backlash at the tightest tooth", "mm"],
  ["x_max", "backlash at the loosest tooth", "mm"],
  ["L", "least backlash allowed", "mm"],
  ["U", "most backlash allowed", "mm"],
  ["g", "guard band of the dial gauge", "mm"],
  ["k", "change of backlash for each mm sideways, the upper end of its range", "–"],
];

const LIMITS = [
  "Turn by hand, never by engine or starter: the teeth take fingers and brush with them.",
  "A pattern in the middle with backlash out of its limits is not good, nor is the other way round: both have to be.",
  "Worn gears keep the pattern that they have worn. Do not move them about for a nicer one: they will whine.",
  "A pattern that differs round the wheel is run-out or dirt under the crown wheel, and no shim mends it.",
  "Gears that were cut by another method answer a little otherwise: the maker's own pictures come first.",
];

export const purpose = html`${word("marking paste", "Marking paste")} shows where the teeth of crown wheel and pinion
  touch. This says what each pattern means and what to move for it, as far as ${word("backlash")} has room.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  const asked = async (/** @type {import("../../engine/door.js").RequestOf<"refit">} */ request) =>
    calc("refit", { write_in: read.torqueUnit, write_lengths_in: read.lengthUnit, ...request });
  const backlash = { low_mm: 0.1, high_mm: 0.2, gauge: {} };
  const room = { ...backlash, points_mm: [0.14, 0.15, 0.14] };
  const [moves, tight] = await Promise.all([
    Promise.all(PATTERNS.map(([drive]) => asked({ backlash: room, contact: { drive } }))),
    asked({ backlash: { ...backlash, points_mm: [0.165, 0.172, 0.168] }, contact: { drive: "toe" } }),
    style("refit"),
  ]);
  /** What to move by the pattern. @param {typeof tight} result */
  const advised = (result) =>
    sure(result.setting)
      .advice.filter(({ about }) => about === "contact")
      .map(({ text }) => html`<p>${text}</p>`);
  const checked = (/** @type {typeof tight} */ { checks }) => sure(checks.find(({ name }) => name === "contact"));
  return {
    figures: html`<figure>
      <div class="two">
        ${PATTERNS.map(([drive, words]) => html`<div>${contactDrawing(drive)}<p>${words}</p></div>`)}
      </div>
      <figcaption>
        A tooth of the crown wheel, drive side, with the patch where the paste is wiped off. Good is the middle, or a
        little towards the toe.
      </figcaption>
    </figure>`,
    working: WORKING,
    symbols: SYMBOLS,
    example: html`${moves.map(
      (result) => html`<p>${verdictMark(checked(result).verdict)} ${checked(result).reason}</p>${advised(result)}`,
    )}
      <p><b>At the toe again, with little room left in backlash:</b></p>
      ${advised(tight)}`,
    limits: LIMITS,
    sources: [
      "What to move for which pattern, and how far for a start: common practice, no source. The maker's own " +
        "pictures come first.",
      "Guard band: ISO 14253-1:2017. Change of backlash by the gears' angles: makers' handbooks, from memory.",
    ],
    words: ["contact pattern", "crown wheel", "pinion", "marking paste", "toe", "heel", "backlash", "run-out"],
  };
}
