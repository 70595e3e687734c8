// @ts-check
// The sections of a unit's page: its verdict, what can be done with it, its torque and its stack.

import { icon } from "../../draw/icons.js";
import { stackDrawing } from "../../draw/stack.js";
import { DEVICE } from "../../log/device.js";
import { keptOn } from "../../log/kinds.js";
import { number } from "../../log/shape.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { backTo, newtons, verdictMark, warningLines, when } from "../form/fields.js";
import { lackLine, lackOf, toField } from "../form/lack.js";
import { worked } from "../form/worked.js";
import { bench, tablet } from "../frame/places.js";
import { limitsInWords } from "./limits-in-words.js";
import { stackOf } from "./stack-of.js";

/** @typedef {import("./page.js").UnitPage} UnitPage */

export const notHere = html`${backTo("#/", "Units")}
  <section class="card">
    <h1>This unit is not on this ${DEVICE}</h1>
    <p>Connect to the workshop once to fetch it.</p>
  </section>`;

/** What has to be known before the verdict is relied on. @param {UnitPage} page */
function warnings({ id, found, entries, waiting }) {
  const refused = waiting.some(
    (row) => row.refused && !found.replaced[row.id] && entries.some((entry) => entry.id === row.id),
  );
  const differing = found.disagrees.length;
  return html`${found.unsure.map((why) => html`<p class="finding doubt">${why}</p>`)}
  ${
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
          This verdict includes an entry that the workshop did not take. <a href="#/outbox">See what to do</a>.
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

/** The pattern that it is built to, and whether there is something to decide on. @param {UnitPage} page */
const patternLine = ({ id, pattern, offer }) =>
  pattern
    ? html`<p class=${offer ? "finding doubt" : "quiet"}>
        <a href="#/unit/${id}/pattern">Pattern ${pattern}</a>${offer ? html` has changed: ${offer.text}.` : nothing}
      </p>`
    : nothing;

/** What stands and why. @param {UnitPage} page */
export function verdict(page) {
  const { unit, verdict: standing, reason, due, sits } = page.found;
  return html`<section class="card judged ${standing ?? ""} full">
    <div class="row apart">
      <h1>${unit.name}</h1>
      ${verdictMark(standing, true)}
    </div>
    ${sits.text ? html`<p class="quiet">Sits: ${sits.text}</p>` : nothing} ${leftInVice(page.inVice)}
    <p>${reason}</p>
    ${findings(page.found)} ${warnings(page)} ${patternLine(page)}
    ${
      due.length
        ? html`<ul class="steps">
            ${due.map(({ text }) => html`<li>${text}</li>`)}
          </ul>`
        : nothing
    }
  </section>`;
}

/** Says on the key of a screen that this phone may not write there. @param {UnitPage} page @param {string} screen */
const benchMark = ({ kinds, role }, screen) =>
  keptOn(kinds, screen, role) ? html` <small>bench only</small>` : nothing;

/**
 * A step of the job in words: what was begun on this phone is gone on with.
 * @param {UnitPage} page @param {string} name
 */
function stepWords({ id, found, drafts }, name) {
  const begun = drafts.includes(`${name}/${id}`) ? GO_ON[name] : undefined;
  return begun ?? found.job.steps.find((step) => step.name === name)?.text ?? name;
}

/** @type {Record<string, string>} */
const GO_ON = { check: "Go on with the check", plates: "Go on with the plates", refit: "Go on with the refit" };

/** Logged of it as it is used. */
const IN_USE = [
  ["outing", "Log an outing"],
  ["service", "Log service"],
];

/** @param {UnitPage} page @param {string} looks of a link */
const inUse = (page, looks) =>
  IN_USE.map(([path, words]) => html`<a class=${looks} href="#/unit/${page.id}/${path}">${words}</a>`);

/** Done with the unit as it stands, at the car as at the bench. */
const ALWAYS = ["check", "plates"];

/** What comes next, as one key. @param {UnitPage} page */
function nextKey(page) {
  const { next, text } = page.found.job;
  const words = stepWords(page, next);
  const why = text === words ? nothing : html` <small>${text}</small>`;
  const picture = next === "check" ? "torque" : next === "plates" ? "plates" : "next";
  return html`<a class="button main" href="#/unit/${page.id}/${next}"
    >${icon(picture)}<span>${words}${why}${benchMark(page, next)}</span></a
  >`;
}

/** @param {UnitPage} page */
const changeKey = (page) =>
  html`<a class="button" href="#/unit/${page.id}/change"
    >${icon("pen")}Change the unit${benchMark(page, "change")}</a
  >`;

/** What comes next, what can always be done, and the work at the bench in a fold. @param {UnitPage} page */
function inOneHand(page) {
  const { id, found } = page;
  return html`<section class="next full" aria-label="What comes next">
    ${nextKey(page)}
    <div class="actions">
      ${ALWAYS.filter((name) => name !== found.job.next).map(
        (name) =>
          html`<a class="button" href="#/unit/${id}/${name}"
            >${icon(name === "check" ? "torque" : "plates")}${stepWords(page, name)}</a
          >`,
      )}
      ${inUse(page, "button")} ${changeKey(page)}
    </div>
  </section>`;
}

/** A step of the job: a link, and how it is about it. @param {UnitPage} page */
const stepLink =
  (page) =>
  (
    /** @type {{name: string, done: boolean}} */ { name, done },
    /** @type {string} */ looks,
    /** @type {unknown} */ sign,
  ) =>
    html`<a
      class=${looks}
      href="#/unit/${page.id}/${name}"
      aria-current=${name === page.found.job.next ? "step" : nothing}
      aria-description=${done ? "done" : nothing}
      >${sign}${stepWords(page, name)}${benchMark(page, name)}</a
    >`;

/** Work at the bench, in its order, what is done of it ticked. @param {UnitPage} page */
const benchSteps = (page) =>
  page.found.job.steps
    .filter(({ name }) => !ALWAYS.includes(name))
    .map((step) => stepLink(page)(step, "button", step.done ? icon("idle") : nothing));

const LEDGER = [
  ["found", "What the strip found"],
  ["changed", "What changed"],
  ["sheet", "Build sheet"],
  ["ramps", "Ramps"],
  ["corner", "In a corner"],
  ["complaint", "From complaint to change"],
  ["pattern", "Pattern, and another like it"],
];

/**
 * What else can be done with the unit.
 * @param {UnitPage} page @param {string} looks of a link @param {() => void} saveToFile
 */
const ledger = (page, looks, saveToFile) =>
  html`${LEDGER.map(
    ([path, words]) => html`<a class=${looks} href="#/unit/${page.id}/${path}">${words}${benchMark(page, path)}</a>`,
  )}<button @click=${saveToFile}>Save the unit to a file</button>`;

/** The steps of the job in their order, and what else there is: beside what stands. @param {UnitPage} page */
const inOrder = (page) =>
  html`<ol class="job-steps">
    ${page.found.job.steps.map(
      (step) => html`<li class=${step.done ? "done" : ""}>
        ${step.done ? icon("idle") : nothing}${stepLink(page)(step, "", nothing)}
      </li>`,
    )}
  </ol>`;

/** The steps of the job and what else there is, as lists. @param {UnitPage} page @param {() => void} saveToFile */
const asLists = (page, saveToFile) =>
  html`${inOrder(page)}
    <div class="also">
      ${bench.matches ? inUse(page, "") : nothing}${ledger(page, "", saveToFile)}${
        bench.matches ? changeKey(page) : nothing
      }
    </div>`;

/**
 * What can be done with a unit: what comes first, and what comes after its torque and its stack.
 * @param {UnitPage} page @param {() => void} saveToFile @param {string} progress
 * @returns {{first: unknown, after: unknown}}
 */
export function job(page, saveToFile, progress) {
  const status = html`<p role="status" class="quiet">${progress}</p>`;
  if (bench.matches)
    return {
      first: html`<section class="card job" aria-label="What comes next">
        ${nextKey(page)}
        <details open>
          <summary>At the bench</summary>
          ${asLists(page, saveToFile)} ${status}
        </details>
      </section>`,
      after: nothing,
    };
  if (tablet.matches)
    return {
      first: inOneHand(page),
      after: html`<section class="card job" aria-labelledby="job">
        <h2 id="job">At the bench</h2>
        ${asLists(page, saveToFile)} ${status}
      </section>`,
    };
  return {
    first: html`${inOneHand(page)}
      <details class="full">
        <summary>At the bench: measure, plan, rebuild, hand over</summary>
        <div class="actions inside">${benchSteps(page)} ${ledger(page, "button", saveToFile)}</div>
        ${status}
      </details>`,
    after: nothing,
  };
}

/** @param {UnitPage} page @param {ReturnType<typeof import("./trend.js").unitTrend>} trend */
export function torque({ id, found, read }, trend) {
  const { checked, breakaway_nm } = found.derived;
  const { value_nm } = found.torque ?? {};
  // An entry of another version may lack what only that version worked out.
  const asNew = number(breakaway_nm) ? `The parts when new give ${read.torque(breakaway_nm)}.` : "";
  return html`<section class="card" aria-labelledby="torque">
    <h2 id="torque">Breakaway torque</h2>
    ${typeof value_nm === "number" ? html`<p class="figure">${read.torque(value_nm)}</p>` : html`<p>Never checked.</p>`}
    <p class="quiet">${limitsInWords(checked, read)} ${asNew}</p>
    ${lackLine(id, lackOf(found, "check"))} ${trend.view()}
  </section>`;
}

/** What it was used since the rebuild, and what is due by that. @param {UnitPage} page */
export function use({ id, found: { used, upkeep } }) {
  if (!used.text && !upkeep.length) return nothing;
  return html`<section class="card" aria-labelledby="use">
    <h2 id="use">Use and service</h2>
    ${used.text ? html`<p>${used.text}</p>` : nothing}
    ${used.contradictions.map(
      (row) => html`<p class="finding doubt">${row.text} <a href="#/unit/${id}/entry/${row.id}">See the check</a></p>`,
    )}
    ${upkeep.map(({ text, due }) => html`<p class=${due ? "finding doubt" : ""}>${text}</p>`)} ${worked("outings")}
  </section>`;
}

/** What presses the stack, as far as it is known. @param {UnitPage["found"]} found */
function preloadNow({ built, derived: { faces, preload_n } }) {
  const sliding = faces ? `Sliding faces ${faces.first} and ${faces.second}` : "";
  if (built.crush_mm === null) return sliding ? `${sliding}.` : "";
  const preload = built.preload_n === null ? "none" : newtons(built.preload_n);
  // An entry of another version may lack what only that version worked out.
  const asNew = number(preload_n) ? `, ${newtons(preload_n)} when new` : "";
  const spring = built.spring_mm === null ? "as new" : "as it was measured";
  const words = `preload ${preload} with the plates as they are now${asNew}; the spring is taken ${spring}.`;
  return sliding ? `${sliding}; ${words}` : `P${words.slice(1)}`;
}

/** The stack; nothing as long as nobody knows it. @param {UnitPage} page */
export function stack({ id, found, read }) {
  const now = found.built;
  if (!found.derived.checked.chain) return nothing;
  return html`<section class="card beside" aria-labelledby="stack">
    <h2 id="stack">The stack</h2>
    ${stackDrawing(stackOf(found, read.length))}
    <p class="quiet">${now.measured_text} ${preloadNow(found)}</p>
    ${lackLine(id, lackOf(found, "preload"))}
    ${now.stale_text ? html`<p class="finding doubt">${now.stale_text}</p>` : nothing}
    ${warningLines(now.warnings)}
  </section>`;
}

/** What each figure that is not known yet would open. @param {UnitPage} page */
export function opens({ id, found }) {
  if (!found.opens.length) return nothing;
  return html`<section class="card" aria-labelledby="opens">
    <h2 id="opens">What more figures would give</h2>
    <ul class="list">
      ${found.opens.map(({ field, text }) => html`<li><a href=${toField(id, field)}>${text}</a></li>`)}
    </ul>
  </section>`;
}
