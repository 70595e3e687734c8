// @ts-check
// Contact patterns on the drive side of a crown wheel's tooth: the tooth from the side, its heel outside and its toe
// inside, and where the marking paste is wiped off.

import { html } from "../vendor/lit-html/lit-html.js";

/**
 * Middle and half axes of the wiped patch on the drawn tooth, and how far it is turned, degrees.
 * @type {Record<string, [number, number, number, number, number]>}
 */
const PATCHES = {
  good: [57, 40, 21, 10, -4],
  toe: [30, 42, 15, 9, -4],
  heel: [90, 36, 17, 12, -4],
  face: [64, 26, 36, 5, -9],
  flank: [62, 54, 36, 5, 2],
};

/** @param {string} where "good", "toe", "heel", "face" or "flank" */
export function contactDrawing(where) {
  const [x, y, along, high, turn] = PATCHES[where];
  return html`<svg class="drawing contact" viewBox="0 0 124 84" aria-hidden="true">
    <path class="tooth" d="M12 28Q60 20 112 12V62Q60 62 12 58Z" />
    <path class="root" d="M12 58Q60 62 112 62" />
    <ellipse class="wiped" cx=${x} cy=${y} rx=${along} ry=${high} transform="rotate(${turn} ${x} ${y})" />
    <text x="8" y="78">toe</text>
    <text x="116" y="78" text-anchor="end">heel</text>
  </svg>`;
}
