// @ts-check
// One plate as it is measured: its points round the clock, and from the side the gap under it on a surface plate.

import { html, svg } from "../vendor/lit-html/lit-html.js";

/**
 * @param {object} shown
 * @param {number[]} shown.points thickness from twelve o'clock on, mm
 * @param {number} shown.gap thickest feeler that passes under, mm
 * @param {(mm: number) => string} shown.say
 */
export function plateDrawing({ points, gap, say }) {
  const lowest = Math.min(...points);
  const taper = Math.max(...points) - lowest;
  const at = (/** @type {number} */ place, /** @type {number} */ radius) => {
    const turn = (2 * Math.PI * place) / points.length;
    return [170 + Math.min(radius, 84) * Math.sin(turn), 116 - radius * Math.cos(turn)];
  };
  const words =
    `A plate measured at ${points.length} points: ${points.map(say).join(", ")}. ` +
    `The lowest, ${say(lowest)}, judges it; the taper is ${say(taper)}, the gap under it ${say(gap)}.`;
  return html`<svg
    class="drawing lesson"
    viewBox="0 0 340 292"
    role="img"
    aria-label=${words}
  >
    <path class="bronze" fill-rule="evenodd" d="M170 46a70 70 0 1 0 .01 0zM170 76a40 40 0 1 1 -.01 0z" />
    ${points.map((point, place) => {
      const [x, y] = at(place, 55);
      const [tx, ty] = at(place, 96);
      const worst = point === lowest;
      const anchor = Math.abs(tx - 170) < 8 ? "middle" : tx > 170 ? "start" : "end";
      return svg`<circle class="hollow" cx=${x} cy=${y} r=${worst ? 8 : 5}/>
        <text class=${worst ? "worst" : ""} x=${tx} y=${ty + 5} text-anchor=${anchor}
          >${say(point)}${worst ? " ▼" : ""}</text>`;
    })}
    <path class="iron" d="M30 262h280v14H30z" />
    <path class="bronze" d="M60 222Q170 278 280 222V234Q170 290 60 234Z" />
    <path class="measure" d="M70 238V262M62 238H78M62 262H78" />
    <text x="310" y="290" text-anchor="end">gap ${say(gap)}</text>
    <text x="30" y="290">surface plate</text>
  </svg>`;
}
