// @ts-check
// A QR code as one path, to be printed or read from the screen.

import { html } from "../vendor/lit-html/lit-html.js";
import { encode } from "../vendor/uqr/dist/index.mjs";

/** @param {string} text @param {string} words what it leads to */
export function qrDrawing(text, words) {
  /** @type {{data: boolean[][], size: number}} */
  const { data, size } = encode(text, { ecc: "M", border: 2 });
  const path = data.flatMap((row, y) => row.map((dark, x) => (dark ? `M${x} ${y}h1v1h-1z` : ""))).join("");
  return html`<svg class="qr" viewBox="0 0 ${size} ${size}" role="img" aria-label=${words}>
    <rect class="ground" width=${size} height=${size} />
    <path d=${path} />
  </svg>`;
}
