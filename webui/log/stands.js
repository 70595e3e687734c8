// @ts-check
// What stands for each unit, worked out by the engine from its entries and kept until one of them changes.

import { calc } from "../engine/door.js";
import { isOf } from "./entries.js";
import { known } from "./known.js";
import { database, entriesOf, entry, today } from "./store.js";

/** @typedef {import("../engine/door.js").ResultOf<"standing">} Standing */
/** @typedef {NonNullable<Standing["derived"]>} Derived */
/** @typedef {import("./store.js").Kept} Kept */
/**
 * What stands for a unit whose definition is here.
 * @typedef {Standing & {unit: NonNullable<Standing["unit"]>, derived: Derived}} UnitStanding
 */
/**
 * The same where its definition was kept in SI as well, so that it is known how the unit is built.
 * @typedef {UnitStanding & {
 *   derived: Derived & {checked: NonNullable<Derived["checked"]>}, built: NonNullable<Standing["built"]>,
 * }} BuiltStanding
 */
/** @typedef {import("../engine/door.js").ResultOf<"kit_standing">} KitStanding */
/** A tool of the kit. @typedef {KitStanding["tools"][number]} Tool */
/** A piece or a class of pieces on the shelf. @typedef {KitStanding["shelf"][number]} Piece */

/**
 * What the engine derives from a unit's entries, kept until one of them, the day or the engine changes.
 * @template {"standing" | "kit_standing"} Name
 * @param {Name} calculation
 * @param {string} unit empty for the entries that belong to no unit
 * @returns {Promise<import("../engine/door.js").ResultOf<Name>>}
 */
async function derived(calculation, unit) {
  const kept = await (await database()).get("standings", unit);
  const held = holding(kept, await known("about"));
  // Of one unit, and of the kit, only one answer is kept.
  return held ? /** @type {import("../engine/door.js").ResultOf<Name>} */ (held.standing) : anew(calculation, unit);
}

/** What is kept, where it still holds. @param {Kept | undefined} kept @param {{version: string}} engine */
const holding = (kept, { version }) => (kept?.day === today() && kept.engine === version ? kept : undefined);

/** @template {"standing" | "kit_standing"} Name @param {Name} calculation @param {string} unit */
async function anew(calculation, unit) {
  const [{ version }, entries] = await Promise.all([known("about"), entriesOf(unit)]);
  const found = await calc(calculation, { entries, today: today() });
  // Where it cannot be kept, because the phone is full, it is worked out at every use.
  await keep({ id: unit, day: today(), engine: version, standing: found }, entries).catch(() => {});
  return found;
}

/**
 * @param {Kept} row
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
 * @returns {Promise<Standing>} the engine's "standing", with the unit's id
 */
export function standing(unit) {
  return derived("standing", unit);
}

const TELL_EVERY_MS = 300;
// People count: the second comes before the tenth.
const byName = new Intl.Collator(undefined, { numeric: true });

/** Whether a unit's definition has arrived. @type {(found: Standing) => found is UnitStanding} */
export const isHere = (found) => Boolean(found.unit && found.derived);

/** Whether it is known as well how the unit is built. @type {(found: Standing) => found is BuiltStanding} */
export const isBuilt = (found) => isHere(found) && Boolean(found.derived.checked && found.built);

/**
 * Every unit with what stands for it, by name.
 * @param {(found: UnitStanding[], all: number) => void} [tell] hears how far it is while there is much to work out
 * @returns {Promise<UnitStanding[]>}
 */
export async function standings(tell) {
  const db = await database();
  const about = await known("about");
  const kept = new Map((await db.getAll("standings")).map((row) => [row.id, row]));
  const index = db.transaction("entries").store.index("unit");
  const units = [];
  for (let cursor = await index.openKeyCursor(null, "nextunique"); cursor; cursor = await cursor.continue())
    if (cursor.key) units.push(String(cursor.key));
  /** @type {Standing[]} */
  const found = [];
  const sorted = () => found.filter(isHere).sort((a, b) => byName.compare(a.unit.name, b.unit.name));
  let told = performance.now();
  for (const unit of units) {
    const held = holding(kept.get(unit), about);
    found.push(held ? /** @type {Standing} */ (held.standing) : await anew("standing", unit));
    if (tell && performance.now() - told > TELL_EVERY_MS) {
      tell(sorted(), units.length);
      told = performance.now();
    }
  }
  return sorted();
}

/**
 * The last count of the shelf that stands, as it was typed.
 * @returns {Promise<import("./entries.js").EntryOf<"shelf"> | undefined>}
 */
export async function lastCount() {
  const { shelf_entry } = await derived("kit_standing", "");
  const count = shelf_entry ? await entry(shelf_entry) : undefined;
  return isOf(count, "shelf") ? count : undefined;
}

/** The shelf by its last count. @returns {Promise<Piece[]>} */
export async function shelf() {
  return (await derived("kit_standing", "")).shelf;
}

/** How many plates and shims lie on it. */
export async function shelfCount() {
  return (await derived("kit_standing", "")).shelf_count;
}

/** The kit that stands. @returns {Promise<Tool[]>} */
export async function kit() {
  return (await derived("kit_standing", "")).tools;
}
