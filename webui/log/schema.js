// @ts-check
// The stores of a log's database on the phone, and how one of an older version is brought up to date.

import { unwrap } from "../vendor/idb/build/index.js";
import { followTransaction } from "./under-way.js";

/** @typedef {import("./store.js").Book} Book */
/** @typedef {import("idb").StoreNames<Book>} Name */

export const VERSION = 3;

/**
 * @param {import("./store.js").Database} db
 * @param {number} from its version; 0 where there was none
 * @param {number | null} _to
 * @param {import("idb").IDBPTransaction<Book, Name[], "versionchange">} transaction
 */
export async function upgrade(db, from, _to, transaction) {
  followTransaction(unwrap(transaction));
  if (from < 1) {
    db.createObjectStore("entries", { keyPath: "id" }).createIndex("unit", "unit");
    db.createObjectStore("outbox", { keyPath: "id" });
    db.createObjectStore("drafts", { keyPath: "key" });
    db.createObjectStore("standings", { keyPath: "id" });
    db.createObjectStore("facts");
  }
  if (from < 2) db.createObjectStore("photos", { keyPath: "sha256" });
  if (from < 3) {
    const listed = db.createObjectStore("listed", { keyPath: "id" });
    const units = transaction.objectStore("entries").index("unit");
    for (let at = await units.openKeyCursor(null, "nextunique"); at; at = await at.continue())
      if (at.key) listed.put({ id: at.key });
  }
}
