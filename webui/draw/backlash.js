// @ts-check
// Backlash: a tooth of the pinion between two of the crown wheel, with the gap drawn far wider than it is.

import { html } from "../vendor/lit-html/lit-html.js";

/** @param {string} gap as written */
export function backlashDrawing(gap) {
  return html`<svg
    class="drawing lesson"
    viewBox="0 0 340 216"
    role="img"
    aria-label=${
      "A dial gauge square to a tooth of the crown wheel, the pinion held: " +
      `the crown wheel moves to and fro by the backlash, ${gap}.`
    }
  >
    <path class="bronze" d="M10 22H330V60H205L193 128H150L138 60H10Z" />
    <path class="iron" d="M10 190V140H60L72 96H108L120 140H190L202 96H238L250 140H330V190Z" />
    <path class="ghost" d="M112 112V208M147 112V208" />
    <path class="measure" d="M112 204H147" />
    <circle class="hollow" cx="34" cy="112" r="20" />
    <path class="line" d="M34 112L42 98M54 112H67" />
    <path class="force" d="M262 165H318M270 158L262 165L270 172M310 158L318 165L310 172" />
    <text x="10" y="14">pinion, held</text>
    <text x="10" y="82">dial gauge</text>
    <text class="strong" x="154" y="209">backlash ${gap}</text>
    <text x="10" y="209">crown wheel</text>
  </svg>`;
}
