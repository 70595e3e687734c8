// @ts-check
// The heads of a table that sorts, and the way through its rows with arrows.

import { pressed } from "../../tables/arrange.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";

/** @typedef {import("../../tables/arrange.js").Sorting} Sorting */
/**
 * @typedef {object} Head
 * @property {string} name of the column, as the address has it
 * @property {string} label
 * @property {string} [unit] of its figures
 * @property {boolean} [number] whether it holds figures
 * @property {boolean} [downFirst] whether the largest is asked for first
 * @property {string} [hint] said in full where the head is short
 * @property {string} [side] a class: columns of less weight leave a narrow screen first
 */

/**
 * @param {Head[]} heads
 * @param {Sorting | undefined} sorting
 * @param {(sorting: Sorting | undefined) => void} sort
 */
export const headRow = (heads, sorting, sort) =>
  html`<tr>
    ${heads.map(({ name, label, unit, number, downFirst, hint, side }) => {
      const isSorted = sorting?.by === name;
      return html`<th
        scope="col"
        class="${number ? "number" : ""} ${side ?? ""}"
        aria-sort=${isSorted ? (sorting.down ? "descending" : "ascending") : nothing}
      >
        <button class="sorts" title=${hint ?? nothing} @click=${() => sort(pressed(sorting, name, downFirst))}>
          <span>${label}${unit ? html`, <span class="unit">${unit}</span>` : nothing}</span
          ><i aria-hidden="true">${isSorted ? (sorting.down ? "▼" : "▲") : ""}</i>
        </button>
      </th>`;
    })}
  </tr>`;

const ROWS = "tbody a.open";

/** Where each key goes from a row. @type {Record<string, (place: number, rows: unknown[]) => number>} */
const WAYS = {
  ArrowDown: (place) => place + 1,
  ArrowUp: (place) => place - 1,
  Home: () => 0,
  End: (_, rows) => rows.length - 1,
};

/**
 * Arrows go over the rows, from the heads and from what is sought into them; Enter opens, as everywhere.
 * @param {KeyboardEvent} event within the part of the page that the table stands in
 */
export function alongRows(event) {
  const part = /** @type {HTMLElement} */ (event.currentTarget);
  const from = /** @type {HTMLElement} */ (event.target);
  const way = WAYS[event.key];
  if (!way || event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
  const rows = /** @type {HTMLElement[]} */ ([...part.querySelectorAll(ROWS)]);
  const place = rows.indexOf(from);
  // Out of a row everything goes; out of a head, and of what is sought, only the way down.
  if (place < 0 && (event.key !== "ArrowDown" || !from.matches(".sorts, input[type=search]"))) return;
  event.preventDefault();
  const next = way(place, rows);
  if (next < 0) /** @type {HTMLElement | null} */ (part.querySelector(".sorts"))?.focus();
  else rows[next]?.focus();
}

/** A row is opened wherever it is pressed, as long as nothing in it was marked. @param {MouseEvent} event */
export function openRow(event) {
  const pressed = /** @type {HTMLElement} */ (event.target);
  if (pressed.closest("a, button") || getSelection()?.toString()) return;
  const link = /** @type {HTMLElement | null | undefined} */ (pressed.closest("tr")?.querySelector("a.open"));
  link?.click();
}
