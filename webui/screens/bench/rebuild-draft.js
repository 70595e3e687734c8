// @ts-check
// A rebuild as it is typed at first.

import { typedOf } from "../form/fields.js";

/** @typedef {import("./rebuild.js").Draft} Draft */

/**
 * What is typed at first.
 * @param {import("../../engine/calculations.js").BodyOf<"rebuild">} [old] the entry that is corrected
 * @returns {Draft}
 */
export function draftOf(old) {
  const { fitted, oil, spring, other_spring, note, hours, parts_cost } = old ?? {};
  return {
    fitted: (fitted ?? []).map(({ bought, ...part }) => ({
      minimum_mm: "",
      ...part,
      piece: part.piece ?? "",
      ...(bought === true ? { bought } : {}),
    })),
    oil: oil ?? "",
    spring: spring ?? "",
    ...(typeof other_spring === "boolean" ? { other_spring } : {}),
    note: note ?? "",
    replaced: old?.replaced ?? [],
    hours: typedOf(hours),
    parts_cost: typedOf(parts_cost),
  };
}

/** Whether there is anything to judge. @param {Draft} draft */
export const isBegun = ({ fitted, replaced, note, hours, parts_cost }) =>
  Boolean(fitted.length || replaced?.length || note || typedOf(hours) || typedOf(parts_cost));
