// @ts-check
// Why the workshop refused an entry: each field by what stands beside it on its screen.

import { calc } from "../../engine/door.js";

/** A field as people call it, empty for the whole entry, and why. @typedef {{name: string, reason: string}} Fault */

/** Fields of an entry beside what it says. */
const OF_ENTRY = /** @type {Record<string, string>} */ ({ who: "Who entered it", at: "When it was entered" });

/**
 * What was refused of an entry.
 * @param {import("../../log/outbox.js").WaitingEntry} waiting
 * @param {Record<string, import("../../log/kinds.js").Kind>} kinds
 * @returns {Promise<Fault[]>}
 */
export async function faultsOf({ entry, refused }, kinds) {
  const calculation = kinds[entry.kind]?.calculation;
  const nameOfField = async (/** @type {string} */ path) => {
    const [, field] = /^body\.(.+)$/.exec(path) ?? [];
    if (!field || !calculation) return OF_ENTRY[path] ?? "";
    return (await calc("field_name", { calculation, field, body: entry.body })).name;
  };
  return Promise.all((refused ?? []).map(async ({ field, reason }) => ({ name: await nameOfField(field), reason })));
}
