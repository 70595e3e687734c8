// @ts-check
// What is in hand comes first in the list of units: half typed, used last on this phone, due; then the others by name.

import { draftKeys } from "./drafts.js";
import { fact, remember } from "./store.js";

/** What is asked of a unit. @typedef {{unit_id?: string | null, due: unknown[]}} Unit */
/** @typedef {"typed" | "used" | "due" | "others"} Group */
/**
 * @typedef {object} Hand
 * @property {Map<string, string[]>} typed forms that are half typed, by the id of their unit
 * @property {string[]} used ids of the units that were opened last on this phone, the latest first
 */

// More than these are not in hand, and would push what is due out of sight.
const MOST_USED = 3;

/** Forms that end in an entry; a plan is only looked at, and nobody finishes it. */
const FORM =
  /^(check|plates|refit|rebuild|strip|close|note|springs|rings|inspect|outing|service|unit)\/([\w-]+)(?:\/|$)/;
const UNIT = /^\/unit\/(?!new$|start$)([\w-]+)/;

/** Note that a screen was opened, where it is one of a unit. @param {string} path */
export async function noteUse(path) {
  const unit = UNIT.exec(path)?.[1];
  if (!unit) return;
  const before = await fact("usedUnits", []);
  if (before[0] !== unit)
    await remember("usedUnits", [unit, ...before.filter((id) => id !== unit)].slice(0, MOST_USED));
}

/** What is in hand on this phone. @returns {Promise<Hand>} */
export async function inHand() {
  const [keys, used] = await Promise.all([draftKeys(), fact("usedUnits", [])]);
  /** @type {Hand["typed"]} */
  const typed = new Map();
  for (const key of keys) {
    const [, form, unit] = FORM.exec(key) ?? [];
    if (form) typed.set(unit, [...(typed.get(unit) ?? []), form]);
  }
  return { typed, used };
}

/**
 * The same units in groups, what is in hand first; each group but the last used in the order that they came in.
 * @template {Unit} Some
 * @param {Some[]} units
 * @param {Hand} hand
 * @param {Map<string, Group>} stay groups that units stay in, so that nothing moves for somebody who comes back
 * @returns {Map<Group, Some[]>} those that have a unit, in their order
 */
export function grouped(units, { typed, used }, stay) {
  /** @type {Map<Group, Some[]>} */
  const groups = new Map([
    ["typed", []],
    ["used", []],
    ["due", []],
    ["others", []],
  ]);
  for (const standing of units) {
    const id = standing.unit_id ?? "";
    const now = typed.has(id) ? "typed" : used.includes(id) ? "used" : standing.due.length ? "due" : "others";
    groups.get(stay.get(id) ?? now)?.push(standing);
  }
  const rank = (/** @type {Some} */ { unit_id }) => used.indexOf(unit_id ?? "");
  groups.get("used")?.sort((a, b) => rank(a) - rank(b));
  return new Map([...groups].filter(([, found]) => found.length));
}
