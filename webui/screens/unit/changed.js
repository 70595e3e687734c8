// @ts-check
// What changed: where the preload went, how the last checks compare, and when the limit will be met.

import { curvesDrawing } from "../../draw/curves.js";
import { standing } from "../../log/stands.js";
import { entriesOf } from "../../log/store.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { backTo, choiceField, errorLine, reading, whenDay } from "../form/fields.js";
import { worked } from "../form/worked.js";
import { compareChecks, standingEntries } from "./comparison.js";
import { outlook } from "./outlook.js";

/** @typedef {import("../../log/store.js").Entry} Entry */
/** @typedef {Awaited<ReturnType<typeof changes>>} Changes */

/** What the screen holds: the checks, the two that are compared, and what came of it. @param {string} id */
async function changes(id) {
  const [read, found, all] = await Promise.all([reading(), standing(id), entriesOf(id)]);
  const entries = standingEntries(all, found.replaced);
  const checks = entries.filter(({ kind }) => kind === "torque_check");
  const rebuilt = found.rebuilt ? Date.parse(found.rebuilt.at) : -Infinity;
  return {
    id,
    read,
    name: found.unit.name,
    unit: found.derived.checked,
    entries,
    checks,
    before: (checks.find(({ at }) => Date.parse(at) >= rebuilt) ?? checks[0])?.id,
    now: checks[checks.length - 1]?.id,
    /** @type {import("./comparison.js").Comparison} */ comparison: { unmeasured: [], fault: "" },
    /** @type {Awaited<ReturnType<typeof outlook>>} */ ahead: { life: undefined, counted: [], why: "" },
    lookAhead: () => outlook(found, all),
  };
}

/** @param {Changes} state */
async function compare(state) {
  const check = (/** @type {string} */ id) => state.checks.find((entry) => entry.id === id);
  const { unit, entries, before, now, read } = state;
  state.comparison = await compareChecks(unit, entries, [check(before), check(now)], read);
}

/** @param {{text: string}} sentence */
const doubtLine = ({ text }) => html`<p class="finding doubt">${text}</p>`;

/** @typedef {{cause: string, percent: number, certain: boolean, text: string}} Share */

/** What one cause took of the torque. @param {Share} share */
function shareBar({ cause, percent, certain, text }) {
  const size = Math.abs(percent);
  return html`<div class="finding">
    <p><b>${cause}</b>: ${percent.toFixed(1)} %${certain ? "" : ", within the doubt"}</p>
    <meter
      min="0"
      max="100"
      value=${Math.min(100, size)}
      aria-label=${`${cause}, ${percent.toFixed(1)} percent`}
    ></meter>
    ${size >= 0.05 ? html`<p class="quiet">${text}</p>` : nothing}
  </div>`;
}

/** Nothing was measured between the two: the change is known, its cause is not. @param {Changes} state */
function changeWithoutCause({ id, comparison }) {
  const percent = comparison.loss.change_percent;
  return html`<p aria-live="polite">
      <b>The torque ${percent < 0 ? "lost" : "gained"} ${Math.abs(percent).toFixed(0)} %.</b>
    </p>
    <p class="finding doubt">
      Neither the plates nor the spring were measured between these two, so wear cannot be told from friction.
      <a href="#/unit/${id}/strip">Strip it</a>, measure both, and look here again.
    </p>`;
}

/** Where the preload went. @param {Changes} state */
function causes(state) {
  const { loss, unmeasured } = state.comparison;
  if (!loss) return nothing;
  if (unmeasured.length === 2 && loss.certain) return changeWithoutCause(state);
  const [lost, them] =
    unmeasured[0] === "plates"
      ? ["The plates were not measured between these two: what they", "them"]
      : ["The spring was not measured between these two: what it", "it"];
  return html`<p aria-live="polite"><b>${loss.text}</b></p>
    ${
      unmeasured.length === 1
        ? doubtLine({ text: `${lost} lost shows as friction. Measure ${them} before you act on it.` })
        : nothing
    }
    ${loss.certain ? loss.shares.map(shareBar) : nothing} ${loss.warnings.map(doubtLine)}
    ${
      loss.certain
        ? html`<p class="quiet">
            Shares are Shapley values on the logarithm: they add up in whatever order the causes are taken. Plates and
            spring are as they were last measured.
          </p>`
        : nothing
    }
    ${worked("loss")}`;
}

/** How the two readings compare. @param {Changes} state */
function readingsCompared({ comparison: { compared } }) {
  if (!compared) return nothing;
  return html`<p>${compared.text}</p>
    ${compared.marks.map((/** @type {{text: string}} */ { text }) => html`<p class="finding">${text}</p>`)}`;
}

/** @param {Changes} state @param {() => void} draw */
function whereItWent(state, draw) {
  const { checks, read, comparison } = state;
  const options = checks.map(
    ({ id, at, shown }) => /** @type {[string, string]} */ ([id, `${whenDay(at)}: ${read.torque(shown.value_nm)}`]),
  );
  const choice = (/** @type {"before" | "now"} */ name, /** @type {string} */ label) =>
    choiceField({
      name,
      label,
      value: state[name],
      options,
      choose: async (chosen) => {
        state[name] = chosen;
        await compare(state);
        draw();
      },
    });
  return html`<section class="card">
    <h2>Where the preload went</h2>
    ${
      checks.length < 2
        ? html`<p>It takes two torque checks to compare.</p>`
        : html`<div class="fields">${choice("before", "The last good check")} ${choice("now", "The check now")}</div>`
    }
    ${errorLine(comparison.fault)} ${causes(state)} ${readingsCompared(state)}
  </section>`;
}

/**
 * The torque over the outings, with the band in which the next reading will lie.
 * @param {Changes} state
 * @param {any} life the engine's
 */
function lifeCurve({ read, unit }, life) {
  const line = (/** @type {"value" | "low" | "high"} */ which, dashed = true) => ({
    name: "",
    dashed,
    points: life.curve.map((/** @type {any} */ point) => ({
      x: point.use,
      // The band may reach below nothing; a torque does not.
      y: read.torqueIn(which === "low" ? Math.max(0, point.low) : point[which]),
    })),
  });
  return curvesDrawing({
    series: [line("value", false), line("low"), line("high")],
    marks: [
      { y: read.torqueIn(unit.service.low_nm), name: "limit" },
      ...(life.due_use ? [{ x: life.due_use, name: "earliest" }] : []),
    ],
    xName: "outings since the rebuild",
    yName: read.torqueLabel,
    words: life.text,
  });
}

/** @param {Changes} state */
function nextOpening(state) {
  const { life, why } = state.ahead;
  return html`<section class="card">
    <h2>When to open it next</h2>
    ${worked("trend")}
    <p>${life ? life.text : why}</p>
    ${life?.curve?.length ? lifeCurve(state, life) : nothing} ${(life?.warnings ?? []).map(doubtLine)}
  </section>`;
}

/** @type {import("../../app.js").Show} */
export async function show(place, [id]) {
  const state = await changes(id);
  const draw = () =>
    render(
      html`<div class="full">
          ${backTo(`#/unit/${id}`, state.name)}
          <h1>What changed</h1>
        </div>
        ${whereItWent(state, draw)} ${nextOpening(state)}`,
      place,
    );
  place.classList.add("wide");
  draw();
  [state.ahead] = await Promise.all([state.lookAhead(), compare(state)]);
  draw();
}
