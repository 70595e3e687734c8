// @ts-check
// A crown wheel between its bearings, seen from above: the shims behind it and on its tooth side, the pinion, and which
// way it has to move.

import { html, nothing, svg } from "../vendor/lit-html/lit-html.js";

/** An arrow along the axis; nothing where nothing moves. @param {"away" | "towards" | ""} way */
const arrow = (way) =>
  way
    ? svg`<path
        class="force"
        d=${way === "away" ? "M196 26H136M146 19L136 26 146 33" : "M136 26H196M186 19L196 26 186 33"}
      />`
    : nothing;

/**
 * @param {object} of
 * @param {"away" | "towards" | ""} of.way the crown wheel moves, from the pinion or to it
 * @param {string} of.behind what changes behind the crown wheel, as written; empty for nothing
 * @param {string} of.tooth what changes on the tooth side
 * @param {string} of.pinion what changes at the pinion
 * @param {string} of.words the same for those who hear it
 */
export function crownWheelDrawing({ way, behind, tooth, pinion, words }) {
  return html`<svg class="drawing stack crown" viewBox="0 0 340 206" role="img" aria-label=${words}>
    <path class="thin" d="M8 110H332" stroke-dasharray="10 4 2 4" />
    <path class="ring plate" d="M118 46H140V174H118Z" />
    <path class="separator plate" d="M140 50L158 62V90L140 96ZM140 124L158 130V158L140 170Z" />
    <path class="ring plate" d="M78 92H118V128H78ZM140 98H262V122H140Z" />
    <path class="separator plate" d="M54 80H78V140H54ZM262 80H286V140H262Z" />
    <path class="shim plate" d="M40 84H52V136H40ZM288 84H300V136H288Z" />
    <path class="friction plate" d="M164 134L206 128V186L164 176ZM206 146H322V168H206Z" />
    ${arrow(way)}
    <text x="8" y="52">behind</text>
    <text x="332" y="52" text-anchor="end">tooth side</text>
    <text class="strong" x="8" y="70">${behind}</text>
    <text class="strong" x="332" y="70" text-anchor="end">${tooth}</text>
    <text x="129" y="196" text-anchor="middle">crown wheel</text>
    <text x="322" y="184" text-anchor="end">pinion</text>
    <text class="strong" x="322" y="201" text-anchor="end">${pinion}</text>
  </svg>`;
}
