// @ts-check
// The history on a unit's page: every entry, newest first.

import { judgement } from "../../log/entries.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { verdictMark, when } from "../form/fields.js";

/** @typedef {import("../../log/entries.js").Entry} Entry */
/** @typedef {import("./page.js").UnitPage} UnitPage */

/** A history longer than this is shown whole only when it is asked for. */
const NEWEST = 20;

/** What happened to an entry since it was written. @param {UnitPage} page @param {Entry} entry */
function fate({ found, waiting }, entry) {
  const row = waiting.find(({ id }) => id === entry.id);
  const marks = [
    found.replaced[entry.id] ? "corrected later" : "",
    entry.replaces ? "a correction" : "",
    row ? (row.refused ? "REFUSED BY THE WORKSHOP, see the outbox" : "waiting in the outbox") : "",
    entry.agrees === false ? "THE WORKSHOP'S VERDICT DIFFERS" : "",
  ];
  return marks
    .filter(Boolean)
    .map((mark) => ` · ${mark}`)
    .join("");
}

/** @param {UnitPage} page @param {Entry} entry */
function entryRow(page, entry) {
  const { kind, body, at, who } = entry;
  const { found, read, kinds } = page;
  const { value_nm, verdict } = judgement(entry);
  const figure = value_nm ? read.torque(value_nm) : "";
  const text = "text" in body && body.text ? html`<br />${body.text}` : nothing;
  return html`<li>
    <a href="#/unit/${page.id}/entry/${entry.id}">
      <span class=${found.replaced[entry.id] ? "replaced" : ""}>${kinds[kind]?.meaning ?? kind} ${figure}</span>
      ${verdict ? verdictMark(verdict) : html`<span></span>`}
      <span class="quiet">${when(at)} · ${who || "no name given"}${text}${fate(page, entry)}</span></a
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
  return html`<section class="card" aria-labelledby="history">
    <h2 id="history">History</h2>
    <ul class="list">
      ${rows.map((entry) => entryRow(page, entry))}
    </ul>
    ${rows.length < all.length ? html`<button @click=${showAll}>Show all ${all.length}</button>` : nothing}
  </section>`;
}
