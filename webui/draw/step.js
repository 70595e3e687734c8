// @ts-check
// A ramp with the step that the pin has worn into it, drawn deeper than it is.

import { html } from "../vendor/lit-html/lit-html.js";

/** @param {string} depth the depth as written */
export function stepDrawing(depth) {
  return html`<svg
    class="drawing lesson"
    viewBox="0 0 340 176"
    role="img"
    aria-label=${`A ramp with a worn step, ${depth} deep, where the pin rests.`}
  >
    <path class="iron" d="M14 168V52H74L92 70L84 82L130 128L140 118L178 156H326V168Z" />
    <path class="ghost" d="M74 52L178 156" />
    <circle class="bronze" cx="132" cy="80" r="35" />
    <path class="measure" d="M200 82L141 120" />
    <text class="strong" x="194" y="58">step ${depth}</text>
    <text x="194" y="76">square to the ramp</text>
    <text class="on-bronze" x="132" y="85" text-anchor="middle">pin</text>
    <text x="26" y="150">ring</text>
  </svg>`;
}
