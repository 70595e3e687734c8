// @ts-check
// The stack as it is built now, for its drawing.

/** @typedef {import("../../engine/calculations.js").BuiltPlace} Place */

/**
 * @param {any} found what stands
 * @param {(mm: number) => string} say
 */
export function stackOf(found, say) {
  const { built, by_slot, derived } = found;
  const places = new Map(built.places.map((/** @type {Place} */ place) => [place.slot, place]));
  const parts = derived.checked.chain.map((/** @type {{slot: string, part: string}} */ { slot, part }) => {
    const measured = by_slot[slot];
    return {
      slot,
      part,
      thickness: places.get(slot)?.mm,
      verdict: measured?.verdict,
      told: measured ? say(measured.lowest_mm) : undefined,
    };
  });
  return { parts, springHeight: built.unit.spring.l0_mm, crush: built.crush_mm, say };
}
