// @ts-check
// The rows of a pasted table: a grid at the bench; on a phone those that have to be mended, and a line each for the
// others.

import { repeat } from "../../vendor/lit-html/directives/repeat.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { choiceField, textField } from "../form/fields.js";
import { chosenCell, saidLine, typedCell } from "../form/grid-cells.js";
import { alongGrid } from "../form/grid-keys.js";
import { leaveOut, mend, shownRows } from "./paste-form.js";

/** @typedef {import("./paste-form.js").State} State */
/** @typedef {import("./paste-form.js").Judged} Judged */
/** @typedef {import("./paste-form.js").Field} Field */

/** Of so many rows a phone shows a line each. */
const LISTED = 60;

/** @param {Judged} row */
const numberOf = ({ number }) => number;

/** The fields that are shown, in the order of the table, those that it lacks at the end. @param {State} state */
function shownFields({ kind, columns, rows }) {
  const used = columns.flatMap((column) => kind.fields.filter(({ name, source }) => name === column && !source));
  // What the table lacks and the engine asks for, or what was filled in.
  const lacking = kind.fields.filter(
    ({ name, needed }) =>
      !columns.includes(name) &&
      (needed || rows.some(({ cells, faults }) => cells[name] || faults.some(({ field }) => field === name))),
  );
  return [...used, ...lacking];
}

/** @param {Field} field @returns {[string, string][]} */
const optionsOf = ({ options = {}, words = {} }) =>
  Object.keys(options).map((option) => [option, words[option] ?? option.replace("_", " ")]);

/** @param {Judged} row @param {string} field */
const faultAt = ({ faults }, field) => faults.find((fault) => fault.field === field)?.reason;

/** The unit of a column, or of its cell in one row. @param {State} state @param {Field} field @param {Judged} [row] */
function unitLabel({ units, kind }, { name, units: choices }, row) {
  const unit = units[name] || (row && kind.unitFor?.(name, row.cells)) || "";
  if (row && !unit) return undefined;
  return unit === "um" ? "µm" : choices?.find((choice) => choice.unit === unit)?.label;
}

/** Whether a row has such a figure at all. @param {State} state @param {Judged} row @param {Field} field */
const isAsked = ({ kind }, { cells }, { name, figure }) =>
  !figure || !kind.unitFor || kind.unitFor(name, cells) !== undefined;

/** @param {State} state @param {Judged} row @param {Field} field */
function cell(state, row, field) {
  const { name, label, options, figure, whole } = field;
  if (!isAsked(state, row, field)) return html`<td class="none"></td>`;
  const shared = {
    cell: name,
    label: `Row ${row.number}, ${label}`,
    value: row.cells[name] ?? "",
    wrong: faultAt(row, name),
    said: `row-${row.number}-said`,
  };
  const put = (/** @type {string} */ typed) => mend(state, row, name, typed);
  if (options) return chosenCell({ ...shared, options: optionsOf(field), choose: put });
  return typedCell({ ...shared, mode: figure ? "decimal" : whole ? "numeric" : "text", type: put });
}

/**
 * Enter goes on to the next cell that cannot be taken, at last to the key that takes them all.
 * @param {KeyboardEvent} event
 */
function onKey(event) {
  const { key, target, shiftKey, isComposing } = event;
  if (key !== "Enter" || shiftKey || isComposing || !(target instanceof Element)) return alongGrid(event);
  const wrong = [...document.querySelectorAll("#pasted-rows [aria-invalid=true]")];
  const next = /** @type {HTMLElement | undefined} */ (
    wrong.find((other) => target.compareDocumentPosition(other) & Node.DOCUMENT_POSITION_FOLLOWING)
  );
  event.preventDefault();
  const to = next ?? /** @type {HTMLElement | null} */ (document.querySelector("#take"));
  to?.focus();
  if (to instanceof HTMLInputElement) to.select();
}

/** @param {State} state @param {Judged} row @param {Field[]} fields */
const gridRow = (state, row, fields) =>
  html`<tr data-row=${row.number}>
      <th scope="row" class="number">${row.number}</th>
      ${fields.map((field) => cell(state, row, field))}
      <td>
        <button class="plain" aria-label=${`Leave out row ${row.number}`} @click=${() => leaveOut(state, [row])}>
          ✕
        </button>
      </td>
    </tr>
    ${saidLine(`row-${row.number}-said`, fields.length + 2, { wrong: reasons(row, fields) })}`;

/** Why a row cannot be taken; of several cells each by its name. @param {Judged} row @param {Field[]} fields */
function reasons({ faults }, fields) {
  const label = (/** @type {string} */ field) => fields.find(({ name }) => name === field)?.label ?? field;
  if (faults.length <= 1) return faults[0]?.reason;
  return faults.map(({ field, reason }) => `${label(field)}: ${reason}`).join(" ");
}

/** @param {State} state */
export function rowsGrid(state) {
  const fields = shownFields(state);
  return html`<section class="stage" id="pasted-rows" aria-label="Rows">
    <table class="sheet-grid" @keydown=${onKey}>
      <thead>
        <tr>
          <th scope="col" class="number">Row</th>
          ${fields.map(
            (field) =>
              html`<th scope="col" class=${field.figure || field.whole ? "number" : ""}>
                ${field.label}${field.figure ? html`<small>${unitLabel(state, field)}</small>` : nothing}
              </th>`,
          )}
          <td></td>
        </tr>
      </thead>
      <tbody>
        ${repeat(shownRows(state), numberOf, (/** @type {Judged} */ row) => gridRow(state, row, fields))}
      </tbody>
    </table>
  </section>`;
}

/** A row in words. @param {State} state @param {Judged} row @param {Field[]} fields */
const inWords = (state, row, fields) =>
  fields
    .filter((field) => row.cells[field.name] && isAsked(state, row, field))
    .map((field) => {
      const cell = row.cells[field.name];
      if (field.words) return field.words[cell] ?? cell;
      return field.figure && /\d$/.test(cell) ? `${cell} ${unitLabel(state, field, row) ?? ""}` : cell;
    })
    .join(" · ");

/** @param {State} state @param {Judged} row @param {Field[]} fields */
function card(state, row, fields) {
  const inQuestion = fields.filter((field) => isAsked(state, row, field));
  return html`<li class="card">
    <p><b>Row ${row.number}</b></p>
    <div class="fields">
      ${inQuestion.map((field) => {
        const { name, label } = field;
        const unit = field.figure ? unitLabel(state, field, row) : undefined;
        const shared = {
          name: `${row.number}.${name}`,
          label: unit ? `${label}, ${unit}` : label,
          value: row.cells[name] ?? "",
          error: faultAt(row, name),
        };
        const put = (/** @type {string} */ typed) => mend(state, row, name, typed);
        if (!field.options) return textField({ ...shared, type: put });
        const known = optionsOf(field);
        const strange = known.some(([value]) => value === shared.value);
        /** @type {[string, string][]} */
        const options = strange ? known : [[shared.value, shared.value || "–"], ...known];
        return choiceField({ ...shared, options, choose: put });
      })}
    </div>
    <button class="plain" @click=${() => leaveOut(state, [row])}>Leave out row ${row.number}</button>
  </li>`;
}

/** @param {State} state */
export function rowsList(state) {
  const fields = shownFields(state);
  // What was mended stays where it is typed.
  const mended = new Set(Object.keys(state.draft.mended).map((at) => at.split(".")[0]));
  const toMend = state.rows.filter((row) => row.faults.length || mended.has(String(row.number)));
  const fine = state.rows.filter((row) => !toMend.includes(row));
  return html`<div id="pasted-rows">
      ${
        toMend.length
          ? html`<ul class="list cards" aria-label="Rows to mend">
              ${repeat(toMend, numberOf, (/** @type {Judged} */ row) => card(state, row, fields))}
            </ul>`
          : nothing
      }
    </div>
    ${
      fine.length
        ? html`<details class="card">
            <summary>${fine.length === 1 ? "1 row" : `${fine.length} rows`} that can be taken</summary>
            <ul class="steps">
              ${fine.slice(0, LISTED).map((row) => html`<li>${inWords(state, row, fields)}</li>`)}
            </ul>
            ${fine.length > LISTED ? html`<p class="quiet">And ${fine.length - LISTED} more.</p>` : nothing}
          </details>`
        : nothing
    }`;
}
