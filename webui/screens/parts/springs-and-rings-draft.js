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
  springs: { part: "spring", kind: "spring_check", limits: SPRING_POINTS },
  rings: { part: "ring", kind: "ring_check", limits: RING_STEPS },
});

/** @typedef {keyof typeof MEASURED} What */
/** @typedef {import("../../engine/calculations.js").BodyOf<"spring_check">} SpringsBody */
/** @typedef {import("../../engine/calculations.js").BodyOf<"ring_check">} RingsBody */
/** @typedef {import("../../engine/calculations.js").AsTyped<SpringsBody | RingsBody>} Request */

/** What was typed of each part. @param {SpringsBody | RingsBody | undefined} body */
function rowsOf(body) {
  if (!body) return [];
  return "springs" in body
    ? body.springs.map(({ slot, points_mm, marks }) => ({ slot, points: points_mm, marks }))
    : body.rings.map(({ slot, steps_mm, marks }) => ({ slot, points: steps_mm, marks }));
}

/**
 * @param {string[]} slots
 * @param {string} unit
 * @param {SpringsBody | RingsBody} [body] request of the entry that is corrected
 * @returns {PartsDraft}
 */
export function partsDraft(slots, unit, body) {
  const rows = rowsOf(body);
  const again = (/** @type {string} */ slot) => {
    const row = rows.find((measured) => measured.slot === slot);
    return { points: row ? row.points.map(typedOf) : ["", "", ""], marks: row?.marks || "none" };
  };
  return {
    unit: body ? unitOf(rows[0]?.points[0], "mm") : unit,
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
 * @param {import("../../log/stands.js").BuiltStanding["derived"]["checked"]["spring"]} spring figures of the unit's
 * @returns {Request | undefined}
 */
export function partsRequest(draft, what, slots, spring) {
  const rows = measured(draft, what, slots).map((slot) => ({
    slot,
    points: filled(draft.typed[slot].points).map((point) => quantity(point, draft.unit)),
    marks: draft.typed[slot].marks,
  }));
  if (!rows.length) return undefined;
  const same = { gauge: {}, day: today(), write_in: draft.unit };
  return what === "springs"
    ? { ...same, springs: rows.map(({ slot, points, marks }) => ({ slot, points_mm: points, marks, spring })) }
    : { ...same, rings: rows.map(({ slot, points, marks }) => ({ slot, steps_mm: points, marks })) };
}
