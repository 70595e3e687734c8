// @ts-check
// Measured plates at the bench: a row a plate, moved through with Enter and the arrows; beside its figures what it was
// last time, its limit and its verdict.

import { LABELS } from "../../log/labels.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { errorLine, figureIn, idOf, verdictMark, whenDay } from "../form/fields.js";
import { alongGrid } from "../form/grid-keys.js";
import { typedPlate } from "./plates-draft.js";
import { chosenOf, goOn, letGo, putAt, takeInHand } from "./plates-form.js";
import {
  gapError,
  inItsStack,
  known,
  MARKS,
  platesKeys,
  rowOf,
  thicknessRow,
  unitQuestion,
  usualLimit,
} from "./plates-sections.js";
import { rowVerdict } from "./row-verdict.js";
import { changeLine, changeOf } from "./since-last.js";

/** @typedef {import("./plates-form.js").PlatesForm} PlatesForm */
/** @typedef {import("./plates-draft.js").Part} Part */

/** A length without its unit, which stands in the heading. @param {PlatesForm} form */
const figureOf =
  ({ draft, read }) =>
  (/** @type {number | null} */ mm) =>
    mm === null ? "–" : figureIn(read.units, "mm", draft.lengthUnit, mm);

/** The gap under a plate. @param {PlatesForm} form @param {Part} plate */
function gapField(form, plate) {
  const { slot } = plate;
  const [error, id] = [gapError(form, plate), idOf(`gap ${slot}`)];
  return html`<input
      type="text"
      inputmode="decimal"
      autocomplete="off"
      spellcheck="false"
      aria-label=${`${slot} ${LABELS.plates["plates..gap_mm"].toLowerCase()}`}
      aria-invalid=${error ? "true" : "false"}
      aria-describedby=${error ? id : nothing}
      .value=${typedPlate(form.draft, slot).gap}
      @input=${(/** @type {{target: HTMLInputElement}} */ event) => putAt(form, slot, { gap: event.target.value })}
    />
    ${errorLine(error, id)}`;
}

/**
 * A column has room for the word alone; what it means is said below.
 * @param {PlatesForm} form @param {string} slot
 */
const marksField = (form, slot) =>
  html`<select
    aria-label=${`${slot} ${LABELS.plates["plates..marks"].toLowerCase()}`}
    @change=${(/** @type {{target: HTMLSelectElement}} */ event) => putAt(form, slot, { marks: event.target.value })}
  >
    ${MARKS.map(
      ({ value, words }) =>
        html`<option value=${value} ?selected=${typedPlate(form.draft, slot).marks === value}>
          ${words.split(":")[0]}
        </option>`,
    )}
  </select>`;

/** @param {PlatesForm} form @param {Part} plate */
function plateRow(form, plate) {
  const { slot, part, at, lowest_mm, minimum_mm } = plate;
  const say = figureOf(form);
  const row = rowOf(form, slot);
  const inHand = chosenOf(form).slot === slot;
  return html`<tr
    class=${inHand ? "in-hand" : ""}
    aria-current=${inHand ? "true" : nothing}
    @focusin=${() => inHand || takeInHand(form, slot)}
  >
    <th scope="row"><b>${slot}</b> <small>${part}</small></th>
    <td class="number">${say(minimum_mm)}</td>
    <td class="number" data-cell="last">
      ${say(lowest_mm)}<small>${changeOf(form, slot) ?? (at ? whenDay(at) : nothing)}</small>
    </td>
    <td data-cell="points">${thicknessRow(form, plate)}</td>
    <td data-cell="gap">${gapField(form, plate)}</td>
    <td data-cell="marks">${marksField(form, slot)}</td>
    <td data-cell="verdict">
      ${row ? html`${verdictMark(row.verdict)}<small>lowest ${say(row.lowest_mm)}</small>` : nothing}
    </td>
  </tr>`;
}

/** Enter in a point goes on as on a phone; elsewhere, and by the arrows, as in any table. */
const onKey = (/** @type {PlatesForm} */ form) => (/** @type {KeyboardEvent} */ event) => {
  if (event.key === "Enter" && event.target instanceof Element && event.target.closest(".readings")) goOn(form, event);
  else alongGrid(event);
};

/** All plates as a table. @param {PlatesForm} form */
export function grid(form) {
  const { plates, draft, read } = form;
  const label = read.units.mm.find(({ unit }) => unit === draft.lengthUnit)?.label;
  return html`<section class="stage" aria-label="Plates">
    <div class="scroll">
      <table
        class="plate-grid"
        @keydown=${onKey(form)}
        @focusout=${() => letGo(form)}
      >
        <thead>
          <tr>
            <th scope="col">Plate</th>
            <th scope="col" class="number">${LABELS.plates["plates..minimum_mm"]}</th>
            <th scope="col" class="number">Last</th>
            <th scope="col">Points, ${label}</th>
            <th scope="col">Feeler</th>
            <th scope="col">Heat</th>
            <th scope="col">Verdict</th>
          </tr>
        </thead>
        <tbody>
          ${plates.map((plate) => plateRow(form, plate))}
        </tbody>
      </table>
    </div>
  </section>`;
}

/**
 * The plate in hand, what is found of it and what can be done with it.
 * @param {PlatesForm} form @param {unknown} photo
 */
export function inHand(form, photo) {
  const plate = chosenOf(form);
  return html`<section class="stage how" aria-label=${`Plate ${plate.slot}`}>
    <div class="row in-the-hand">
      ${inItsStack(form, plate)}
      <div>
        <h2>${plate.slot}, ${plate.part} plate</h2>
        ${known(form, plate)}
      </div>
      ${platesKeys(form, photo)}
    </div>
    ${unitQuestion(form)} ${rowVerdict(rowOf(form, plate.slot))} ${changeLine(form, plate.slot)}
    ${plate.usual_minimum ? usualLimit : nothing}
    <p class="quiet">
      The feeler is the thickest that passes under the rim on a surface plate, hollow side up; then turned over: the
      larger counts. Some plates are dished on purpose: then the maker's figure is the limit. Heat or scoring is heavy
      where the plate is blue, cracked or deeply scored.
    </p>
    ${form.sign.known ? nothing : form.sign.field("Measured by")}
  </section>`;
}
