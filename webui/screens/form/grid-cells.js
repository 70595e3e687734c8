// @ts-check
// Cells of a table that is typed into: dense, each with a name of its own, and what is wrong said in a line below its
// row, so that no column grows.

import { live } from "../../vendor/lit-html/directives/live.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";

/**
 * @typedef {object} Cell
 * @property {string} cell the column, the same in every row
 * @property {string} label of this cell alone
 * @property {string} value as typed
 * @property {string} [wrong] why it cannot be taken
 * @property {string} [said] id of the line that says so
 */

/** @param {Cell} cell */
const state = ({ wrong }) => (wrong ? "true" : "false");

/** @param {Cell} cell */
const described = ({ wrong, said }) => (wrong && said ? said : nothing);

/**
 * @param {Cell & {
 *   mode?: "decimal" | "numeric" | "text", behind?: string, hint?: string, type: (typed: string) => void,
 * }} cell
 *   `behind` is a unit that is not the column's, `hint` what counts where nothing is typed
 */
export const typedCell = (cell) =>
  html`<td data-cell=${cell.cell} class=${cell.mode && cell.mode !== "text" ? "number" : ""}>
    <input
      type="text"
      inputmode=${cell.mode ?? "text"}
      autocomplete="off"
      spellcheck="false"
      enterkeyhint="next"
      placeholder=${cell.hint || nothing}
      aria-label=${cell.label}
      .value=${live(cell.value)}
      aria-invalid=${state(cell)}
      aria-describedby=${described(cell)}
      @input=${(/** @type {{target: HTMLInputElement}} */ event) => cell.type(event.target.value)}
    />${cell.behind ? html`<small>${cell.behind}</small>` : nothing}
  </td>`;

/**
 * @param {Cell & {options: [string, string][], choose: (value: string) => void}} cell what is none of the options is
 *   shown as it was written
 */
export const chosenCell = (cell) =>
  html`<td data-cell=${cell.cell}>
    <select
      aria-label=${cell.label}
      aria-invalid=${state(cell)}
      aria-describedby=${described(cell)}
      @change=${(/** @type {{target: HTMLSelectElement}} */ event) => cell.choose(event.target.value)}
    >
      ${
        cell.options.some(([value]) => value === cell.value)
          ? nothing
          : html`<option value=${cell.value} .selected=${live(true)}>${cell.value || "–"}</option>`
      }
      ${cell.options.map(
        ([value, words]) => html`<option value=${value} .selected=${live(value === cell.value)}>${words}</option>`,
      )}
    </select>
  </td>`;

/**
 * The line below a row.
 * @param {string} id @param {number} columns @param {{wrong?: string, notes?: import("./fields.js").Words[]}} says
 */
export const saidLine = (id, columns, { wrong, notes = [] }) =>
  wrong || notes.length
    ? html`<tr class="said">
        <td colspan=${columns}>
          ${wrong ? html`<p class="error" id=${id} role="alert">${wrong}</p>` : nothing}
          ${notes}
        </td>
      </tr>`
    : nothing;

/** The row that a cell is in, by its number. @param {EventTarget | null} target */
export function rowNumber(target) {
  const row = target instanceof Element ? target.closest("tr[data-row]") : null;
  return row instanceof HTMLElement ? Number(row.dataset.row) : -1;
}
