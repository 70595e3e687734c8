// @ts-check
// What stands for each unit, worked out by the engine from its entries and kept until one of them changes.

import { calc } from "../engine/door.js";
import { known } from "./known.js";
import { database, entriesOf, today } from "./store.js";

/**
 * What the engine derives from a unit's entries, kept until one of them, the day or the engine changes.
 * @param {string} calculation
 * @param {string} unit empty for the entries that belong to no unit
 * @returns {Promise<any>}
 */
async function derived(calculation, unit) {
  const db = await database();
  const { version } = await known("about");
  const kept = await db.get("standings", unit);
  if (kept?.day === today() && kept.engine === version) return kept.standing;
  const entries = await entriesOf(unit);
  const found = await calc(calculation, { entries, today: today() });
  const transaction = db.transaction(["entries", "standings"], "readwrite");
  const since = await transaction.objectStore("entries").index("unit").getAll(unit);
  // An entry that came meanwhile makes this out of date already: it is not kept.
  const same = since.length === entries.length && entries.every((one, place) => one.id === since[place].id && one.seq === since[place].seq);
  if (same) transaction.objectStore("standings").put({ id: unit, day: today(), engine: version, standing: found });
  await transaction.done;
  return found;
}

/** What stands for one unit. @param {string} unit @returns {Promise<any>} the engine's "standing", with the unit's id */
export function standing(unit) {
  return derived("standing", unit);
}

/** Every unit with what stands for it, by name. @returns {Promise<any[]>} */
export async function standings() {
  const db = await database();
  const index = db.transaction("entries").store.index("unit");
  const units = [];
  for (let cursor = await index.openKeyCursor(null, "nextunique"); cursor; cursor = await cursor.continue())
    if (cursor.key) units.push(String(cursor.key));
  const found = await Promise.all(units.map(standing));
  return found.filter((one) => one.unit).sort((a, b) => a.unit.name.localeCompare(b.unit.name));
}

/** The shelf by its last count. @returns {Promise<any[]>} */
export async function shelf() {
  return (await derived("kit_standing", "")).shelf;
}

/** The kit that stands. @returns {Promise<any[]>} */
export async function kit() {
  return (await derived("kit_standing", "")).tools;
}
