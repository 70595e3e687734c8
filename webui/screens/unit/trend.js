// @ts-check
// The trend on a unit's page: all checks by date, or those since the rebuild by outings with what is to come.

import { calc } from "../../engine/door.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { choiceKeys } from "../form/fields.js";
import { worked } from "../form/worked.js";

/** @typedef {Awaited<ReturnType<typeof import("../form/fields.js").reading>>} Read */
/** @typedef {import("../../engine/calculations.js").Calculations["outlook"]["result"]} Outlook */
/** @typedef {import("../../engine/calculations.js").LifeResult} LifeResult */
/** What checks enough say. @typedef {Extract<LifeResult, {enough: true}>} Trend */
/** @typedef {import("../../draw/trend.js").Given} Chart */
/** @typedef {import("../../log/stands.js").BuiltStanding} BuiltStanding */

/**
 * @typedef {object} TrendState
 * @property {BuiltStanding} [found] what stands
 * @property {Outlook} [ahead] what is to come, once it is worked out
 * @property {string} [chosen] the way of showing that somebody chose
 */

const say = (/** @type {number} */ value) => value.toFixed(1);

/** A limit in the reader's unit. @param {Read} read @param {number | null | undefined} nm */
const limit = (read, nm) => (typeof nm === "number" ? read.torqueIn(nm) : null);

/** All checks by date. @param {BuiltStanding} found @param {Read} read @returns {Chart} */
function byDate(found, read) {
  const { low_nm, high_nm } = found.torque ?? found.derived.checked.service;
  return {
    points: found.trend.map(({ at, value_nm, guard_nm }) => ({
      x: at,
      value: read.torqueIn(value_nm ?? 0),
      guard: read.torqueIn(guard_nm ?? 0),
    })),
    byDate: true,
    low: limit(read, low_nm),
    high: limit(read, high_nm),
    breaks: found.rebuilds,
    label: read.torqueLabel,
    say,
    words: "",
  };
}

/**
 * Checks since the rebuild by outings, with what is to come.
 * @param {BuiltStanding} found
 * @param {Outlook["checks"]} checks
 * @param {Trend} life
 * @param {Read} read
 * @returns {Chart}
 */
function byOutings(found, checks, life, read) {
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
      low: read.torqueIn(point.low),
      high: read.torqueIn(point.high),
    })),
    opening: due_use === null ? undefined : { x: due_use, words: `next opening: ${Math.floor(due_use)}` },
    label: read.torqueLabel,
    say,
    words: life.text,
  };
}

/**
 * What stands below the chart.
 * @param {BuiltStanding} found
 * @param {Outlook | undefined} ahead
 * @param {string} mode
 */
function below(found, ahead, mode) {
  const { life } = ahead ?? {};
  if (mode === "outings")
    return html`<p>${life?.text}</p>
      <p class="quiet">Across: outings since the rebuild. Shaded: where the next reading will lie, 95 %.</p>
      ${worked("trend")}`;
  const silent = ahead === undefined || life?.enough;
  return html`${found.rebuilds.length ? html`<p class="quiet">Upright strokes: rebuilds.</p>` : nothing}
  ${silent ? nothing : html`<p class="quiet">${ahead.why || life?.text}</p>`}`;
}

/** @param {TrendState} state @param {Read} read @param {() => void} draw */
function trendView(state, read, draw) {
  const { found, ahead } = state;
  if (!found?.trend.length) return nothing;
  const life = ahead?.life?.enough ? ahead.life : undefined;
  const mode = life ? (state.chosen ?? "outings") : "dates";
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
  const shown = ahead && life && mode === "outings" ? byOutings(found, ahead.checks, life, read) : byDate(found, read);
  return html`${life ? modes() : nothing} <trend-chart .shown=${shown}></trend-chart> ${below(found, ahead, mode)}`;
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
     * @param {BuiltStanding} found what stands
     * @param {import("../../log/store.js").Entry[]} entries
     */
    give(found, entries) {
      state.found = found;
      calc("outlook", { entries }).then((ahead) => {
        if (state.found !== found) return;
        state.ahead = ahead;
        draw();
      });
    },
  };
}
