// @ts-check
// What waits on this phone for logs other than the one that is shown: it stays with them, and crosses only when a
// person says so.

import { deleteDB } from "../vendor/idb/build/index.js";
import { changed } from "./changes.js";
import { bare } from "./entries.js";
import { meet, otherLogs, ownLog, strike } from "./logs.js";
import { adopt, database, open, rows } from "./store.js";

/** @typedef {import("./logs.js").Met} Met */
/** @typedef {import("./store.js").Database} Database */
/**
 * Another log of which something is on this phone.
 * @typedef {object} Elsewhere
 * @property {Met} log
 * @property {number} entries that wait for it
 * @property {number} lacking entries of it that this phone does not have of the log of this page
 * @property {number} pictures the same of pictures
 */

// What a phone is told about its owner, not about a log, and brings along to each.
const OWNERS = /** @type {const} */ (["device", "who", "people", "torqueUnit", "lengthUnit", "installTold"]);

// What lets a phone into a workshop.
const PAIRING = /** @type {const} */ (["token", "paired", "role"]);

/**
 * Whether the log that answers is the one that this page shows. If it is another, the page shows that one once it is
 * loaded anew.
 * @param {import("./logs.js").Who} identity
 * @param {boolean} letIn whether it lets this phone in
 */
export async function isOwn(identity, letIn) {
  const known = (await otherLogs()).some(({ id }) => id === identity.id);
  const met = await meet(identity);
  if (met.id === (await ownLog())?.id) {
    await forgetDemos();
    return true;
  }
  if (!known) await bringOwner(met);
  if (letIn) await bringPairing(met);
  return false;
}

/** @template Found @param {Met} log @param {(db: Database) => Promise<Found>} act */
async function inLog(log, act) {
  const db = await open(log.database, true);
  try {
    return await act(db);
  } finally {
    db.close();
  }
}

/** A log that was met for the first time learns who uses this phone. @param {Met} log */
export async function bringOwner(log) {
  const mine = await database();
  await inLog(log, async (db) => {
    for (const name of OWNERS) {
      const value = await mine.get("facts", name);
      if (value !== undefined && (await db.get("facts", name)) === undefined) await db.put("facts", value, name);
    }
  });
}

/**
 * A code that was typed while this log was shown let the phone into another, whose pairing it is. This page needs it as
 * well until it is loaded anew: a log is shown again only once its own pairing has come into its place.
 * @param {Met} log
 */
async function bringPairing(log) {
  const mine = await database();
  const values = await Promise.all(PAIRING.map((name) => mine.get("facts", name)));
  if (!values[0]) return;
  await inLog(log, (db) => Promise.all(PAIRING.map((name, place) => db.put("facts", values[place], name))));
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

/** Other logs of which this phone has what the log of this page lacks. @returns {Promise<Elsewhere[]>} */
export async function heldElsewhere() {
  const others = await otherLogs();
  if (!others.length) return [];
  const db = await database();
  const [mine, pictures] = await Promise.all([db.getAllKeys("entries"), db.getAllKeys("photos")]);
  const onThisPhone = new Set([...mine, ...pictures]);
  const found = [];
  for (const log of others)
    found.push(
      await inLog(log, async (db) => {
        const [ids, names] = await Promise.all([db.getAllKeys("entries"), db.getAllKeys("photos")]);
        const [lacking, pictures] = [ids, names].map((keys) => keys.filter((key) => !onThisPhone.has(key)).length);
        return { log, entries: await db.count("outbox"), lacking, pictures };
      }),
    );
  return found.filter(({ entries, lacking, pictures }) => entries || lacking || pictures);
}

/**
 * Bring what waits for another log, or all that is here of it, to the one that this page shows, because a person said
 * so.
 * @param {Met} log
 * @param {"outbox" | "entries"} store
 * @returns {Promise<number>} how many entries were new here
 */
export async function bringOver(log, store) {
  return inLog(log, async (db) => {
    const ids = await db.getAllKeys(store);
    const entries = (await Promise.all(ids.map((id) => db.get("entries", id)))).flatMap((found) =>
      found ? [found] : [],
    );
    const mine = await database();
    // The pictures first: an entry without one would promise what the phone does not have.
    for (const brought of entries) {
      const photo = brought.kind === "photo" ? await db.get("photos", brought.body.sha256) : undefined;
      if (photo) await mine.put("photos", { ...photo, home: false, back: false });
    }
    const fresh = await adopt(entries.map(bare));
    const transaction = db.transaction("outbox", "readwrite");
    for (const id of ids) rows(transaction, "outbox").delete(id);
    await transaction.done;
    changed();
    return fresh;
  });
}
