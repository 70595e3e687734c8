// @ts-check
// The trend on a unit's page: all checks by date, or those since the rebuild by outings with what is to come.

import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { outlook } from "./outlook.js";
import { choiceKeys } from "../form/fields.js";
import { worked } from "../form/worked.js";

/** How far past the last check the drawing may go, in lengths of what was seen so far. */
const AHEAD = 1.5;

/**
 * @param {Awaited<ReturnType<typeof import("../form/fields.js").reading>>} read
 * @param {() => void} draw
 */
export function unitTrend(read, draw) {
  // The page stands without its chart, which comes when it is there.
  import("../../draw/trend.js").catch(console.error);
  /** @type {string | undefined} */ let chosen;
  /** @type {Awaited<ReturnType<typeof outlook>> | undefined} */ let ahead;
  /** @type {any} */ let found;
  /** @type {string[]} */ let rebuilds = [];
  const say = (/** @type {number} */ value) => value.toFixed(1);
  const limit = (/** @type {number | null | undefined} */ nm) => (typeof nm === "number" ? read.torqueIn(nm) : null);

  const byDate = () => {
    const points = found.trend.map((/** @type {any} */ row) => ({
      x: Date.parse(row.at) / 1000,
      value: read.torqueIn(row.value_nm),
      guard: read.torqueIn(row.guard_nm),
    }));
    const { low_nm, high_nm } = found.torque ?? found.derived.checked.service;
    return {
      points,
      byDate: true,
      low: limit(low_nm),
      high: limit(high_nm),
      breaks: rebuilds.map((at) => Date.parse(at) / 1000),
      label: read.torqueLabel,
      say,
      words: "",
    };
  };

  const byOutings = () => {
    const { life, counted } = /** @type {NonNullable<typeof ahead>} */ (ahead);
    const { low_nm, high_nm } = found.derived.checked.service;
    const [first, last] = [counted[0].use, counted[counted.length - 1].use];
    const wanted = Math.max(
      last + 0.5 * (last - first),
      life.due_use === null ? 0 : last + 1.2 * (life.due_use - last),
    );
    return {
      points: counted.map((one) => ({
        x: one.use,
        value: read.torqueIn(one.value_nm),
        guard: read.torqueIn(one.guard_nm),
      })),
      byDate: false,
      low: limit(low_nm),
      high: limit(high_nm),
      curve: life.curve.map((/** @type {any} */ point) => ({
        x: point.use,
        value: read.torqueIn(point.value),
        low: read.torqueIn(Math.max(0, point.low)),
        high: read.torqueIn(point.high),
      })),
      opening:
        life.due_use === null ? undefined : { x: life.due_use, words: `next opening: ${Math.floor(life.due_use)}` },
      to: Math.min(wanted, last + AHEAD * (last - first)),
      label: read.torqueLabel,
      say,
      words: life.text,
    };
  };

  const view = () => {
    if (!found?.trend.length) return nothing;
    const can = Boolean(ahead?.life?.enough);
    const mode = can ? (chosen ?? "outings") : "dates";
    const waits = ahead === undefined;
    return html`${
      can
        ? choiceKeys({
            name: "trend",
            label: "Trend",
            short: true,
            value: mode,
            options: [
              { value: "outings", words: "By outings" },
              { value: "dates", words: "All, by date" },
            ],
            choose: (value) => {
              chosen = value;
              draw();
            },
          })
        : nothing
    }
      <trend-chart .shown=${mode === "outings" ? byOutings() : byDate()}></trend-chart>
      ${
        mode === "outings"
          ? html`<p>${ahead?.life.text}</p>
              <p class="quiet">Across: outings since the rebuild. Shaded: where the next reading will lie, 95 %.</p>
              ${worked("trend")}`
          : html`${rebuilds.length ? html`<p class="quiet">Upright strokes: rebuilds.</p>` : nothing}
            ${waits || can ? nothing : html`<p class="quiet">${ahead?.why || ahead?.life?.text}</p>`}`
      }`;
  };

  return {
    view,
    /** Looks ahead again, once the page stands. @param {any} standing @param {import("../../log/store.js").Entry[]} entries */
    give(standing, entries) {
      found = standing;
      rebuilds = entries
        .filter((entry) => entry.kind === "rebuild" && !standing.replaced[entry.id])
        .map((entry) => entry.at);
      outlook(standing, entries).then((seen) => {
        if (found !== standing) return;
        ahead = seen;
        draw();
      });
    },
  };
}
