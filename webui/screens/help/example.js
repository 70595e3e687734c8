// @ts-check
// One small invented unit, for the figures of every page.

import { inUnit } from "../form/fields.js";

const PACK = /** @type {const} */ (["separator", "friction", "separator", "friction", "separator"]);

/** @param {string} side @param {number} [friction] thickness of the friction plates, mm */
const pack = (side, friction = 2.5) =>
  PACK.map((part, place) => ({
    slot: `${side}${place + 1}`,
    part,
    new_mm: part === "friction" ? friction : 2,
    minimum_mm: part === "friction" ? 2.3 : 1.9,
  }));

const SPRING = { de_mm: 100, di_mm: 51, t_mm: 2.7, l0_mm: 5.2 };

/**
 * @typedef {object} Part
 * @property {string} slot
 * @property {"friction" | "ring" | "separator" | "shim" | "spring"} part
 * @property {number} [new_mm]
 * @property {number} [minimum_mm]
 */

/** A unit's definition, with friction plates of another thickness where one is given. @param {number} [friction] */
export function unitWith(friction) {
  return /** @satisfies {import("../../engine/calculations.js").UnitRequest} */ ({
    name: "Example",
    order: { torque_nm: 100, tolerance_nm: 10 },
    service: { low_nm: 70, high_nm: 130 },
    layout: "in_line",
    spring: SPRING,
    cavity_mm: 61.75,
    chain: [
      /** @type {Part} */ ({ slot: "S1", part: "spring" }),
      ...pack("A", friction),
      { slot: "R1", part: "ring", new_mm: 18 },
      { slot: "R2", part: "ring", new_mm: 18 },
      ...pack("B", friction),
    ],
    friction: { inner_mm: 72, outer_mm: 104, mu: 0.12 },
    ramps: { pin_radius_mm: 34, drive_deg: 45, coast_deg: 60, mu: 0.1 },
    cover: { screws: 8, screw_mm: 8, torque_nm: 25, start_mm: 2 },
  });
}

export const UNIT = unitWith();

/**
 * A result about the example, of which everything is known.
 * @template Result
 * @param {Result} result
 */
export const whole = (result) => /** @type {{[Name in keyof Result]: NonNullable<Result[Name]>}} */ (result);

/** @typedef {import("../../engine/door.js").RequestOf<"breakaway">} CheckRequest */

/** @type {CheckRequest["wrench"]} */
const BEAM = { kind: "beam", low_nm: 0, high_nm: 200, division_nm: 2, certificate_percent: 2 };

/**
 * A torque check of the example.
 * @param {number[]} forward
 * @param {number[]} reverse
 * @param {Partial<CheckRequest>} [more] fields that differ
 * @returns {CheckRequest}
 */
export function checkOf(forward, reverse, more = {}) {
  return {
    held: "bench_output_held",
    wrench: BEAM,
    steady_nm: { forward, reverse },
    limits: { low_nm: 70, high_nm: 130 },
    ...more,
  };
}

/**
 * What the example was made to have; a page that lacks it cannot be shown.
 * @template Wanted
 * @param {Wanted | null | undefined | false} found
 * @returns {Wanted}
 */
export function sure(found) {
  if (!found) throw new Error("The example does not come out as this page needs it.");
  return found;
}

/**
 * A length as a tape measure has it: no hundredths.
 * @param {import("./topics.js").Tools["read"]} read
 * @param {number} mm
 */
export function rough(read, mm) {
  const inch = read.lengthUnit === "mm" ? undefined : read.units.mm.find((choice) => choice.unit === "inch");
  return inch ? `${inUnit(read.units, "mm", "inch", mm).toFixed(1)} ${inch.label}` : `${Math.round(mm)} mm`;
}
