// @ts-check
// What waits on this phone for logs other than the one that is shown: it stays with them, and crosses only when a
// person says so.

import { deleteDB } from "../vendor/idb/build/index.js";
import { meet, otherLogs, ownLog, strike } from "./logs.js";
import { adopt, changed, database, open } from "./store.js";

/** @typedef {import("./logs.js").Met} Met */
/** @typedef {import("./store.js").Database} Database */
/** @typedef {{log: Met, entries: number}} WaitsElsewhere */

// What a phone is told about its owner, not about a log, and brings along to each.
const OWNERS = /** @type {const} */ (["device", "who", "people", "torqueUnit", "lengthUnit", "installTold"]);

/**
 * Whether the log that answers is the one that this page shows. If it is another, the page shows that one once it is
 * loaded anew.
 * @param {import("./logs.js").Who} who
 */
export async function isOwn(who) {
  const known = (await otherLogs()).some(({ id }) => id === who.id);
  const met = await meet(who);
  if (met.id === (await ownLog())?.id) {
    await forgetDemos();
    return true;
  }
  if (!known) await bringOwner(met);
  return false;
}

/** @template Found @param {Met} log @param {(db: Database) => Promise<Found>} act */
async function inLog(log, act) {
  const db = await open(log.database);
  try {
    return await act(db);
  } finally {
    db.close();
  }
}

/** A log that was met for the first time learns who uses this phone. @param {Met} log */
async function bringOwner(log) {
  const mine = await database();
  await inLog(log, async (db) => {
    for (const name of OWNERS) {
      const value = await mine.get("facts", name);
      if (value !== undefined && (await db.get("facts", name)) === undefined) await db.put("facts", value, name);
    }
  });
}

/** A demonstration is gone once another log answers, unless something waits for it that nobody decided about. */
async function forgetDemos() {
  for (const log of await otherLogs())
    if (log.demo && !(await inLog(log, (db) => db.count("outbox")))) await forget(log);
}

/** A log of which nothing is wanted any more. @param {Met} log */
export async function forget(log) {
  await deleteDB(log.database);
  await strike(log.id);
  changed();
}

/** Other logs for which entries wait on this phone. @returns {Promise<WaitsElsewhere[]>} */
export async function waitElsewhere() {
  const found = [];
  for (const log of await otherLogs()) found.push({ log, entries: await inLog(log, (db) => db.count("outbox")) });
  return found.filter(({ entries }) => entries);
}

/**
 * Bring what waits for another log to the one that this page shows, because a person said so.
 * @param {Met} log
 * @returns {Promise<number>} how many entries were new here
 */
export async function bringOver(log) {
  return inLog(log, async (db) => {
    const ids = await db.getAllKeys("outbox");
    const entries = (await Promise.all(ids.map((id) => db.get("entries", id)))).flatMap((one) => (one ? [one] : []));
    const mine = await database();
    // The pictures first: an entry without one would promise what the phone does not have.
    for (const one of entries) {
      const photo = one.kind === "photo" ? await db.get("photos", one.body.sha256) : undefined;
      if (photo) await mine.put("photos", { ...photo, home: false });
    }
    const fresh = await adopt(entries);
    const transaction = db.transaction("outbox", "readwrite");
    for (const id of ids) transaction.store.delete(id);
    await transaction.done;
    changed();
    return fresh;
  });
}
