// @ts-check
// What the engine says of itself, from the last time that it ran: a screen need not wait for it to start.

import { calc } from "../engine/door.js";
import { changed, fact, remember } from "./store.js";

// The first screen comes first.
const RENEW_AFTER_MS = 1000;

// Raised when screens rely on a field that answers did not have before: what an older version kept lacks it.
const FORM = 2;

/** @type {Map<string, Promise<any>>} */
const answers = new Map();

/**
 * An answer that is always the same for one version of the engine: "about" or "units".
 * @param {"about" | "units"} name
 * @returns {Promise<any>}
 */
export function known(name) {
  const answer = answers.get(name) ?? ask(name);
  answers.set(name, answer);
  answer.catch(() => answers.delete(name));
  return answer;
}

/** @param {"about" | "units"} name */
async function ask(name) {
  const kept = await fact(`engine ${name} ${FORM}`);
  if (!kept) return renewed(name, kept);
  setTimeout(() => renewed(name, kept).catch(() => {}), RENEW_AFTER_MS);
  return kept;
}

/** @param {string} name @param {any} kept */
async function renewed(name, kept) {
  const fresh = await calc(name, {});
  if (JSON.stringify(fresh) === JSON.stringify(kept)) return fresh;
  await remember(`engine ${name} ${FORM}`, fresh).catch(() => {});
  answers.set(name, Promise.resolve(fresh));
  // Another engine came with a new version: what it judged and how it is written is worked out anew.
  if (kept) changed();
  return fresh;
}
