// @ts-check
// What the engine says of itself, from the last time that it ran: a screen need not wait for it to start.

import { calc } from "../engine/door.js";
import { changed } from "./changes.js";
import { fact, remember } from "./store.js";

// The first screen comes first.
const RENEW_AFTER_MS = 1000;

// Raised when screens rely on a field that answers did not have before: what an older version kept lacks it.
const FORM = 5;

/** The calculations that answer always the same. @typedef {"about" | "units"} Fixed */

/**
 * @template {Fixed} Name
 * @typedef {import("../engine/door.js").ResultOf<Name>} ResultOf
 */

/** Under each name its own answer. @type {Map<Fixed, Promise<unknown>>} */
const answers = new Map();

/**
 * An answer that is always the same for one version of the engine: "about" or "units".
 * @template {Fixed} Name
 * @param {Name} name
 * @returns {Promise<ResultOf<Name>>}
 */
export function known(name) {
  const answer = /** @type {Promise<ResultOf<Name>> | undefined} */ (answers.get(name)) ?? ask(name);
  answers.set(name, answer);
  answer.catch(() => answers.delete(name));
  return answer;
}

/** @template {Fixed} Name @param {Name} name @returns {Promise<ResultOf<Name>>} */
async function ask(name) {
  // Nothing else is kept under this name, and `FORM` tells it from what older versions kept.
  const kept = /** @type {ResultOf<Name> | undefined} */ (await fact(`engine ${name} ${FORM}`));
  if (!kept) return renewed(name, kept);
  setTimeout(() => renewed(name, kept).catch(() => {}), RENEW_AFTER_MS);
  return kept;
}

/**
 * @template {Fixed} Name
 * @param {Name} name
 * @param {ResultOf<Name> | undefined} kept
 * @returns {Promise<ResultOf<Name>>}
 */
async function renewed(name, kept) {
  const fresh = await calc(name, {});
  if (JSON.stringify(fresh) === JSON.stringify(kept)) return fresh;
  await remember(`engine ${name} ${FORM}`, fresh).catch(() => {});
  answers.set(name, Promise.resolve(fresh));
  // Another engine came with a new version: what it judged and how it is written is worked out anew.
  if (kept) changed();
  return fresh;
}
