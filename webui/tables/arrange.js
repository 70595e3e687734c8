// @ts-check
// Rows of a table in an order, in groups and of some choice: pure functions of what is given. What a row says, the
// figures that it is sorted by among it, is the log's and the engine's.

/** What a row is sorted by; what is empty comes last both ways. @typedef {string | number | null | undefined} Key */

/**
 * @template Row
 * @typedef {object} Column
 * @property {string} name as an address has it
 * @property {(row: Row) => Key} key
 */

/** How a table is sorted: by a column, and which way. @typedef {{by: string, down: boolean}} Sorting */

/** @type {Intl.Collator | undefined} */
let words;

/** @param {Key} key */
const isEmpty = (key) => key === null || key === undefined || key === "" || Number.isNaN(key);

/** @param {Key} first @param {Key} second */
function compared(first, second) {
  if (typeof first === "number" && typeof second === "number") return first - second;
  // People count: the second comes before the tenth. Made when a table is sorted, since it takes a phone a while.
  words ??= new Intl.Collator(undefined, { numeric: true, sensitivity: "base" });
  return words.compare(String(first), String(second));
}

/**
 * The same rows, sorted by a column; rows alike in it stay in the order that they came in.
 * @template Row
 * @param {readonly Row[]} rows
 * @param {readonly Column<Row>[]} columns
 * @param {Sorting | undefined} sorting none, or one by no column of these, leaves the rows as they are
 * @returns {Row[]}
 */
export function sorted(rows, columns, sorting) {
  const column = columns.find(({ name }) => name === sorting?.by);
  if (!column || !sorting) return [...rows];
  const way = sorting.down ? -1 : 1;
  return rows
    .map((row) => ({ row, key: column.key(row) }))
    .sort((a, b) => {
      if (isEmpty(a.key) || isEmpty(b.key)) return Number(isEmpty(a.key)) - Number(isEmpty(b.key));
      return way * compared(a.key, b.key);
    })
    .map(({ row }) => row);
}

/**
 * How a table is sorted after its column's head is pressed: this way, then the other, then as it was.
 * @param {Sorting | undefined} now
 * @param {string} by
 * @param {boolean} [downFirst] whether the largest is asked for first
 * @returns {Sorting | undefined}
 */
export function pressed(now, by, downFirst = false) {
  if (now?.by !== by) return { by, down: downFirst };
  return now.down === downFirst ? { by, down: !downFirst } : undefined;
}

/**
 * The rows in groups; each group in the order of its first row, or as `order` has them, those without a name last.
 * @template Row
 * @param {readonly Row[]} rows
 * @param {(row: Row) => string} nameOf
 * @param {readonly string[]} [order] names of groups; without it by name
 * @returns {{name: string, rows: Row[]}[]}
 */
export function inGroups(rows, nameOf, order) {
  /** @type {Map<string, Row[]>} */
  const groups = new Map();
  for (const row of rows) {
    const name = nameOf(row);
    const group = groups.get(name);
    if (group) group.push(row);
    else groups.set(name, [row]);
  }
  const place = (/** @type {string} */ name) => (order?.includes(name) ? order.indexOf(name) : name ? name : undefined);
  const names = [{ name: "place", key: place }];
  return sorted([...groups.keys()], names, { by: "place", down: false }).map((name) => ({
    name,
    rows: groups.get(name) ?? [],
  }));
}

/**
 * The rows that have what was chosen of each filter.
 * @template Row
 * @param {readonly Row[]} rows
 * @param {Record<string, string>} filters what was chosen; one that no row knows of is passed over
 * @param {Record<string, (row: Row) => string>} of what a row has for each filter
 */
export function chosenFrom(rows, filters, of) {
  const names = Object.keys(of).filter((name) => Object.hasOwn(filters, name));
  return rows.filter((row) => names.every((name) => of[name](row) === filters[name]));
}

/**
 * Each value that rows have, with how many have it, by name; the empty one last.
 * @template Row
 * @param {readonly Row[]} rows
 * @param {(row: Row) => string} of
 * @param {(value: string) => string} [nameOf] what it is called, if not what it is
 * @returns {{value: string, name: string, count: number}[]}
 */
export function valuesOf(rows, of, nameOf = (value) => value) {
  /** @type {Map<string, number>} */
  const counts = new Map();
  for (const row of rows) counts.set(of(row), (counts.get(of(row)) ?? 0) + 1);
  const values = [...counts].map(([value, count]) => ({ value, name: nameOf(value), count }));
  return sorted(values, [{ name: "name", key: ({ value, name }) => (value ? name : "") }], { by: "name", down: false });
}

/**
 * What a table shows, as an address keeps it: how it is sorted and grouped, and what was chosen of each filter. One
 * that is not there lets everything through; a blank one only rows without a value.
 * @typedef {{sort?: Sorting, group: string, filters: Record<string, string>}} View
 */

/** @param {string} query what stands behind the ? of an address, whoever wrote it */
export function readView(query) {
  const given = new URLSearchParams(query);
  const sort = given.get("sort") ?? "";
  given.delete("sort");
  const group = given.get("by") ?? "";
  given.delete("by");
  const by = sort.replace(/^-/, "");
  /** @type {View} */
  const view = { sort: by ? { by, down: sort.startsWith("-") } : undefined, group, filters: {} };
  // Of one that is named twice the first counts.
  for (const [name, value] of given)
    if (!Object.hasOwn(view.filters, name)) Object.defineProperty(view.filters, name, own(value));
  return view;
}

/** A property of its own, whatever it is called: an address may name `__proto__`. @param {string} value */
const own = (value) => ({ value, enumerable: true, configurable: true, writable: true });

/** @param {View} view @returns {string} empty where nothing was chosen */
export function writeView({ sort, group, filters }) {
  const query = new URLSearchParams();
  for (const [name, value] of Object.entries(filters)) query.append(name, value);
  if (group) query.append("by", group);
  if (sort) query.append("sort", `${sort.down ? "-" : ""}${sort.by}`);
  return String(query);
}

/**
 * The same with one filter chosen, or taken away.
 * @param {View} view @param {string} name @param {string | undefined} value
 * @returns {View}
 */
export function withFilter(view, name, value) {
  const filters = { ...view.filters };
  delete filters[name];
  if (value !== undefined) filters[name] = value;
  return { ...view, filters };
}
