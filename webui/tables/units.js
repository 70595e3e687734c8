// @ts-check
// The table of units: what each column is sorted by, and what its filters and groups go by. All of it is in the list's
// own rows, as the engine answered.

/** @typedef {import("../log/stands.js").Listed} Listed */
/** @typedef {(unit: Listed) => string} Named */

/**
 * @param {readonly string[]} verdicts from best to worst
 * @param {Named} patternOf what the pattern of a unit is called
 * @returns {import("./arrange.js").Column<Listed>[]}
 */
export const unitColumns = (verdicts, patternOf) => [
  { name: "unit", key: ({ unit }) => unit.name },
  { name: "verdict", key: ({ verdict }) => (verdict ? verdicts.indexOf(verdict) : null) },
  { name: "torque", key: ({ torque_nm }) => torque_nm },
  { name: "order", key: ({ order }) => order?.low_nm },
  { name: "outings", key: ({ outings }) => outings },
  { name: "left", key: ({ outings_left }) => outings_left },
  { name: "due", key: ({ due }) => due[0]?.title },
  { name: "owner", key: ({ unit }) => unit.owner },
  { name: "pattern", key: patternOf },
  { name: "by", key: ({ looked_by }) => looked_by },
  { name: "last", key: ({ looked_at }) => (looked_at ? Date.parse(looked_at) : null) },
];

/** What is chosen by, beside the text that is sought. @type {Record<string, Named>} */
export const unitFilters = {
  verdict: ({ verdict }) => verdict ?? "",
  owner: ({ unit }) => unit.owner ?? "",
  pattern: ({ unit }) => unit.pattern?.id ?? "",
  due: ({ due }) => (due.length ? "now" : ""),
};

/** What needs work first. @param {readonly string[]} verdicts from best to worst */
export const worstFirst = (verdicts) => [...verdicts].reverse();

/**
 * What a group is named by; none where the table has no such groups.
 * @param {string} group
 * @param {Named} patternOf
 * @returns {Named | undefined}
 */
export function unitGroup(group, patternOf) {
  if (group === "pattern") return patternOf;
  return group === "owner" || group === "verdict" ? unitFilters[group] : undefined;
}
