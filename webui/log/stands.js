// @ts-check
// What stands for each unit, worked out by the engine from its entries and kept until one of them changes.

import { calc } from "../engine/door.js";
import { known } from "./known.js";
import { database, entriesOf, fact, rows, today } from "./store.js";

/** @typedef {import("../engine/door.js").ResultOf<"standing">} Standing */
/** @typedef {NonNullable<Standing["derived"]>} Derived */
/** @typedef {import("./store.js").Kept} Kept */
/** @typedef {import("./store.js").TorqueUnit} TorqueUnit */
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
/**
 * What a list shows of a unit: a standing holds a hundred times as much.
 * @typedef {Pick<UnitStanding,
 *   "unit_id" | "verdict" | "looked_at" | "looked_by" | "outings_left" | "replaced" | "shelf" | "marked_parts"> & {
 *   unit: Pick<UnitStanding["unit"], "name" | "owner" | "customer_id" | "pattern">,
 *   due: Pick<UnitStanding["due"][number], "title" | "text">[],
 *   findings: Pick<UnitStanding["findings"][number], "title">[],
 *   torque_nm: number | null, order: {low_nm: number, high_nm: number | null} | null, outings: number | null,
 * }} Listed
 */
/** @typedef {import("../engine/door.js").ResultOf<"kit_standing">} KitStanding */
/** A tool of the kit. @typedef {KitStanding["tools"][number]} Tool */
/** A car that is kept. @typedef {KitStanding["cars"][number]} Car */
/** The shelf that stands. @typedef {import("../engine/door.js").ResultOf<"shelf_now">} ShelfNow */
/** A piece or a class of pieces on the shelf. @typedef {ShelfNow["pieces"][number]} Piece */
/**
 * A part with a mark of its own.
 * @typedef {import("../engine/door.js").ResultOf<"marked_parts">["parts"][number]} MarkedPart
 */
/** A customer. @typedef {KitStanding["customers"][number]} Customer */
/** A pattern, to which units are built. @typedef {KitStanding["patterns"][number]} Pattern */

/**
 * What the engine derives from a unit's entries, kept until one of them, the day or the engine changes.
 * @template {"standing" | "kit_standing"} Name
 * @param {Name} calculation
 * @param {string} unit empty for the entries that belong to no unit
 * @returns {Promise<import("../engine/door.js").ResultOf<Name>>}
 */
async function derived(calculation, unit) {
  const [kept, asked] = await Promise.all([database().then((db) => db.get("standings", unit)), answerer()]);
  const held = holding(kept, asked);
  // Of one unit, and of the kit, only one answer is kept.
  return held ? /** @type {import("../engine/door.js").ResultOf<Name>} */ (held.standing) : anew(calculation, unit);
}

/** Who answers, and in which unit of torque. @returns {Promise<{name: string, unit: TorqueUnit}>} */
async function answerer() {
  const [{ version }, unit] = await Promise.all([known("about"), fact("torqueUnit", "nm")]);
  return { name: `${version} ${unit}`, unit };
}

/**
 * What is kept, where it still holds.
 * @template {{day?: string, engine?: string}} Row
 * @param {Row | undefined} kept @param {{name: string}} engine
 */
const holding = (kept, { name }) => (kept?.day === today() && kept.engine === name ? kept : undefined);

/** @template {"standing" | "kit_standing"} Name @param {Name} calculation @param {string} unit */
async function anew(calculation, unit) {
  const [{ name, unit: write_in }, entries] = await Promise.all([answerer(), entriesOf(unit)]);
  const found = await calc(calculation, { entries, today: today(), write_in });
  // Where it cannot be kept, because the phone is full, it is worked out at every use.
  await keep({ id: unit, day: today(), engine: name, standing: found }, entries).catch(() => {});
  return found;
}

/**
 * @param {Kept} row
 * @param {import("./store.js").Entry[]} entries that it was derived from
 */
async function keep(row, entries) {
  const transaction = (await database()).transaction(["entries", "standings", "listed"], "readwrite");
  const since = await transaction.objectStore("entries").index("unit").getAll(row.id);
  // An entry that came meanwhile makes this out of date already.
  const same =
    since.length === entries.length &&
    entries.every(
      (before, place) =>
        before.id === since[place].id && before.seq === since[place].seq && !before.erased === !since[place].erased,
    );
  const { id, day, engine } = row;
  if (same) {
    rows(transaction, "standings").put(row);
    const short = inShort(/** @type {Standing} */ (row.standing));
    if (id) rows(transaction, "listed").put({ id, day, engine, short });
  }
  await transaction.done;
}

/**
 * What stands for one unit.
 * @param {string} unit
 * @returns {Promise<Standing>} the engine's "standing", with the unit's id
 */
export function standing(unit) {
  return derived("standing", unit);
}

// Each time rows move under whoever reads, so a few units come at once.
const TELL_EVERY_MS = 2000;
/** @type {Intl.Collator | undefined} */
let byName;

/** Whether a unit's definition has arrived. @type {(found: Standing) => found is UnitStanding} */
export const isHere = (found) => Boolean(found.unit && found.derived);

/** Whether it is known as well how the unit is built. @type {(found: Standing) => found is BuiltStanding} */
export const isBuilt = (found) => isHere(found) && Boolean(found.derived.checked && found.built);

/** @param {Standing} found @returns {Listed | undefined} nothing where the unit's definition is not here */
function inShort(found) {
  if (!isHere(found)) return undefined;
  const { unit_id, unit, verdict, looked_at, looked_by, outings_left, due, findings, replaced } = found;
  const { shelf, marked_parts } = found;
  return {
    unit_id,
    unit: { name: unit.name, owner: unit.owner, customer_id: unit.customer_id, pattern: unit.pattern },
    verdict,
    looked_at,
    looked_by,
    outings_left,
    torque_nm: found.torque?.value_nm ?? null,
    order: found.limits?.order ?? null,
    outings: found.start.outings,
    replaced,
    shelf,
    marked_parts,
    due: due.map(({ title, text }) => ({ title, text })),
    findings: findings.map(({ title }) => ({ title })),
  };
}

/**
 * Whose a unit is: the customer that it is linked to, else what was typed.
 * @param {{owner?: string | null, customer_id?: string | null}} unit
 * @param {Customer[]} all
 */
export const ownerIn = (unit, all) =>
  (unit.customer_id && all.find(({ ids }) => ids.includes(unit.customer_id ?? ""))?.name) || unit.owner || "";

/**
 * By name, as people count: the second comes before the tenth.
 * @template {{unit: {name: string}}} Unit @param {Unit[]} units
 */
function sorted(units) {
  // Made when there is a list: where the engine's worker did not make one before, it takes a phone 50 ms.
  byName ??= new Intl.Collator(undefined, { numeric: true });
  const collator = byName;
  return units.sort((a, b) => collator.compare(a.unit.name, b.unit.name));
}

/**
 * Every unit as a list shows it, by name.
 * @param {(found: Listed[], all: number) => void} [tell] hears how far it is while there is much to work out
 * @returns {Promise<Listed[]>}
 */
export async function listing(tell) {
  const [rows, engine, shop] = await Promise.all([
    database().then((db) => db.getAll("listed")),
    answerer(),
    customers(),
  ]);
  /** @type {Listed[]} */
  const found = [];
  let lastTold = performance.now();
  for (const row of rows) {
    const held = holding(row, engine);
    const short = held ? /** @type {Listed | undefined} */ (held.short) : inShort(await anew("standing", row.id));
    if (short) found.push({ ...short, unit: { ...short.unit, owner: ownerIn(short.unit, shop) } });
    if (tell && performance.now() - lastTold > TELL_EVERY_MS) {
      tell(sorted([...found]), rows.length);
      lastTold = performance.now();
    }
  }
  return sorted(found);
}

/**
 * What other units lost while they bedded in, of those whose standing is kept: all, once the list was looked at.
 * @param {string} unit
 * @returns {Promise<{name: string, alike: string, losses: NonNullable<Standing["built"]>["bedding"]}[]>}
 */
export async function beddingOfOthers(unit) {
  const kept = await (await database()).getAll("standings");
  return kept.flatMap(({ id, standing: found }) => {
    // What an older version kept may lack the field.
    const { unit: defined, built } = /** @type {Standing} */ (found);
    if (id === unit || !defined || !built?.bedding?.length) return [];
    return [{ name: defined.name, alike: built.alike, losses: built.bedding }];
  });
}

/**
 * The shelf that stands, from its counts and from every unit here.
 * @param {string} [forUnit] the unit that is planned: its own plan reserves nothing from it
 * @returns {Promise<ShelfNow>}
 */
export async function shelfNow(forUnit = "") {
  const [{ counts, count_ids }, units, lengths] = await Promise.all([
    derived("kit_standing", ""),
    listing(),
    fact("lengthUnit", "mm"),
  ]);
  return calc("shelf_now", {
    counts,
    count_ids,
    units: units.flatMap(({ unit_id, unit, shelf: { moves, plan } }) =>
      unit_id && (moves.length || plan) ? [{ unit: unit_id, name: unit.name, moves, plan }] : [],
    ),
    for_unit: forUnit,
    write_lengths_in: lengths,
  });
}

/**
 * Every marked part, from every unit here.
 * @param {{part: MarkedPart["part"], mark: string}[]} [asked] marks that are looked up, as somebody wrote them
 */
export async function markedParts(asked = []) {
  const units = await listing();
  const stays = units.flatMap(({ unit_id, unit, marked_parts }) =>
    marked_parts.stays.map((stay) => ({ ...stay, unit: unit_id, unit_name: unit.name })),
  );
  return calc("marked_parts", { stays, asked });
}

/** The workshop's letterhead as it was typed; nothing where there is none. */
export async function letterhead() {
  return (await derived("kit_standing", "")).letterhead;
}

/** The kit that stands. @returns {Promise<Tool[]>} */
export async function kit() {
  return (await derived("kit_standing", "")).tools;
}

/** The patterns that stand, those that are withdrawn among them. @returns {Promise<Pattern[]>} */
export async function patterns() {
  return (await derived("kit_standing", "")).patterns;
}

/** The customers, those that are none any more among them. @returns {Promise<Customer[]>} */
export async function customers() {
  return (await derived("kit_standing", "")).customers ?? [];
}

/** The cars that are kept. @returns {Promise<Car[]>} */
export async function cars() {
  // What an older version kept has none.
  return (await derived("kit_standing", "")).cars ?? [];
}

/**
 * What an entry that is written now knows of a unit, or of the shop under a blank id; nothing where that cannot be
 * worked out, and no entry is lost for it.
 * @param {string} unit
 * @returns {Promise<string[] | undefined>}
 */
export async function knownOf(unit) {
  const standing = unit ? derived("standing", unit) : derived("kit_standing", "");
  return standing.then(
    ({ knows }) => knows,
    () => undefined,
  );
}
