// @ts-check
// What is being typed, kept at every change, so that no reload and no crash of the browser loses a keystroke; and put
// onto the disk at every pause, and when the page is put away, so that an empty battery loses a second of it at most.
// Where two tabs type into one form neither overwrites what the other has typed: see two-drafts.js.

import { unwrap } from "../vendor/idb/build/index.js";
import { record, text } from "./shape.js";
import { database, ON_DISK } from "./store.js";
import { besideIt, besideKey, isStill, keep, look, markGone, peekAt, removeIn } from "./two-drafts.js";

const PAUSE_MS = 1000;

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
  return record(content) ? content : undefined;
}

/** A draft that is text alone, such as a note. @param {string} key @returns {Promise<string | undefined>} */
export async function draftText(key) {
  const content = await contentOf(key);
  return text(content) ? content : undefined;
}

/** @param {string} key @returns {Promise<unknown>} */
async function contentOf(key) {
  await draftsKept();
  return look(await database(), key);
}

/** The same without being the form's own look at it: what another tab typed there meanwhile is still news. */
export async function peekDraft(/** @type {string} */ key) {
  await draftsKept();
  return peekAt(await database(), key);
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
      const row = await keep(db, mine);
      unsettled.set(row.key, row);
      clearTimeout(pause);
      pause = setTimeout(settle, PAUSE_MS);
    });
  return last;
}

/**
 * What was kept, but may be in the phone's memory alone, by its key.
 * @type {Map<string, import("./two-drafts.js").Row>}
 */
const unsettled = new Map();
/** @type {ReturnType<typeof setTimeout> | undefined} */
let pause;

/** Put onto the disk what was typed since the last pause. */
function settle() {
  last = last
    .catch(() => {})
    .then(async () => {
      if (!unsettled.size) return;
      const transaction = (await database()).transaction("drafts", "readwrite", ON_DISK);
      // What another tab has written since, or what was saved or cleared, is left as it is.
      const rows = [...unsettled.values()].filter(isStill);
      unsettled.clear();
      // Written once more as it stands: a browser is asked to wait for the disk before a transaction begins.
      const written = rows.map((row) => transaction.store.put(row));
      // A page that is put away runs no more: it must not leave a transaction open, or nobody else gets at the drafts.
      transaction.commit();
      await Promise.all([...written, transaction.done]);
    });
  // Where it cannot be stored, the next keystroke says so.
  last.catch(() => {});
}

addEventListener("pagehide", settle);
document.addEventListener("visibilitychange", () => document.visibilityState === "hidden" && settle());

/** What this tab typed there is about to be removed: no pause brings it back. @param {string} key */
export function letGo(key) {
  unsettled.delete(key);
  unsettled.delete(besideKey(key));
}

/** @param {string} key */
export function dropDraft(key) {
  next = undefined;
  last = last
    .catch(() => {})
    .then(async () => {
      const db = await database();
      letGo(key);
      const transaction = db.transaction("drafts", "readwrite");
      removeIn(unwrap(transaction.store), key);
      await transaction.done;
      markGone(db, key);
    });
  return last;
}

/** Keys of all drafts, so that a screen can offer to go on. @returns {Promise<string[]>} */
export async function draftKeys() {
  await draftsKept();
  return (await (await database()).getAllKeys("drafts")).filter((key) => !besideIt(key));
}
