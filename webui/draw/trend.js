// @ts-check
// Torque over time with its doubt and the limits, as an element that draws itself anew when its room or its light
// changes.

/** uPlot's compact build is a plain script: half of what its module weighs. @returns {Promise<any>} */
function load() {
  const style = Object.assign(document.createElement("link"), {
    rel: "stylesheet",
    href: new URL("../vendor/uplot/dist/uPlot.min.css", import.meta.url).href,
  });
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
const SMALL_DOT = 6;
const FONT_PX = 13;
const GAP = 5;

// From here on dots and doubts are drawn finer, or they would run into one another.
const MANY = 20;

/**
 * @typedef {object} Trend all figures in the reader's unit
 * @property {{x: number, value: number, guard: number}[]} points in order of x, one at least; x is seconds or outings
 * @property {boolean} byDate
 * @property {number | null} low
 * @property {number | null} high
 * @property {string} label of the unit
 * @property {(value: number) => string} say
 * @property {string} words what is to come, for those who do not see it
 * @property {number[]} [breaks] where the line ends and begins anew
 * @property {{x: number, value: number, low: number, high: number}[]} [curve] the line through the points and its band
 * @property {{x: number, words: string}} [opening]
 * @property {number} [to] end of x
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
    const { points, byDate, low, high, label, say, words, breaks = [], curve = [], opening, to } = this.#shown;
    const last = points[points.length - 1];
    const limits = [low === null ? "" : `from ${say(low)}`, high === null ? "" : `to ${say(high)}`].join(" ").trim();
    const checks = points.length === 1 ? "1 check" : `${points.length} checks`;
    const over = byDate ? "over time" : "over outings since the rebuild";
    this.setAttribute(
      "aria-label",
      `Breakaway torque ${over}, ${checks}, the last ${say(last.value)} ${label}; ` +
        `allowed ${limits || "anything"}. ${words}`.trim(),
    );
    this.#plot?.destroy();
    const style = getComputedStyle(this);
    const colour = (/** @type {string} */ name) => style.getPropertyValue(name).trim();
    const font = `${FONT_PX}px ${style.fontFamily}`;
    const many = points.length > MANY;
    const axis = {
      stroke: colour("--ink"),
      font,
      grid: { stroke: colour("--hair"), width: 1 },
      ticks: { show: false },
    };
    const [left, right] = byDate
      ? padded(points[0].x, last.x, 3 * DAY_S)
      : [Math.max(0, points[0].x) - 0.02 * (to ?? last.x), to ?? last.x];
    const seen = curve.filter((one) => one.x <= right);
    const values = [
      ...points.flatMap(({ value, guard }) => [value - guard, value + guard]),
      ...seen.flatMap((one) => [one.low, one.high]),
      ...[low, high].filter((limit) => limit !== null),
    ];
    const [lowest, highest] = padded(Math.min(...values), Math.max(...values), 1);
    // The name of the next opening stands above everything else.
    const top = opening ? highest + 0.1 * (highest - lowest) : highest;

    /** Limits, band and the doubt of each point, under the line. @param {any} plot */
    const under = (plot) => {
      const { ctx, bbox } = plot;
      const px = devicePixelRatio;
      const x = (/** @type {number} */ value) => plot.valToPos(value, "x", true);
      const y = (/** @type {number} */ value) => plot.valToPos(value, "y", true);
      const [ceiling, floor] = [bbox.top, bbox.top + bbox.height];
      const [goTop, goBottom] = [
        high === null ? ceiling : Math.max(ceiling, y(high)),
        low === null ? floor : Math.min(floor, y(low)),
      ];
      ctx.save();
      ctx.beginPath();
      ctx.rect(bbox.left, ceiling, bbox.width, bbox.height);
      ctx.clip();
      ctx.fillStyle = colour("--go-ground");
      ctx.fillRect(bbox.left, goTop, bbox.width, Math.max(0, goBottom - goTop));

      if (curve.length) {
        ctx.beginPath();
        for (const point of curve) ctx.lineTo(x(point.x), y(point.high));
        for (const point of [...curve].reverse()) ctx.lineTo(x(point.x), y(point.low));
        ctx.closePath();
        ctx.fillStyle = colour("--again-ground");
        ctx.fill();
        ctx.strokeStyle = colour("--again");
        ctx.lineWidth = 1.25 * px;
        ctx.setLineDash([3 * px, 3 * px]);
        ctx.stroke();
        ctx.setLineDash([]);
        ctx.lineWidth = 2.5 * px;
        ctx.beginPath();
        for (const point of curve) ctx.lineTo(x(point.x), y(point.value));
        ctx.stroke();
      }

      ctx.font = font.replace(/^\d+/, String(FONT_PX * px));
      ctx.strokeStyle = colour("--soft");
      ctx.lineWidth = 1.5 * px;
      ctx.setLineDash([2 * px, 4 * px]);
      for (const at of breaks) line(ctx, x(at), ceiling, x(at), floor);

      ctx.strokeStyle = ctx.fillStyle = colour("--replace");
      ctx.lineWidth = 2 * px;
      ctx.setLineDash([6 * px, 4 * px]);
      ctx.textAlign = "right";
      /** @param {number | null} limit @param {string} words @param {1 | -1} inward */
      const mark = (limit, words, inward) => {
        if (limit === null) return;
        line(ctx, bbox.left, y(limit), bbox.left + bbox.width, y(limit));
        ctx.textBaseline = inward > 0 ? "top" : "bottom";
        // At the right end stands what is to come.
        ctx.textAlign = curve.length ? "left" : "right";
        const edge = ctx.textAlign === "left" ? bbox.left + GAP * px : bbox.left + bbox.width - GAP * px;
        ctx.fillText(`${words} ${say(limit)}`, edge, y(limit) + inward * GAP * px);
      };
      mark(low, "from", -1);
      mark(high, "to", 1);
      ctx.setLineDash([]);

      if (opening) {
        const beyond = opening.x > right;
        const at = x(Math.min(opening.x, right));
        ctx.strokeStyle = colour("--focus");
        ctx.fillStyle = colour("--ink");
        ctx.lineWidth = 2.5 * px;
        if (!beyond) line(ctx, at, ceiling, at, floor);
        const before = at - bbox.left > 0.5 * bbox.width;
        ctx.textAlign = before ? "right" : "left";
        ctx.textBaseline = "top";
        ctx.font = `700 ${ctx.font}`;
        ctx.fillText(`${opening.words}${beyond ? " ▸" : ""}`, at + (before ? -GAP : GAP) * px, ceiling + 3 * px);
      }

      ctx.strokeStyle = colour(many ? "--soft" : "--ink");
      ctx.lineWidth = (many ? 1 : 2) * px;
      for (const { x: across, value, guard } of points)
        line(ctx, x(across), y(value - guard), x(across), y(value + guard));
      ctx.restore();
    };

    // A point without a value breaks the line.
    const rows = [...points.map((one) => [one.x, one.value]), ...breaks.map((at) => [at, null])].sort(
      (a, b) => Number(a[0]) - Number(b[0]),
    );
    this.#plot = new uPlot(
      {
        width: this.clientWidth || 320,
        height: HEIGHT,
        legend: { show: false },
        cursor: { show: false },
        scales: {
          x: { time: byDate, range: () => [left, right] },
          y: { range: () => [lowest, top] },
        },
        axes: [
          {
            ...axis,
            space: 70,
            ...(byDate ? { values: (/** @type {any} */ _, /** @type {number[]} */ at) => days(at) } : {}),
          },
          {
            ...axis,
            size: 56,
            values: (/** @type {any} */ _, /** @type {number[]} */ at) =>
              at.map((value) => String(Number(value.toPrecision(6)))),
          },
        ],
        series: [
          {},
          {
            stroke: colour("--ink"),
            width: many ? 1.25 : 2,
            // A line from dot to dot beside the one that was fitted would only confuse.
            ...(curve.length ? { paths: () => null } : {}),
            points: { show: true, size: many ? SMALL_DOT : DOT, fill: colour("--ink") },
          },
        ],
        hooks: { drawAxes: [under] },
      },
      [rows.map(([at]) => at), rows.map(([, value]) => value)],
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

customElements.define("trend-chart", TrendChart);
