// @ts-check
// The kit as tables at the bench: one for each family of tools, a row a tool, moved through with Enter and the arrows;
// the row behind the last begins another one.

import { repeat } from "../../vendor/lit-html/directives/repeat.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { actKey } from "../form/act-key.js";
import { clearKey, errorLine, typedOf, unitOf } from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { chosenCell, saidLine, typedCell } from "../form/grid-cells.js";
import { alongGrid } from "../form/grid-keys.js";
import { fieldOf, GAUGES, isGauge, KINDS, usualDeviation, usualUnit } from "../form/tool-typed.js";
import {
  clear,
  enter,
  FAMILIES,
  labelOf,
  leave,
  meanwhile,
  put,
  rowsOf,
  save,
  setGone,
  takeAway,
  toolsOf,
  undoClear,
  wrongIn,
} from "./kit-rows.js";

/** @typedef {import("./kit-rows.js").State} State */
/** @typedef {import("./kit-rows.js").Row} Row */
/** @typedef {typeof FAMILIES[number]} Family */
/** @typedef {import("../form/tool-typed.js").Figure} Figure */

/** @type {{name: Figure, hint: string}[]} */
const COLUMNS = [
  { name: "low", hint: "0 if left empty" },
  { name: "high", hint: "" },
  { name: "division", hint: "the smallest step you read; of a feeler gauge the step from leaf to leaf" },
  { name: "deviation", hint: "what is usual for its kind if left empty" },
  { name: "certificate", hint: "expanded, k = 2; replaces the figure before it" },
  { name: "zero", hint: "0 if it came back to zero; empty if nobody looked" },
];

// Name, kind, day, and the key that removes.
const WIDTH = COLUMNS.length + 4;

/** @param {State} state @param {Family["tools"][number]} tool */
const unitOfColumn = ({ read }, tool) => usualUnit(read, tool);

/** @param {string} field */
const isPercent = (field) => field.endsWith("_percent");

/** @param {State} state @param {Family} family @param {typeof COLUMNS[number]} column */
function head(state, { tools: [tool] }, { name, hint }) {
  const field = fieldOf(tool, name);
  // What this family has no figure of keeps its place, so that the tables stand in line.
  if (!field) return html`<td></td>`;
  const unit = isPercent(field) ? nothing : html`<small>${state.unitLabels[unitOfColumn(state, tool)]}</small>`;
  return html`<th scope="col" class="number" title=${hint || nothing}>${labelOf(tool, name)}${unit}</th>`;
}

/** What counts where a cell is left empty. @param {State} state @param {Row} row @param {Figure} name */
function usual({ permitted }, { typed: { tool, kind }, ...row }, name) {
  if (!row.tool && !row.begun) return "";
  const gauge = GAUGES[tool];
  if (gauge) return name === "division" || name === "deviation" ? `${gauge[name]} mm` : "";
  const percent = permitted[kind];
  return name === "deviation" && percent !== undefined ? `${percent} %` : "";
}

/** @param {State} state @param {Row} row @param {Figure} name */
function cell(state, row, name) {
  const { tool } = row.typed;
  const field = fieldOf(tool, name);
  if (!field) return html`<td class="none"></td>`;
  const value = row.typed[name];
  const usualHere = unitOfColumn(state, tool);
  // Nought is the same in every unit.
  const unit = /[1-9]/.test(typedOf(value)) ? unitOf(value, usualHere) : usualHere;
  // A figure that is typed anew in a filled cell is in that cell's unit, else in the column's.
  const kept = (/** @type {string} */ now) => (isPercent(field) || !now ? now : { typed: now, unit });
  return typedCell({
    ...shared(state, row, name),
    value: typedOf(value),
    mode: "decimal",
    hint: usual(state, row, name),
    behind: unit === usualHere ? undefined : state.unitLabels[unit],
    type: (now) => put(state, row, { [name]: kept(now) }),
  });
}

/**
 * What every cell of a row says of itself.
 * @param {State} state @param {Row} row @param {Figure | "name" | "kind" | "due"} name
 */
function shared(state, row, name) {
  const wrong = wrongIn(state, row);
  return {
    cell: name,
    label: `${row.name}, ${labelOf(row.typed.tool, name)}`,
    wrong: wrong?.column === name ? wrong.reason : undefined,
    said: `said-${row.key}`,
  };
}

/** How it works, or which gauge it is. @param {State} state @param {Family} family @param {Row} row */
function kindCell(state, { tools }, row) {
  const { tool, kind } = row.typed;
  const cell = shared(state, row, "kind");
  if (!isGauge(tool))
    return chosenCell({ ...cell, value: kind, options: KINDS[tool], choose: (kind) => put(state, row, { kind }) });
  return chosenCell({
    ...cell,
    value: row.tool || kind ? tool : "",
    options: tools.map((name) => [name, GAUGES[name].words]),
    choose: (chosen) => put(state, row, { tool: tools.find((name) => name === chosen), kind: chosen }),
  });
}

/** @param {State} state @param {Family} family @param {Row} row */
function tableRow(state, family, row) {
  const { key, name, typed, tool, begun } = row;
  const notes = [...(tool?.overdue ? ["Its calibration has run out."] : []), ...meanwhile(row)];
  return html`<tr data-row=${key} data-tool=${tool?.id ?? nothing}>
      ${typedCell({
        ...shared(state, row, "name"),
        value: typed.name,
        type: (typed) => put(state, row, { name: typed }),
      })}
      ${kindCell(state, family, row)} ${COLUMNS.map((column) => cell(state, row, column.name))}
      ${typedCell({
        ...shared(state, row, "due"),
        value: typed.due,
        type: (due) => put(state, row, { due }),
      })}
      <td>
        ${
          tool || begun
            ? html`<button class="plain" aria-label=${`Remove ${name}`} @click=${() => takeAway(state, row)}>
                ✕
              </button>`
            : nothing
        }
      </td>
    </tr>
    ${saidLine(`said-${key}`, WIDTH, {
      wrong: begun ? wrongIn(state, row)?.reason : undefined,
      notes: notes.map((text) => html`<p class="finding doubt">${text}</p>`),
    })}`;
}

/** @param {EventTarget | null} target */
function keyOf(target) {
  const row = target instanceof Element ? target.closest("tr[data-row]") : null;
  return row instanceof HTMLElement ? (row.dataset.row ?? "") : "";
}

/**
 * From the last row of a table to the first of the next one, and back; from the very last to the key that saves.
 * @param {KeyboardEvent} event
 */
function onKey(event) {
  alongGrid(event);
  const { key, shiftKey, target, defaultPrevented } = event;
  const isList = target instanceof HTMLSelectElement;
  if (defaultPrevented || event.isComposing || !(isList || target instanceof HTMLInputElement)) return;
  const isEnter = key === "Enter";
  if (!isEnter && (isList || (key !== "ArrowDown" && key !== "ArrowUp"))) return;
  const isBack = key === "ArrowUp" || (isEnter && shiftKey);
  const tables = [...document.querySelectorAll(".of-kit")];
  const table = tables[tables.indexOf(/** @type {Element} */ (target.closest("table"))) + (isBack ? -1 : 1)];
  const rows = [...(table?.querySelectorAll("tr[data-row]") ?? [])];
  const column = /** @type {HTMLElement | null} */ (target.closest("[data-cell]"))?.dataset.cell;
  const row = isBack ? rows.at(-1) : rows[0];
  const to = row?.querySelector(`[data-cell="${column}"] :is(input, select)`) ?? row?.querySelector("input");
  if (!to && (!isEnter || isBack)) return;
  event.preventDefault();
  const next = /** @type {HTMLElement | null} */ (to ?? document.querySelector("#save-kit button"));
  next?.focus();
  if (next instanceof HTMLInputElement) next.select();
}

/** @param {State} state @param {Family} family */
const table = (state, family) =>
  html`<section class="stage" aria-labelledby=${`kit-${family.name}`}>
    <h2 id=${`kit-${family.name}`}>${family.title}</h2>
    <table
      class="sheet-grid of-kit"
      aria-labelledby=${`kit-${family.name}`}
      @keydown=${onKey}
      @focusin=${(/** @type {FocusEvent} */ event) => enter(state, keyOf(event.target))}
      @focusout=${(/** @type {FocusEvent} */ event) => leave(state, keyOf(event.relatedTarget))}
    >
      <thead>
        <tr>
          <th scope="col">${labelOf(family.tools[0], "name")}</th>
          <th scope="col">${labelOf(family.tools[0], "kind")}</th>
          ${COLUMNS.map((column) => head(state, family, column))}
          <th scope="col" title="last day on which its calibration holds">${labelOf(family.tools[0], "due")}</th>
          <td></td>
        </tr>
      </thead>
      <tbody>
        ${repeat(rowsOf(state, family), keyOfRow, (/** @type {Row} */ row) => tableRow(state, family, row))}
      </tbody>
    </table>
  </section>`;

/** @param {Row} row */
const keyOfRow = ({ key }) => key;

/** The whole kit as tables. @param {State} state */
export const grid = (state) => html`${FAMILIES.map((family) => table(state, family))}`;

/** What counts of the row in hand where nothing is typed. @param {State} state */
function inHand(state) {
  const row = FAMILIES.flatMap((family) => rowsOf(state, family)).find(({ key }) => key === state.inHand);
  if (!row || (!row.tool && !row.begun)) return nothing;
  const { tool } = row.typed;
  const label = labelOf(tool, "deviation").replace(", %", "");
  const says = usualDeviation(row.typed, state.permitted);
  return says ? html`<p class="quiet"><b>${row.name}</b>: ${label} ${says}.</p>` : nothing;
}

/** Why what is typed cannot be kept or saved. @param {State} state */
const failed = ({ begun }) => [...begun.values()].map(({ form }) => form.failed).find(Boolean);

/** The foot of the tables, which stays in sight. @param {State} state */
export function foot(state) {
  const { begun, removed, message, busy, sign, cleared, place, next } = state;
  const count = begun.size;
  return html`<section class="card grid-foot" aria-label="The kit">
    <div class="row-in-hand">${inHand(state)}</div>
    ${errorLine(failed(state))}
    <div class="row">
      ${sign.fieldIfUnknown()}
      <span id="save-kit"
        >${actKey({
          words: count ? `Save ${toolsOf(count)}` : "Save",
          ready: count > 0,
          act: () => save(state),
          look: "main",
        })}</span
      >
      ${FAMILIES.map(
        ({ name, one }) =>
          html`<button @click=${() => focusOn(place, `[data-row="${next[name]}"] input`)}>Add a ${one}</button>`,
      )}
      ${
        count || cleared
          ? clearKey(
              Boolean(cleared),
              () => clear(state),
              () => undoClear(state),
            )
          : nothing
      }
      ${
        removed
          ? html`<button id="put-back" @click=${() => setGone(state, removed, "no")}>Put ${removed.name} back</button>`
          : nothing
      }
    </div>
    <p role="status" class="quiet">${busy || message}</p>
  </section>`;
}
