// @ts-check
// A unit cut open from the side, as the first thing that an empty book shows.

import { html, svg } from "../vendor/lit-html/lit-html.js";

// Plates stand on both sides of the ramp rings and their pin: those of the case reach up, those of the output down.
const PLATES = [78, 92, 106, 120, 212, 226, 240, 254];

/** The parts in their place; nothing in it is to scale. */
export function stackDrawing() {
  return html`<svg
    class="drawing welcome"
    viewBox="0 4 340 102"
    role="img"
    aria-label="A plate-type differential cut open: plates on both sides of two ramp rings, in their case."
  >
    <path class="steel" d="M60 8H280V18H60ZM60 18H70V84H60ZM270 18H280V84H270Z" />
    ${PLATES.map((x, place) =>
      place % 2
        ? svg`<rect class="bronze" x=${x} y="36" width="9" height="56"/>`
        : svg`<rect class="steel" x=${x} y="18" width="9" height="56"/>`,
    )}
    <path class="iron" d="M136 24H168V42L158 54L168 66V84H136ZM204 24H172V42L182 54L172 66V84H204Z" />
    <circle class="steel" cx="170" cy="54" r="8" />
    <path class="bronze" d="M14 92H134V102H14ZM206 92H326V102H206Z" />
  </svg>`;
}
