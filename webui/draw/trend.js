// @ts-check
// Torque over time with its doubt and the limits.

import { html, nothing, svg } from "../vendor/lit-html/lit-html.js";

const WIDTH = 340;
const HEIGHT = 190;
const LEFT = 40;
const RIGHT = 12;
const TOP = 14;
const BOTTOM = 30;

/**
 * @param {object} shown
 * @param {{at: string, value: number, guard: number}[]} shown.points oldest first
 * @param {number | null} shown.low
 * @param {number | null} shown.high
 * @param {(value: number) => string} shown.say
 */
export function trendDrawing({ points, low, high, say }) {
  const times = points.map((point) => Date.parse(point.at));
  const first = Math.min(...times);
  const last = Math.max(...times);
  const values = points.flatMap((point) => [point.value - point.guard, point.value + point.guard]);
  const ends = [...values, ...[low, high].filter((limit) => limit !== null)];
  const room = 0.06 * (Math.max(...ends) - Math.min(...ends) || 1);
  const from = Math.max(0, Math.min(...ends) - room);
  const to = Math.max(...ends) + room;
  const x = (/** @type {number} */ time) => LEFT + ((time - first) / Math.max(1, last - first)) * (WIDTH - LEFT - RIGHT);
  const y = (/** @type {number} */ value) => HEIGHT - BOTTOM - ((value - from) / (to - from)) * (HEIGHT - TOP - BOTTOM);
  const top = y(high ?? to);
  const bottom = y(low ?? from);
  const path = points.map((point, place) => `${place ? "L" : "M"}${x(times[place])} ${y(point.value)}`).join("");
  const day = (/** @type {number} */ time) => new Date(time).toLocaleDateString(undefined, { day: "numeric", month: "short" });
  /** @param {number | null} limit */
  const limitLine = (limit) =>
    limit === null
      ? nothing
      : svg`<line class="limit" x1=${LEFT} x2=${WIDTH - RIGHT} y1=${y(limit)} y2=${y(limit)}/>
          <text x=${LEFT - 4} y=${y(limit) + 4} text-anchor="end">${say(limit)}</text>`;
  const words = `Breakaway torque over time, ${points.length} checks, the last ${say(points[points.length - 1].value)}.`;
  return html`<svg class="drawing trend" viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label=${words}>
    <rect class="band" x=${LEFT} y=${top} width=${WIDTH - LEFT - RIGHT} height=${Math.max(0, bottom - top)} />
    ${limitLine(low)}${limitLine(high)}
    <path class="series" d=${path} />
    ${points.map(
      (point, place) => svg`<line class="whisker" x1=${x(times[place])} x2=${x(times[place])}
          y1=${y(point.value - point.guard)} y2=${y(point.value + point.guard)}/>
        <circle class="dot" cx=${x(times[place])} cy=${y(point.value)} r="5"/>`,
    )}
    <text x=${LEFT} y=${HEIGHT - 8}>${day(first)}</text>
    <text x=${WIDTH - RIGHT} y=${HEIGHT - 8} text-anchor="end">${last > first ? day(last) : ""}</text>
  </svg>`;
}
