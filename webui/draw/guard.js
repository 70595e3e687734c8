// @ts-check
// The guard band: where the limits are, where the reading is, and how much of each side is doubt.

import { html, nothing, svg } from "../vendor/lit-html/lit-html.js";

const WIDTH = 340;
const MARGIN = 26;
const TOP = 34;
const BAND = 26;
// Half of what a letter takes.
const LETTER = 4.5;

/**
 * @param {object} judged
 * @param {number} judged.value
 * @param {number} judged.expanded two-sided 95 % doubt of the value
 * @param {number | null} judged.low
 * @param {number | null} judged.high
 * @param {number | null} judged.guardLow
 * @param {number | null} judged.guardHigh
 * @param {(value: number) => string} judged.say writes a figure in the reader's unit
 * @param {string} judged.words what the drawing shows, for those who do not see it
 */
export function guardDrawing({ value, expanded, low, high, guardLow, guardHigh, say, words }) {
  const ends = [value - expanded, value + expanded, low, high].filter((end) => end !== null);
  const span = Math.max(...ends) - Math.min(...ends) || 1;
  const from = Math.max(0, Math.min(...ends) - 0.12 * span);
  const to = Math.max(...ends) + 0.12 * span;
  const x = (/** @type {number} */ at) => MARGIN + ((at - from) / (to - from)) * (WIDTH - 2 * MARGIN);
  const left = low === null ? MARGIN : x(low);
  const right = high === null ? WIDTH - MARGIN : x(high);

  /** @param {number | null} limit @param {number | null} guard */
  const zone = (limit, guard) => {
    if (limit === null || guard === null) return nothing;
    const from_x = Math.max(x(limit - guard), MARGIN);
    const to_x = Math.min(x(limit + guard), WIDTH - MARGIN);
    return svg`<rect class="doubtful" x=${from_x} y=${TOP} width=${Math.max(0, to_x - from_x)} height=${BAND}/>`;
  };
  const half = (/** @type {string} */ text) => LETTER * text.length;
  /** @param {number} at @param {string} text */
  const inside = (at, text) => Math.min(Math.max(at, half(text)), WIDTH - half(text));
  const limits = [
    { limit: low, text: `from ${say(low ?? 0)}` },
    { limit: high, text: `to ${say(high ?? 0)}` },
  ].flatMap(({ limit, text }) => (limit === null ? [] : [{ text, line: x(limit), at: inside(x(limit), text) }]));
  if (limits.length > 1) {
    // Limits that are close together push their names apart, and back into the drawing.
    const [lower, upper] = limits;
    const short = Math.max(0, half(lower.text) + half(upper.text) + 8 - (upper.at - lower.at)) / 2;
    [lower.at, upper.at] = [lower.at - short, upper.at + short];
    const out = inside(lower.at, lower.text) - lower.at + inside(upper.at, upper.text) - upper.at;
    [lower.at, upper.at] = [lower.at + out, upper.at + out];
  }
  const found = `${say(value)} ± ${say(expanded)}`;
  const middle = TOP + BAND / 2;
  return html`<svg class="drawing guard" viewBox="0 0 ${WIDTH} ${TOP + BAND + 28}" role="img" aria-label=${words}>
    <rect class="allowed" x=${left} y=${TOP} width=${Math.max(0, right - left)} height=${BAND} />
    ${zone(low, guardLow)}${zone(high, guardHigh)}
    ${limits.map(
      ({ text, line, at }) => svg`<line class="limit" x1=${line} x2=${line} y1=${TOP - 5} y2=${TOP + BAND + 5}/>
      <text x=${at} y=${TOP + BAND + 20} text-anchor="middle">${text}</text>`,
    )}
    <line class="spread" x1=${x(value - expanded)} x2=${x(value + expanded)} y1=${middle} y2=${middle} />
    <circle class="dot" cx=${x(value)} cy=${middle} r="8" />
    <text x=${inside(x(value), found)} y="16" text-anchor="middle">${found}</text>
  </svg>`;
}

/**
 * A breakaway check as the engine judged it.
 * @param {{
 *   value_nm: number, expanded_nm: number, low_nm: number | null, high_nm: number | null,
 *   guard_low_nm: number | null, guard_high_nm: number | null,
 * }} result
 * @param {(value: number) => string} say
 * @param {string} words
 */
export const checkGuard = (result, say, words) =>
  guardDrawing({
    value: result.value_nm,
    expanded: result.expanded_nm,
    low: result.low_nm,
    high: result.high_nm,
    guardLow: result.guard_low_nm,
    guardHigh: result.guard_high_nm,
    say,
    words,
  });
