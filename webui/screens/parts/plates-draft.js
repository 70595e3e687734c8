// @ts-check
// Plates as they are typed, and the request that they make.

import { PLATE_POINTS } from "../../log/limits.js";
import { today } from "../../log/store.js";
import { quantity, typedOf, unitOf } from "../form/fields.js";
import { filled, placeOf } from "../form/readings.js";

/**
 * What is typed of one plate.
 * @typedef {object} TypedPlate
 * @property {string[]} points
 * @property {string} gap
 * @property {string} marks
 * @property {boolean} [same] whether the first point stands for all round
 * @property {boolean} [sure] whether somebody said that strange figures are this plate's
 */
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
 * @property {boolean} [same] whether plates that are not typed yet begin with one figure for all round
 * @property {Record<string, TypedPlate>} plates by place in the stack
 */

/** As many places are offered as a plate needs. */
export const OFFERED = PLATE_POINTS.least;

/** What is typed of a plate. @param {PlatesDraft} draft @param {string} slot @returns {TypedPlate} */
export const typedPlate = (draft, slot) =>
  draft.plates[slot] ?? { points: Array(OFFERED).fill(""), gap: "", marks: "none", same: draft.same };

/** The points of a plate as they were typed, without gaps. @param {TypedPlate} plate */
const pointsOf = ({ points, same }) => (same ? filled(points.slice(0, 1)) : filled(points));

/** How many points of a plate are typed. @param {PlatesDraft} draft @param {string} slot */
export const countOf = (draft, slot) => pointsOf(typedPlate(draft, slot)).length;

/** Whether enough of a plate is typed to judge it. @param {PlatesDraft} draft @param {string} slot */
export const isWhole = (draft, slot) => countOf(draft, slot) >= (typedPlate(draft, slot).same ? 1 : OFFERED);

/** Plates that can be judged, in the order in which they are sent. @param {PlatesDraft} draft @param {Part[]} plates */
export const measured = (draft, plates) => plates.filter(({ slot }) => isWhole(draft, slot));

/** The plates of an entry as they were typed. @param {Body} body its request @returns {Record<string, TypedPlate>} */
export function platesAgain(body) {
  return Object.fromEntries(
    body.plates.map((plate) => [
      plate.slot,
      {
        points: plate.points_mm.map(typedOf),
        gap: typedOf(plate.gap_mm),
        marks: plate.marks || "none",
        same: plate.same_all_round ?? false,
      },
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
      const typed = typedPlate(draft, plate.slot);
      const points = pointsOf(typed);
      return {
        slot: plate.slot,
        part: plate.part,
        new_mm: plate.new_mm,
        minimum_mm: plate.minimum_mm,
        usual_minimum: plate.usual_minimum,
        points_mm: (typed.same ? Array(OFFERED).fill(points[0]) : points).map((point) =>
          quantity(point, draft.lengthUnit),
        ),
        ...(typed.same ? { same_all_round: true } : {}),
        gap_mm: quantity(typed.gap, draft.lengthUnit),
        marks: typed.marks,
      };
    }),
  };
  return JSON.parse(JSON.stringify(request));
}

/** Points without the one that is in hand. @param {string[]} points @param {number | undefined} inHand */
const without = (points, inHand) => points.map((point, place) => (place === inHand ? "" : point));

/**
 * A figure that is being typed, and not finished: its plate, and its place among the points.
 * @typedef {{slot: string, place: number}} InHand
 */

/**
 * The request that asks whether figures belong to another plate.
 * @param {PlatesDraft} draft @param {Part[]} plates @param {InHand | undefined} inHand
 */
export const whichPlate = (draft, plates, inHand) => ({
  write_in: draft.lengthUnit,
  plates: plates.map(({ slot, part, new_mm, minimum_mm }) => {
    const typed = typedPlate(draft, slot);
    const points = without(typed.points, inHand?.slot === slot ? inHand.place : undefined);
    return {
      slot,
      part,
      new_mm,
      minimum_mm,
      points_mm: typed.sure ? [] : pointsOf({ ...typed, points }).map((point) => quantity(point, draft.lengthUnit)),
    };
  }),
});

/**
 * The place of a figure that was sent by `whichPlate`.
 * @param {PlatesDraft} draft @param {InHand | undefined} inHand @param {{slot: string, point: number}} asked
 */
export const placeOfAsked = (draft, inHand, { slot, point }) =>
  placeOf(without(typedPlate(draft, slot).points, inHand?.slot === slot ? inHand.place : undefined), point) ?? 0;
