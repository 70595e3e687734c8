// @ts-check
// The cross pin between two ramps at their true angle, with the force that it is split into.

import { html, svg } from "../vendor/lit-html/lit-html.js";

/**
 * @param {object} shown
 * @param {number} shown.angle degrees from the plane of rotation
 * @param {string} shown.name such as "drive"
 */
export function wedgeDrawing({ angle, name }) {
  const radians = (angle * Math.PI) / 180;
  // The plane of rotation is drawn across; a shallow ramp lies flat on it and pushes the rings apart hard.
  const [reach, rise] = [56 * Math.cos(radians), 56 * Math.sin(radians)];
  const axial = angle >= 90 ? 0 : Math.min(40, 18 / Math.tan(radians));
  const ramp = (/** @type {number} */ sign) =>
    svg`<path class="ring plate" d="M14 ${70 + sign * 62}V${70 + sign * 8}H${70 - reach / 2}
      L${70 + reach / 2} ${70 + sign * (8 + rise)}H126V${70 + sign * 62}Z"/>`;
  const force = () =>
    svg`<path class="force" d="M112 60V${60 - axial}m-5 6 5-6 5 6M112 80V${80 + axial}m-5-6 5 6 5-6"/>`;
  return html`<svg
    class="drawing wedge stack"
    viewBox="0 0 140 158"
    role="img"
    aria-label=${`${name} ramp at ${angle} degrees from the plane of rotation`}
  >
    ${ramp(-1)}${ramp(1)}
    <circle class="pin" cx=${70 - reach / 2 + 10} cy="70" r="9" />
    ${axial > 1 ? force() : svg`<text x="138" y="74" text-anchor="end">no lock</text>`}
    <text x="16" y="152">${name} ${angle}°</text>
  </svg>`;
}
