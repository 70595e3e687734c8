// @ts-check
// Torque over time with its doubt and the limits, as an element that draws itself anew when its room or its light
// changes.

import { FONT_PX, paintGround } from "./trend-ground.js";

/** @typedef {import("uplot")} Plot */
/** @typedef {typeof import("uplot")} Library */

/** uPlot's compact build is a plain script: half of what its module weighs. @returns {Promise<Library>} */
function load() {
  const style = Object.assign(document.createElement("link"), {
    rel: "stylesheet",
    href: "/vendor/uplot/dist/uPlot.min.css",
  });
  document.head.append(style);
  return new Promise((resolve, reject) => {
    const script = document.createElement("script");
    script.src = "/vendor/uplot/dist/uPlot.iife.min.js";
    script.onload = () => {
      const { uPlot } = /** @type {typeof globalThis & {uPlot?: Library}} */ (globalThis);
      if (uPlot) resolve(uPlot);
      else reject(new Error("The chart could not be started."));
    };
    script.onerror = () => reject(new Error("The chart could not be loaded."));
    document.head.append(script);
  });
}

/** The library, which is there before the element is known to the page. @type {Library} */
let uPlot;

const HEIGHT = 240;
const DAY_S = 86400;
const DOT = 11;
const SMALL_DOT = 6;

// From here on dots and doubts are drawn finer, or they would run into one another.
const MANY = 20;

// How far past the last point the drawing may go, in lengths of what was seen so far.
const AHEAD = 1.5;

/**
 * @typedef {object} Given all figures in the reader's unit
 * @property {{x: number | string, value: number, guard: number, hollow: boolean, joined: boolean}[]} points
 *   in order of x, one at least; x is a time, or outings; hollow, how its dot is drawn; joined, whether the line runs
 *   through it
 * @property {boolean} byDate
 * @property {number | null} low
 * @property {number | null} high
 * @property {string} name of what is shown
 * @property {string} label of the unit
 * @property {(value: number) => string} say
 * @property {string} words what is to come, for those who do not see it
 * @property {string[]} [breaks] times at which the line ends and begins anew
 * @property {{x: number, value: number, low: number, high: number}[]} [curve] the line through the points and its band
 * @property {{x: number, words: string}} [opening]
 */

/** @typedef {{x: number, value: number, guard: number, hollow: boolean, joined: boolean}} Point */
/** @typedef {Omit<Given, "points" | "breaks">} Rest */
/** The same with times in seconds. @typedef {Rest & {points: Point[], breaks: number[]}} Trend */

class TrendChart extends HTMLElement {
  /** @type {Given | undefined} */
  #shown;
  /** @type {Plot | undefined} */
  #plot;
  #room = new ResizeObserver(() => this.#fit());
  #dark = matchMedia("(prefers-color-scheme: dark)");
  #redraw = () => this.#draw();

  /** @param {Given} shown */
  set shown(shown) {
    const same = JSON.stringify(shown) === JSON.stringify(this.#shown);
    this.#shown = shown;
    if (this.isConnected && !same) this.#draw();
  }

  connectedCallback() {
    // Given before this element was defined, it hides the setter above.
    const early = Object.getOwnPropertyDescriptor(this, "shown");
    if (early) {
      this.#shown = early.value;
      Reflect.deleteProperty(this, "shown");
    }
    this.#dark.addEventListener("change", this.#redraw);
    this.#room.observe(this);
    this.#draw();
  }

  disconnectedCallback() {
    this.#dark.removeEventListener("change", this.#redraw);
    this.#room.disconnect();
    this.#plot?.destroy();
    this.#plot = undefined;
  }

  #fit() {
    if (this.#plot && this.clientWidth && this.clientWidth !== this.#plot.width)
      this.#plot.setSize({ width: this.clientWidth, height: HEIGHT });
  }

  #draw() {
    if (!this.#shown) return;
    const trend = inSeconds(this.#shown);
    this.#plot?.destroy();
    const { points, breaks } = trend;
    // A row of null breaks the line; one of undefined is passed over.
    const gaps = breaks.map((x) => ({ x, line: null, full: null, hollow: null }));
    const dots = points.map(({ x, value, hollow, joined }) => ({
      x,
      line: joined ? value : undefined,
      full: hollow ? undefined : value,
      hollow: hollow ? value : undefined,
    }));
    const rows = [...dots, ...gaps].sort((a, b) => a.x - b.x);
    /** @type {import("uplot").AlignedData} */
    const columns = [
      rows.map(({ x }) => x),
      rows.map(({ line }) => line),
      rows.map(({ full }) => full),
      rows.map(({ hollow }) => hollow),
    ];
    this.#plot = new uPlot(this.#options(trend), columns, this);
  }

  /** How uPlot is to draw it. @param {Trend} shown @returns {import("uplot").Options} */
  #options(shown) {
    const { byDate, curve = [] } = shown;
    const style = getComputedStyle(this);
    const colour = (/** @type {string} */ name) => style.getPropertyValue(name).trim();
    const font = `${FONT_PX}px ${style.fontFamily}`;
    const many = shown.points.length > MANY;
    const { left, right, lowest, top } = ranges(shown);
    const grid = { stroke: colour("--hair"), width: 1 };
    const axis = { stroke: colour("--ink"), font, grid, ticks: { show: false } };
    const dots = { show: true, size: many ? SMALL_DOT : DOT, fill: colour("--ink") };
    const ring = { ...dots, fill: colour("--sheet"), stroke: colour("--ink"), width: many ? 1.25 : 2 };
    const none = { paths: () => null };
    const under = (/** @type {Plot} */ plot) => {
      const x = (/** @type {number} */ value) => plot.valToPos(value, "x", true);
      const y = (/** @type {number} */ value) => plot.valToPos(value, "y", true);
      const { ctx, bbox } = plot;
      paintGround({ ctx, bbox, px: devicePixelRatio, x, y, colour, font, many, right }, shown);
    };
    return {
      width: this.clientWidth || 320,
      height: HEIGHT,
      legend: { show: false },
      cursor: { show: false },
      scales: { x: { time: byDate, range: () => [left, right] }, y: { range: () => [lowest, top] } },
      axes: [
        {
          ...axis,
          space: 70,
          ...(byDate ? { values: (/** @type {Plot} */ _, /** @type {number[]} */ at) => days(at) } : {}),
        },
        { ...axis, size: 56, values: (/** @type {Plot} */ _, /** @type {number[]} */ at) => at.map(rounded) },
      ],
      series: [
        {},
        {
          stroke: colour("--ink"),
          width: many ? 1.25 : 2,
          // A line from dot to dot beside the fitted line would only confuse.
          ...(curve.length ? none : {}),
          points: { show: false },
        },
        { ...none, stroke: colour("--ink"), points: dots },
        { ...none, stroke: colour("--ink"), points: ring },
      ],
      hooks: { drawAxes: [under] },
    };
  }
}

/** Where something lies along the axis. @param {number | string} x a time, or outings */
const along = (x) => (typeof x === "string" ? Date.parse(x) / 1000 : x);

/** @param {Given} given @returns {Trend} */
function inSeconds({ points, breaks = [], ...rest }) {
  return { ...rest, points: points.map((point) => ({ ...point, x: along(point.x) })), breaks: breaks.map(along) };
}

/**
 * How far outings go: to the next opening, but not far past what was seen.
 * @param {number} first
 * @param {number} last
 * @param {number} [opening]
 */
function endOf(first, last, opening) {
  const seen = last - first;
  const reach = opening === undefined ? 0 : last + 1.2 * (opening - last);
  return Math.min(Math.max(last + 0.5 * seen, reach), last + AHEAD * seen);
}

/** Where the axes begin and end. @param {Trend} shown */
function ranges({ points, byDate, low, high, curve = [], opening }) {
  const [{ x: first }, { x: last }] = [points[0], points[points.length - 1]];
  const end = endOf(first, last, opening?.x);
  const [left, right] = byDate ? padded(first, last, 3 * DAY_S) : [Math.max(0, first) - 0.02 * end, end];
  const values = [
    ...points.flatMap(({ value, guard }) => [value - guard, value + guard]),
    ...curve.filter(({ x }) => x <= right).flatMap((point) => [point.low, point.high]),
    ...[low, high].filter((limit) => limit !== null),
  ];
  const [lowest, highest] = padded(Math.min(...values), Math.max(...values), 1);
  // The name of the next opening stands above everything else.
  const top = opening ? highest + 0.1 * (highest - lowest) : highest;
  return { left, right, lowest, top };
}

/** A figure at an axis. @param {number} value */
function rounded(value) {
  return String(Number(value.toPrecision(6)));
}

/**
 * A range with air at both ends.
 * @param {number} from
 * @param {number} to
 * @param {number} least
 * @returns {[number, number]}
 */
function padded(from, to, least) {
  const air = Math.max(0.06 * (to - from), least);
  return [from - air, to + air];
}

/** Days as people here write them, with the year where it begins. @param {number[]} seconds */
function days(seconds) {
  let year = 0;
  return seconds.map((at) => {
    const day = new Date(1000 * at);
    const anew = day.getFullYear() !== year;
    year = day.getFullYear();
    const words = day.toLocaleDateString(undefined, { day: "numeric", month: "short" });
    return anew ? `${words}\n${year}` : words;
  });
}

/** Makes the element known to the page, once its library is there. */
export async function define() {
  uPlot = await load();
  customElements.define("trend-chart", TrendChart);
}
