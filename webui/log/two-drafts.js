// @ts-check
// Where two tabs type into one form: each notices that the other has been there, and what either typed is kept. The one
// that comes second keeps its own beside, until a person says which of them to go on with.

import { now } from "./store.js";

/** @typedef {import("./store.js").Database} Database */

/**
 * @typedef {object} Row a draft as it is stored
 * @property {string} key
 * @property {unknown} content
 * @property {string} [mark] which writing of which tab it is; versions that knew one tab only wrote none
 * @property {string} [at] when it was put aside, of one that is kept beside
 */

/**
 * What a person is to be told of a form that is open in this tab.
 * @typedef {object} News
 * @property {string} key
 * @property {"both" | "other" | "gone" | "kept"} what both: this tab's own is kept beside; other: another tab has typed
 *   there; gone: another tab saved or cleared it; kept: something is left beside of which nobody decided
 * @property {Row} [beside] what is left beside
 */

const BESIDE = "beside ";
const TAB = Array.from(crypto.getRandomValues(new Uint32Array(2)), (part) => part.toString(36)).join("");
let writings = 0;

/** What this tab last read or wrote under a key; empty where there was nothing. @type {Map<string, string>} */
const seen = new Map();
/** What stands there by the last word of any tab. @type {Map<string, string>} */
const latest = new Map();
/** Keys beside which this tab keeps its own. @type {Set<string>} */
const aside = new Set();
/** Keys of the forms that are open on this screen. @type {Set<string>} */
const open = new Set();
/** @type {Set<(news: News) => void>} */
const listeners = new Set();
const channel = new BroadcastChannel("slipbook-drafts");

addEventListener("hashchange", () => open.clear());

/** Follow what other tabs do to the forms that are open here. @param {(news: News) => void} listener */
export const onNews = (listener) => listeners.add(listener);

/** @param {News} news */
function tell(news) {
  for (const listener of listeners) listener(news);
}

const freshMark = () => `${TAB} ${++writings}`;
/** @param {Row | undefined} row */
const markOf = (row) => row?.mark ?? "";
/** Where a tab keeps its own beside a draft. @param {string} key @param {string} [tab] */
export const besideKey = (key, tab = TAB) => `${BESIDE}${key} ${tab}`;
/** Where to put aside what some tab has written. @param {Row} row */
const besideOf = (row) => besideKey(row.key, markOf(row).split(" ")[0] || "older");

/** Whether a key is that of something kept beside a draft. @param {string} key */
export const besideIt = (key) => key.startsWith(BESIDE);

/** What is kept under a key, of this tab where it has its own. @param {Database} db @param {string} key */
export async function peekAt(db, key) {
  const own = aside.has(key) ? await db.get("drafts", besideKey(key)) : undefined;
  return (own ?? (await db.get("drafts", key)))?.content;
}

/** The same for a form that opens with it. @param {Database} db @param {string} key */
export async function look(db, key) {
  open.add(key);
  const own = aside.has(key) ? await db.get("drafts", besideKey(key)) : undefined;
  if (own) {
    tell({ key, what: "both" });
    return own.content;
  }
  aside.delete(key);
  const [row, left] = await Promise.all([
    db.get("drafts", key),
    db.getAll("drafts", IDBKeyRange.bound(besideKey(key, ""), besideKey(key, "\uffff"))),
  ]);
  sees(key, markOf(row));
  if (left.length) tell({ key, what: "kept", beside: left[left.length - 1] });
  return row?.content;
}

/**
 * Keep what was typed, beside where another tab has typed something else. Nothing is read first: a page that is put
 * away between reading and writing would leave the drafts locked for all others.
 * @param {Database} db @param {{key: string, content: unknown}} typed
 * @returns {Promise<Row>} what was stored
 */
export async function keep(db, { key, content }) {
  const before = seen.get(key);
  const stored = latest.get(key) ?? before;
  const isGone = Boolean(before) && stored === "";
  const isSecond = aside.has(key) || (before !== undefined && !isGone && stored !== before);
  const mark = freshMark();
  const row = isSecond ? { key: besideKey(key), content, mark, at: now() } : { key, content, mark };
  const transaction = db.transaction("drafts", "readwrite");
  const written = transaction.store.put(row);
  transaction.commit();
  await Promise.all([written, transaction.done]);
  if (isSecond) {
    aside.add(key);
    tell({ key, what: "both" });
  } else {
    sees(key, mark);
    announce(db, key);
    if (isGone) tell({ key, what: "gone" });
  }
  return row;
}

/** Whether a row is still what this tab wrote last. @param {Row} row */
export const isStill = ({ key, mark }) =>
  besideIt(key) ? [...aside].some((of) => besideKey(of) === key) : latest.get(key) === mark;

/** Remove this tab's draft, and no other's. @param {IDBObjectStore} drafts @param {string} key */
export function removeIn(drafts, key) {
  if (aside.has(key)) drafts.delete(besideKey(key));
  else if (latest.get(key) === seen.get(key)) drafts.delete(key);
}

/** It is removed: whatever comes there now is another tab's. @param {Database} db @param {string} key */
export function markGone(db, key) {
  if (aside.delete(key)) return;
  const isOwn = latest.get(key) === seen.get(key);
  seen.set(key, "");
  if (!isOwn) return;
  latest.set(key, "");
  announce(db, key);
}

/** Other tabs hear what stands under a key now. @param {Database} db @param {string} key */
function announce(db, key) {
  channel.postMessage({ book: db.name, key, mark: latest.get(key) ?? "" });
}

/** What stands under a key now was read or written by this tab. @param {string} key @param {string} mark */
function sees(key, mark) {
  seen.set(key, mark);
  latest.set(key, mark);
}

/** What stands under a key now, by another tab or this one. @param {string} key @param {string} mark */
function hear(key, mark) {
  latest.set(key, mark);
  if (open.has(key) && !aside.has(key) && seen.get(key) !== mark) tell({ key, what: mark ? "other" : "gone" });
}

/** Follow what other tabs write and remove. @param {() => Promise<Database>} database */
export function watchTabs(database) {
  channel.addEventListener("message", async ({ data }) => {
    const { book, key, mark } = /** @type {{book: string, key: string, mark: string}} */ (data);
    if (book === (await database()).name) hear(key, mark);
  });
}

/** Look again at what is open here: a tab that was put away may have missed what others did. @param {Database} db */
export async function lookAgain(db) {
  for (const key of open) hear(key, markOf(await db.get("drafts", key)));
}

/**
 * Go on with what is kept beside, and keep beside what stood there.
 * @param {Database} db @param {string} key @param {string} [beside] its key; this tab's own if none is named
 */
export async function exchange(db, key, beside = besideKey(key)) {
  const { store, done } = db.transaction("drafts", "readwrite");
  const [row, wanted] = await Promise.all([store.get(key), store.get(beside)]);
  if (wanted) {
    const mark = freshMark();
    const put = [store.delete(beside), store.put({ key, content: wanted.content, mark })];
    if (row) put.push(store.put({ ...row, key: besideOf(row), at: now() }));
    await Promise.all(put);
    sees(key, mark);
    aside.delete(key);
  }
  await done;
  announce(db, key);
}
