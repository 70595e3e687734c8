// @ts-check
// One small invented unit, for the figures of every page.

/** @param {string} side @param {number} [friction] thickness of the friction plates, mm */
const pack = (side, friction = 2.5) =>
  ["separator", "friction", "separator", "friction", "separator"].map((part, place) => ({
    slot: `${side}${place + 1}`,
    part,
    new_mm: part === "friction" ? friction : 2,
    minimum_mm: part === "friction" ? 2.3 : 1.9,
  }));

const SPRING = { de_mm: 100, di_mm: 51, t_mm: 2.7, l0_mm: 5.2 };

/** A unit's definition, with friction plates of another thickness where one is given. @param {number} [friction] */
export function unitWith(friction) {
  return {
    name: "Example",
    order: { torque_nm: 100, tolerance_nm: 10 },
    service: { low_nm: 70, high_nm: 130 },
    layout: "in_line",
    spring: SPRING,
    cavity_mm: 61.75,
    chain: [
      /** @type {{slot: string, part: string, new_mm?: number, minimum_mm?: number}} */ ({
        slot: "S1",
        part: "spring",
      }),
      ...pack("A", friction),
      { slot: "R1", part: "ring", new_mm: 18 },
      { slot: "R2", part: "ring", new_mm: 18 },
      ...pack("B", friction),
    ],
    friction: { inner_mm: 72, outer_mm: 104, mu: 0.12 },
    ramps: { pin_radius_mm: 34, drive_deg: 45, coast_deg: 60, mu: 0.1 },
    cover: { screws: 8, screw_mm: 8, torque_nm: 25, start_mm: 2 },
  };
}

export const UNIT = unitWith();

const BEAM = { kind: "beam", low_nm: 0, high_nm: 200, division_nm: 2, certificate_percent: 2 };

/**
 * A torque check of the example.
 * @param {number[]} forward
 * @param {number[]} reverse
 * @param {object} [more] fields that differ
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
 * A length as a tape measure has it: no hundredths.
 * @param {import("./topics.js").Tools["read"]} read
 * @param {number} mm
 */
export function rough(read, mm) {
  const inch = read.lengthUnit === "mm" ? undefined : read.units.mm.find((one) => one.unit === "inch");
  return inch ? `${(mm / inch.factor).toFixed(1)} ${inch.label}` : `${Math.round(mm)} mm`;
}
