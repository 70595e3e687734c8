// @ts-check
// The cover from above with its screws, numbered in the crosswise order in which they are turned.

import { html, svg } from "../vendor/lit-html/lit-html.js";

/**
 * Crosswise: opposite screws follow each other, and each pair starts as far as can be from those already turned.
 * @param {number} count
 * @returns {number[]} places round the cover, in order
 */
export function crosswise(count) {
  // An odd number has no opposites: a star comes closest.
  if (count % 2) return Array.from({ length: count }, (_, turn) => ((turn * (count - 1)) / 2) % count);
  const apart = (/** @type {number} */ a, /** @type {number} */ b) =>
    Math.min((a - b + count) % count, (b - a + count) % count);
  /** @type {number[]} */
  const order = [];
  while (order.length < count) {
    const left = Array.from({ length: count }, (_, place) => place).filter((place) => !order.includes(place));
    const free = (/** @type {number} */ place) => Math.min(...order.map((used) => apart(place, used)), count);
    const next = left.reduce((best, place) => (free(place) > free(best) ? place : best));
    order.push(next, (next + count / 2) % count);
  }
  return order;
}

/** @param {number} count how many screws */
export function screwsDrawing(count) {
  const order = crosswise(count);
  const counted = order.map((place) => place + 1).join(", ");
  return html`<svg
    class="drawing lesson"
    viewBox="0 0 340 240"
    role="img"
    aria-label=${`${count} cover screws, turned crosswise: counted round the cover, ${counted}.`}
  >
    <circle class="iron" cx="170" cy="120" r="108" />
    <circle class="hollow" cx="170" cy="120" r="46" />
    ${order.map((place, turn) => {
      const angle = (2 * Math.PI * place) / count;
      const [x, y] = [170 + 78 * Math.sin(angle), 120 - 78 * Math.cos(angle)];
      return svg`<circle class="hollow" cx=${x} cy=${y} r="15"/>
        <text class="strong" x=${x} y=${y + 5} text-anchor="middle">${turn + 1}</text>`;
    })}
  </svg>`;
}
