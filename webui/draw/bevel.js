// @ts-check
// A side gear and a pinion cut open: where its radius and its cone angle are measured, and which way it pushes.

import { html } from "../vendor/lit-html/lit-html.js";

const WORDS =
  "A side gear meshing with a pinion, cut open. The radius is measured from the shaft's middle to the middle of " +
  "the teeth; the cone angle lies between the shaft and the line along which the teeth meet. The side gear is " +
  "pushed along its shaft, away from the pinion.";

export function bevelDrawing() {
  return html`<svg
    class="drawing stack"
    viewBox="0 0 340 190"
    role="img"
    aria-label=${WORDS}
  >
    <path class="thin" d="M20 150H330M110 8V182" stroke-dasharray="10 4 2 4" />
    <path class="ring plate" d="M158 74L190 23 172 12H48L30 23 62 74 110 104Z" />
    <path class="separator plate" d="M158 74L190 23 207 33 216 60V140H150V100Z" />
    <path class="line" d="M110 150L196 13" stroke-dasharray="5 4" />
    <path class="line" d="M150 150A40 40 0 0 0 131 116" />
    <text x="18" y="134">cone angle</text>
    <path class="line" d="M174 48H262M254 58L262 48 270 58M262 48V150M254 140L262 150 270 140" />
    <text x="274" y="100">radius</text>
    <path class="line" d="M218 118H248m-9-7 9 7-9 7" />
    <text x="176" y="176">pushed this way</text>
    <text x="78" y="34">pinion</text>
    <text x="222" y="30">side gear</text>
  </svg>`;
}
