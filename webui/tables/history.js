// @ts-check
// The history of all units: which entries are chosen, by what an address says.

import { chosenFrom } from "./arrange.js";

/** @typedef {import("../log/all-entries.js").Row} Row */

/** @type {Record<string, (row: Row) => string>} */
export const historyFilters = {
  unit: ({ unit }) => unit,
  kind: ({ kind }) => kind,
  who: ({ who }) => who,
};

const DAY = /^\d{4}-\d\d-\d\d$/;

/** A day that bounds what is chosen; nothing that is no day does. @param {string | undefined} day */
const bound = (day) => (day !== undefined && DAY.test(day) ? day : "");

/**
 * The entries that are chosen, in the order that they came in.
 * @param {readonly Row[]} rows
 * @param {Record<string, string>} filters also `from` and `to`, each a day that belongs to what is chosen
 * @param {(row: Row) => boolean} has whether a row has what is sought
 */
export function chosenEntries(rows, filters, has) {
  const [from, to] = [bound(filters.from), bound(filters.to)];
  const within = (/** @type {Row} */ { at }) => {
    const day = at.slice(0, 10);
    return (!from || day >= from) && (!to || day <= to);
  };
  return chosenFrom(rows, filters, historyFilters).filter((row) => within(row) && has(row));
}
