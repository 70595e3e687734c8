// @ts-check
// The way of an entry: phone, outbox, the workshop's log, and on to every other phone.

import { html, svg } from "../vendor/lit-html/lit-html.js";

/** @param {{name: string, told: string}[]} stations top to bottom */
export function journeyDrawing(stations) {
  const HIGH = 54;
  return html`<svg
    class="drawing lesson"
    viewBox="0 0 340 ${stations.length * (HIGH + 26) - 22}"
    role="img"
    aria-label=${stations.map((one) => `${one.name}: ${one.told}`).join("; then ")}
  >
    ${stations.map((one, place) => {
      const y = 2 + place * (HIGH + 26);
      return svg`<rect class="hollow" x="14" y=${y} width="312" height=${HIGH} rx="9"/>
        <text class="strong" x="28" y=${y + 22}>${one.name}</text><text x="28" y=${y + 42}>${one.told}</text>
        ${place < stations.length - 1 ? svg`<path class="force" d=${`M170 ${y + HIGH + 3}V${y + HIGH + 21}M164 ${y + HIGH + 15}L170 ${y + HIGH + 21}L176 ${y + HIGH + 15}`}/>` : svg``}`;
    })}
  </svg>`;
}
