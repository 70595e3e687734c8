// @ts-check
// The cover from above with its screws, numbered in the crosswise order in which they are turned.

import { html, svg } from "../vendor/lit-html/lit-html.js";

/**
 * Crosswise: each screw is as far as can be from those just turned, so that the cover stays level.
 * @param {number} count
 * @returns {number[]} places round the cover, in order
 */
export function crosswise(count) {
  const left = Array.from({ length: count }, (_, place) => place);
  const order = [/** @type {number} */ (left.shift())];
  const apart = (/** @type {number} */ a, /** @type {number} */ b) => Math.min((a - b + count) % count, (b - a + count) % count);
  while (left.length) {
    const [last, before] = [order[order.length - 1], order[order.length - 2]];
    const weight = (/** @type {number} */ place) => apart(place, last) + (before === undefined ? 0 : apart(place, before) / count);
    const best = left.reduce((one, other) => (weight(other) > weight(one) ? other : one));
    order.push(...left.splice(left.indexOf(best), 1));
  }
  return order;
}

/** @param {number} count how many screws */
export function screwsDrawing(count) {
  const order = crosswise(count);
  return html`<svg class="drawing lesson" viewBox="0 0 340 240" role="img"
    aria-label=${`${count} cover screws, turned crosswise: counted round the cover, ${order.map((place) => place + 1).join(", ")}.`}>
    <circle class="iron" cx="170" cy="120" r="108" /><circle class="hollow" cx="170" cy="120" r="46" />
    ${order.map((place, turn) => {
      const angle = (2 * Math.PI * place) / count;
      const [x, y] = [170 + 78 * Math.sin(angle), 120 - 78 * Math.cos(angle)];
      return svg`<circle class="hollow" cx=${x} cy=${y} r="15"/><text class="strong" x=${x} y=${y + 5} text-anchor="middle">${turn + 1}</text>`;
    })}
  </svg>`;
}
