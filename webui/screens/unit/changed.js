// @ts-check
// What changed: where the preload went, how the last checks compare, and when the limit will be met.

import { curvesDrawing } from "../../draw/curves.js";
import { calc } from "../../engine/door.js";
import { isBuilt, standing } from "../../log/stands.js";
import { entriesOf } from "../../log/store.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { backTo, choiceField, errorLine, reading, warningLines, whenDay } from "../form/fields.js";
import { refusalOfUnit } from "../form/lack.js";
import { worked } from "../form/worked.js";

/** @typedef {import("../../engine/calculations.js").Calculations} Calculations */
/** @typedef {Calculations["change"]["result"]} Change */
/** @typedef {Calculations["outlook"]["result"]} Outlook */

/**
 * @typedef {object} Changes
 * @property {string} id of the unit
 * @property {string} name
 * @property {Awaited<ReturnType<typeof reading>>} read
 * @property {NonNullable<import("../../log/stands.js").BuiltStanding["limits"]>["running"]} limits that end a run
 * @property {import("../../log/store.js").Entry[]} entries
 * @property {Change} comparison the checks, the two that are compared, and what came of it
 * @property {Outlook} ahead when the limit may be met
 */

/** @param {string} id @returns {Promise<Changes | undefined>} nothing where the unit is not on this phone */
async function changes(id) {
  const [read, found, entries] = await Promise.all([reading(), standing(id), entriesOf(id)]);
  if (!isBuilt(found)) return undefined;
  const state = /** @type {Changes} */ ({
    id,
    name: found.unit.name,
    read,
    limits: found.limits?.running ?? null,
    entries,
  });
  [state.comparison, state.ahead] = await Promise.all([compared(state, {}), calc("outlook", { entries })]);
  return state;
}

/** @param {Changes} state @param {{before?: string, now?: string}} checks to compare, where not the usual ones */
const compared = ({ entries, read }, checks) =>
  calc("change", { entries, ...checks, write_in: read.torqueUnit, write_lengths_in: read.lengthUnit });

/** @param {{text: string}} sentence */
const doubtLine = ({ text }) => html`<p class="finding doubt">${text}</p>`;

/** @typedef {import("../../engine/calculations.js").LossResult["shares"][number]} Share */

/** What one cause took of the torque. @param {Share} share */
function shareBar({ cause, percent, size_percent, shows, certain, text }) {
  return html`<div class="finding">
    <p><b>${cause}</b>: ${percent.toFixed(1)} %${certain ? "" : ", within the doubt"}</p>
    <meter
      min="0"
      max="100"
      value=${size_percent}
      aria-label=${`${cause}, ${percent.toFixed(1)} percent`}
    ></meter>
    ${shows ? html`<p class="quiet">${text}</p>` : nothing}
  </div>`;
}

/** Nothing was measured between the two: the change is known, its cause is not. @param {Changes} state */
function changeWithoutCause({ id, comparison }) {
  return html`<p aria-live="polite"><b>${comparison.loss?.change}</b></p>
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
    ${loss.certain ? loss.shares.map(shareBar) : nothing}
    ${state.comparison.logged.map(({ text }) => html`<p class="finding">${text}</p>`)} ${warningLines(loss.warnings)}
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
    ${compared.marks.map(({ text }) => html`<p class="finding">${text}</p>`)} ${worked("like")}`;
}

/** Why nothing is shared out; with the way to a field that the unit lacks. @param {Changes} state */
function faultLine({ id, comparison: { fault, fault_field: field } }) {
  const lack = refusalOfUnit(id, { field, reason: fault });
  return lack === nothing ? errorLine(fault) : lack;
}

/** @param {Changes} state @param {() => void} draw */
function whereItWent(state, draw) {
  const { read, comparison } = state;
  const { checks, comparable, before, now } = comparison;
  const options = checks.map(
    ({ id, at, value_nm }) => /** @type {[string, string]} */ ([id, `${whenDay(at)}: ${read.torque(value_nm)}`]),
  );
  const choice = (/** @type {"before" | "now"} */ name, /** @type {string} */ label) =>
    choiceField({
      name,
      label,
      value: comparison[name] ?? "",
      options,
      choose: async (chosen) => {
        state.comparison = await compared(state, { before: before ?? "", now: now ?? "", [name]: chosen });
        draw();
      },
    });
  return html`<section class="card">
    <h2>Where the preload went</h2>
    ${
      comparable
        ? html`<div class="fields wide">
            ${choice("before", "The last good check")} ${choice("now", "The check now")}
          </div>`
        : html`<p>It takes two torque checks to compare.</p>`
    }
    ${faultLine(state)} ${causes(state)} ${readingsCompared(state)}
  </section>`;
}

/**
 * The torque over the outings, with the band in which the next reading will lie.
 * @param {Changes} state
 * @param {Extract<import("../../engine/calculations.js").LifeResult, {enough: true}>} life
 */
function lifeCurve({ read, limits }, life) {
  const line = (/** @type {"value" | "low" | "high"} */ which, dashed = true) => ({
    name: "",
    dashed,
    points: life.curve.map((point) => ({ x: point.use, y: read.torqueIn(point[which]) })),
  });
  return curvesDrawing({
    series: [line("value", false), line("low"), line("high")],
    marks: [
      ...(limits ? [{ y: read.torqueIn(limits.low_nm), name: "limit" }] : []),
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
    ${life?.enough ? lifeCurve(state, life) : nothing}
  </section>`;
}

/** @type {import("../../app.js").Show} */
export async function show(place, [id]) {
  const state = await changes(id);
  if (!state) {
    location.hash = `#/unit/${id}`;
    return;
  }
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
}
