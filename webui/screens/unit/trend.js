// @ts-check
// The trend on a unit's page: all checks by date, or those since the rebuild by outings with what is to come.

import { chart } from "../../draw/chart.js";
import { curvesDrawing } from "../../draw/curves.js";
import { calc } from "../../engine/door.js";
import { othersOfPattern } from "../../log/pattern.js";
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
 * @property {boolean} withFirst whether checks fresh from a rebuild count in the line
 * @property {import("../../log/store.js").Entry[]} entries
 */

/** A torque of the drawing, which is in the reader's unit already. @param {Read} read */
const sayIn = (read) => (/** @type {number} */ value) => `${value.toFixed(1)} ${read.torqueLabel}`;

/** What the chart is of. */
const NAME = "Breakaway torque";

const NO_LIMITS = { low_nm: null, high_nm: null };

/** A limit in the reader's unit. @param {Read} read @param {number | null | undefined} nm */
const limit = (read, nm) => (typeof nm === "number" ? read.torqueIn(nm) : null);

/**
 * All checks by date.
 * @param {BuiltStanding} found
 * @param {Read} read
 * @param {boolean} withFirst
 * @returns {Chart}
 */
function byDate(found, read, withFirst) {
  const { low_nm, high_nm } = found.torque ?? found.limits?.running ?? NO_LIMITS;
  return {
    points: found.trend.map(({ at, value_nm, guard_nm, fresh }) => ({
      x: at,
      value: read.torqueIn(value_nm ?? 0),
      guard: read.torqueIn(guard_nm ?? 0),
      hollow: fresh,
      joined: withFirst || !fresh,
    })),
    name: NAME,
    byDate: true,
    low: limit(read, low_nm),
    high: limit(read, high_nm),
    breaks: found.rebuilds,
    label: read.torqueLabel,
    say: sayIn(read),
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
  const { low_nm, high_nm } = found.limits?.running ?? NO_LIMITS;
  const { due_use } = life;
  return {
    points: checks.map(({ use, value_nm, guard_nm, fresh, counts }) => ({
      x: use,
      value: read.torqueIn(value_nm),
      guard: read.torqueIn(guard_nm ?? 0),
      hollow: fresh,
      joined: counts,
    })),
    name: NAME,
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
    say: sayIn(read),
    words: life.text,
  };
}

/**
 * The same from the first check on, by builds before this one.
 * @param {BuiltStanding} found
 * @param {NonNullable<Outlook["wear"]["torque"]>} torque
 * @param {Read} read
 */
function wearDrawing(found, { checks, curve, due_use, text }, read) {
  const { low_nm } = found.limits?.running ?? NO_LIMITS;
  const points = curve.map((point) => ({
    x: point.use,
    y: read.torqueIn(point.value_nm),
    low: read.torqueIn(point.low_nm),
    high: read.torqueIn(point.high_nm),
  }));
  return curvesDrawing({
    series: [{ name: "", points }],
    dots: checks.map(({ use, torque_nm }) => ({ x: use, y: read.torqueIn(torque_nm) })),
    marks: [
      ...(low_nm ? [{ y: read.torqueIn(low_nm), name: "lowest" }] : []),
      ...(due_use === null ? [] : [{ x: due_use, name: `next opening: ${Math.floor(due_use)}` }]),
    ],
    xName: "outings since the rebuild",
    yName: read.torqueLabel,
    words: text,
  });
}

/**
 * What stands below the chart.
 * @param {BuiltStanding} found
 * @param {Outlook | undefined} ahead
 * @param {string} mode
 */
function below(found, ahead, mode) {
  const { life } = ahead ?? {};
  const across = `Across: ${mode} since the rebuild. Shaded: where the next reading will lie, 95 %.`;
  if (mode !== "dates")
    return html`<p>${life?.text}</p>
      <p class="quiet">${across}</p>
      ${worked("trend")}`;
  const silent = ahead === undefined || life?.enough;
  return html`${found.rebuilds.length ? html`<p class="quiet">Vertical lines: rebuilds.</p>` : nothing}
  ${silent || ahead.wear.torque ? nothing : html`<p class="quiet">${ahead.why || life?.text}</p>`}`;
}

/**
 * What earlier builds and those of its pattern say, from the first check on.
 * @param {BuiltStanding} found
 * @param {Outlook} ahead
 * @param {Read} read
 */
function wear(found, { wear: { torque, plates } }, read) {
  const sentences = [...(torque ? [torque.text] : []), ...plates.map(({ text }) => text)];
  return sentences.length
    ? html`<h3>By builds before this one</h3>
        ${torque ? wearDrawing(found, torque, read) : nothing} ${sentences.map((text) => html`<p>${text}</p>`)}
        ${worked("experience")}`
    : nothing;
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
        ...(ahead?.uses.includes("hours") ? [{ value: "hours", words: "By hours" }] : []),
        { value: "dates", words: "All, by date" },
      ],
      choose: (value) => {
        state.chosen = value;
        if (value !== "dates") lookAhead(state, read, draw);
        draw();
      },
    });
  const shown =
    ahead && life && mode !== "dates"
      ? byOutings(found, ahead.checks, life, read)
      : byDate(found, read, state.withFirst);
  return html`${life ? modes() : nothing} ${chart(shown)} ${firstChecks(state, read, draw)}
    ${below(found, ahead, mode)} ${ahead ? wear(found, ahead, read) : nothing}`;
}

/**
 * What a hollow dot is, and whether the line runs through it.
 * @param {TrendState} state @param {Read} read @param {() => void} draw
 */
function firstChecks(state, read, draw) {
  if (!state.found?.trend.some(({ fresh }) => fresh)) return nothing;
  const toggle = () => {
    state.withFirst = !state.withFirst;
    lookAhead(state, read, draw);
    draw();
  };
  return html`<p class="quiet">Hollow: fresh from a rebuild, before the plates bedded in.</p>
    <button class="small" aria-pressed=${state.withFirst} @click=${toggle}>
      ${state.withFirst ? "✓ " : ""}With the first check after a rebuild
    </button>`;
}

/** What use is counted in. @param {TrendState} state */
const useOf = ({ chosen }) => (chosen === "hours" ? "hours" : "outings");

/** @param {TrendState} state @param {Read} read @param {() => void} draw */
async function lookAhead(state, read, draw) {
  const { found, entries, withFirst } = state;
  const use = useOf(state);
  const others = found ? await othersOfPattern(found.unit_id ?? "", found.unit) : [];
  const ahead = await calc("outlook", { entries, others, with_first: withFirst, use, write_in: read.torqueUnit });
  if (state.found !== found || state.withFirst !== withFirst || useOf(state) !== use) return;
  state.ahead = ahead;
  draw();
}

/** @param {Read} read @param {() => void} draw */
export function unitTrend(read, draw) {
  /** @type {TrendState} */
  const state = { withFirst: false, entries: [] };
  return {
    view: () => trendView(state, read, draw),
    /**
     * What the trend is of.
     * @param {BuiltStanding} found what stands
     * @param {import("../../log/store.js").Entry[]} entries
     */
    give(found, entries) {
      state.found = found;
      state.entries = entries;
    },
    /** Looks ahead again. */
    ahead: () => void lookAhead(state, read, draw),
  };
}
