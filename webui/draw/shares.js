// @ts-check
// From one torque to another, step by step: what each cause took away or added.

import { html, svg } from "../vendor/lit-html/lit-html.js";

/**
 * @param {object} shown
 * @param {number} shown.before
 * @param {{name: string, factor: number}[]} shown.steps in any order; each multiplies what stood before it
 * @param {(value: number) => string} shown.say
 */
export function sharesDrawing({ before, steps, say }) {
  const rows = [{ name: "before", from: 0, to: before, kind: "whole" }];
  for (const { name, factor } of steps) {
    const from = rows[rows.length - 1].to;
    rows.push({ name, from, to: from * factor, kind: factor < 1 ? "down" : "up" });
  }
  const now = rows[rows.length - 1].to;
  rows.push({ name: "now", from: 0, to: now, kind: "whole" });
  const most = Math.max(...rows.map((row) => Math.max(row.from, row.to)));
  const changes = steps.map(({ name, factor }) => `${name} ${(100 * (factor - 1)).toFixed(0)} percent`);
  const x = (/** @type {number} */ at) => 74 + (at / most) * 158;
  return html`<svg
    class="drawing lesson"
    viewBox="0 0 340 ${12 + 32 * rows.length}"
    role="img"
    aria-label=${`From ${say(before)} to ${say(now)}: ${changes.join(", ")}.`}
  >
    ${rows.map((row, place) => {
      const y = 8 + 32 * place;
      const [a, b] = [Math.min(x(row.from), x(row.to)), Math.max(x(row.from), x(row.to))];
      const change = `${row.to < row.from ? "−" : "+"}${Math.abs(100 * (row.to / row.from - 1)).toFixed(0)} %`;
      return svg`<text x="68" y=${y + 17} text-anchor="end">${row.name}</text>
        <rect class=${row.kind} x=${a} y=${y} width=${Math.max(2, b - a)} height="24" rx="2"/>
        ${place < rows.length - 1 ? svg`<path class="ghost" d=${`M${x(row.to)} ${y + 24}V${y + 32}`}/>` : svg``}
        <text class="strong" x=${b + 6} y=${y + 17}>${row.kind === "whole" ? say(row.to) : change}</text>`;
    })}
  </svg>`;
}
