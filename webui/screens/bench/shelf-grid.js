// @ts-check
// The shelf as a grid at the bench: a row a class or piece, a column a figure, moved through with Enter and the arrows;
// the row behind the last begins another one.

import { LABELS } from "../../log/labels.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { typedOf, unitOf } from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { chosenCell, rowNumber, saidLine, typedCell } from "../form/grid-cells.js";
import { alongGrid } from "../form/grid-keys.js";
import { NEW_ROW, PARTS, putAt, remove } from "./shelf-form.js";
import { rowState } from "./shelf-rows.js";

/** @typedef {import("./shelf-form.js").State} State */
/** @typedef {import("./shelf-form.js").Piece} Piece */

/**
 * @typedef {object} Column
 * @property {"mm" | "count" | "lowest_stock" | "minimum_mm" | "within_mm" | "new_mm" | "lowest_mm" | "family"} name
 * @property {"length" | "count" | "text"} holds
 * @property {string} [hint]
 */

/** @type {Column[]} */
const COLUMNS = [
  { name: "mm", holds: "length" },
  { name: "count", holds: "count" },
  { name: "lowest_stock", holds: "count", hint: "with fewer, more are on the buying list" },
  { name: "minimum_mm", holds: "length", hint: "when worn to this, it is replaced; the maker's" },
  {
    name: "within_mm",
    holds: "length",
    hint: "0.02 mm for a class if left empty: common practice, no source",
  },
  { name: "new_mm", holds: "length", hint: "of a piece that has run: its class's limit counts" },
  { name: "lowest_mm", holds: "length", hint: "of a piece that has run: its limit judges this" },
  { name: "family", holds: "text", hint: "rubbing ring, lugs or splines, material" },
];

// Name, part, those above, planned, to buy, and the key that removes.
const WIDTH = COLUMNS.length + 5;

/** @param {Column["name"]} name */
const labelFor = (name) => LABELS.shelf[`pieces..${name}`];

/** @param {State} state @param {Column} column */
const head = ({ read }, { name, holds, hint }) =>
  html`<th scope="col" class=${holds === "text" ? "" : "number"} title=${hint ?? nothing}>
    ${labelFor(name)}${holds === "length" ? html`<small>${labelOf(read, read.lengthUnit)}</small>` : nothing}
  </th>`;

/** @param {State["read"]} read @param {string} unit */
const labelOf = (read, unit) => read.units.mm.find((choice) => choice.unit === unit)?.label ?? unit;

/**
 * What is typed, and its unit: that of the column until something is typed in another.
 * @param {State} state @param {Piece} piece @param {Column} column
 */
function lengthOf({ read }, piece, { name }) {
  const value = piece[name];
  const unit = value && typeof value === "object" ? unitOf(value, read.lengthUnit) : value ? "mm" : read.lengthUnit;
  const typed = typedOf(value);
  return { typed, unit, behind: typed.trim() && unit !== read.lengthUnit ? labelOf(read, unit) : undefined };
}

/** @param {State} state @param {Piece} piece @param {number} number @param {Column} column */
function cell(state, piece, number, column) {
  const { name, holds } = column;
  const { typed, unit, behind } =
    holds === "length" ? lengthOf(state, piece, column) : { typed: typedOf(piece[name]), unit: "mm", behind: "" };
  // A figure that is typed anew is in the column's unit.
  const kept = (/** @type {string} */ now) => (now.trim() && unit !== "mm" ? { typed: now, unit } : now);
  return typedCell({
    cell: name,
    label: `${rowName(state, piece, number)}, ${labelFor(name)}`,
    value: typed,
    mode: holds === "text" ? "text" : holds === "count" ? "numeric" : "decimal",
    behind,
    wrong: wrongAt(state, number, name),
    said: `said-${number}`,
    type: (now) => putAt(state, number, { [name]: kept(now) }),
  });
}

/** @param {State} state @param {Piece} piece @param {number} number */
const rowName = ({ draft }, { name }, number) =>
  name.trim() || (number < draft.pieces.length ? `Row ${number + 1}` : "New row");

/**
 * Why a cell cannot be taken; a row that was just begun is not called wrong.
 * @param {State} state @param {number} number @param {keyof Piece} name
 */
const wrongAt = ({ form, begun }, number, name) =>
  number === begun ? undefined : form.error(`pieces.${number}.${name}`);

/** What the row needs to be taken, whichever cell it is about. @param {State} state @param {number} number */
function wrongIn({ form, begun }, number) {
  const at = form.bad?.field.startsWith(`pieces.${number}.`) ? form.bad.reason : undefined;
  return number === begun ? undefined : at;
}

/** What stands of a row. @param {State} state @param {Piece} piece */
const standing = ({ now, corrected }, { name }) =>
  corrected ? undefined : now.rows.find((row) => row.name === name.trim());

/** @param {State} state @param {Piece} piece @param {number} number */
function row(state, piece, number) {
  const stands = standing(state, piece);
  const name = rowName(state, piece, number);
  const isThere = number < state.draft.pieces.length;
  const notes = stands?.says.map(
    (text) => html`<p class="finding ${stands.short || stands.is_low ? "doubt" : "note"}">${text}</p>`,
  );
  return html`<tr data-row=${number}>
      ${typedCell({
        cell: "name",
        label: `${name}, Name`,
        value: piece.name,
        wrong: wrongAt(state, number, "name"),
        said: `said-${number}`,
        type: (typed) => putAt(state, number, { name: typed }),
      })}
      ${chosenCell({
        cell: "part",
        label: `${name}, Part`,
        value: piece.part,
        options: PARTS,
        wrong: wrongAt(state, number, "part"),
        said: `said-${number}`,
        choose: (part) => putAt(state, number, { part }),
      })}
      ${COLUMNS.map((column) => cell(state, piece, number, column))}
      <td class="number">${stands?.wanted ? html`${stands.wanted}<small>${stands.free} left</small>` : nothing}</td>
      <td class="number">${stands?.to_buy || nothing}</td>
      <td>
        ${
          isThere
            ? html`<button class="plain" aria-label=${`Remove ${name}`} @click=${() => remove(state, number)}>
                ✕
              </button>`
            : nothing
        }
      </td>
    </tr>
    ${saidLine(`said-${number}`, WIDTH, { wrong: isThere ? wrongIn(state, number) : undefined, notes })}`;
}

/** A row that was begun is judged once it is left. @param {State} state @param {FocusEvent} event */
function leftRow(state, event) {
  if (state.begun < 0 || rowNumber(event.relatedTarget) === state.begun) return;
  state.begun = -1;
  // A row that is taken away loses the focus in the midst of being drawn.
  queueMicrotask(state.redraw);
}

/** @param {State} state @param {FocusEvent} event */
function enteredRow(state, event) {
  const number = rowNumber(event.target);
  if (number === state.inHand) return;
  state.inHand = number;
  state.redraw();
}

/** The whole shelf as a table. @param {State} state */
export const grid = (state) =>
  html`<section class="stage" aria-label="The shelf">
    <table
        class="sheet-grid of-shelf"
        @keydown=${alongGrid}
        @focusin=${(/** @type {FocusEvent} */ event) => enteredRow(state, event)}
        @focusout=${(/** @type {FocusEvent} */ event) => leftRow(state, event)}
      >
        <thead>
          <tr>
            <th scope="col">Name</th>
            <th scope="col">Part</th>
            ${COLUMNS.map((column) => head(state, column))}
            <th scope="col" class="number" title="what plans that were taken mean to fit">Planned</th>
            <th scope="col" class="number">To buy</th>
            <td></td>
          </tr>
        </thead>
        <tbody>
          ${[...state.draft.pieces, { ...NEW_ROW, part: "", count: "" }].map((piece, number) =>
            row(state, piece, number),
          )}
        </tbody>
    </table>
  </section>`;

/** The row that is typed in, as it stands and why. @param {State} state */
export function inHand(state) {
  const piece = state.draft.pieces[state.inHand];
  return piece && !state.corrected ? rowState(state.now, piece.name) : nothing;
}

/** Begin another row. @param {State} state */
export const begin = ({ place, draft }) => focusOn(place, `[data-row="${draft.pieces.length}"] input`);
