// @ts-check
// The keys of a table that is typed into: Enter and the arrows go from cell to cell, as in any spreadsheet.

const CELLS = "input, select";

/**
 * Whether the caret would leave its field by an arrow to this side.
 * @param {HTMLInputElement} field @param {number} by
 */
function isAtEdge({ selectionStart, selectionEnd, value }, by) {
  const whole = selectionStart === 0 && selectionEnd === value.length;
  return whole || (selectionStart === selectionEnd && selectionStart === (by < 0 ? 0 : value.length));
}

/** @param {Element} row */
const cellsOf = (row) => /** @type {(HTMLInputElement | HTMLSelectElement)[]} */ ([...row.querySelectorAll(CELLS)]);

/**
 * The next row with cells, on one side; lines that only say something are passed over.
 * @param {Element} row @param {"nextElementSibling" | "previousElementSibling"} side
 */
function beside(row, side) {
  let other = row[side];
  while (other && !other.querySelector(CELLS)) other = other[side];
  return other;
}

/** The same column in another row: the cell of that name, and of several in it the one at the same place. */
function inColumn(/** @type {Element} */ field, /** @type {Element} */ row) {
  const name = /** @type {HTMLElement | null} */ (field.closest("[data-cell]"))?.dataset.cell;
  const of = (/** @type {Element} */ part) => cellsOf(part.querySelector(`[data-cell="${name}"]`) ?? part);
  const column = of(/** @type {Element} */ (field.closest("tr"))).indexOf(
    /** @type {HTMLInputElement | HTMLSelectElement} */ (field),
  );
  const cells = of(row);
  return cells[column] ?? cells.at(-1);
}

/**
 * Go to another cell: up and down its column with the arrows and Enter, along its row where the caret is at an edge.
 * @param {KeyboardEvent} event within a table
 */
export function alongGrid(event) {
  const field = event.target;
  if (!(field instanceof HTMLInputElement || field instanceof HTMLSelectElement)) return;
  if (event.isComposing || event.altKey || event.ctrlKey || event.metaKey) return;
  // Up and down a list of choices is the list's own.
  if (field instanceof HTMLSelectElement && (event.key === "ArrowUp" || event.key === "ArrowDown")) return;
  const row = field.closest("tr");
  if (!row) return;
  /** @type {Record<string, Element | null | undefined>} */
  const rows = {
    ArrowDown: beside(row, "nextElementSibling"),
    ArrowUp: beside(row, "previousElementSibling"),
    Enter: beside(row, event.shiftKey ? "previousElementSibling" : "nextElementSibling"),
  };
  const by = event.key === "ArrowRight" ? 1 : event.key === "ArrowLeft" ? -1 : 0;
  const along =
    by && !event.shiftKey && (!(field instanceof HTMLInputElement) || isAtEdge(field, by))
      ? cellsOf(row)[cellsOf(row).indexOf(field) + by]
      : undefined;
  const other = rows[event.key];
  const next = other ? inColumn(field, other) : along;
  if (!next) return;
  event.preventDefault();
  next.focus();
  if (next instanceof HTMLInputElement) next.select();
}
