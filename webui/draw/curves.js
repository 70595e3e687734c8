// @ts-check
// Curves over a common axis, with marks and forbidden zones; computed from the arguments alone.

import { html, nothing, svg } from "../vendor/lit-html/lit-html.js";

const WIDTH = 340;
const HEIGHT = 220;
const LEFT = 46;
const RIGHT = 14;
const TOP = 18;
const BOTTOM = 38;
// The y of the axis along x.
const FLOOR = HEIGHT - BOTTOM;

/** Round steps for an axis. @param {number} from @param {number} to @param {number} about how many */
export function ticks(from, to, about = 4) {
  const rough = (to - from) / about || 1;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((size) => size * power).find((size) => size >= rough) ?? rough;
  const places = [];
  for (let at = Math.ceil(from / step) * step; at <= to + 1e-9 * step; at += step)
    places.push(Math.round(at / step) * step);
  return places;
}

/** A line across the whole drawing. @param {string} kind @param {number} y */
const across = (kind, y) => svg`<line class=${kind} x1=${LEFT} x2=${WIDTH - RIGHT} y1=${y} y2=${y}/>`;

/**
 * A point of a curve, with its range where it has one.
 * @typedef {{x: number, y: number, low?: number, high?: number}} Point
 */

/**
 * A curve's range.
 * @param {{x: number, low: number, high: number}[]} points in the drawing's own steps
 */
const range = (points) => {
  const along = (/** @type {"low" | "high"} */ end) =>
    points.map((point) => `${point.x.toFixed(1)} ${point[end].toFixed(1)}`);
  return svg`<path class="range" d="M${[...along("high"), ...along("low").reverse()].join("L")}Z"/>`;
};

/** The wanted stretch. @param {number} top @param {number} foot */
const strip = (top, foot) =>
  svg`<rect class="wanted" x=${LEFT} y=${top} width=${WIDTH - LEFT - RIGHT} height=${foot - top}/>`;

/** @typedef {{name: string, points: Point[], dashed?: boolean}} Series */
/** @typedef {{x?: number, y?: number, name: string}} Mark a line across at x or y */

/**
 * Where values stand on the drawing: `x` and `y` turn them into its steps.
 * @typedef {object} Frame
 * @property {(at: number) => number} x
 * @property {(at: number) => number} y
 * @property {number} x0 least x shown
 * @property {number} x1 greatest x shown
 * @property {number} y1 greatest y shown
 */

/** The x of every mark that stands across it, in the drawing's own steps. @param {Mark[]} marks @param {Frame} frame */
const linesOf = (marks, { x }) => marks.flatMap((mark) => (mark.x === undefined ? [] : [x(mark.x)]));

/**
 * @param {Series[]} series
 * @param {Mark[]} marks
 * @param {{low: number, high: number} | undefined} band
 * @param {{x: number, y: number}[]} dots
 * @param {number} base
 * @returns {Frame}
 */
function frameOf(series, marks, band, dots, base) {
  /** @type {Point[]} */
  const all = [...series.flatMap(({ points }) => points), ...dots];
  const along = [...all.map((point) => point.x), ...marks.flatMap((mark) => (mark.x === undefined ? [] : [mark.x]))];
  const up = [
    ...all.map((point) => point.high ?? point.y),
    ...marks.flatMap((mark) => (mark.y === undefined ? [] : [mark.y])),
    ...(band ? [band.high] : []),
  ];
  const [x0, x1, y1] = [Math.min(...along), Math.max(...along), base + 1.05 * (Math.max(...up, base + 1e-9) - base)];
  return {
    x: (at) => LEFT + ((at - x0) / (x1 - x0 || 1)) * (WIDTH - LEFT - RIGHT),
    y: (at) => FLOOR - ((at - base) / (y1 - base)) * (FLOOR - TOP),
    x0,
    x1,
    y1,
  };
}

/**
 * Whether a curve runs through words.
 * @param {Series[]} series
 * @param {Frame} frame
 * @param {number} middle of the words
 * @param {number} half of their width
 * @param {number} foot
 */
function crossed(series, { x, y }, middle, half, foot) {
  return series.some(({ points }) => {
    const heights = [-1, -0.5, 0, 0.5, 1].flatMap((side) => {
      const at = middle + side * half;
      const next = points.findIndex((point) => x(point.x) >= at);
      if (next < 1) return [];
      const [from, to] = [points[next - 1], points[next]];
      return [y(from.y + ((at - x(from.x)) / (x(to.x) - x(from.x) || 1)) * (to.y - from.y))];
    });
    return Math.min(...heights) < foot + 4 && Math.max(...heights) > foot - 12;
  });
}

/**
 * Where a zone's name stands: as near to its middle as no mark, and as high as no curve runs through it.
 * @param {Series[]} series
 * @param {Mark[]} marks
 * @param {Frame} frame
 * @param {number} middle
 * @param {string} name
 * @param {number} place
 */
function clearOf(series, marks, frame, middle, name, place) {
  const half = 3.3 * name.length;
  const lines = linesOf(marks, frame);
  const possible = [middle, ...lines.flatMap((line) => [line - half - 4, line + half + 4])].map((at) =>
    Math.min(Math.max(at, LEFT + half), WIDTH - half),
  );
  const free = possible.filter((at) => lines.every((line) => Math.abs(line - at) > half + 2));
  const at = (free.length ? free : possible).reduce((best, next) =>
    Math.abs(next - middle) < Math.abs(best - middle) ? next : best,
  );
  let foot = TOP + 12 + 13 * place;
  while (foot < FLOOR - 40 && crossed(series, frame, at, half, foot)) foot += 13;
  return [at, foot];
}

/** The axes with their figures. @param {Frame} frame @param {number} base */
const axes = ({ x, y, x0, x1, y1 }, base) => svg`${ticks(base, y1).map(
  (at) => svg`${across("thin", y(at))}
      <text class="small" x=${LEFT - 5} y=${y(at) + 4} text-anchor="end">${+at.toPrecision(3)}</text>`,
)}
  ${ticks(x0, x1).map(
    (at) => svg`<text class="small" x=${x(at)} y=${FLOOR + 14} text-anchor="middle">${+at.toPrecision(3)}</text>`,
  )}
  <path class="line" d="M${LEFT} ${TOP}V${FLOOR}H${WIDTH - RIGHT}" />`;

/** The range of a curve, where its points have one. @param {Series} series @param {Frame} frame */
function rangeOf({ points }, { x, y }) {
  const known = points.flatMap(({ x: at, low, high }) =>
    low === undefined || high === undefined ? [] : [{ x: x(at), low: y(low), high: y(high) }],
  );
  return known.length ? range(known) : nothing;
}

/** A curve with its name at its end. @param {Series} series @param {Frame} frame */
function curve({ name, points, dashed }, { x, y }) {
  const steps = points.map((point, place) => `${place ? "L" : "M"}${x(point.x).toFixed(1)} ${y(point.y).toFixed(1)}`);
  const end = points[points.length - 1];
  return svg`<path class="curve ${dashed ? "dashed" : ""}" d=${steps.join("")}/>
    <text class="small name" x=${x(end.x) - 4} y=${y(end.y) - 6} text-anchor="end">${name}</text>`;
}

/**
 * A mark with its name: left of it at the edge, or where the next mark would cross the name.
 * @param {Mark} mark
 * @param {number} place among the marks
 * @param {Mark[]} marks
 * @param {Series[]} series
 * @param {Frame} frame
 */
function markOf(mark, place, marks, series, frame) {
  if (mark.x === undefined) {
    const height = frame.y(mark.y ?? 0);
    return svg`${across("mark", height)}<text class="small" x=${LEFT + 4} y=${height - 4}>${mark.name}</text>`;
  }
  const [line, half] = [frame.x(mark.x), 3.6 * mark.name.length];
  const isLeft = line > WIDTH - 90 || linesOf(marks, frame).some((other) => other > line && other < line + 50);
  const [side, anchor] = isLeft ? [-1, "end"] : [1, "start"];
  let foot = FLOOR - 6 - 14 * place;
  while (foot > TOP + 40 && crossed(series, frame, line + side * (half + 4), half, foot)) foot -= 13;
  return svg`<line class="mark" x1=${line} x2=${line} y1=${TOP} y2=${FLOOR}/>
    <text class="small name" x=${line + 4 * side} y=${foot} text-anchor=${anchor}>${mark.name}</text>`;
}

/**
 * @param {object} shown
 * @param {Series[]} shown.series
 * @param {Mark[]} [shown.marks]
 * @param {{from: number, to: number, name: string}[]} [shown.zones] forbidden stretches of x
 * @param {{low: number, high: number}} [shown.band] the wanted stretch of y
 * @param {{x: number, y: number}[]} [shown.dots] what was measured
 * @param {number} [shown.base] the lowest y that is shown
 * @param {string} shown.xName
 * @param {string} shown.yName
 * @param {string} shown.words what it shows, for those who do not see it
 */
export function curvesDrawing({ series, marks = [], zones = [], band, dots = [], base = 0, xName, yName, words }) {
  const frame = frameOf(series, marks, band, dots, base);
  const { x, y, x0, x1 } = frame;
  const inside = (/** @type {number} */ at) => Math.min(Math.max(at, x0), x1);
  const zoned = zones.flatMap(({ from, to, name }, place) => {
    const [a, b] = [x(inside(from)), x(inside(to))];
    const [at, foot] = clearOf(series, marks, frame, (a + b) / 2, name, place);
    return b > a ? [{ a, b, name, at, foot }] : [];
  });
  return html`<svg class="drawing curves" viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label=${words}>
    ${zoned.map(({ a, b }) => svg`<rect class="zone" x=${a} y=${TOP} width=${b - a} height=${FLOOR - TOP}/>`)}
    ${band ? strip(y(band.high), y(Math.max(base, band.low))) : nothing}
    ${series.map((line) => rangeOf(line, frame))}
    ${zoned.map(({ name, at, foot }) => svg`<text class="small" x=${at} y=${foot} text-anchor="middle">${name}</text>`)}
    ${axes(frame, base)}
    ${series.map((line) => curve(line, frame))}
    ${dots.map((dot) => svg`<circle class="dot" cx=${x(dot.x)} cy=${y(dot.y)} r="4"/>`)}
    ${marks.map((mark, place) => markOf(mark, place, marks, series, frame))}
    <text class="small" x=${(LEFT + WIDTH - RIGHT) / 2} y=${HEIGHT - 6} text-anchor="middle">${xName}</text>
    <text class="small" x="2" y="11">${yName}</text>
  </svg>`;
}
