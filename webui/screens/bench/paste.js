// @ts-check
// A table from a spreadsheet, pasted onto the shelf or into the kit: shown first, mended there, and taken with a key.

import { readTable, textOfFile } from "../../tables/pasted.js";
import { live } from "../../vendor/lit-html/directives/live.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { backTo, choiceField, choiceKeys, errorLine, idOf } from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { style } from "../form/style.js";
import { worked } from "../form/worked.js";
import { bench } from "../frame/places.js";
import { change, leaveOut, pasteForm, setColumn, showOnly, take, wrongRows } from "./paste-form.js";
import { kitKind } from "./paste-kit.js";
import { rowsGrid, rowsList } from "./paste-rows.js";
import { saveRows } from "./paste-save.js";
import { shelfKind } from "./paste-shelf.js";

/** @typedef {import("./paste-form.js").State} State */

/** So many rows are shown to tell a column by. */
const SAMPLES = 3;
/** So many rows may be the heads. */
const FIRST = 8;
/** More of what changes than anybody reads. */
const LISTED = 12;

/** @param {number} count */
const rowsOf = (count) => (count === 1 ? "1 row" : `${count} rows`);

/** A text came in, by a key or by pasting. @param {State} state @param {string} text */
function read(state, text) {
  take(state, text);
  if (state.fault) focusOn(state.place, "textarea");
  else focusOn(state.place, "#pasted h2");
}

/** @param {State} state @param {HTMLInputElement} input */
async function choose(state, input) {
  const [file] = input.files ?? [];
  if (!file) return;
  const text = textOfFile(new Uint8Array(await file.arrayBuffer()));
  input.value = "";
  if (text !== undefined) return read(state, text);
  state.fault = "This is a workbook: save it as CSV, or copy its cells and paste them here.";
  state.redraw();
}

/** @param {State} state @param {ClipboardEvent} event */
function pasted(state, event) {
  const text = event.clipboardData?.getData("text/plain") ?? "";
  // A word or two is put where the caret is.
  if (readTable(text).rows.length <= 1 && !text.includes("\t")) return;
  event.preventDefault();
  read(state, text);
}

/** @param {State} state */
const textSection = (state) =>
  html`<section class="card" id="pasted">
    <p>
      Copy the rows in your spreadsheet, heads too, and paste them here; or choose a CSV. You see first what comes of
      it.
    </p>
    <div class="field">
      <label for="table">Table</label>
      <textarea
        id="table"
        rows="6"
        wrap="off"
        spellcheck="false"
        .value=${state.draft.text}
        aria-invalid=${state.fault ? "true" : "false"}
        aria-describedby=${state.fault ? "table-fault" : nothing}
        @paste=${(/** @type {ClipboardEvent} */ event) => pasted(state, event)}
        @input=${(/** @type {{target: HTMLTextAreaElement}} */ event) => {
          state.fault = "";
          change(state, { text: event.target.value });
        }}
      ></textarea>
      ${errorLine(state.fault, "table-fault")}
    </div>
    <div class="row">
      <button class="main" @click=${() => read(state, state.draft.text)}>Show the rows</button>
      <label class="button photo"
        >Choose a CSV<input
          type="file"
          accept=".csv,.tsv,.txt,text/csv,text/plain"
          @change=${(/** @type {{target: HTMLInputElement}} */ event) => choose(state, event.target)}
      /></label>
    </div>
    ${
      state.done
        ? html`<p role="status">${state.done} <a href=${state.kind.back[0]}>${state.kind.back[1]}</a></p>`
        : nothing
    }
  </section>`;

/** @param {import("./paste-form.js").Field} field @returns {[string, string]} */
const optionOf = ({ name, label }) => [name, label];

/** @param {State} state @param {number} column @param {string} field */
function columnField(state, column, field) {
  const { table, heads, kind, units } = state;
  const head = table?.rows[heads]?.[column];
  const samples = (table?.rows.slice(heads + 1) ?? []).map((row) => row[column]).filter(Boolean);
  const of = kind.fields.find(({ name }) => name === field);
  const label = head || `Column ${column + 1}`;
  const id = idOf(`column.${column}`);
  const list = (/** @type {[string, string][]} */ options, /** @type {string} */ chosen) =>
    options.map(([value, words]) => html`<option value=${value} .selected=${live(value === chosen)}>${words}</option>`);
  return html`<div class="field">
    <label for=${id}>${label}</label>
    <div class="with-unit">
      <select
        id=${id}
        @change=${(/** @type {{target: HTMLSelectElement}} */ event) => setColumn(state, column, event.target.value)}
      >
        ${list([["", "leave it out"], ...kind.fields.map(optionOf)], field)}
      </select>
      ${
        of?.units
          ? html`<select
              aria-label=${`Unit of ${label}`}
              @change=${(/** @type {{target: HTMLSelectElement}} */ event) =>
                change(state, { units: { ...state.draft.units, [field]: event.target.value } })}
            >
              ${list(unitsOf(of), units[field])}
            </select>`
          : nothing
      }
    </div>
    <p class="quiet samples">${samples.slice(0, SAMPLES).join(" · ") || "empty"}</p>
  </div>`;
}

/** @param {import("./paste-form.js").Field} field @returns {[string, string][]} */
const unitsOf = ({ units = [], signs = {} }) => [
  ...units.map(({ unit, label }) => /** @type {[string, string]} */ ([unit, label])),
  ...(Object.values(signs).includes("mm") ? [/** @type {[string, string]} */ (["um", "µm"])] : []),
];

/** @param {State} state */
function columnsSection(state) {
  const { table, heads, columns, kind } = state;
  /** @type {[string, string][]} */
  const places = (table?.rows.slice(0, FIRST) ?? []).map((row, place) => [
    String(place),
    `row ${table?.numbers[place]}: ${row.filter(Boolean).slice(0, SAMPLES).join(", ")}`,
  ]);
  const labels = columns.map((name) => kind.fields.find((field) => field.name === name)?.label);
  const left = labels.filter((label) => !label).length;
  const known = labels.filter(Boolean).join(", ") || "nothing is known of them";
  return html`<details class="card" ?open=${state.unfolded}>
    <summary>What the columns hold: ${known}${left ? `; ${left} left out` : nothing}</summary>
    <div class="inside">
      ${choiceField({
        name: "heads",
        label: "Heads",
        value: String(heads),
        options: [["-1", "none: all rows are plates or tools"], ...places],
        choose: (place) => change(state, { heads: Number(place), columns: undefined }),
      })}
      <div class="fields columns">${columns.map((field, column) => columnField(state, column, field))}</div>
    </div>
  </details>`;
}

/** @param {State} state */
function found(state) {
  const { rows, kind, draft, notes, table, asking, onlyWrong } = state;
  const wrong = wrongRows(state);
  const fine = rows.length - wrong.length;
  const says = asking
    ? `Looking at ${rowsOf(rows.length)}…`
    : `${rowsOf(fine)} can be taken${wrong.length ? `; ${wrong.length} cannot, and their cells say why` : ""}.`;
  return html`<section class="card" id="pasted">
    <h2 tabindex="-1">${rowsOf(rows.length)} for ${kind.place}</h2>
    <p class="quiet">
      Separated by ${table?.separated}.
      ${draft.left.length ? `${rowsOf(draft.left.length)} left out.` : nothing}
    </p>
    <p role="status">${says}</p>
    ${notes.map((text) => html`<p class="finding note">${text}</p>`)}
    <div class="row">
      ${
        wrong.length || onlyWrong
          ? html`<button @click=${() => showOnly(state, !onlyWrong)}>
              ${onlyWrong ? "Show all rows" : `Show the ${wrong.length} that cannot be taken`}
            </button>`
          : nothing
      }
      ${
        wrong.length
          ? html`<button id="leave-out" @click=${() => leave(state)}>
              Leave out ${wrong.length === 1 ? "the row" : `the ${wrong.length}`} that cannot be taken
            </button>`
          : nothing
      }
      ${
        draft.left.length
          ? html`<button class="plain" @click=${() => change(state, { left: [] })}>
              Take the ${draft.left.length} back in
            </button>`
          : nothing
      }
      <button class="plain" @click=${() => again(state)}>Paste another table</button>
    </div>
    ${whatChanges(state)}
  </section>`;
}

/** @param {State} state */
function leave(state) {
  state.onlyWrong = false;
  leaveOut(state, wrongRows(state));
  focusOn(state.place, "#take");
}

/** @param {State} state */
function again(state) {
  change(state, { read: false });
  focusOn(state.place, "textarea");
  /** @type {HTMLTextAreaElement | null} */ (state.place.querySelector("textarea"))?.select();
}

/** @param {string} words @param {import("./paste-form.js").Change[]} changes */
const changeLine = (words, changes) =>
  changes.length
    ? html`<li>
        <b>${words} ${changes.length}:</b>
        ${changes
          .slice(0, LISTED)
          .map(({ name, words: how }) => `${name} (${how})`)
          .join(", ")}${changes.length > LISTED ? `, and ${changes.length - LISTED} more` : nothing}
      </li>`
    : nothing;

/** Whether every row can be taken. @param {State} state */
const isReady = (state) => !state.asking && !state.busy && !wrongRows(state).length && state.rows.length > 0;

/** What there will be, before anything is written. @param {State} state */
function whatChanges(state) {
  const { kind, draft, rows } = state;
  const changes = isReady(state) ? kind.changes(rows, draft.mode) : [];
  const of = (/** @type {string} */ what) => changes.filter((row) => row.what === what);
  const mode = choiceKeys({
    name: "mode",
    label: "What happens with what is there",
    short: true,
    value: draft.mode,
    options: [
      { value: "add", words: `Add to ${kind.place}` },
      { value: "replace", words: "Replace what is there" },
    ],
    choose: (mode) => change(state, { mode: mode === "replace" ? "replace" : "add" }),
  });
  return html`${kind.onlyAdds ? nothing : mode}
  ${
    changes.length
      ? html`<ul class="steps" id="changes">
          ${changeLine("New", of("new"))} ${changeLine("Changed", of("changed"))} ${changeLine("Gone", of("gone"))}
          ${changeLine("As it is", of("same"))} ${changeLine("Not named, and kept", of("stays"))}
        </ul>`
      : nothing
  }`;
}

/** @param {State} state */
function takeSection(state) {
  const { kind, draft, rows, busy, fault, sign } = state;
  const wrong = wrongRows(state);
  const ready = isReady(state);
  const some = rowsOf(rows.length);
  const adds = kind.onlyAdds ? `Take ${some} into ${kind.place}` : `Add ${some} to ${kind.place}`;
  const verb = draft.mode === "add" ? adds : "Replace what is there";
  return html`<section class="card grid-foot" aria-label="Take the rows">
    ${errorLine(fault)}
    <div class="row">
      ${sign.fieldIfUnknown(kind.by)}
      <button class="main" id="take" aria-disabled=${ready ? "false" : "true"} @click=${() => takeOrGo(state, ready)}>
        ${verb}
      </button>
      <p role="status">
        ${busy || (wrong.length ? `${rowsOf(wrong.length)} to be corrected or left out first.` : nothing)}
      </p>
    </div>
  </section>`;
}

/** Where the rows cannot be taken yet, the key leads to what is wrong. @param {State} state @param {boolean} ready */
async function takeOrGo(state, ready) {
  if (ready) await saveRows(state);
  else focusOn(state.place, "#pasted-rows [aria-invalid=true]", "#leave-out");
}

/** @param {State} state */
const screen = (state) =>
  html`${backTo(...state.kind.back)}
    <h1>${state.kind.title}</h1>
    <p>${worked("pasting", "How a table is read")}</p>
    ${
      state.draft.read
        ? html`${found(state)} ${columnsSection(state)} ${bench.matches ? rowsGrid(state) : rowsList(state)}
          ${takeSection(state)}`
        : textSection(state)
    }`;

/** @type {import("../../app.js").Show} */
export async function show(place, [where]) {
  const styled = style("grid");
  const draw = () => render(screen(state), place);
  const state = await pasteForm(place, where === "kit" ? kitKind : shelfKind, draw);
  await styled;
  place.classList.add("broad");
  draw();
  bench.addEventListener("change", draw);
  return () => bench.removeEventListener("change", draw);
}
