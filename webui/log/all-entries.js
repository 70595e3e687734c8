// @ts-check
// Every entry on this device in short, newest first, for the history of the whole shop. What was read once is kept
// while the page is open: an entry never changes, and only what is not delivered yet is looked at again.

import { judgement } from "./entries.js";
import { listing } from "./stands.js";
import { database, outbox } from "./store.js";

/** @typedef {import("./entries.js").Entry} Entry */
/**
 * @typedef {object} Row
 * @property {string} id
 * @property {string} unit empty for what belongs to the shop
 * @property {string} kind
 * @property {string} at by its device's clock
 * @property {number} ms the same since 1970
 * @property {string} who
 * @property {string} text what was written, or what it is called
 * @property {string} verdict empty where nothing is judged
 * @property {number | null} value_nm
 * @property {string} replaces the entry that it corrects; empty for none
 * @property {boolean} differs whether the workshop's verdict is another
 * @property {boolean} imported whether it comes from a spreadsheet, which knows its day alone
 * @property {boolean} delivered
 */
/** What became of entries, by id. @typedef {Map<string, "corrected" | "undone" | "waiting" | "refused">} Fates */

// A whole entry is large; so many are in memory at once.
const AT_ONCE = 400;

/** @type {Map<string, Row>} */
const read = new Map();

/** @param {unknown} value */
const words = (value) => (typeof value === "string" ? value : "");

/** What was written in an entry, or what its thing is called. @param {Entry} entry */
function textOf({ body }) {
  const fields = /** @type {Record<string, unknown>} */ (body);
  const tool = /** @type {Record<string, unknown> | undefined} */ (fields[words(fields.tool)]);
  return words(fields.text) || words(fields.note) || words(fields.name) || words(tool?.name);
}

/** @param {Entry} entry @returns {Row} */
function rowOf(entry) {
  const { id, unit, kind, at, who = "", replaces = "", seq, agrees } = entry;
  const { verdict, value_nm } = judgement(entry);
  return {
    id,
    unit,
    kind,
    at,
    ms: Date.parse(at) || 0,
    who,
    text: textOf(entry),
    verdict: verdict ?? "",
    value_nm: value_nm ?? null,
    replaces,
    differs: agrees === false,
    imported: entry.imported !== undefined,
    delivered: seq !== undefined,
  };
}

/** @param {Row[]} rows */
const newestFirst = (rows) => rows.sort((a, b) => b.ms - a.ms || (a.id < b.id ? 1 : -1));

/**
 * Every entry, newest first.
 * @param {(rows: Row[], all: number) => void} [tell] hears what is read while there is more to come
 * @returns {Promise<Row[]>}
 */
export async function allEntries(tell) {
  const db = await database();
  const keys = (await db.getAllKeys("entries")).reverse();
  const known = () => newestFirst(keys.flatMap((id) => read.get(id) ?? []));
  for (let from = 0; from < keys.length; from += AT_ONCE) {
    const part = keys.slice(from, from + AT_ONCE);
    if (part.every((id) => read.get(id)?.delivered)) continue;
    const range = IDBKeyRange.bound(part[part.length - 1], part[0]);
    for (const entry of await db.getAll("entries", range)) read.set(entry.id, rowOf(entry));
    if (from + AT_ONCE < keys.length) tell?.(known(), keys.length);
  }
  return known();
}

/**
 * What became of entries since they were written: for units as the engine says what stands.
 * @param {Row[]} rows
 * @returns {Promise<{fates: Fates, names: Map<string, string>}>} and what each unit is called
 */
export async function fatesOf(rows) {
  const [units, waiting] = await Promise.all([listing(), outbox()]);
  const kinds = new Map(rows.map(({ id, kind }) => [id, kind]));
  const corrections = units.flatMap(({ replaced }) => Object.entries(replaced));
  for (const { unit, replaces, id } of rows) if (!unit && replaces) corrections.push([replaces, id]);
  /** @type {Fates} */
  const fates = new Map(waiting.map(({ id, refused }) => [id, refused ? "refused" : "waiting"]));
  for (const [id, by] of corrections)
    fates.set(id, kinds.get(by) === "note" && kinds.get(id) !== "note" ? "undone" : "corrected");
  return { fates, names: new Map(units.map(({ unit_id, unit }) => [unit_id ?? "", unit.name])) };
}
