// @ts-check
// A car from above, its nose to the left: where a differential can sit, and what each wheel carries.

import { html, nothing, svg } from "../vendor/lit-html/lit-html.js";

/** The wheels, by their middles. @type {Record<string, [number, number]>} */
const WHEELS = {
  front_left: [84, 150],
  front_right: [84, 50],
  rear_left: [256, 150],
  rear_right: [256, 50],
};

/** Where a differential can sit, and where its name stands. @type {Record<string, {x: number, y: number, name:
string}>} */ const PLACES = {
  front: { x: 84, y: 100, name: "front axle" },
  centre: { x: 170, y: 100, name: "centre" },
  rear: { x: 256, y: 100, name: "rear axle" },
};

/**
 * @param {object} of
 * @param {string[]} [of.places] of the differentials that are drawn: front, centre, rear
 * @param {Record<string, string>} [of.loads] by wheel, as written
 * @param {string} of.words the same for those who hear it
 */
export function carDrawing({ places = [], loads = {}, words }) {
  return html`<svg class="drawing lesson" viewBox="0 0 340 200" role="img" aria-label=${words}>
    <path class="ghost" d="M44 64Q24 100 44 136L60 140H300Q312 100 300 60H60Z" />
    <path class="line" d="M84 56V144M256 56V144" />
    ${places.includes("centre") ? svg`<path class="line" d="M84 100H256"/>` : nothing}
    ${Object.entries(WHEELS).map(
      ([wheel, [x, y]]) => svg`<rect class="hollow" x=${x - 22} y=${y - 11} width="44" height="22" rx="6"/>
        <text class="strong" x=${x} y=${y < 100 ? 30 : 182} text-anchor="middle">${loads[wheel] ?? ""}</text>`,
    )}
    ${places.map((place) => {
      const { x, y, name } = PLACES[place];
      return svg`<circle class="bronze" cx=${x} cy=${y} r="13"/>
        <text class="strong" x=${x} y=${place === "centre" ? 132 : 197} text-anchor="middle">${name}</text>`;
    })}
    <path class="force" d="M27 100H6M13 93L6 100L13 107" />
    <text x="2" y="126">front</text>
  </svg>`;
}
