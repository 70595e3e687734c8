// @ts-check
// The way of an entry: phone, outbox, the workshop's log, and on to every other phone.

import { html, svg } from "../vendor/lit-html/lit-html.js";

const HIGH = 54;

/** From a station to the next one. @param {number} y where the station ends */
const arrow = (y) =>
  svg`<path class="force" d=${`M170 ${y + 3}V${y + 21}M164 ${y + 15}L170 ${y + 21}L176 ${y + 15}`}/>`;

/** @param {{name: string, about: string}[]} stations top to bottom */
export function journeyDrawing(stations) {
  return html`<svg
    class="drawing lesson"
    viewBox="0 0 340 ${stations.length * (HIGH + 26) - 22}"
    role="img"
    aria-label=${stations.map(({ name, about }) => `${name}: ${about}`).join("; then ")}
  >
    ${stations.map(({ name, about }, place) => {
      const y = 2 + place * (HIGH + 26);
      return svg`<rect class="hollow" x="14" y=${y} width="312" height=${HIGH} rx="9"/>
        <text class="strong" x="28" y=${y + 22}>${name}</text><text x="28" y=${y + 42}>${about}</text>
        ${place < stations.length - 1 ? arrow(y + HIGH) : svg``}`;
    })}
  </svg>`;
}
