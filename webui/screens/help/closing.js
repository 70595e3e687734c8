// @ts-check
// Strip and close: what the vice and the screws must hold.

import { screwsDrawing } from "../../draw/screws.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { caution } from "../form/fields.js";
import { sure, UNIT, whole } from "./example.js";
import { formula, inline, over } from "./formula.js";
import { word } from "./words.js";

const WORKING = html`<p>
    With the cover flush the spring pushes with its load at the whole ${word("crush")}, and with less by the gap
    ${inline("a")} where the screws first catch:
  </p>
  ${formula("F = P ( c )")}${formula("F_a = P ( c − a )")}
  <p>
    A new spring may push harder than its table says, and the vice is sized for the most: the load tolerance at the
    load's test, or the tallest disc that still keeps to it, whichever pushes more.
  </p>
  <p>
    The energy is the area under the spring's curve up to ${inline("c")}. Each screw's torque gives it a clamp of
  </p>
  ${formula("C =", over("M", "q · d"))}
  <p>and all of them, less the spring, keep the cover down:</p>
  ${formula("C_0 = n · C − F")}
  <p>Below a fifth of the screws' clamp the cover may lift or fret, and Slipbook says so.</p>
  <p>
    With torque at the case the ramps push the cover too, ${inline("R")} as in Ramps, with their friction at its least
    and by the worse flank, so that either way of fitting the rings is covered. A spring in line with the packs hands
    on the larger of the two; one between the rings adds to it. Gears that bear on the case push the cover past the
    spring, with ${inline("G")} wherever it sits:
  </p>
  ${formula("C_T = n · C − max( F , R ) − G")}${formula("C_T = n · C − ( F + R ) − G")}
  <p>${inline("q")} is known to a quarter either way, so what is left is said in two figures, with both its ends.</p>
  <p>
    With the friction of the discs given, a nest of ${inline("k")} discs has to be closed with more than it stores,
    and gives back less. The vice is sized for the first:
  </p>
  ${formula("F_c =", over("F", "1 − w_M · ( k − 1 ) − w_R"))}${formula("F_o =", over("F", "1 + w_M · ( k − 1 ) + w_R"))}
  <p>A gap at the first thread that nobody gave is taken as 2 mm, and said to be assumed beside its force.</p>`;

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["P", "load of the spring at a squeeze: see Disc spring", "N"],
  ["F", "its push with the cover flush", "N"],
  ["F_a", "its push when the screws first catch", "N"],
  ["c", "crush", "mm"],
  ["a", "gap under the cover when the screws first catch", "mm"],
  ["M", "torque of a screw", "N·m"],
  ["q", "nut factor: 0.2 plain and dry", "–"],
  ["d", "thread diameter", "m"],
  ["n", "screws", "–"],
  ["R", "push of what presses the packs, at the greatest torque at the case", "N"],
  ["G", "thrust of a gear that bears on the case, at that torque; else 0", "N"],
  ["C_T", "clamp left at that torque", "N"],
  ["k", "discs nested in one another", "–"],
  ["w_M", "friction between nested discs", "–"],
  ["w_R", "friction at their edges", "–"],
  ["F_c", "what a press closes them with", "N"],
  ["F_o", "what comes back when it is opened", "N"],
];

const LIMITS = [
  "Friction of lugs is left out, and that of the discs until the definition gives it: a press that shows force " +
    "reads a little more going down and a little less coming up.",
  "The nut factor is a rough figure: about 0.2 dry, 0.15 oiled. Oil on a thread that was meant to be dry " +
    "clamps harder than the torque says.",
  "The clamp at the greatest torque takes all of the push off the screws' clamp, and leaves out knocks in the drive.",
  "A stack that is too thick cannot close at all: the spring is flat first. Never pull it down with the screws.",
];

const SOURCES = [
  "The spring: DIN EN 16984:2017; what a new one may be off: DIN EN 16983:2017, in part from memory.",
  "Friction of discs: DIN EN 16984:2017, from memory; w_M 0.005 to 0.03 and w_R 0.03 to 0.05 in series A, less in B " +
    "and C.",
  "Gap of 2 mm at the first thread; nut factor 0.2, about 0.15 oiled, a quarter either way; a fifth of the clamp; " +
    "the order of the steps: common practice, no source. The maker's procedure comes first.",
];

export const purpose = html`The closed spring pushes the cover with hundreds of kilograms. These figures say what the
  vice has to hold, and what the screws have left to hold with.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc }) {
  const [forces, steps] = await Promise.all([calc("closing", { unit: UNIT }), calc("steps", {})]);
  const result = whole(sure(forces.known && forces));
  const newtons = (/** @type {number} */ n) => `${Math.round(n)} N`;
  return {
    figures: html`${caution(
      html`<b>Held closed in a vice or press before any screw is touched, either way.</b> Face and hands out of line
          with the cover, safety glasses on. The maker's procedure and the local rules come first.`,
    )}
      <figure>
        ${screwsDrawing(UNIT.cover.screws)}
        <figcaption>
          Crosswise, a little each time, first loose, then to torque: the cover stays level and no screw takes the
          spring alone.
        </figcaption>
      </figure>`,
    working: WORKING,
    symbols: SYMBOLS,
    example: html`<table class="facts">
        <tbody>
          <tr>
            <th scope="row">the spring pushes, by its table</th>
            <td class="number">${newtons(result.flush_n)}</td>
          </tr>
          <tr>
            <th scope="row">the vice holds, at most</th>
            <td class="number">${newtons(result.vice_most_n)} (${Math.round(result.vice_most_kgf)} kgf)</td>
          </tr>
          <tr>
            <th scope="row">when the screws first catch</th>
            <td class="number">${newtons(result.start_n)}</td>
          </tr>
          <tr>
            <th scope="row">energy held</th>
            <td class="number">${result.energy_j.toFixed(1)} J, at most ${result.energy_most_j.toFixed(1)} J</td>
          </tr>
          <tr>
            <th scope="row">spring's share of a screw</th>
            <td class="number">${newtons(result.per_screw_n)}</td>
          </tr>
          <tr>
            <th scope="row">clamp of a screw</th>
            <td class="number">${newtons(result.screw_n)}</td>
          </tr>
          <tr>
            <th scope="row">left for the cover</th>
            <td class="number">${newtons(result.clamp_left_n)}</td>
          </tr>
        </tbody>
      </table>
      <div class="two steps-of">
        <div>
          <h3>Strip</h3>
          <ol class="steps">
            ${steps.strip.map((step) => html`<li>${step.text}</li>`)}
          </ol>
        </div>
        <div>
          <h3>Close</h3>
          <ol class="steps">
            ${steps.close.map((step) => html`<li>${step.text}</li>`)}
          </ol>
        </div>
      </div>`,
    limits: LIMITS,
    sources: SOURCES,
    words: ["crush", "cover", "disc spring", "nut factor", "solid"],
  };
}
