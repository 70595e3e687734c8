// @ts-check
// What lies under the line of a trend: limits, the fitted line in its band, breaks, the next opening, doubts.

export const FONT_PX = 13;
const GAP = 5;

/**
 * @typedef {object} Ground what is painted on, all lengths in pixels of the screen
 * @property {CanvasRenderingContext2D} ctx
 * @property {{left: number, top: number, width: number, height: number}} bbox of the plot
 * @property {number} px how many of them make a pixel of the page
 * @property {(value: number) => number} x
 * @property {(value: number) => number} y
 * @property {(name: string) => string} colour
 * @property {string} font
 * @property {boolean} many whether there are so many points that they are drawn finer
 * @property {number} right end of x, in its own unit
 */

/** @typedef {import("./trend.js").Trend} Trend */

/** Everything in its order, from the bottom up. @param {Ground} ground @param {Trend} trend */
export function paintGround(ground, trend) {
  const { ctx, bbox, font, px } = ground;
  ctx.save();
  ctx.beginPath();
  ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
  ctx.clip();
  ctx.font = font.replace(/^\d+/, String(FONT_PX * px));
  paintAllowed(ground, trend);
  if (trend.curve?.length) paintBand(ground, trend.curve);
  paintBreaks(ground, trend.breaks);
  paintLimits(ground, trend);
  if (trend.opening) paintOpening(ground, trend.opening);
  paintDoubts(ground, trend.points);
  ctx.restore();
}

/** What lies inside the limits. @param {Ground} ground @param {Trend} trend */
function paintAllowed({ ctx, bbox, y, colour }, { low, high }) {
  const [ceiling, floor] = [bbox.top, bbox.top + bbox.height];
  const top = high === null ? ceiling : Math.max(ceiling, y(high));
  const bottom = low === null ? floor : Math.min(floor, y(low));
  ctx.fillStyle = colour("--go-ground");
  ctx.fillRect(bbox.left, top, bbox.width, Math.max(0, bottom - top));
}

/** The fitted line in its band. @param {Ground} ground @param {NonNullable<Trend["curve"]>} curve */
function paintBand({ ctx, px, x, y, colour }, curve) {
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

/** @param {Ground} ground @param {number[]} breaks */
function paintBreaks({ ctx, bbox, px, x, colour }, breaks) {
  ctx.strokeStyle = colour("--soft");
  ctx.lineWidth = 1.5 * px;
  ctx.setLineDash([2 * px, 4 * px]);
  for (const at of breaks) line(ctx, x(at), bbox.top, x(at), bbox.top + bbox.height);
}

/** @param {Ground} ground @param {Trend} trend */
function paintLimits({ ctx, bbox, px, y, colour }, { low, high, say, curve }) {
  ctx.strokeStyle = colour("--replace");
  ctx.fillStyle = colour("--replace");
  ctx.lineWidth = 2 * px;
  ctx.setLineDash([6 * px, 4 * px]);
  // At the right end stands what is to come.
  ctx.textAlign = curve?.length ? "left" : "right";
  const edge = curve?.length ? bbox.left + GAP * px : bbox.left + bbox.width - GAP * px;
  /** @param {number | null} limit @param {string} words @param {1 | -1} inward */
  const paint = (limit, words, inward) => {
    if (limit === null) return;
    line(ctx, bbox.left, y(limit), bbox.left + bbox.width, y(limit));
    ctx.textBaseline = inward > 0 ? "top" : "bottom";
    ctx.fillText(`${words} ${say(limit)}`, edge, y(limit) + inward * GAP * px);
  };
  paint(low, "from", -1);
  paint(high, "to", 1);
  ctx.setLineDash([]);
}

/** @param {Ground} ground @param {NonNullable<Trend["opening"]>} opening */
function paintOpening({ ctx, bbox, px, x, colour, right }, opening) {
  const beyond = opening.x > right;
  const at = x(Math.min(opening.x, right));
  ctx.strokeStyle = colour("--focus");
  ctx.fillStyle = colour("--ink");
  ctx.lineWidth = 2.5 * px;
  if (!beyond) line(ctx, at, bbox.top, at, bbox.top + bbox.height);
  const before = at - bbox.left > 0.5 * bbox.width;
  ctx.textAlign = before ? "right" : "left";
  ctx.textBaseline = "top";
  ctx.font = `700 ${ctx.font}`;
  ctx.fillText(`${opening.words}${beyond ? " ▸" : ""}`, at + (before ? -GAP : GAP) * px, bbox.top + 3 * px);
}

/** @param {Ground} ground @param {Trend["points"]} points */
function paintDoubts({ ctx, px, x, y, colour, many }, points) {
  ctx.strokeStyle = colour(many ? "--soft" : "--ink");
  ctx.lineWidth = (many ? 1 : 2) * px;
  for (const { x: at, value, guard } of points) line(ctx, x(at), y(value - guard), x(at), y(value + guard));
}

/** @param {CanvasRenderingContext2D} ctx @param {number} x @param {number} y @param {number} toX @param {number} toY */
function line(ctx, x, y, toX, toY) {
  ctx.beginPath();
  ctx.moveTo(x, y);
  ctx.lineTo(toX, toY);
  ctx.stroke();
}
