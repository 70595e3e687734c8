// @ts-check
// The verdict on a torque check while it is typed, with its guard band and where its doubt comes from.

import { checkGuard } from "../../draw/guard.js";
import { icon } from "../../draw/icons.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { errorLine, figureIn, findingLines, percent, sayIn, VERDICTS } from "../form/fields.js";
import { whenOpen } from "../form/when-open.js";
import { worked } from "../form/worked.js";
import { missing, save } from "./check-form.js";

/** @typedef {import("./check-form.js").CheckForm} CheckForm */
/** @typedef {import("../../engine/calculations.js").BreakawayResult} Result */

/** @param {import("../../engine/door.js").BadInput} bad */
function refusal({ field, reason }) {
  const atReading = /_nm?\..+\./.test(field);
  // The engine's sentence stands beside the reading itself then.
  return errorLine(atReading ? "Correct the marked reading." : reason);
}

/** @param {Result["helps"]} helps */
const whatWouldHelp = (helps) =>
  html`<div>
    <h2>What would help most</h2>
    <ul class="steps">
      ${helps.map(({ text }) => html`<li>${text}</li>`)}
    </ul>
  </div>`;

/** The uncertainty budget. @param {Result} result @param {(nm: number) => string} torque */
function budget(result, torque) {
  const rows = result.budget.map(
    ({ meaning, u_nm, share }) =>
      html`<tr>
        <td>${meaning}</td>
        <td class="number">${torque(u_nm)}</td>
        <td class="number">${percent(share)}</td>
      </tr>`,
  );
  const { one_output_held_nm, case_held_nm } = result.felt;
  return html`<div class="inside">
    <table>
      <thead>
        <tr>
          <th scope="col">Part</th>
          <th scope="col" class="number">u</th>
          <th scope="col" class="number">Share</th>
        </tr>
      </thead>
      <tbody>
        ${rows}
      </tbody>
    </table>
    <p>${result.why}</p>
    <p class="quiet">
      All together u = ${torque(result.u_nm)}, and ± ${torque(result.expanded_nm)} at 95 %. With one output held it is
      ${torque(one_output_held_nm)}${case_held_nm === null ? "" : `, with the case held ${torque(case_held_nm)}`}.
    </p>
  </div>`;
}

/** @param {Result} result @param {(nm: number) => string} torque */
const whereDoubtComesFrom = (result, torque) =>
  html`<details>
    <summary>Where the doubt comes from</summary>
    ${whenOpen(() => budget(result, torque))}
  </details>`;

/** A torque in the unit that this check is read in. @param {CheckForm} form @returns {(nm: number) => string} */
const torqueOf =
  ({ draft, read }) =>
  (nm) =>
    sayIn(read.units, "nm", draft.torqueUnit, nm);

/** The word and the torque, to be read at a metre; or what is missing. @param {CheckForm} form */
function atOneLook(form) {
  const { draft, answer, read } = form;
  const { result, bad } = answer;
  if (!result)
    return html`<div class="still">${bad ? refusal(bad) : nothing}
      <p class="quiet">${missing(form).words}</p></div>`;
  const [label, doubt] = [
    read.units.nm.find(({ unit }) => unit === draft.torqueUnit)?.label,
    figureIn(read.units, "nm", draft.torqueUnit, result.expanded_nm),
  ];
  return html`<p class="word ${result.verdict}">
      <span class="verdict">${VERDICTS[result.verdict]}</span>${icon(result.verdict)}
    </p>
    <p class="torque">
      <span class="figure">${figureIn(read.units, "nm", draft.torqueUnit, result.value_nm)}</span>
      <small>${label}<br />± ${doubt}</small>
    </p>`;
}

/** The sentence, the drawing, and what else the readings show. @param {CheckForm} form @param {Result} result */
function explained(form, result) {
  const torque = torqueOf(form);
  const { value_nm, expanded_nm, reason, findings, helps, next } = result;
  // The question of the unit stands at the readings, with its keys.
  const others = findings.filter(({ text, name }) => text !== reason && name !== "unit");
  return html`<div class="card judged ${result.verdict}">
    <p><b>${reason}</b></p>
    ${next && !reason.includes(next.text) ? html`<p>${next.text}.</p>` : nothing}
    ${checkGuard(result, torque, `${torque(value_nm)}, doubt ${torque(expanded_nm)}. ${reason}`)}
    ${findingLines(others)} ${helps.length ? whatWouldHelp(helps) : nothing} ${worked("verdict")}
    ${whereDoubtComesFrom(result, torque)}
  </div>`;
}

/**
 * The verdict in a bar that stays in sight, with the key that saves, and below it why.
 * @param {CheckForm} form @param {HTMLElement} place
 */
export function verdict(form, place) {
  const { result, ready, failed } = form.answer;
  return html`<section class="judging" aria-live="polite" aria-label="Verdict">
    <div class="verdict-bar ${result?.verdict ?? ""}">
      ${atOneLook(form)}
      <button class="main big" aria-disabled=${ready ? "false" : "true"} @click=${() => save(form, place)}>
        Save the check
      </button>
      ${errorLine(failed)}
    </div>
    ${result ? explained(form, result) : nothing}
  </section>`;
}
