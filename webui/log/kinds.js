// @ts-check
// What the engine's records say of the kinds of entry, for whoever writes, shows or refuses entries.

/** @typedef {import("../engine/door.js").Kind} Kind */

/**
 * Whether a device may write a kind of entry. A kind that this phone's engine does not know is another's to judge.
 * @param {Kind | undefined} kind
 * @param {string | undefined} role the one that it is paired for; none at the workshop's own PC, which may do all
 */
export const mayWrite = (kind, role) => !role || !kind || kind.writers.some((writer) => writer === role);

/**
 * Kinds of entry as a sentence names them, for example "shelf counts, tools of the kit and units".
 * @param {Kind[]} kinds
 */
export function inWords(kinds) {
  const nouns = kinds.map((kind) => kind.nouns).sort();
  return [nouns.slice(0, -1).join(", "), ...nouns.slice(-1)].filter(Boolean).join(" and ");
}

/** What a role may not write, as a sentence names it. @param {Record<string, Kind>} kinds @param {string} role */
export const keptFrom = (kinds, role) => inWords(Object.values(kinds).filter((kind) => !mayWrite(kind, role)));
