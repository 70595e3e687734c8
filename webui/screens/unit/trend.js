// @ts-check
// The trend on a unit's page: all checks by date, or those since the rebuild by outings with what is to come.

import { calc } from "../../engine/door.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { choiceKeys } from "../form/fields.js";
import { worked } from "../form/worked.js";

/** How far past the last check the drawing may go, in lengths of what was seen so far. */
const AHEAD = 1.5;

/** @typedef {Awaited<ReturnType<typeof import("../form/fields.js").reading>>} Read */
/** @typedef {import("../../engine/calculations.js").Calculations["outlook"]["result"]} Outlook */
/** @typedef {import("../../engine/calculations.js").LifeResult} LifeResult */
/** What checks enough say. @typedef {Extract<LifeResult, {enough: true}>} Trend */
/** @typedef {import("../../draw/trend.js").Trend} Chart */

/**
 * @typedef {object} TrendState
 * @property {any} [found] what stands
 * @property {Outlook} [ahead] what is to come, once it is worked out
 * @property {string} [chosen] the way of showing that somebody chose
 */

/** A time as the chart counts it. @param {string} at */
const seconds = (at) => Date.parse(at) / 1000;

const say = (/** @type {number} */ value) => value.toFixed(1);

/** A limit in the reader's unit. @param {Read} read @param {number | null | undefined} nm */
const limit = (read, nm) => (typeof nm === "number" ? read.torqueIn(nm) : null);

/** All checks by date. @param {TrendState} state @param {Read} read @returns {Chart} */
function byDate({ found }, read) {
  const { low_nm, high_nm } = found.torque ?? found.derived.checked.service;
  return {
    points: found.trend.map((/** @type {{at: string, value_nm: number, guard_nm: number}} */ check) => ({
      x: seconds(check.at),
      value: read.torqueIn(check.value_nm),
      guard: read.torqueIn(check.guard_nm),
    })),
    byDate: true,
    low: limit(read, low_nm),
    high: limit(read, high_nm),
    breaks: found.rebuilds.map(seconds),
    label: read.torqueLabel,
    say,
    words: "",
  };
}

/**
 * How far the drawing goes: to the next opening, but not far past what was seen.
 * @param {Trend} life
 * @param {Outlook["checks"]} checks
 */
function endOf(life, checks) {
  const [first, last] = [checks[0].use, checks[checks.length - 1].use];
  const seen = last - first;
  const opening = life.due_use === null ? 0 : last + 1.2 * (life.due_use - last);
  return Math.min(Math.max(last + 0.5 * seen, opening), last + AHEAD * seen);
}

/**
 * Checks since the rebuild by outings, with what is to come.
 * @param {TrendState} state
 * @param {Read} read
 * @returns {Chart}
 */
function byOutings({ found, ahead }, read) {
  const { life, checks } = /** @type {Outlook & {life: Trend}} */ (ahead);
  const { low_nm, high_nm } = found.derived.checked.service;
  const { due_use } = life;
  return {
    points: checks.map(({ use, value_nm, guard_nm }) => ({
      x: use,
      value: read.torqueIn(value_nm),
      guard: read.torqueIn(guard_nm ?? 0),
    })),
    byDate: false,
    low: limit(read, low_nm),
    high: limit(read, high_nm),
    curve: life.curve.map((point) => ({
      x: point.use,
      value: read.torqueIn(point.value),
      low: read.torqueIn(Math.max(0, point.low)),
      high: read.torqueIn(point.high),
    })),
    opening: due_use === null ? undefined : { x: due_use, words: `next opening: ${Math.floor(due_use)}` },
    to: endOf(life, checks),
    label: read.torqueLabel,
    say,
    words: life.text,
  };
}

/** What stands below the chart. @param {TrendState} state @param {string} mode @param {boolean} predicted */
function below({ ahead, found }, mode, predicted) {
  if (mode === "outings")
    return html`<p>${ahead?.life?.text}</p>
      <p class="quiet">Across: outings since the rebuild. Shaded: where the next reading will lie, 95 %.</p>
      ${worked("trend")}`;
  const silent = ahead === undefined || predicted;
  return html`${found.rebuilds.length ? html`<p class="quiet">Upright strokes: rebuilds.</p>` : nothing}
  ${silent ? nothing : html`<p class="quiet">${ahead.why || ahead.life?.text}</p>`}`;
}

/** @param {TrendState} state @param {Read} read @param {() => void} draw */
function trendView(state, read, draw) {
  if (!state.found?.trend.length) return nothing;
  const predicted = Boolean(state.ahead?.life?.enough);
  const mode = predicted ? (state.chosen ?? "outings") : "dates";
  const modes = () =>
    choiceKeys({
      name: "trend",
      label: "Trend",
      short: true,
      value: mode,
      options: [
        { value: "outings", words: "By outings" },
        { value: "dates", words: "All, by date" },
      ],
      choose: (value) => {
        state.chosen = value;
        draw();
      },
    });
  const shown = mode === "outings" ? byOutings(state, read) : byDate(state, read);
  return html`${predicted ? modes() : nothing} <trend-chart .shown=${shown}></trend-chart>
    ${below(state, mode, predicted)}`;
}

/** @param {Read} read @param {() => void} draw */
export function unitTrend(read, draw) {
  // The page stands without its chart, which comes when it is there.
  import("../../draw/trend.js").catch(console.error);
  /** @type {TrendState} */
  const state = {};
  return {
    view: () => trendView(state, read, draw),
    /**
     * Looks ahead again, once the page stands.
     * @param {any} found what stands
     * @param {import("../../log/store.js").Entry[]} entries
     */
    give(found, entries) {
      state.found = found;
      calc("outlook", { entries }).then((/** @type {Outlook} */ ahead) => {
        if (state.found !== found) return;
        state.ahead = ahead;
        draw();
      });
    },
  };
}
