// @ts-check
// Curves over a common axis, with marks and forbidden zones; computed from the arguments alone.

import { html, nothing, svg } from "../vendor/lit-html/lit-html.js";

const WIDTH = 340;
const HEIGHT = 220;
const LEFT = 46;
const RIGHT = 14;
const TOP = 18;
const BOTTOM = 38;

/** Round steps for an axis. @param {number} from @param {number} to @param {number} about how many */
export function ticks(from, to, about = 4) {
  const rough = (to - from) / about || 1;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((one) => one * power).find((one) => one >= rough) ?? rough;
  const found = [];
  for (let at = Math.ceil(from / step) * step; at <= to + 1e-9 * step; at += step) found.push(Math.round(at / step) * step);
  return found;
}

/**
 * @param {object} shown
 * @param {{name: string, points: {x: number, y: number}[], dashed?: boolean}[]} shown.series
 * @param {{x?: number, y?: number, name: string}[]} [shown.marks] a line across at x or y
 * @param {{from: number, to: number, name: string}[]} [shown.zones] forbidden stretches of x
 * @param {{low: number, high: number}} [shown.band] the wanted stretch of y
 * @param {{x: number, y: number}[]} [shown.dots] what was measured
 * @param {number} [shown.base] the lowest y that is shown
 * @param {string} shown.xName
 * @param {string} shown.yName
 * @param {string} shown.words what it shows, for those who do not see it
 */
export function curvesDrawing({ series, marks = [], zones = [], band, dots = [], base = 0, xName, yName, words }) {
  const all = [...series.flatMap((one) => one.points), ...dots];
  const across = [...all.map((point) => point.x), ...marks.flatMap((mark) => (mark.x === undefined ? [] : [mark.x]))];
  const up = [...all.map((point) => point.y), ...marks.flatMap((mark) => (mark.y === undefined ? [] : [mark.y])), ...(band ? [band.high] : [])];
  const [x0, x1, y1] = [Math.min(...across), Math.max(...across), base + 1.05 * (Math.max(...up, base + 1e-9) - base)];
  const x = (/** @type {number} */ at) => LEFT + ((at - x0) / (x1 - x0 || 1)) * (WIDTH - LEFT - RIGHT);
  const y = (/** @type {number} */ at) => HEIGHT - BOTTOM - ((at - base) / (y1 - base)) * (HEIGHT - TOP - BOTTOM);
  const inside = (/** @type {number} */ at) => Math.min(Math.max(at, x0), x1);
  const floor = HEIGHT - BOTTOM;
  /** Whether a name stands left of its mark: at the edge, or where the next mark would cross it. @param {number} at */
  const leftOf = (at) => x(at) > WIDTH - 90 || marks.some((other) => other.x !== undefined && x(other.x) > x(at) && x(other.x) < x(at) + 50);
  /** Where a zone's name stands: in its middle, or as near as no mark crosses it. @param {number} middle @param {string} name */
  const clearOf = (middle, name) => {
    const half = 3.3 * name.length;
    const lines = marks.flatMap((mark) => (mark.x === undefined ? [] : [x(mark.x)]));
    const kept = [middle, ...lines.flatMap((line) => [line - half - 4, line + half + 4])].map((at) => Math.min(Math.max(at, LEFT + half), WIDTH - half));
    const free = kept.filter((at) => lines.every((line) => Math.abs(line - at) > half + 2));
    return (free.length ? free : kept).reduce((best, at) => (Math.abs(at - middle) < Math.abs(best - middle) ? at : best));
  };
  return html`<svg class="drawing curves" viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label=${words}>
    ${zones.map((zone, place) => {
      const [a, b] = [x(inside(zone.from)), x(inside(zone.to))];
      return b > a ? svg`<rect class="zone" x=${a} y=${TOP} width=${b - a} height=${floor - TOP}/><text class="small" x=${clearOf((a + b) / 2, zone.name)} y=${TOP + 12 + 13 * place} text-anchor="middle">${zone.name}</text>` : nothing;
    })}
    ${band ? svg`<rect class="wanted" x=${LEFT} y=${y(band.high)} width=${WIDTH - LEFT - RIGHT} height=${y(Math.max(base, band.low)) - y(band.high)}/>` : nothing}
    ${ticks(base, y1).map((at) => svg`<line class="thin" x1=${LEFT} x2=${WIDTH - RIGHT} y1=${y(at)} y2=${y(at)}/><text class="small" x=${LEFT - 5} y=${y(at) + 4} text-anchor="end">${+at.toPrecision(3)}</text>`)}
    ${ticks(x0, x1).map((at) => svg`<text class="small" x=${x(at)} y=${floor + 14} text-anchor="middle">${+at.toPrecision(3)}</text>`)}
    <path class="line" d="M${LEFT} ${TOP}V${floor}H${WIDTH - RIGHT}" />
    ${series.map((one) => svg`<path class="curve ${one.dashed ? "dashed" : ""}" d=${one.points.map((point, place) => `${place ? "L" : "M"}${x(point.x).toFixed(1)} ${y(point.y).toFixed(1)}`).join("")}/>
      ${one.name ? svg`<text class="small name" x=${x(one.points[one.points.length - 1].x) - 4} y=${y(one.points[one.points.length - 1].y) - 6} text-anchor="end">${one.name}</text>` : nothing}`)}
    ${dots.map((dot) => svg`<circle class="dot" cx=${x(dot.x)} cy=${y(dot.y)} r="4"/>`)}
    ${marks.map((mark, place) =>
      mark.x === undefined
        ? svg`<line class="mark" x1=${LEFT} x2=${WIDTH - RIGHT} y1=${y(mark.y ?? 0)} y2=${y(mark.y ?? 0)}/><text class="small" x=${LEFT + 4} y=${y(mark.y ?? 0) - 4}>${mark.name}</text>`
        : svg`<line class="mark" x1=${x(mark.x)} x2=${x(mark.x)} y1=${TOP} y2=${floor}/><text class="small name" x=${x(mark.x) + (leftOf(mark.x) ? -4 : 4)} y=${floor - 6 - 14 * place} text-anchor=${leftOf(mark.x) ? "end" : "start"}>${mark.name}</text>`,
    )}
    <text class="small" x=${(LEFT + WIDTH - RIGHT) / 2} y=${HEIGHT - 6} text-anchor="middle">${xName}</text>
    <text class="small" x="2" y="11">${yName}</text>
  </svg>`;
}
