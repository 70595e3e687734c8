// @ts-check
// The history of all units and of the shop: every entry, newest first, chosen by unit, kind, person, day and words.

import { allEntries, fatesOf } from "../../log/all-entries.js";
import { onChange } from "../../log/changes.js";
import { finder } from "../../log/find.js";
import { known } from "../../log/known.js";
import { reasonOf } from "../../log/storage-fault.js";
import { valuesOf, withFilter, writeView } from "../../tables/arrange.js";
import { chosenEntries, historyFilters } from "../../tables/history.js";
import { repeat } from "../../vendor/lit-html/directives/repeat.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { keepingView, viewNow } from "../form/address.js";
import { choiceField, errorLine, reading, textField, verdictMark, whenDone } from "../form/fields.js";
import { alongRows, openRow } from "../form/heads.js";
import { style } from "../form/style.js";

/** @typedef {import("../../log/all-entries.js").Row} Row */
/** @typedef {import("../../tables/arrange.js").View} View */
/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {import("../form/fields.js").Reading} read
 * @property {Record<string, import("../../log/kinds.js").Kind>} kinds
 * @property {ReturnType<typeof keepingView>} address
 * @property {View} view
 * @property {Row[] | undefined} rows none until the first are read
 * @property {number} left entries that are not read yet
 * @property {import("../../log/all-entries.js").Fates} fates
 * @property {Map<string, string>} names of units
 * @property {number} drawn so many rows
 * @property {{of: unknown[], rows: Row[]}} [found]
 * @property {string} failed
 */

// So many rows are drawn at once; more are asked for, and the choice finds the rest.
const PAGE = 100;

/** From this width on the entries are a table. */
const wide = matchMedia("(min-width: 800px)");

/** @type {Record<string, string>} */
const FATES = {
  corrected: "corrected later",
  undone: "undone",
  waiting: "waiting in the outbox",
  refused: "NOT TAKEN BY THE WORKSHOP, see the outbox",
};

/** @param {State} state @param {string} kind */
const kindOf = ({ kinds }, kind) => kinds[kind]?.meaning ?? kind;

/** @param {State} state @param {string} unit */
const unitOf = ({ names }, unit) => (unit ? (names.get(unit) ?? "a unit") : "the shop");

/** The entries that are chosen; looked for once for all that is drawn of them. @param {State} state */
function matching(state) {
  const { rows = [], view, names } = state;
  const of = [rows, view, names];
  if (!state.found || of.some((part, place) => part !== state.found?.of[place])) {
    const has = finder(view.filters.q ?? "");
    const sought = (/** @type {Row} */ row) =>
      has(`${unitOf(state, row.unit)} ${kindOf(state, row.kind)} ${row.who} ${row.text}`);
    state.found = { of, rows: chosenEntries(rows, view.filters, sought) };
  }
  return state.found.rows;
}

/** @param {State} state @param {View} view @param {boolean} [typing] */
function choose(state, view, typing = false) {
  Object.assign(state, { view, drawn: PAGE });
  state.address.keep(view, typing);
  draw(state);
}

/** @param {State} state */
function filters(state) {
  const { rows = [], view } = state;
  /** @param {string} name @param {string} label @param {string} blank @param {(value: string) => string} nameOf */
  const choice = (name, label, blank, nameOf) => {
    const values = valuesOf(rows, historyFilters[name], nameOf);
    const chosen = view.filters[name];
    const gone = chosen !== undefined && !values.some(({ value }) => value === chosen);
    return choiceField({
      name: `history.${name}`,
      label,
      value: chosen === undefined ? "" : `=${chosen}`,
      options: /** @type {[string, string][]} */ ([
        ["", "all"],
        ...values.map(({ value, name: words, count }) => [`=${value}`, `${value ? words : blank}, ${count}`]),
        ...(gone ? [[`=${chosen}`, `${nameOf(chosen)}, 0`]] : []),
      ]),
      choose: (value) => choose(state, withFilter(state.view, name, value ? value.slice(1) : undefined)),
    });
  };
  /** @param {string} name @param {string} label */
  const day = (name, label) =>
    textField({
      name: `history.${name}`,
      label,
      kind: "date",
      value: view.filters[name],
      type: (value) => choose(state, withFilter(state.view, name, value || undefined)),
    });
  const seek = (/** @type {string} */ sought, /** @type {boolean} */ typing) =>
    choose(state, withFilter(state.view, "q", sought || undefined), typing);
  return html`<div class="filters" role="search" aria-label="History">
    <div class="field">
      <label for="search">Find</label>
      <input
        id="search"
        type="search"
        .value=${view.filters.q ?? ""}
        @input=${(/** @type {{target: HTMLInputElement}} */ { target }) => seek(target.value, true)}
        @change=${(/** @type {{target: HTMLInputElement}} */ { target }) => seek(target.value, false)}
      />
    </div>
    ${choice("unit", "Unit", "the shop", (unit) => unitOf(state, unit))}
    ${choice("kind", "What", "", (kind) => kindOf(state, kind))} ${choice("who", "By", "no name given", (who) => who)}
    ${day("from", "From")} ${day("to", "To")}
  </div>`;
}

/** @param {Row} row */
const addressOf = ({ unit, id }) => (unit ? `#/unit/${unit}/entry/${id}` : `#/patterns/entry/${id}`);

/** What happened to an entry since it was written. @param {State} state @param {Row} row */
function fateOf({ fates }, { id, replaces, differs }) {
  const fate = fates.get(id);
  const marks = [
    fate ? FATES[fate] : "",
    replaces ? "a correction" : "",
    differs ? "THE WORKSHOP'S VERDICT DIFFERS" : "",
  ];
  return marks.filter(Boolean).join(" · ");
}

/** Whether an entry counts no more. @param {State} state @param {Row} row */
const isReplaced = ({ fates }, { id }) => fates.get(id) === "corrected" || fates.get(id) === "undone";

/** @param {State} state @param {Row} row */
function tableRow(state, row) {
  const { unit, kind, who, text, verdict, value_nm } = row;
  const replaced = isReplaced(state, row) ? "replaced" : "";
  return html`<tr>
    <td class="date">${whenDone(row)}</td>
    <td class="name">${unitOf(state, unit)}</td>
    <th scope="row"><a class="open ${replaced}" href=${addressOf(row)}>${kindOf(state, kind)}</a></th>
    <td>${verdict ? verdictMark(verdict) : "–"}</td>
    <td class="number">${value_nm ? state.read.torqueFigure(value_nm) : "–"}</td>
    <td class="name">${who || "no name given"}</td>
    <td class="words">${text}<span class="fate">${fateOf(state, row)}</span></td>
  </tr>`;
}

/** @param {State} state @param {Row} row */
function listRow(state, row) {
  const { unit, kind, who, text, verdict, value_nm } = row;
  const fate = fateOf(state, row);
  return html`<li>
    <a href=${addressOf(row)}>
      <span class=${isReplaced(state, row) ? "replaced" : ""}
        >${kindOf(state, kind)} ${value_nm ? state.read.torque(value_nm) : ""}</span
      >
      ${verdict ? verdictMark(verdict) : html`<span></span>`}
      <span class="quiet"
        >${unitOf(state, unit)} · ${whenDone(row)} · ${who || "no name given"}${text ? html`<br />${text}` : nothing}${
          fate ? ` · ${fate}` : ""
        }</span
      >
    </a>
  </li>`;
}

const keyOf = (/** @type {Row} */ { id }) => id;

/** @param {State} state @param {Row[]} rows */
const table = (state, rows) =>
  html`<table class="ledger of-entries" aria-label="History">
    <thead>
      <tr>
        <th scope="col">When</th>
        <th scope="col">Unit</th>
        <th scope="col">What</th>
        <th scope="col">Verdict</th>
        <th scope="col" class="number">Torque, ${state.read.torqueLabel}</th>
        <th scope="col">By</th>
        <th scope="col">Written</th>
      </tr>
    </thead>
    <tbody @click=${openRow}>
      ${repeat(rows, keyOf, (/** @type {Row} */ row) => tableRow(state, row))}
    </tbody>
  </table>`;

/** @param {State} state @param {Row[]} rows */
const list = (state, rows) =>
  html`<ul class="list">
    ${repeat(rows, keyOf, (/** @type {Row} */ row) => listRow(state, row))}
  </ul>`;

/** @param {State} state @param {number} all so many are chosen */
function moreKey(state, all) {
  const { drawn, place } = state;
  if (all <= drawn) return nothing;
  const more = () => {
    state.drawn += PAGE;
    draw(state);
    /** @type {HTMLElement | undefined} */ (place.querySelectorAll("tbody a.open, .list a")[drawn])?.focus();
  };
  return html`<button @click=${more}>Show ${Math.min(PAGE, all - drawn)} more of ${all}</button>`;
}

/** @param {State} state */
function draw(state) {
  const { rows, left, view, failed, drawn, place } = state;
  const found = matching(state);
  const shown = found.slice(0, drawn);
  const chosen = Object.keys(view.filters).length > 0;
  const all = rows?.length ?? 0;
  const counted = found.length === all ? `${all} entries` : `${found.length} of ${all} entries`;
  const reading = left ? `Reading the log: ${left} more to come…` : "Reading the log…";
  place.classList.toggle("broad", wide.matches);
  render(
    html`<h1>History</h1>
      ${errorLine(failed)}
      <div class="tabled" @keydown=${alongRows}>
        ${filters(state)}
        <p class="counted">
          <span role="status">${rows && !left ? counted : reading}</span>
          ${
            chosen
              ? html`<button class="small" @click=${() => choose(state, { ...view, filters: {} })}>
                  Show all entries
                </button>`
              : nothing
          }
        </p>
        ${shown.length ? (wide.matches ? table(state, shown) : list(state, shown)) : nothing}
        ${rows && !left && !shown.length ? html`<p>No entry is among these.</p>` : nothing}
        ${moreKey(state, found.length)}
      </div>`,
    place,
  );
}

/** @param {State} state */
async function load(state) {
  try {
    state.rows = await allEntries((rows, all) => {
      Object.assign(state, { rows, left: all - rows.length });
      draw(state);
    });
    state.left = 0;
    draw(state);
    Object.assign(state, await fatesOf(state.rows));
  } catch (error) {
    state.failed = reasonOf(error);
  }
  draw(state);
}

/** The history as it was left, for whoever comes back to it. */
const before = { query: "", drawn: PAGE, top: 0 };

/** @type {import("../../app.js").Show} */
export async function show(place) {
  const [read, { kinds }] = await Promise.all([reading(), known("about"), style("tables")]);
  const view = viewNow();
  const again = before.top > 0 && before.query === writeView(view);
  /** @type {State} */
  const state = {
    place,
    read,
    kinds,
    address: keepingView(),
    view,
    rows: undefined,
    left: 0,
    fates: new Map(),
    names: new Map(),
    drawn: again ? before.drawn : PAGE,
    failed: "",
  };
  const turned = () => draw(state);
  wide.addEventListener("change", turned);
  const stop = onChange(() => load(state));
  const loaded = load(state);
  // Who comes back finds the place where it was.
  if (again) await loaded;
  place.dataset.top = String(again ? before.top : 0);
  return () => {
    Object.assign(before, { query: writeView(state.view), drawn: state.drawn, top: scrollY });
    wide.removeEventListener("change", turned);
    state.address.stop();
    stop();
  };
}
