// @ts-check
// Measured springs or ramp rings as they are typed, and the request that they make.

import { RING_STEPS, SPRING_POINTS } from "../../log/limits.js";
import { today } from "../../log/store.js";
import { quantity, typedOf, unitOf } from "../form/fields.js";
import { filled } from "../form/readings.js";

/** @typedef {{points: string[], marks: string}} TypedPart */
/** @typedef {{unit: string, typed: Record<string, TypedPart>}} PartsDraft */

/** What differs between the two, and how many points the engine takes of a part. */
export const MEASURED = /** @type {const} */ ({
  springs: { part: "spring", kind: "spring_check", field: "points_mm", limits: SPRING_POINTS },
  rings: { part: "ring", kind: "ring_check", field: "steps_mm", limits: RING_STEPS },
});

/** @typedef {keyof typeof MEASURED} What */

/**
 * @param {What} what
 * @param {string[]} slots
 * @param {string} unit
 * @param {any} [body] request of the entry that is corrected
 * @returns {PartsDraft}
 */
export function partsDraft(what, slots, unit, body) {
  const { field } = MEASURED[what];
  const again = (/** @type {string} */ slot) => {
    const row = body?.[what].find((/** @type {{slot: string}} */ measured) => measured.slot === slot);
    return { points: row ? row[field].map(typedOf) : ["", "", ""], marks: row?.marks ?? "none" };
  };
  return {
    unit: body ? unitOf(body[what][0]?.[field][0], "mm") : unit,
    typed: Object.fromEntries(slots.map((slot) => [slot, again(slot)])),
  };
}

/**
 * Parts that can be judged, in the order in which they are sent.
 * @param {PartsDraft} draft
 * @param {What} what
 * @param {string[]} slots
 */
export const measured = (draft, what, slots) =>
  slots.filter((slot) => filled(draft.typed[slot]?.points).length >= MEASURED[what].limits.least);

/**
 * The request; nothing while no part can be judged.
 * @param {PartsDraft} draft
 * @param {What} what
 * @param {string[]} slots
 * @param {any} spring figures of the unit's spring
 */
export function partsRequest(draft, what, slots, spring) {
  const rows = measured(draft, what, slots).map((slot) => ({
    slot,
    [MEASURED[what].field]: filled(draft.typed[slot].points).map((point) => quantity(point, draft.unit)),
    marks: draft.typed[slot].marks,
    ...(what === "springs" ? { spring } : {}),
  }));
  return rows.length ? { gauge: {}, day: today(), write_in: draft.unit, [what]: rows } : undefined;
}
