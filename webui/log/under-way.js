// @ts-check
// What this page has asked of its databases and is not answered yet. Where the browser puts the page away, to show it
// again if somebody comes back, it is ended: the page runs no more, so that its transactions would stay open, and no
// other page of Slipbook would get at the database. Where no answer comes, whoever watches is told.

import { unwrap } from "../vendor/idb/build/index.js";

/** @typedef {IDBTransaction | Promise<unknown>} Asked a transaction, or the opening of a database */

// Longer than any answer takes on a slow phone.
const LONG_MS = 8000;
const LOOK_MS = 1000;

/** Oldest first. @type {Set<Asked>} */
const underWay = new Set();
/** What was the oldest when it was looked at last, and for how many looks. @type {Asked | undefined} */
let oldest;
let looks = 0;
let isLong = false;
let isLooking = false;
/** @type {(isLong: boolean) => void} */
let tell = () => {};
let wasCut = false;

/** Hear when an answer takes long, and when answers come again. @param {(isLong: boolean) => void} watcher */
export function onSilence(watcher) {
  tell = watcher;
  watcher(isLong);
}

function look() {
  const [first] = underWay;
  // Looks are counted, not time: a phone that slept has waited for nothing.
  looks = first && first === oldest ? looks + 1 : 0;
  oldest = first;
  isLooking = Boolean(first);
  if (isLooking) setTimeout(look, LOOK_MS);
  const wasLong = isLong;
  isLong = looks * LOOK_MS >= LONG_MS;
  if (isLong !== wasLong) tell(isLong);
}

/** @param {Asked} asked */
function begin(asked) {
  underWay.add(asked);
  if (!isLooking) setTimeout(look, LOOK_MS);
  isLooking = true;
}

/** Follow a transaction to its end. @param {IDBTransaction} transaction */
export function followTransaction(transaction) {
  begin(transaction);
  for (const end of ["complete", "abort"]) transaction.addEventListener(end, () => underWay.delete(transaction));
}

/**
 * Follow a database while it is opened, and all that is asked of it then.
 * @template Schema
 * @param {Promise<import("idb").IDBPDatabase<Schema>>} opening
 */
export async function follow(opening) {
  begin(opening);
  const db = await opening.finally(() => underWay.delete(opening));
  const raw = unwrap(db);
  raw.transaction = (/** @type {Parameters<IDBDatabase["transaction"]>} */ ...how) => {
    const transaction = IDBDatabase.prototype.transaction.apply(raw, how);
    followTransaction(transaction);
    return transaction;
  };
  return db;
}

/** Whether the browser keeps the page as it is, or did so. @param {Event} event of its going or coming */
const isKept = (event) => "persisted" in event && event.persisted === true;

addEventListener("pagehide", (event) => {
  // Of a page that goes for good the browser ends them itself.
  if (!isKept(event)) return;
  for (const asked of underWay) {
    if (!(asked instanceof IDBTransaction)) continue;
    try {
      asked.abort();
      wasCut = true;
    } catch {
      // All of it is asked for already: it is done without the page.
    }
  }
});

/** Call this where the page is shown again after something of it was ended. @param {() => void} act */
export function onReturn(act) {
  addEventListener("pageshow", (event) => isKept(event) && wasCut && act());
}
