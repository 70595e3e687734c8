// @ts-check
// The stack as it is built now, for its drawing.

/**
 * @param {import("../../log/stands.js").BuiltStanding} found what stands
 * @param {(mm: number) => string} say
 */
export function stackOf(found, say) {
  const { built, by_slot, derived } = found;
  const places = new Map(built.places.map((place) => [place.slot, place]));
  const parts = (derived.checked.chain ?? []).map(({ slot, part, cone_to }) => {
    const measured = by_slot[slot];
    return {
      slot,
      part,
      thickness: places.get(slot)?.mm ?? null,
      verdict: measured?.verdict,
      coneTo: cone_to,
      told: typeof measured?.lowest_mm === "number" ? say(measured.lowest_mm) : undefined,
    };
  });
  const springHeight = built.unit.spring?.l0_mm ?? null;
  return { parts, springHeight, crush: built.crush_mm, workedOut: built.worked_out, say };
}
