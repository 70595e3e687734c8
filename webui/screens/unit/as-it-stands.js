// @ts-check
// A unit's definition with the parts that are in it now, instead of those that it was defined with.

import { calc } from "../../engine/door.js";

/** @typedef {import("../../log/store.js").Entry} Entry */

/**
 * The definition with every plate as it is. A worn plate may lie below its limit, which a definition would refuse, so
 * the limits are left out.
 * @param {any} found what stands
 * @param {(slot: string, given: number) => number} thickness mm of a part, from what the definition gives it
 */
function withPlates(found, thickness) {
  const { checked } = found.derived;
  const chain = checked.chain.map((/** @type {any} */ { minimum_mm, ...item }) =>
    item.part === "spring" ? item : { ...item, new_mm: thickness(item.slot, item.new_mm) },
  );
  return { ...checked, chain };
}

/**
 * Thickness of a part now: as measured, or else as it was fitted, mm.
 * @param {any} found what stands
 * @param {string} slot
 * @param {number} given by the definition
 */
export const thicknessNow = (found, slot, given) => found.by_slot[slot]?.lowest_mm ?? found.fitted[slot] ?? given;

/**
 * The stack as it is now, for its drawing.
 * @param {any} found what stands
 * @param {{crush_mm: number}} now its figures
 * @param {(mm: number) => string} say
 */
export function stackOf(found, now, say) {
  const { chain, spring } = found.derived.checked;
  const parts = chain.map((/** @type {any} */ { slot, part, new_mm }) => {
    const measured = found.by_slot[slot];
    return {
      slot,
      part,
      thickness: part === "spring" ? new_mm : thicknessNow(found, slot, new_mm),
      verdict: measured?.verdict,
      told: measured ? say(measured.lowest_mm) : undefined,
    };
  });
  return { parts, springHeight: spring.l0_mm, crush: now.crush_mm, say };
}

/**
 * Crush, preload and what the engine warns of, with the plates as they stand and the spring of the definition.
 * @param {any} found what stands
 * @returns {Promise<{crush_mm: number, preload_n: number | null, warnings: {text: string}[]}>}
 */
export async function figuresNow(found) {
  const unit = withPlates(found, (slot, given) => thicknessNow(found, slot, given));
  try {
    return await calc("unit", unit);
  } catch (error) {
    // A stack that is worn loose has no preload; how loose it is can be said all the same.
    const worn = found.derived.checked.chain.reduce(
      (/** @type {number} */ sum, /** @type {any} */ item, /** @type {number} */ at) =>
        sum + (item.part === "spring" ? 0 : item.new_mm - unit.chain[at].new_mm),
      0,
    );
    const text = /** @type {any} */ (error).reason ?? String(error);
    return { crush_mm: found.derived.crush_mm - worn, preload_n: null, warnings: [{ text }] };
  }
}

/**
 * The definition that the vice has to be ready for: every plate as thick as it was fitted or has been measured since,
 * whichever is more, for a vice that holds too little lets the spring go.
 * @param {any} found what stands
 */
export const strongest = (found) =>
  withPlates(found, (slot, given) => Math.max(found.fitted[slot] ?? given, found.by_slot[slot]?.lowest_mm ?? 0));

/**
 * The free height by the last measurement, mean of the first place, mm; none if it was not measured in that time.
 * @param {Entry[]} entries that stand
 * @param {number} from ms
 * @param {number} until ms
 */
export function heightBetween(entries, from, until) {
  const time = (/** @type {Entry} */ entry) => Date.parse(entry.at);
  const checks = entries
    .filter((entry) => entry.kind === "spring_check" && time(entry) >= from && time(entry) <= until)
    .sort((a, b) => time(a) - time(b));
  return checks[checks.length - 1]?.shown.springs[0]?.mean_mm;
}
