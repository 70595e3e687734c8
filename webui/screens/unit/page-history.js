// @ts-check
// The history on a unit's page: every entry, newest first.

import { isOf, judgement } from "../../log/entries.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { verdictMark, whenDone } from "../form/fields.js";
import { saidBy } from "./trials.js";

/** @typedef {import("../../log/entries.js").Entry} Entry */
/** @typedef {import("./page.js").UnitPage} UnitPage */

/** A history longer than this is shown whole only when it is asked for. */
const NEWEST = 40;

/** What happened to an entry since it was written. @param {UnitPage} page @param {Entry} entry */
function fate({ found, waiting }, entry) {
  const row = waiting.find(({ id }) => id === entry.id);
  const fresh = found.trend.some((check) => check.id === entry.id && check.fresh);
  const marks = [
    fresh ? "fresh from a rebuild, not bedded in" : "",
    found.replaced[entry.id] ? "corrected later" : "",
    entry.replaces ? "a correction" : "",
    row ? (row.refused ? "NOT TAKEN BY THE WORKSHOP, see the outbox" : "waiting in the outbox") : "",
    found.clocks[entry.id] ? "its clock was wrong" : "",
    entry.agrees === false ? "THE WORKSHOP'S VERDICT DIFFERS" : "",
  ];
  return marks.filter(Boolean).map((mark) => html`<span>${mark}</span>`);
}

/** What an entry says in a line. @param {UnitPage} page @param {Entry} entry */
function wordsOf({ found }, entry) {
  if (isOf(entry, "trial")) return found.trials.find(({ id }) => id === entry.id)?.change ?? entry.shown.change;
  if (isOf(entry, "outing")) return [entry.shown.text, ...saidBy(found, entry.id)].filter(Boolean).join(". ");
  if (isOf(entry, "service")) return entry.shown.text;
  return "text" in entry.body ? entry.body.text : "";
}

/** @param {UnitPage} page @param {Entry} entry */
function entryRow(page, entry) {
  const { kind, who } = entry;
  const { found, read, kinds } = page;
  const { value_nm, verdict } = judgement(entry);
  const figure = value_nm ? read.torque(value_nm) : "";
  const picture = isOf(entry, "photo") ? page.photos.get(entry.body.sha256) : undefined;
  const words = wordsOf(page, entry);
  const text = words ? html`<span class="said">${words}</span>` : nothing;
  return html`<li>
    <a href="#/unit/${page.id}/entry/${entry.id}">
      <span class=${found.replaced[entry.id] ? "replaced" : ""}>${kinds[kind]?.meaning ?? kind} ${figure}</span>
      ${verdict ? verdictMark(verdict) : html`<span></span>`}
      <span class="quiet"
        ><span class="at">${whenDone(entry)}</span><span class="by">${who || "no name given"}</span
        ><span class="fate">${fate(page, entry)}${text}</span></span
      >
      ${picture ? html`<img class="thumb" src=${picture} alt="" loading="lazy" />` : nothing}</a
    >
  </li>`;
}

/** @param {UnitPage} page */
export function history(page) {
  const entries = new Map(page.entries.map((entry) => [entry.id, entry]));
  const all = page.found.order.flatMap((id) => entries.get(id) ?? []);
  const rows = page.whole ? all : all.slice(0, NEWEST);
  const showAll = () => {
    page.whole = true;
    page.draw();
  };
  return html`<section class="card history" aria-labelledby="history">
    <h2 id="history">History</h2>
    <ul class="list">
      ${rows.map((entry) => entryRow(page, entry))}
    </ul>
    ${rows.length < all.length ? html`<button @click=${showAll}>Show all ${all.length}</button>` : nothing}
  </section>`;
}
