// @ts-check
// A pack from the side, with every place marked at which it slides.

import { html, svg } from "../vendor/lit-html/lit-html.js";

const WIDE = 18;

/**
 * @param {object} shown
 * @param {("friction" | "separator")[]} shown.parts from the cover on
 * @param {number} shown.count sliding faces, as the engine counts them
 */
export function facesDrawing({ parts, count }) {
  const all = ["wall", ...parts, "ring"];
  const left = (340 - (all.length * (WIDE + 8) - 8)) / 2;
  const x = (/** @type {number} */ place) => left + place * (WIDE + 8);
  // Here friction plates hang on the output, below, as in most units; what turns with the case reaches up to it.
  const inner = (/** @type {string} */ part) => part === "friction";
  return html`<svg
    class="drawing lesson"
    viewBox="0 0 340 178"
    role="img"
    aria-label=${`A pack of ${parts.length} plates between case and ramp ring, with ${count} sliding faces.`}
  >
    <path class="steel" d=${`M${x(0)} 14H${x(all.length - 1) + WIDE}V24H${x(0)}Z`} />
    <path class="bronze" d=${`M${x(0) + WIDE} 150H${x(all.length - 1)}V162H${x(0) + WIDE}Z`} />
    ${all.map((part, place) =>
      inner(part)
        ? svg`<rect class="bronze" x=${x(place)} y="46" width=${WIDE} height="104"/>`
        : svg`<rect class=${part === "separator" ? "steel" : "iron"} x=${x(place)} y="24" width=${WIDE} height="104"/>`,
    )}
    ${all
      .slice(1)
      .map((part, place) =>
        inner(part) === inner(all[place]) ? svg`` : svg`<path class="slide" d=${`M${x(place) + WIDE + 4} 54V122`}/>`,
      )}
    <text x=${x(0)} y="10">case</text>
    <text x="170" y="176" text-anchor="middle">output</text>
    <text class="strong" x="336" y="10" text-anchor="end">${count} sliding faces</text>
  </svg>`;
}
