// @ts-check
// The logs that this phone has met, each with a database of its own, and which of them this page shows. Another log may
// answer at the same address: the demonstration, another workshop, an empty folder.

import { openDB } from "../vendor/idb/build/index.js";
import { isSamples, SAMPLES } from "./book.js";
import { follow } from "./under-way.js";

/**
 * @typedef {object} Met a log that this phone has met
 * @property {string} id
 * @property {string} name what people call it; empty while this phone is not paired with it
 * @property {boolean} demo
 * @property {string} database where its entries are kept
 */

/** @typedef {{id: string, name: string, demo: boolean}} Who a log as it says itself which it is */

/**
 * @typedef {object} Register
 * @property {{key: string, value: Met}} logs
 * @property {{key: string, value: string}} facts
 */

/** @typedef {import("idb").IDBPDatabase<Register>} Database */

// What versions that knew one log only have written becomes that of the first log that they meet.
const FIRST = "slipbook";

/**
 * @template Found
 * @param {(db: Database) => Promise<Found>} act
 * @returns {Promise<Found>}
 */
async function within(act) {
  const db = /** @type {Database} */ (
    await follow(
      openDB("slipbook-logs", 1, {
        /** @param {Database} fresh */
        upgrade(fresh) {
          fresh.createObjectStore("logs", { keyPath: "id" });
          fresh.createObjectStore("facts");
        },
      }),
    )
  );
  try {
    return await act(db);
  } finally {
    db.close();
  }
}

/** The log of this page, as long as it is open; undefined until one was met. @type {Met | undefined} */
let own;
/** @type {Promise<string> | undefined} */
let bound;

/** The database of the log that this page shows. It stays the same until the page is loaded anew. */
export function boundDatabase() {
  if (isSamples) {
    own = SAMPLES;
    return Promise.resolve(SAMPLES.database);
  }
  bound ??= within(async (db) => {
    const [current, all] = await Promise.all([db.get("facts", "current"), db.getAll("logs")]);
    own = all.find(({ id }) => id === current);
    return own?.database ?? FIRST;
  });
  bound.catch(() => (bound = undefined));
  return bound;
}

/** The log that this page shows, if one was met already. @returns {Promise<Met | undefined>} */
export async function ownLog() {
  await boundDatabase();
  return own;
}

/**
 * Note which log answers at this page's address.
 * @param {Who} identity
 * @returns {Promise<Met>} the log of this page, if it is this one or the first that was met; else another
 */
export async function meet(identity) {
  const database = await boundDatabase();
  return within(async (db) => {
    const transaction = db.transaction(["logs", "facts"], "readwrite");
    const logs = transaction.objectStore("logs");
    const all = await logs.getAll();
    const met = all.find(({ id }) => id === identity.id);
    const isFirst = !own && !all.some((log) => log.database === database);
    const row = {
      ...identity,
      name: identity.name || met?.name || "",
      database: met?.database ?? (isFirst ? database : `slipbook ${identity.id}`),
    };
    await Promise.all([
      logs.put(row),
      transaction.objectStore("facts").put(row.id, "current"),
      // Where it cannot be stored, each of these says so.
      transaction.done,
    ]);
    if (row.database === database) own = row;
    return row;
  });
}

/** All logs that were met, but for this page's. @returns {Promise<Met[]>} */
export async function otherLogs() {
  const database = await boundDatabase();
  return (await within((db) => db.getAll("logs"))).filter((met) => met.database !== database);
}

/** A log that is no more: its entries are to be deleted first. @param {string} id */
export function strike(id) {
  return within((db) => db.delete("logs", id));
}

/** What people call a log. @param {Met | undefined} log */
export const nameOf = (log) => log?.name || (log ? `log ${log.id.slice(0, 8)}` : "the workshop's log");
