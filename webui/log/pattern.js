// @ts-check
// The pattern that a unit is built to: other units of it, and what it offers since it changed.

import { BadInput, calc } from "../engine/door.js";
import { isOf } from "./entries.js";
import { OTHERS } from "./limits.js";
import { listing, patterns, standing } from "./stands.js";
import { entriesOf, entry } from "./store.js";

/** @typedef {import("../engine/calculations.js").UnitRequest} Definition */
/** @typedef {import("../engine/calculations.js").PatternOfferRequest} OfferRequest */
/** @typedef {import("../engine/door.js").ResultOf<"pattern_offer">} Offer */
/** @typedef {import("./stands.js").Pattern} Pattern */
/** A unit as a list shows it. @typedef {import("./stands.js").Listed} Listed */
/** What a unit says of its pattern. @typedef {Pick<Definition, "pattern">} Linked */
/** Units in which sentences are written. @typedef {Pick<OfferRequest, "write_in" | "write_lengths_in">} WrittenIn */

/**
 * The units that a person reads in, as calculations take them.
 * @param {{torqueUnit: OfferRequest["write_in"], lengthUnit: OfferRequest["write_lengths_in"]}} read
 * @returns {WrittenIn}
 */
export const writtenIn = ({ torqueUnit, lengthUnit }) => ({ write_in: torqueUnit, write_lengths_in: lengthUnit });

/** The id of the pattern that a unit is built to; empty where it is built to none. @param {Linked} unit */
export const patternIdOf = (unit) => unit.pattern?.id ?? "";

/**
 * What the pattern that a unit is built to is called: as it is now, where it is on this phone.
 * @param {Linked} unit
 * @param {Pattern[]} all patterns that stand
 */
export const nameOfPattern = ({ pattern }, all) =>
  all.find(({ id }) => id === pattern?.id)?.name ?? pattern?.name ?? "";

/** The pattern of this id, where it is on this phone. @param {string} id @returns {Promise<Pattern | undefined>} */
export const patternOf = async (id) => (await patterns()).find((pattern) => pattern.id === id);

/** Units that are built to a pattern, by name. @param {string} pattern its id @returns {Promise<Listed[]>} */
export const unitsOf = async (pattern) => (await listing()).filter(({ unit }) => patternIdOf(unit) === pattern);

/** What was looked at last first. @param {Listed} listed @param {Listed} other */
const byLastLook = (listed, other) => ((listed.looked_at ?? "") < (other.looked_at ?? "") ? 1 : -1);

/**
 * Other units of the same pattern, as many as a calculation takes: those that were looked at last.
 * @param {string} id of the unit
 * @param {Definition} unit its definition as it was typed
 * @returns {Promise<{name: string, entries: import("./store.js").Entry[]}[]>} none where it names no pattern
 */
export async function othersOfPattern(id, unit) {
  const pattern = patternIdOf(unit);
  if (!pattern) return [];
  const alike = (await unitsOf(pattern)).filter((other) => other.unit_id !== id).sort(byLastLook);
  return Promise.all(
    alike
      .slice(0, OTHERS.most)
      .map(async (other) => ({ name: other.unit.name, entries: await entriesOf(other.unit_id ?? "") })),
  );
}

/**
 * What is asked of a unit beside a pattern: one that it is built to offers what changed since it was decided on last,
 * another all that differs.
 * @param {Definition} unit
 * @param {Pattern} pattern
 * @param {WrittenIn} written
 * @returns {Promise<OfferRequest | undefined>} nothing where the entry that was decided on has not arrived here
 */
export async function offerRequest(unit, pattern, written) {
  const decided = patternIdOf(unit) === pattern.id ? unit.pattern?.seen : "";
  const seen = decided ? await entry(decided) : undefined;
  if (decided && !isOf(seen, "pattern")) return undefined;
  return {
    own: unit,
    wanted: pattern.body,
    ...(isOf(seen, "pattern") ? { seen: seen.body } : {}),
    link: { id: pattern.id, name: pattern.name, seen: pattern.entry },
    ...written,
  };
}

/**
 * What the pattern of a unit offers since it changed.
 * @param {Definition} unit
 * @param {WrittenIn} written
 * @returns {Promise<Offer | undefined>} nothing where there is nothing to decide on
 */
export async function offerTo(unit, written) {
  const pattern = await patternOf(patternIdOf(unit));
  if (!pattern || pattern.gone || unit.pattern?.seen === pattern.entry) return undefined;
  try {
    const question = await offerRequest(unit, pattern, written);
    const offer = question && (await calc("pattern_offer", question));
    return offer?.offers.length ? offer : undefined;
  } catch (error) {
    // A definition of another version: nothing can be offered, and the unit is as it was.
    if (error instanceof BadInput) return undefined;
    throw error;
  }
}

/**
 * The same of a unit in a list; its whole definition is asked for only where its pattern changed.
 * @param {Listed} listed
 * @param {Pattern} pattern that it is built to
 * @param {WrittenIn} written
 */
export async function offerToListed({ unit_id, unit }, pattern, written) {
  if (pattern.gone || unit.pattern?.seen === pattern.entry) return undefined;
  const { unit: whole } = await standing(unit_id ?? "");
  return whole ? offerTo(whole, written) : undefined;
}
