// @ts-check
// What the engine's records say of the kinds of entry, for whoever writes, shows or refuses entries.

import { fact } from "./store.js";

/** @typedef {import("../engine/door.js").Kind} Kind */

/**
 * Whether a device may write a kind of entry. A kind that this phone's engine does not know is another's to judge.
 * @param {Kind | undefined} kind
 * @param {string | undefined} role the one that it is paired for; none at the workshop's own PC, which may do all
 */
export const mayWrite = (kind, role) => !role || !kind || kind.writers.some((writer) => writer === role);

/** The role of a device that the workshop does not let in: never paired, or shut out. */
export const NOT_LET_IN = "none";

/** What this phone may do in the workshop, as far as it knows; empty where nothing was said yet. */
export async function roleNow() {
  const [role, paired] = await Promise.all([fact("role"), fact("paired")]);
  return role || paired?.role || "";
}

/**
 * The kind of entry that is written on a screen, if this phone may not write it; one that is not let in yet may still
 * be paired for trackside.
 * @param {Record<string, Kind>} kinds
 * @param {string} screen its name, as in its address; empty where nothing is written, as some kinds are on no screen
 * @param {string} role as `roleNow` says it
 */
export function keptOn(kinds, screen, role) {
  const kind = screen ? Object.values(kinds).find((record) => record.corrected_on === screen) : undefined;
  return kind && !mayWrite(kind, role === NOT_LET_IN ? "trackside" : role) ? kind : undefined;
}

/** Words in a row, as a sentence has them. @param {string[]} words */
const inARow = (words) => [words.slice(0, -1).join(", "), ...words.slice(-1)].filter(Boolean).join(" and ");

/**
 * Kinds of entry as a sentence names them, for example "shelf counts, tools of the kit and units".
 * @param {Kind[]} kinds
 */
export const inWords = (kinds) => inARow(kinds.map((kind) => kind.nouns).sort());

/**
 * What a role may not write, by what it belongs to.
 * @param {Record<string, Kind>} kinds @param {string} role
 * @returns {{area: string, kinds: Kind[]}[]}
 */
export function closedTo(kinds, role) {
  const closed = Object.values(kinds).filter((kind) => !mayWrite(kind, role));
  const areas = [...new Set(closed.map(({ area }) => area))].sort();
  return areas.map((area) => ({ area, kinds: closed.filter((kind) => kind.area === area) }));
}

/** The same as a sentence names it. @param {Record<string, Kind>} kinds @param {string} role */
export const keptFrom = (kinds, role) => inARow(closedTo(kinds, role).map(({ area }) => area));
