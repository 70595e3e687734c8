// @ts-check
// A corner for one way to build a unit: zones over lateral acceleration and throttle, with a dot and its two wheels.

import { html, nothing, svg } from "../vendor/lit-html/lit-html.js";

const WIDTH = 168;
const HEIGHT = 150;
const EDGE = 4;

/**
 * What all pictures of one corner share.
 * @typedef {object} Ground
 * @property {number[]} lateral_ms2 the columns
 * @property {number} foot_nm
 * @property {number} top_nm
 * @property {{low_nm: number, high_nm: number}[]} turns
 */

/** @typedef {{zone: string, from_nm: (number | null)[], to_nm: (number | null)[], depth: (number | null)[]}} Zone */

/** Where somebody stands in a picture, in per cent of its width from the left and of its height from the foot. */
/** @typedef {{across: number, up: number}} Spot */

/** What each zone is drawn with besides its colour. */
const INSIDE = /** @type {[string, number, ReturnType<typeof svg>][]} */ ([
  ["nose_out", 6, svg`<path d="M0 3H6"/>`],
  ["tail_out", 6, svg`<path d="M-1 1l2-2M0 6l6-6M5 7l2-2"/>`],
  ["inner_spins", 6, svg`<circle cx="3" cy="3" r="1.2"/>`],
  ["both_go", 6, svg`<path d="M0 0l6 6M6 0l-6 6"/>`],
  ["inner_drags", 6, svg`<path d="M3 0V6"/>`],
  ["slides", 4, svg`<path d="M0 0l4 4M-1 3l2 2M3-1l2 2"/>`],
]);

/** @param {[string, number, ReturnType<typeof svg>]} of */
const pattern = ([zone, size, inside]) =>
  svg`<pattern id="zone-${zone}" width=${size} height=${size} patternUnits="userSpaceOnUse">${inside}</pattern>`;

/** The patterns of all pictures on the page, once. */
export const zonePatterns = () =>
  html`<svg class="zone-patterns" width="0" height="0" aria-hidden="true" focusable="false">
    <defs>${INSIDE.map(pattern)}</defs>
  </svg>`;

/** A zone's colour and pattern, for the legend. @param {string} zone */
export const zoneSample = (zone) =>
  html`<svg class="zone-sample" viewBox="0 0 30 18" aria-hidden="true">
    <rect class="zone-colour ${zone}" width="30" height="18" /><rect fill="url(#zone-${zone})" width="30" height="18" />
  </svg>`;

/** @param {Ground} ground */
function frameOf({ lateral_ms2, foot_nm, top_nm }) {
  const last = lateral_ms2[lateral_ms2.length - 1] || 1;
  return {
    x: (/** @type {number} */ lateral) => EDGE + (lateral / last) * (WIDTH - 2 * EDGE),
    y: (/** @type {number} */ torque) =>
      HEIGHT - EDGE - ((torque - foot_nm) / (top_nm - foot_nm || 1)) * (HEIGHT - 2 * EDGE),
  };
}

/** The place of a spot, as a request takes it. @param {Ground} ground @param {Spot} spot */
export function pointOf({ lateral_ms2, foot_nm, top_nm }, { across, up }) {
  const last = lateral_ms2[lateral_ms2.length - 1];
  return { lateral_ms2: (across / 100) * last, torque_nm: foot_nm + (up / 100) * (top_nm - foot_nm) };
}

/** Where a finger or a mouse is. @param {PointerEvent} event @returns {Spot} */
export function spotOf(event) {
  const box = /** @type {Element} */ (event.currentTarget).getBoundingClientRect();
  const share = (/** @type {number} */ at, /** @type {number} */ size) =>
    Math.round(100 * Math.min(1, Math.max(0, (at / size - 0.024) / 0.952)));
  return { across: share(event.clientX - box.left, box.width), up: share(box.bottom - event.clientY, box.height) };
}

/**
 * Stretches of columns in which a zone is there, each drawn half a column further on either side.
 * @param {Zone} zone @param {Ground} ground
 */
function stretches(zone, ground) {
  const { x, y } = frameOf(ground);
  const half = (x(ground.lateral_ms2[1] ?? 0) - x(0)) / 2;
  const inside = (/** @type {number} */ at) => Math.min(WIDTH - EDGE, Math.max(EDGE, at));
  /** @type {{x: number, foot: number, top: number, depth: number}[][]} */
  const found = [];
  let open = false;
  zone.from_nm.forEach((from, place) => {
    const to = zone.to_nm[place];
    if (from === null || to === null) {
      open = false;
      return;
    }
    if (!open) found.push([]);
    open = true;
    const at = { x: x(ground.lateral_ms2[place]), foot: y(from), top: y(to), depth: zone.depth[place] ?? 0 };
    found[found.length - 1].push(at);
  });
  return found.map((run) => {
    const [first, last] = [run[0], run[run.length - 1]];
    return [{ ...first, x: inside(first.x - half) }, ...run, { ...last, x: inside(last.x + half) }];
  });
}

/** @param {{x: number, foot: number, top: number}[]} run */
function outline(run) {
  const along = run.map(({ x, top }) => `${x.toFixed(1)} ${top.toFixed(1)}`);
  const back = run.map(({ x, foot }) => `${x.toFixed(1)} ${foot.toFixed(1)}`).reverse();
  return `M${[...along, ...back].join("L")}Z`;
}

/**
 * A zone: its colour, deeper where it turns the car more, and its pattern.
 * @param {Zone} zone @param {Ground} ground
 */
function zoneShape(zone, ground) {
  return stretches(zone, ground).map((run) => {
    const shape = outline(run);
    const depths = run.slice(1).map((next, place) => ({ pair: [run[place], next], depth: next.depth }));
    return svg`<path class="zone-colour ${zone.zone}" d=${shape}/>
      ${depths
        .filter(({ depth }) => depth > 0)
        .map(({ pair, depth }) => svg`<path class="zone-depth ${zone.zone}" opacity=${depth} d=${outline(pair)}/>`)}
      ${zone.zone === "even" ? nothing : svg`<path fill="url(#zone-${zone.zone})" d=${shape}/>`}`;
  });
}

/**
 * Both ends of a limit that is not known exactly.
 * @param {{low_nm: number, high_nm: number}[]} ends
 * @param {Ground} ground
 * @param {string} kind
 */
function doubtLines(ends, ground, kind) {
  const { x, y: free } = frameOf(ground);
  const y = (/** @type {number} */ torque) => Math.max(EDGE, free(torque));
  const line = (/** @type {"low_nm" | "high_nm"} */ end) =>
    ends
      .map((row, place) => `${place ? "L" : "M"}${x(ground.lateral_ms2[place]).toFixed(1)} ${y(row[end]).toFixed(1)}`)
      .join("");
  return ends.length ? svg`<path class="doubt ${kind}" d="${line("low_nm")}${line("high_nm")}"/>` : nothing;
}

/**
 * The dot with the torque of its two wheels as arrows, the inner one left.
 * @param {Spot} spot @param {Wheels} wheels
 */
function dotShape({ across, up }, { inner, outer }) {
  const x = EDGE + (across / 100) * (WIDTH - 2 * EDGE);
  const y = HEIGHT - EDGE - (up / 100) * (HEIGHT - 2 * EDGE);
  const arrow = (/** @type {number} */ side, /** @type {number} */ share) => {
    const reach = -60 * share;
    const tip = Math.sign(reach) * Math.min(4, Math.abs(reach));
    return svg`<path class="arrow" d="M${x + side} ${y}v${reach}m-3 ${-tip}l3 ${tip} 3 ${-tip}"/>`;
  };
  return svg`${arrow(-10, inner)}${arrow(10, outer)}<circle class="here" cx=${x} cy=${y} r="5"/>`;
}

/** Torques as shares of the most that is drawn. @typedef {{inner: number, outer: number}} Wheels */

/**
 * @param {object} shown
 * @param {Ground} shown.ground
 * @param {Zone[]} shown.zones
 * @param {{low_nm: number, high_nm: number}[]} shown.most
 * @param {Spot} shown.spot
 * @param {{inner_nm: number, outer_nm: number} | null} shown.point
 * @param {(spot: Spot) => void} shown.choose
 * @param {string} shown.words what it shows, for those who do not see it
 */
export function cornerDrawing({ ground, zones, most, spot, point, choose, words }) {
  const zero = frameOf(ground).y(0);
  const share = (/** @type {number} */ torque) => torque / (ground.top_nm || 1);
  const move = (/** @type {PointerEvent} */ event) => {
    if (event.type === "pointermove" && !event.buttons) return;
    choose(spotOf(event));
  };
  return html`<svg
    class="drawing corner"
    viewBox="0 0 ${WIDTH} ${HEIGHT}"
    role="img"
    aria-label=${words}
    @pointerdown=${move}
    @pointermove=${move}
  >
    ${zones.map((zone) => zoneShape(zone, ground))} ${doubtLines(ground.turns, ground, "turns")}
    ${doubtLines(most, ground, "most")}
    <line class="zero" x1=${EDGE} x2=${WIDTH - EDGE} y1=${zero} y2=${zero} />
    <rect class="frame" x=${EDGE} y=${EDGE} width=${WIDTH - 2 * EDGE} height=${HEIGHT - 2 * EDGE} />
    ${dotShape(spot, { inner: share(point?.inner_nm ?? 0), outer: share(point?.outer_nm ?? 0) })}
  </svg>`;
}
