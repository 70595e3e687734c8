// @ts-check
// A dial gauge on a gear that is pulled and pushed: the end float is the difference of two readings.

import { html } from "../vendor/lit-html/lit-html.js";

/** @param {string} float the end float as written */
export function dialDrawing(float) {
  const label = `A dial gauge square to the back of a side gear: pushed in and pulled out, the gear moves by ${float}.`;
  return html`<svg
    class="drawing lesson"
    viewBox="0 0 340 190"
    role="img"
    aria-label=${label}
  >
    <path class="iron" d="M206 46H246V24H322V166H246V144H206L190 120V70Z" />
    <path class="ghost" d="M182 46H166L150 70V120L166 144H182" />
    <path class="measure" d="M150 158H190" />
    <circle class="hollow" cx="62" cy="95" r="44" />
    <path class="line" d="M106 95H150M62 95L88 72" />
    <path class="ghost" d="M62 95L36 78" />
    <path class="force" d="M262 182H318M270 175L262 182L270 189M310 175L318 182L310 189" />
    <text x="20" y="40">dial gauge</text>
    <text class="strong" x="96" y="178">float ${float}</text>
    <text x="252" y="100">side gear</text>
  </svg>`;
}
