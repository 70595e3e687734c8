// @ts-check
// Plates as they are typed, and the request that they make.

import { PLATE_POINTS } from "../../log/limits.js";
import { today } from "../../log/store.js";
import { quantity, typedOf, unitOf } from "../form/fields.js";
import { filled } from "../form/readings.js";

/** What is typed of one plate. @typedef {{points: string[], gap: string, marks: string}} TypedPlate */
/** A plate of the stack. @typedef {import("../../engine/calculations.js").BuiltPlace} Part */
/** @typedef {import("../../engine/calculations.js").BodyOf<"plate_check">} Body */
/** @typedef {import("../../engine/calculations.js").Micrometer} Micrometer */
/** @typedef {import("../../engine/calculations.js").AsTyped<Body>} Request */

/**
 * @typedef {object} PlatesDraft
 * @property {string} toolId of the kit
 * @property {Micrometer} [tool] figures of the micrometer in the entry that is corrected
 * @property {string} lengthUnit
 * @property {string} chosen the plate that is typed now
 * @property {Record<string, TypedPlate>} plates by place in the stack
 */

/** What is typed of a plate. @param {PlatesDraft} draft @param {string} slot @returns {TypedPlate} */
export const typedPlate = (draft, slot) => draft.plates[slot] ?? { points: ["", "", ""], gap: "", marks: "none" };

/** How many points of a plate are typed. @param {PlatesDraft} draft @param {string} slot */
export const countOf = (draft, slot) => filled(draft.plates[slot]?.points).length;

/** Plates that can be judged, in the order in which they are sent. @param {PlatesDraft} draft @param {Part[]} plates */
export const measured = (draft, plates) => plates.filter(({ slot }) => countOf(draft, slot) >= PLATE_POINTS.least);

/** The plates of an entry as they were typed. @param {Body} body its request @returns {Record<string, TypedPlate>} */
export function platesAgain(body) {
  return Object.fromEntries(
    body.plates.map((plate) => [
      plate.slot,
      { points: plate.points_mm.map(typedOf), gap: typedOf(plate.gap_mm), marks: plate.marks || "none" },
    ]),
  );
}

/** The unit that an entry's plates were typed in. @param {Body} body */
export const unitAgain = (body) => unitOf(body.plates[0]?.points_mm[0], "mm");

/**
 * The request; nothing while no plate can be judged.
 * @param {PlatesDraft} draft
 * @param {{plates: Part[], limits: Request["limits"], micrometer: Micrometer}} of the unit's plates and limits, the
 *   tool's figures
 * @returns {Request | undefined}
 */
export function platesRequest(draft, { plates, limits, micrometer }) {
  const sent = measured(draft, plates);
  if (!sent.length) return undefined;
  /** @type {Request} */
  const request = {
    micrometer,
    day: today(),
    write_in: draft.lengthUnit,
    limits,
    plates: sent.map((plate) => {
      const { points, gap, marks } = typedPlate(draft, plate.slot);
      return {
        slot: plate.slot,
        part: plate.part,
        new_mm: plate.new_mm,
        minimum_mm: plate.minimum_mm,
        usual_minimum: plate.usual_minimum,
        points_mm: filled(points).map((point) => quantity(point, draft.lengthUnit)),
        gap_mm: quantity(gap, draft.lengthUnit),
        marks,
      };
    }),
  };
  return JSON.parse(JSON.stringify(request));
}
