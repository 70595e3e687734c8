// @ts-check
// What the checks since the rebuild say about the next opening, or why they cannot say anything yet.

import { calc } from "../../engine/door.js";
import { typedOf } from "../form/fields.js";

/** What the engine takes at most. */
const MOST = 500;
const LEAST = 3;
const SEASON = "Until then: open it once a season and measure the plates (common practice, no source).";
const COUNTS = ["none does", "one does", "two do"];

/** @typedef {import("../../log/store.js").Entry} Entry */
/** @typedef {{use: number, value_nm: number, guard_nm: number}} Counted */

/**
 * @param {any} found what stands for the unit
 * @param {Entry[]} entries all of its entries
 * @returns {Promise<{life: any, counted: Counted[], why: string}>} the engine's `life` where there are enough checks, else why not
 */
export async function outlook(found, entries) {
  const rebuilt = found.rebuilt ? Date.parse(found.rebuilt.at) : -Infinity;
  const since = entries
    .filter((entry) => entry.kind === "torque_check" && !found.replaced[entry.id] && Date.parse(entry.at) >= rebuilt)
    .sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
  const told = since.filter((entry) => typedOf(entry.body.circumstances?.outings).trim()).slice(-MOST);
  if (told.length < LEAST)
    return {
      life: undefined,
      counted: [],
      why: `No prediction yet: it takes three checks since the rebuild that say how many outings it had, and ${COUNTS[told.length]}. ${SEASON}`,
    };
  const { low_nm, high_nm } = found.derived.checked.service;
  try {
    const life = await calc("life", {
      use: "outings",
      torque: told.map((entry) => ({ use: entry.body.circumstances.outings, torque_nm: entry.shown.value_nm })),
      limits: { low_nm, ...(high_nm ? { high_nm } : {}) },
    });
    const counted = told.map((entry) => ({
      use: Number(typedOf(entry.body.circumstances.outings)),
      value_nm: entry.shown.value_nm,
      guard_nm: entry.shown.guard_nm,
    }));
    return { life, counted: counted.sort((a, b) => a.use - b.use), why: "" };
  } catch (error) {
    return {
      life: undefined,
      counted: [],
      why: `No prediction: ${/** @type {any} */ (error).reason ?? error} ${SEASON}`,
    };
  }
}
