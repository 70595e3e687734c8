// @ts-check
// Rows that are added to what is there, or take its place: what comes of it.

/** Thicknesses that differ by less, mm, are those of one class, as the engine has it. */
const SAME_MM = 0.0005;

/**
 * @template Row
 * @typedef {{row: Row, name: string, twin?: Row}} Paired a row, and what is there under its name
 */

/** @param {string} name */
const plain = (name) => name.trim().toLowerCase().replace(/\s+/g, " ");

/**
 * Each row with the one that has its name already.
 * @template {{name: string}} Row
 * @template {{name: string}} There
 * @param {Row[]} rows @param {There[]} known
 * @returns {{row: Row, twin: There | undefined}[]}
 */
export function paired(rows, known) {
  const byName = new Map(known.map((known) => [plain(known.name), known]));
  return rows.map((row) => ({ row, twin: byName.get(plain(row.name)) }));
}

/**
 * What is there and no row names.
 * @template {{name: string}} There
 * @param {{name: string}[]} rows @param {There[]} known
 */
export function unnamed(rows, known) {
  const names = new Set(rows.map(({ name }) => plain(name)));
  return known.filter(({ name }) => !names.has(plain(name)));
}

/**
 * The place of the first row with the same name as each; none where it is the first itself.
 * @param {string[]} names
 * @returns {(number | undefined)[]}
 */
export function firstOfName(names) {
  /** @type {Map<string, number>} */
  const first = new Map();
  return names.map((name, place) => {
    const known = first.get(plain(name));
    if (known === undefined) first.set(plain(name), place);
    return plain(name) ? known : undefined;
  });
}

/**
 * Whether two plates are of one class.
 * @param {{part: string | null, mm: number}} plate @param {{part: string | null, mm: number}} other
 */
export const isOneClass = (plate, other) => plate.part === other.part && Math.abs(plate.mm - other.mm) < SAME_MM;

/** @param {number} before @param {number} after */
export const isSame = (before, after) => before === after;

/** How many there are with those that come. @param {number} before @param {number} more */
export const together = (before, more) => before + more;
