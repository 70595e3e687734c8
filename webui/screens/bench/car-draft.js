// @ts-check
// What is typed of a car, and the request that it makes.

import { quantity, typedOf, unitOf } from "../form/fields.js";

/** @typedef {import("../../engine/calculations.js").BodyOf<"car">} CarBody */
/** @typedef {import("../../engine/calculations.js").AsTyped<CarBody>} CarRequest */
/** @typedef {"mass" | "front_left" | "front_right" | "rear_left" | "rear_right" | "gained"} Weight */
/** @typedef {"cg" | "lift" | "hub" | "track" | "wheelbase" | "tyre" | "distance"} Length */

/**
 * @typedef {Record<Weight | Length | "name" | "note" | "axle" | "tyres" | "lifted" | "turns" | "grip" | "engine" |
 *   "final_drive" | "gears" | "transfer" | "id", string> &
 *   {weight_unit: string, length_unit: string, torque_unit: string}} CarDraft
 */

/** @returns {CarDraft} */
export const emptyCar = () => ({
  name: "",
  note: "",
  axle: "rear",
  tyres: "road",
  mass: "",
  front_left: "",
  front_right: "",
  rear_left: "",
  rear_right: "",
  cg: "",
  lifted: "rear",
  lift: "",
  gained: "",
  hub: "",
  track: "",
  wheelbase: "",
  tyre: "",
  turns: "",
  distance: "",
  grip: "",
  engine: "",
  final_drive: "",
  gears: "",
  transfer: "",
  id: "",
  weight_unit: "kg",
  length_unit: "mm",
  torque_unit: "nm",
});

/**
 * A group of fields, left out where nothing of it is typed.
 * @template Fields
 * @param {Fields} fields
 * @param {string[]} typed
 */
const unlessEmpty = (fields, typed) => (typed.some((value) => value.trim()) ? fields : undefined);

/** Figures with spaces between. @param {string} text */
const figures = (text) => text.split(/[\s;/]+/).filter(Boolean);

/**
 * @param {CarDraft} draft
 * @param {import("../../log/store.js").LengthUnit} lengthUnit that sentences are written in
 * @returns {CarRequest}
 */
export function requestOf(draft, lengthUnit) {
  const weight = (/** @type {Weight} */ name) => quantity(draft[name], draft.weight_unit);
  const length = (/** @type {Length} */ name) => quantity(draft[name], draft.length_unit);
  const { front_left, front_right, rear_left, rear_right, lift, gained, hub, turns, distance } = draft;
  const gears = figures(draft.gears);
  const request = {
    name: draft.name,
    note: draft.note || undefined,
    axle: draft.axle,
    tyres: draft.tyres,
    mass_kg: weight("mass"),
    corners: unlessEmpty(
      {
        front_left_kg: weight("front_left"),
        front_right_kg: weight("front_right"),
        rear_left_kg: weight("rear_left"),
        rear_right_kg: weight("rear_right"),
      },
      [front_left, front_right, rear_left, rear_right],
    ),
    cg_mm: length("cg"),
    lifted: unlessEmpty(
      { axle: draft.lifted, lift_mm: length("lift"), gained_kg: weight("gained"), hub_mm: length("hub") },
      [lift, gained, hub],
    ),
    track_mm: length("track"),
    wheelbase_mm: length("wheelbase"),
    tyre_mm: length("tyre"),
    rolled: unlessEmpty({ turns, distance_mm: length("distance") }, [turns, distance]),
    transfer_share: draft.transfer || undefined,
    grip: draft.grip || undefined,
    engine_nm: quantity(draft.engine, draft.torque_unit),
    final_drive: draft.final_drive || undefined,
    gears: gears.length ? gears : undefined,
    id: draft.id || undefined,
    write_lengths_in: lengthUnit,
  };
  return /** @type {CarRequest} */ (
    Object.fromEntries(Object.entries(request).filter(([, value]) => value !== undefined))
  );
}

/** The first unit that figures were typed in. @param {import("../form/fields.js").Typed[]} typed @param {string} si */
function firstUnit(typed, si) {
  const given = typed.find((value) => typedOf(value));
  return unitOf(given, si);
}

/** What was typed of a car that is in the log. @param {CarBody} body @param {string} id @returns {CarDraft} */
export function typedAgain(body, id) {
  const { corners, lifted, rolled } = body;
  const text = (/** @type {import("../form/fields.js").Typed} */ value) => typedOf(value);
  return {
    ...emptyCar(),
    name: body.name,
    note: body.note ?? "",
    axle: body.axle ?? "rear",
    tyres: body.tyres ?? "road",
    mass: text(body.mass_kg),
    front_left: text(corners?.front_left_kg),
    front_right: text(corners?.front_right_kg),
    rear_left: text(corners?.rear_left_kg),
    rear_right: text(corners?.rear_right_kg),
    cg: text(body.cg_mm),
    lifted: lifted?.axle ?? "rear",
    lift: text(lifted?.lift_mm),
    gained: text(lifted?.gained_kg),
    hub: text(lifted?.hub_mm),
    track: text(body.track_mm),
    wheelbase: text(body.wheelbase_mm),
    tyre: text(body.tyre_mm),
    turns: text(rolled?.turns),
    distance: text(rolled?.distance_mm),
    grip: text(body.grip),
    engine: text(body.engine_nm),
    final_drive: text(body.final_drive),
    gears: (body.gears ?? []).map(text).join(" "),
    transfer: text(body.transfer_share),
    id,
    weight_unit: firstUnit([body.mass_kg, corners?.front_left_kg, lifted?.gained_kg], "kg"),
    length_unit: firstUnit([body.cg_mm, lifted?.lift_mm, body.track_mm, body.wheelbase_mm, body.tyre_mm], "mm"),
    torque_unit: firstUnit([body.engine_nm], "nm"),
  };
}
