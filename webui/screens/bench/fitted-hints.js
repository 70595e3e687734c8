// @ts-check
// What stands beside the fields of a part that is fitted: what the shelf knows of it.

/** @typedef {import("./rebuild.js").State} State */
/** @typedef {import("./rebuild.js").Fitted} Fitted */

/** Where the limit of a piece comes from while none is typed. @param {State} state @param {number} number */
export function limitHint({ onShelf, read }, number) {
  const limit = onShelf[number]?.minimum_mm;
  return typeof limit === "number"
    ? `${read.length(limit)} by the shelf, if empty`
    : "Not known. Give the maker's; if empty, 92 % of the thickness: common practice, no source";
}

/** What to know of a name that the shelf lacks. @param {State} state @param {Fitted} part @param {number} number */
export const nameHint = ({ onShelf, meant }, { piece, bought }, number) =>
  meant && piece.trim() && !bought && onShelf[number] && onShelf[number].within_mm === null
    ? "not there for this unit: say if it was bought, or the shelf will disagree"
    : undefined;
