// @ts-check
// What is being typed, kept at every change, so that neither a reload nor a dead battery loses a keystroke.

import { named, text } from "./shape.js";
import { database } from "./store.js";

/** Writes follow one another, or an older keystroke could land on a newer one. @type {Promise<unknown>} */
let last = Promise.resolve();

/** Every draft that was handed over is written, or could not be. */
export async function draftsKept() {
  await last.catch(() => {});
}

/**
 * The draft under a key, such as "check/<unit>". An older version may have kept it, with fewer fields: spread it over
 * an empty one.
 * @param {string} key
 * @returns {Promise<object | undefined>}
 */
export async function draft(key) {
  const content = await contentOf(key);
  return named(content) ? content : undefined;
}

/** A draft that is text alone, such as a note. @param {string} key @returns {Promise<string | undefined>} */
export async function draftText(key) {
  const content = await contentOf(key);
  return text(content) ? content : undefined;
}

/** @param {string} key @returns {Promise<unknown>} */
async function contentOf(key) {
  await draftsKept();
  return (await (await database()).get("drafts", key))?.content;
}

/** What waits to be written while an older one is on its way. @type {{key: string, content: unknown} | undefined} */
let next;

/**
 * Resolves once this or something newer under the same key is stored.
 * @param {string} key @param {unknown} content what to keep, as plain values
 */
export function keepDraft(key, content) {
  const copy = structuredClone(content);
  // Where keys are pressed faster than the phone stores, only the newest has to be written.
  if (next?.key === key) {
    next.content = copy;
    return last;
  }
  const mine = { key, content: copy };
  next = mine;
  last = last
    .catch(() => {})
    .then(async () => {
      const db = await database();
      if (next === mine) next = undefined;
      await db.put("drafts", mine);
    });
  return last;
}

/** @param {string} key */
export function dropDraft(key) {
  next = undefined;
  last = last.catch(() => {}).then(async () => (await database()).delete("drafts", key));
  return last;
}

/** Keys of all drafts, so that a screen can offer to go on. @returns {Promise<string[]>} */
export async function draftKeys() {
  await draftsKept();
  return (await database()).getAllKeys("drafts");
}
