// @ts-check
// How the unit is held: four small drawings, so that nobody mixes up the way that feels the mean with the one that
// feels the sum. The bent arrow is the turned side.

import { html, svg } from "../vendor/lit-html/lit-html.js";

const arrow = svg`<path class="turn" d="M104 20a24 24 0 0 1 0 42"/><path class="turn" d="m111 57-7 6-3-9"/>`;
const turned = svg`<path class="turn" d="M108 26a22 22 0 0 1 0 40"/><path class="turn" d="m115 61-7 6-3-9"/>`;
const other = svg`<path class="turn" d="M12 26a22 22 0 0 0 0 40"/><path class="turn" d="m5 31 7-6 3 9"/>`;

const unit = svg`<path class="body" d="M40 22h40v38H40z"/><path class="line" d="M22 41h18M80 41h18"/>`;

/** @type {Record<string, ReturnType<typeof svg>>} */
const DRAWINGS = {
  // The left output in the jaws, the case free, the wrench on the right output.
  bench_output_held: svg`${unit}<path class="jaw" d="M10 22h12v14H10zM10 46h12v14H10z"/>
    <path class="ground" d="M6 70h24"/><path class="line" d="M16 60v10"/>${arrow}`,
  // The case in the jaws, the left output free.
  bench_case_held: svg`${unit}<path class="jaw" d="M44 8h32v12H44zM44 62h32v12H44z"/>
    <path class="ground" d="M36 80h48"/><path class="line" d="M60 74v6"/>${arrow}${other}`,
  car_one_wheel_down: svg`<path class="line" d="M24 41h72"/><path class="body" d="M46 28h28v26H46z"/>
    <path class="tyre" d="M12 18h14v50H12zM94 10h14v50H94z"/><path class="ground" d="M2 70h116"/>
    <path class="line" d="M84 68V46M78 70h12"/>${turned}`,
  car_both_wheels_up: svg`<path class="line" d="M24 35h72"/><path class="body" d="M46 22h28v26H46z"/>
    <path class="tyre" d="M12 10h14v50H12zM94 10h14v50H94z"/><path class="ground" d="M2 72h116"/>
    <path class="line" d="M36 70V40M30 72h12M84 70V40M78 72h12"/>${turned}${other}`,
};

/** @param {string} held */
export function heldDrawing(held) {
  return html`<svg class="held" viewBox="0 0 120 84" aria-hidden="true">${DRAWINGS[held]}</svg>`;
}

/** What stands where in each drawing: at the left, in the middle, at the right. @type {Record<string, string[]>} */
const NAMED = {
  bench_output_held: ["held", "case free", "wrench here"],
  bench_case_held: ["free", "case held", "wrench here"],
  car_one_wheel_down: ["stays down", "neutral", "wrench here"],
  car_both_wheels_up: ["turns back", "in gear", "wrench here"],
};

/** The same drawing large, with its parts named: where there is room beside what is typed. @param {string} held */
export function heldNamed(held) {
  const [left, middle, right] = NAMED[held];
  const words = `From the left: ${NAMED[held].join(", ")}.`;
  return html`<svg class="drawing held named" viewBox="-8 0 138 98" role="img" aria-label=${words}>
    ${DRAWINGS[held]}
    <text x="18" y="94" text-anchor="middle">${left}</text>
    <text x="60" y="94" text-anchor="middle">${middle}</text>
    <text x="103" y="94" text-anchor="middle">${right}</text>
  </svg>`;
}
