// @ts-check
// What stands for each unit, worked out by the engine from its entries and kept until one of them changes.

import { calc } from "../engine/door.js";
import { known } from "./known.js";
import { database, entriesOf, entry, today } from "./store.js";

/**
 * What the engine derives from a unit's entries, kept until one of them, the day or the engine changes.
 * @param {string} calculation
 * @param {string} unit empty for the entries that belong to no unit
 * @returns {Promise<any>}
 */
async function derived(calculation, unit) {
  const kept = await (await database()).get("standings", unit);
  return holds(kept, await known("about")) ? kept.standing : anew(calculation, unit);
}

/** @param {any} kept @param {{version: string}} engine */
const holds = (kept, { version }) => kept?.day === today() && kept.engine === version;

/** @param {string} calculation @param {string} unit */
async function anew(calculation, unit) {
  const [{ version }, entries] = await Promise.all([known("about"), entriesOf(unit)]);
  const found = await calc(calculation, { entries, today: today() });
  // Where it cannot be kept, because the phone is full, it is worked out at every use.
  await keep({ id: unit, day: today(), engine: version, standing: found }, entries).catch(() => {});
  return found;
}

/**
 * @param {{id: string, day: string, engine: string, standing: any}} row
 * @param {import("./store.js").Entry[]} entries that it was derived from
 */
async function keep(row, entries) {
  const transaction = (await database()).transaction(["entries", "standings"], "readwrite");
  const since = await transaction.objectStore("entries").index("unit").getAll(row.id);
  // An entry that came meanwhile makes this out of date already.
  const same =
    since.length === entries.length &&
    entries.every((one, place) => one.id === since[place].id && one.seq === since[place].seq);
  await Promise.all([same && transaction.objectStore("standings").put(row), transaction.done]);
}

/**
 * What stands for one unit.
 * @param {string} unit
 * @returns {Promise<any>} the engine's "standing", with the unit's id
 */
export function standing(unit) {
  return derived("standing", unit);
}

const TELL_EVERY_MS = 300;
// People count: the second comes before the tenth.
const byName = new Intl.Collator(undefined, { numeric: true });

/**
 * Every unit with what stands for it, by name.
 * @param {(found: any[], all: number) => void} [tell] hears how far it is while there is much to work out
 * @returns {Promise<any[]>}
 */
export async function standings(tell) {
  const db = await database();
  const about = await known("about");
  const kept = new Map((await db.getAll("standings")).map((/** @type {any} */ row) => [row.id, row]));
  const index = db.transaction("entries").store.index("unit");
  const units = [];
  for (let cursor = await index.openKeyCursor(null, "nextunique"); cursor; cursor = await cursor.continue())
    if (cursor.key) units.push(String(cursor.key));
  /** @type {any[]} */
  const found = [];
  const sorted = () => found.filter((one) => one.unit).sort((a, b) => byName.compare(a.unit.name, b.unit.name));
  let told = performance.now();
  for (const unit of units) {
    found.push(holds(kept.get(unit), about) ? kept.get(unit).standing : await anew("standing", unit));
    if (tell && performance.now() - told > TELL_EVERY_MS) {
      tell(sorted(), units.length);
      told = performance.now();
    }
  }
  return sorted();
}

/**
 * The last count of the shelf that stands, as it was typed.
 * @returns {Promise<import("./store.js").Entry | undefined>}
 */
export async function lastCount() {
  const { shelf_entry } = await derived("kit_standing", "");
  return shelf_entry ? entry(shelf_entry) : undefined;
}

/** The shelf by its last count. @returns {Promise<any[]>} */
export async function shelf() {
  return (await derived("kit_standing", "")).shelf;
}

/** The kit that stands. @returns {Promise<any[]>} */
export async function kit() {
  return (await derived("kit_standing", "")).tools;
}
