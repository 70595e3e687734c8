// @ts-check
// The sections of a unit's page: its verdict, what can be done with it, its torque and its stack.

import { icon } from "../../draw/icons.js";
import { stackDrawing } from "../../draw/stack.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { backTo, newtons, verdictMark, when } from "../form/fields.js";
import { stackOf } from "./stack-of.js";

/** @typedef {import("./page.js").UnitPage} UnitPage */

export const notHere = html`${backTo("#/", "Units")}
  <section class="card">
    <h1>This unit is not on this phone</h1>
    <p>Connect to the workshop once to fetch it.</p>
  </section>`;

/** What has to be known before the verdict is relied on. @param {UnitPage} page */
function warnings({ id, found, entries, waiting }) {
  const refused = waiting.some(
    (row) => row.refused && !found.replaced[row.id] && entries.some((entry) => entry.id === row.id),
  );
  const differing = found.disagrees.length;
  return html`${
    differing
      ? html`<p class="error" role="alert">
          The workshop's verdict on ${differing === 1 ? "1 of these entries" : `${differing} of these entries`} differs.
          Open ${differing === 1 ? "it" : "them"} below before you rely on this verdict.
        </p>`
      : nothing
  }
  ${
    refused
      ? html`<p class="error" role="alert">
          This verdict includes an entry that the workshop refused. <a href="#/outbox">See why, and correct it</a>.
        </p>`
      : nothing
  }
  ${
    found.judged_again
      ? html`<p class="finding doubt">
          <a href="#/unit/${id}/entry/${found.judged_again.id}">The last torque check</a>: ${found.judged_again.text}
        </p>`
      : nothing
  }
  ${
    found.contested.length
      ? html`<p class="finding doubt">
          Another device changed this unit without having seen
          <a href="#/unit/${id}/entry/${found.contested[0]}">this change</a>. The change that arrived later counts: look
          at both.
        </p>`
      : nothing
  }`;
}

/** A spring that the guide on this phone left in a vice. @param {UnitPage["inVice"]} left */
export const leftInVice = (left) =>
  left
    ? html`<p class="error" role="alert">
        <b>Spring held by a vice${left.screwsOut ? ": screws are out" : ""}</b>, since
        ${when(left.since)}${left.by ? ` by ${left.by}` : ""}. Don't leave it so:
        <a href=${left.to}>go on with it</a>.
      </p>`
    : nothing;

/** What is to know of the unit itself; its reason says what judged it already. @param {UnitPage["found"]} found */
const findings = ({ findings, reason }) =>
  findings.filter(({ text }) => text !== reason).map(({ text }) => html`<p class="finding doubt">${text}</p>`);

/** What stands and why. @param {UnitPage} page */
export function verdict(page) {
  const { unit, verdict: standing, reason, due } = page.found;
  return html`<section class="card judged ${standing ?? ""} full">
    <div class="row apart">
      <h1>${unit.name}</h1>
      ${verdictMark(standing, true)}
    </div>
    ${leftInVice(page.inVice)}
    <p>${reason}</p>
    ${findings(page.found)} ${warnings(page)}
    ${
      due.length
        ? html`<ul class="steps">
            ${due.map(({ text }) => html`<li>${text}</li>`)}
          </ul>`
        : nothing
    }
  </section>`;
}

/** What is done most: check, measure, change. @param {UnitPage} page */
export function mainKeys({ id, drafts }) {
  const begun = (/** @type {string} */ what) => drafts.includes(`${what}/${id}`);
  const check = begun("check") ? "Go on with the check" : "Check torque";
  const plates = begun("plates") ? "Go on with the plates" : "Measure plates";
  return html`<div class="actions full">
    <a class="button main" href="#/unit/${id}/check">${icon("torque")}${check}</a>
    <a class="button main" href="#/unit/${id}/plates">${icon("plates")}${plates}</a>
    <a class="button" href="#/unit/${id}/change">${icon("pen")}Change the unit</a>
  </div>`;
}

/** Work at the bench, in its order. @param {UnitPage} page @param {() => void} saveToFile @param {string} progress */
export function benchKeys({ id, drafts }, saveToFile, progress) {
  const refit = drafts.includes(`refit/${id}`) ? "Go on with the refit" : "Back into the axle";
  const work = [
    ["strip", "Strip it"],
    ["springs", "Measure the spring"],
    ["rings", "Measure the rings"],
    ["changed", "What changed"],
    ["plan", "Plan the rebuild"],
    ["rebuild", "Rebuild"],
    ["close", "Close it"],
    ["refit", refit],
    ["sheet", "Build sheet"],
    ["ramps", "Ramps"],
  ];
  return html`<details class="full" ?open=${matchMedia("(min-width: 900px)").matches}>
    <summary>At the bench: measure, plan, rebuild, hand over</summary>
    <div class="actions inside">
      ${work.map(([path, words]) => html`<a class="button" href="#/unit/${id}/${path}">${words}</a>`)}
      <button @click=${saveToFile}>Save the unit to a file</button>
    </div>
    <p role="status" class="quiet">${progress}</p>
  </details>`;
}

/** @param {UnitPage} page @param {ReturnType<typeof import("./trend.js").unitTrend>} trend */
export function torque({ found, read }, trend) {
  const { checked, breakaway_nm } = found.derived;
  const { torque_nm, tolerance_nm } = checked.order;
  const { value_nm } = found.torque ?? {};
  // An entry of another version may lack what only that version worked out.
  const asNew = breakaway_nm === undefined ? "" : `; the parts when new give ${read.torque(breakaway_nm)}`;
  return html`<section class="card" aria-labelledby="torque">
    <h2 id="torque">Breakaway torque</h2>
    ${typeof value_nm === "number" ? html`<p class="figure">${read.torque(value_nm)}</p>` : html`<p>Never checked.</p>`}
    <p class="quiet">Ordered ${read.torque(torque_nm)} ± ${read.torque(tolerance_nm)}${asNew}.</p>
    ${trend.view()}
  </section>`;
}

/** @param {UnitPage} page */
export function stack({ found, read }) {
  const now = found.built;
  const { faces, preload_n } = found.derived;
  const preload = now.preload_n === null ? "none" : newtons(now.preload_n);
  const sliding = faces ? `Sliding faces ${faces.first} and ${faces.second}; preload` : "Preload";
  const asNew = preload_n === undefined ? "" : `, ${newtons(preload_n)} when new`;
  return html`<section class="card" aria-labelledby="stack">
    <h2 id="stack">The stack</h2>
    ${stackDrawing(stackOf(found, read.length))}
    <p class="quiet">
      ${now.measured_text} ${sliding} ${preload} with the plates as they are now${asNew}; the spring is taken
      ${now.spring_mm === null ? "as new" : "as it was measured"}.
    </p>
    ${now.stale_text ? html`<p class="finding doubt">${now.stale_text}</p>` : nothing}
    ${now.warnings.map(({ text }) => html`<p class="finding doubt">${text}</p>`)}
  </section>`;
}
