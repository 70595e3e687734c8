// @ts-check
// What the checks since the rebuild say about the next opening, or why they cannot say anything yet.

import { calc } from "../../engine/door.js";
import { typedOf } from "../form/fields.js";

/** What the engine takes at most. */
const MOST = 500;
const LEAST = 3;
const SEASON = "Until then: open it once a season and measure the plates (common practice, no source).";
const COUNTS = ["there are none", "there is one", "there are two"];

/** @typedef {import("../../log/store.js").Entry} Entry */
/** @typedef {{use: number, value_nm: number, guard_nm: number}} Counted */

/** @param {string} why */
const silent = (why) => ({ life: undefined, counted: /** @type {Counted[]} */ ([]), why });

/**
 * The last checks since the rebuild that say how many outings it had.
 * @param {any} found what stands for the unit
 * @param {Entry[]} entries all of its entries
 */
function checksWithOutings(found, entries) {
  const rebuilt = found.rebuilt ? Date.parse(found.rebuilt.at) : -Infinity;
  return entries
    .filter(({ id, kind, at }) => kind === "torque_check" && !found.replaced[id] && Date.parse(at) >= rebuilt)
    .sort((a, b) => Date.parse(a.at) - Date.parse(b.at))
    .filter(({ body }) => typedOf(body.circumstances?.outings).trim())
    .slice(-MOST);
}

/**
 * @param {any} found what stands for the unit
 * @param {Entry[]} entries all of its entries
 * @returns {Promise<{life: any, counted: Counted[], why: string}>} the engine's `life` where there are enough checks,
 *   else why not
 */
export async function outlook(found, entries) {
  const checks = checksWithOutings(found, entries);
  if (checks.length < LEAST) {
    const needed = "No prediction yet: it needs three checks since the rebuild with their outings noted";
    return silent(`${needed}; ${COUNTS[checks.length]}. ${SEASON}`);
  }
  const { low_nm, high_nm } = found.derived.checked.service;
  try {
    const life = await calc("life", {
      use: "outings",
      torque: checks.map(({ body, shown }) => ({ use: body.circumstances.outings, torque_nm: shown.value_nm })),
      limits: { low_nm, ...(high_nm ? { high_nm } : {}) },
    });
    const counted = checks.map(({ body, shown }) => ({
      use: Number(typedOf(body.circumstances.outings)),
      value_nm: shown.value_nm,
      guard_nm: shown.guard_nm,
    }));
    return { life, counted: counted.sort((a, b) => a.use - b.use), why: "" };
  } catch (error) {
    return silent(`No prediction: ${/** @type {any} */ (error).reason ?? error} ${SEASON}`);
  }
}
