// @ts-check
// The verdict on a torque check while it is typed, with its guard band and where its doubt comes from.

import { checkGuard } from "../../draw/guard.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { errorLine, findingLines, percent, sayIn, verdictMark } from "../form/fields.js";
import { worked } from "../form/worked.js";

/** @typedef {import("./check-form.js").CheckForm} CheckForm */
/** @typedef {import("../../engine/calculations.js").BreakawayResult} Result */

/** @param {import("../../engine/door.js").BadInput} bad */
function refusal({ field, reason }) {
  const atReading = /_nm?\..+\./.test(field);
  // The engine's sentence stands beside the reading itself then.
  return errorLine(atReading ? "Correct the marked reading." : reason);
}

/** @param {CheckForm} form */
function noVerdictYet({ draft, answer }) {
  const next = !draft.held
    ? "Say how it is held."
    : !draft.tool
      ? "Choose the tool."
      : "Type two readings or more; three each way are better.";
  return html`<section class="card" aria-live="polite">
    <h2>Verdict</h2>
    ${answer.bad ? refusal(answer.bad) : nothing}
    <p class="quiet">${next}</p>
  </section>`;
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
function whereDoubtComesFrom(result, torque) {
  const rows = result.budget.map(
    ({ meaning, u_nm, share }) =>
      html`<tr>
        <td>${meaning}</td>
        <td class="number">${torque(u_nm)}</td>
        <td class="number">${percent(share)}</td>
      </tr>`,
  );
  const { one_output_held_nm, case_held_nm } = result.felt;
  return html`<details>
    <summary>Where the doubt comes from</summary>
    <div class="inside">
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
        All together u = ${torque(result.u_nm)}, and ± ${torque(result.expanded_nm)} at 95 %. With one output held it
        is ${torque(one_output_held_nm)}${case_held_nm === null ? "" : `, with the case held ${torque(case_held_nm)}`}.
      </p>
    </div>
  </details>`;
}

/** A torque in the unit that this check is read in. @param {CheckForm} form @returns {(nm: number) => string} */
const torqueOf =
  ({ draft, read }) =>
  (nm) =>
    sayIn(read.units, "nm", draft.torqueUnit, nm);

/** @param {CheckForm} form */
export function verdict(form) {
  const { result } = form.answer;
  if (!result) return noVerdictYet(form);
  const torque = torqueOf(form);
  const { value_nm, expanded_nm, reason, findings, helps } = result;
  const others = findings.filter((finding) => finding.text !== reason);
  return html`<section class="card judged ${result.verdict}" aria-live="polite" aria-label="Verdict">
    ${verdictMark(result.verdict, true)}
    <p>${reason}</p>
    ${checkGuard(result, torque, `${torque(value_nm)}, doubt ${torque(expanded_nm)}. ${reason}`)}
    ${findingLines(others)} ${helps.length ? whatWouldHelp(helps) : nothing} ${worked("verdict")}
    ${whereDoubtComesFrom(result, torque)}
  </section>`;
}

/** The verdict in one line, in sight while readings are typed. @param {CheckForm} form */
export function verdictStrip(form) {
  const { result } = form.answer;
  if (!result) return nothing;
  const torque = torqueOf(form);
  return html`<p class="strip ${result.verdict}" aria-hidden="true">
    ${verdictMark(result.verdict)}
    <span>${torque(result.value_nm)} ± ${torque(result.expanded_nm)}</span>
  </p>`;
}
