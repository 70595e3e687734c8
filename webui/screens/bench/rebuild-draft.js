// @ts-check
// A rebuild as it is typed.

import { typedOf } from "../form/fields.js";
import { rowsOf } from "./rebuild-marked.js";

/** @typedef {import("../form/fields.js").Typed} Typed */
/**
 * @typedef {{slot: string, mm: Typed, piece: string, minimum_mm: Typed, family?: string | null, bought?: boolean}}
 * Fitted
 */
/** @typedef {{fitted: Fitted[], oil: string, spring: string, other_spring?: boolean, note: string}} Work */
/** @typedef {{out?: Record<string, import("./came-out.js").Said>, shelf?: string}} ForShelf */
/** @typedef {{replaced?: string[], marked?: import("./rebuild-marked.js").Row[]}} OtherParts */
/** @typedef {Work & ForShelf & OtherParts & {hours?: Typed, parts_cost?: Typed, trials?: string[]}} Draft */

/**
 * What is typed at first.
 * @param {import("../../engine/calculations.js").BodyOf<"rebuild">} [old] the entry that is corrected
 * @returns {Draft}
 */
export function draftOf(old) {
  const { fitted, oil, spring, other_spring, note, hours, parts_cost, trials } = old ?? {};
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
    marked: rowsOf(old?.marked_parts),
    hours: typedOf(hours),
    parts_cost: typedOf(parts_cost),
    trials: trials ?? [],
  };
}

/** Whether there is anything to judge. @param {Draft} draft */
export const isBegun = ({ fitted, replaced, marked, note, hours, parts_cost, trials }) =>
  [fitted, replaced, marked, trials].some((rows) => rows?.length) ||
  Boolean(note || typedOf(hours) || typedOf(parts_cost));
