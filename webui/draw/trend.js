// @ts-check
// Torque over time with its doubt and the limits, as an element that draws itself anew when its room or its light changes.

/** uPlot's compact build is a plain script: half of what its module weighs. @returns {Promise<any>} */
function load() {
  const style = Object.assign(document.createElement("link"), { rel: "stylesheet", href: new URL("../vendor/uplot/dist/uPlot.min.css", import.meta.url).href });
  document.head.append(style);
  return new Promise((resolve, reject) => {
    const script = document.createElement("script");
    script.src = new URL("../vendor/uplot/dist/uPlot.iife.min.js", import.meta.url).href;
    script.onload = () => {
      const { uPlot } = /** @type {any} */ (globalThis);
      if (uPlot) resolve(uPlot);
      else reject(new Error("The chart could not be started."));
    };
    script.onerror = () => reject(new Error("The chart could not be loaded."));
    document.head.append(script);
  });
}

const uPlot = await load();

const HEIGHT = 240;
const DAY_S = 86400;
const DOT = 11;
const FONT_PX = 13;
const GAP = 5;

/**
 * @typedef {object} Trend all figures in the reader's unit
 * @property {{at: string, value: number, guard: number}[]} points oldest first, one at least
 * @property {number | null} low
 * @property {number | null} high
 * @property {string} label of the unit
 * @property {(value: number) => string} say
 */

class TrendChart extends HTMLElement {
  /** @type {Trend | undefined} */
  #shown;
  /** @type {any} */
  #plot;
  #room = new ResizeObserver(() => this.#fit());
  #dark = matchMedia("(prefers-color-scheme: dark)");
  #redraw = () => this.#draw();

  /** @param {Trend} shown */
  set shown(shown) {
    const same = JSON.stringify(shown) === JSON.stringify(this.#shown);
    this.#shown = shown;
    if (this.isConnected && !same) this.#draw();
  }

  connectedCallback() {
    // Given before this element was defined, it hides the setter above.
    if (Object.hasOwn(this, "shown")) {
      this.#shown = /** @type {any} */ (this).shown;
      delete (/** @type {any} */ (this).shown);
    }
    this.setAttribute("role", "img");
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
    const { points, low, high, label, say } = this.#shown;
    const last = points[points.length - 1];
    const limits = [low === null ? "" : `from ${say(low)}`, high === null ? "" : `to ${say(high)}`].join(" ").trim();
    const checks = points.length === 1 ? "1 check" : `${points.length} checks`;
    this.setAttribute("aria-label", `Breakaway torque over time, ${checks}, the last ${say(last.value)} ${label}; allowed ${limits || "anything"}.`);
    this.#plot?.destroy();
    const style = getComputedStyle(this);
    const colour = (/** @type {string} */ name) => style.getPropertyValue(name).trim();
    const font = `${FONT_PX}px ${style.fontFamily}`;
    const axis = { stroke: colour("--ink"), font, grid: { stroke: colour("--hair"), width: 1 }, ticks: { show: false } };
    const values = [...points.flatMap(({ value, guard }) => [value - guard, value + guard]), ...[low, high].filter((limit) => limit !== null)];

    /** The band and the doubt of each point, under the line. @param {any} plot */
    const under = (plot) => {
      const { ctx, bbox } = plot;
      const y = (/** @type {number} */ value) => plot.valToPos(value, "y", true);
      const top = Math.max(bbox.top, high === null ? bbox.top : y(high));
      const bottom = Math.min(bbox.top + bbox.height, low === null ? bbox.top + bbox.height : y(low));
      ctx.save();
      ctx.fillStyle = colour("--go-ground");
      ctx.fillRect(bbox.left, top, bbox.width, Math.max(0, bottom - top));
      ctx.strokeStyle = colour("--replace");
      ctx.lineWidth = 2 * devicePixelRatio;
      ctx.setLineDash([6 * devicePixelRatio, 4 * devicePixelRatio]);
      ctx.fillStyle = colour("--replace");
      ctx.font = font.replace(/^\d+/, String(FONT_PX * devicePixelRatio));
      ctx.textAlign = "right";
      /** @param {number | null} limit @param {string} words @param {1 | -1} inward */
      const mark = (limit, words, inward) => {
        if (limit === null) return;
        line(ctx, bbox.left, y(limit), bbox.left + bbox.width, y(limit));
        ctx.textBaseline = inward > 0 ? "top" : "bottom";
        ctx.fillText(`${words} ${say(limit)}`, bbox.left + bbox.width - GAP * devicePixelRatio, y(limit) + inward * GAP * devicePixelRatio);
      };
      mark(low, "from", -1);
      mark(high, "to", 1);
      ctx.setLineDash([]);
      ctx.strokeStyle = colour("--ink");
      for (const { at, value, guard } of points) {
        const x = plot.valToPos(Date.parse(at) / 1000, "x", true);
        line(ctx, x, y(value - guard), x, y(value + guard));
      }
      ctx.restore();
    };

    const data = [points.map(({ at }) => Date.parse(at) / 1000), points.map(({ value }) => value)];
    this.#plot = new uPlot(
      {
        width: this.clientWidth || 320,
        height: HEIGHT,
        legend: { show: false },
        cursor: { show: false },
        scales: {
          x: { range: (/** @type {any} */ _, /** @type {number} */ min, /** @type {number} */ max) => padded(min, max, 3 * DAY_S) },
          y: { range: () => padded(Math.min(...values), Math.max(...values), 1) },
        },
        axes: [
          { ...axis, space: 70, values: (/** @type {any} */ _, /** @type {number[]} */ at) => days(at) },
          { ...axis, size: 56, values: (/** @type {any} */ _, /** @type {number[]} */ at) => at.map((value) => String(Number(value.toPrecision(6)))) },
        ],
        series: [{}, { stroke: colour("--ink"), width: 2, points: { show: true, size: DOT, fill: colour("--ink") } }],
        hooks: { drawAxes: [under] },
      },
      data,
      this,
    );
  }
}

/** @param {CanvasRenderingContext2D} ctx @param {number} x @param {number} y @param {number} toX @param {number} toY */
function line(ctx, x, y, toX, toY) {
  ctx.beginPath();
  ctx.moveTo(x, y);
  ctx.lineTo(toX, toY);
  ctx.stroke();
}

/** A range with air at both ends. @param {number} from @param {number} to @param {number} least @returns {[number, number]} */
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

customElements.define("trend-chart", TrendChart);
