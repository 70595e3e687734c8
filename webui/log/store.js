// @ts-check
// What the phone keeps: entries, the outbox, drafts, what stands for each unit, and a few facts about itself.

import { openDB, unwrap } from "../vendor/idb/build/index.js";
import { boundDatabase } from "./logs.js";

/** @typedef {import("../engine/calculations.js").Kinds} Kinds */
/** @typedef {import("./entries.js").Entry} Entry */

/**
 * @typedef {object} Waiting an entry's place in the outbox
 * @property {string} id
 * @property {number} tries
 * @property {{field: string, reason: string}[]} [refused]
 */

/** @typedef {{id?: string | null, answer: string, errors?: {field: string, reason: string}[]}} Fate */
/**
 * The workshop's answer to an entry that was sent.
 * @typedef {Partial<Pick<Entry, import("./entries.js").Added>> & Fate} Answer
 */

/**
 * What stands for a unit, or for the kit under a blank id, until an entry, the day or the engine changes.
 * @typedef {object} Kept
 * @property {string} id
 * @property {string} day
 * @property {string} engine
 * @property {unknown} standing
 */

/** @typedef {Kinds["refit"]["body"]} Writing */
/** What torques are read in. @typedef {Exclude<Writing["write_in"], "" | null | undefined>} TorqueUnit */
/** What lengths are read in. @typedef {Exclude<Writing["write_lengths_in"], "" | null | undefined>} LengthUnit */

/**
 * @typedef {object} Facts what a phone knows of itself
 * @property {string} device its own number
 * @property {string} who writes
 * @property {number} after how far it has read the log
 * @property {string} token empty while it is not paired
 * @property {{name: string, role: string, at: string} | null} paired as what, and since when
 * @property {string[]} problems that the workshop has with its log
 * @property {{made?: string | null, days?: number | null, problem: string} | null} backup the last good one of its log
 * @property {TorqueUnit} torqueUnit
 * @property {LengthUnit} lengthUnit
 * @property {Record<string, Record<string, string>>} people what each of those who share it chose
 * @property {boolean} installTold
 * @property {string} micrometer id of the one that was used last
 * @property {string} checkTool id of the tool that the last torque check was taken with
 */

/** What the engine said of itself, by name and form. @typedef {Record<`engine ${string}`, unknown>} Answers */

/** @typedef {{sha256: string, blob: Blob, home: boolean}} Photo */

/**
 * What is stored, in the words of the library.
 * @typedef {object} Book
 * @property {{key: string, value: Entry, indexes: {unit: string}}} entries
 * @property {{key: string, value: Waiting}} outbox
 * @property {{key: string, value: {key: string, content: unknown}}} drafts
 * @property {{key: string, value: Kept}} standings
 * @property {{key: string, value: Photo}} photos
 * @property {{key: string, value: unknown}} facts
 */

/** @typedef {import("idb").IDBPDatabase<Book>} Database */

const VERSION = 2;

/** @type {Promise<Database> | undefined} */
let opened;

/** The database of this page's log, opened once. */
export function database() {
  opened ??= boundDatabase().then(open);
  opened.catch(() => (opened = undefined));
  return opened;
}

/** The database of a log, made if it is not there. @param {string} name @returns {Promise<Database>} */
export function open(name) {
  return openDB(name, VERSION, {
    /** @param {Database} db @param {number} from */
    upgrade(db, from) {
      if (from < 1) {
        db.createObjectStore("entries", { keyPath: "id" }).createIndex("unit", "unit");
        db.createObjectStore("outbox", { keyPath: "id" });
        db.createObjectStore("drafts", { keyPath: "key" });
        db.createObjectStore("standings", { keyPath: "id" });
        db.createObjectStore("facts");
      }
      if (from < 2) db.createObjectStore("photos", { keyPath: "sha256" });
    },
    /**
     * Another tab waits to bring the database up to date: let it, and open anew at the next use.
     * @param {number} _now @param {number | null} _wanted @param {Event} event
     */
    blocking(_now, _wanted, event) {
      const db = /** @type {IDBDatabase} */ (event.target);
      db.close();
      letGo(db);
    },
    terminated() {
      opened = undefined;
    },
  });
}

/** This page's own database is opened anew at the next use. @param {IDBDatabase} closed */
async function letGo(closed) {
  const held = opened;
  if (held && unwrap(await held) === closed && opened === held) opened = undefined;
}

/**
 * A fact about this phone: who uses it, its settings, how far it has read the log.
 * @template {keyof (Facts & Answers)} Name
 * @template {(Facts & Answers)[Name] | undefined} [Otherwise=undefined]
 * @param {Name} name
 * @param {Otherwise} [otherwise]
 * @returns {Promise<(Facts & Answers)[Name] | Otherwise>}
 */
export async function fact(name, otherwise) {
  const value = await (await database()).get("facts", name);
  // Only `remember` writes them, this version's or an older one's.
  return /** @type {(Facts & Answers)[Name] | Otherwise} */ (value === undefined ? otherwise : value);
}

/**
 * @template {keyof (Facts & Answers)} Name
 * @param {Name} name
 * @param {(Facts & Answers)[Name]} value
 */
export async function remember(name, value) {
  await (await database()).put("facts", value, name);
}

/** This device's own number, made once. @returns {Promise<string>} */
export async function deviceId() {
  const known = await fact("device");
  if (known) return known;
  const fresh = await newId();
  const transaction = (await database()).transaction("facts", "readwrite");
  // Another tab may have been first.
  const id = await transaction.store.get("device");
  if (!id) await transaction.store.put(fresh, "device");
  await transaction.done;
  return id ? String(id) : fresh;
}

/** A new entry's or unit's number: UUID version 7 (RFC 9562). @returns {Promise<string>} */
export async function newId() {
  return (await import("../vendor/uuid/dist/v7.js")).default();
}

/** Now, by this device's clock, with its offset from UTC. @param {Date} [when] */
export function now(when = new Date()) {
  const offset = -when.getTimezoneOffset();
  const local = new Date(when.getTime() + offset * 60000).toISOString().slice(0, -1);
  const sign = offset < 0 ? "-" : "+";
  const two = (/** @type {number} */ number) => String(Math.floor(Math.abs(number))).padStart(2, "0");
  return `${local}${sign}${two(offset / 60)}:${two(offset % 60)}`;
}

/** Today, by this device's clock. */
export function today() {
  return now().slice(0, 10);
}

/** All entries of one unit. @param {string} unit @returns {Promise<Entry[]>} */
export async function entriesOf(unit) {
  return (await database()).getAllFromIndex("entries", "unit", unit);
}

/** @param {string} id @returns {Promise<Entry | undefined>} */
export async function entry(id) {
  return (await database()).get("entries", id);
}

/** The outbox, oldest first. @returns {Promise<Waiting[]>} */
export async function outbox() {
  return (await database()).getAll("outbox");
}

/** The entries that wait for delivery and were not refused, oldest first. @returns {Promise<Entry[]>} */
export async function entriesWaiting() {
  const ids = (await outbox()).filter((one) => !one.refused).map(({ id }) => id);
  if (!ids.length) return [];
  const { store } = (await database()).transaction("entries");
  const range = IDBKeyRange.bound(ids[0], ids[ids.length - 1]);
  // A season's outbox is read in one piece; a few that are far apart are picked one by one.
  const many = (await store.count(range)) <= 2 * ids.length;
  const wanted = new Set(ids);
  const found = many ? await store.getAll(range) : await Promise.all(ids.map((id) => store.get(id)));
  return found.flatMap((one) => (one && wanted.has(one.id) ? [one] : []));
}

/**
 * Save an entry: into the log of this phone, into the outbox, and its draft away, all or nothing.
 * @param {Entry} fresh
 * @param {string} [draft] key of the draft that it came from
 */
export async function save(fresh, draft) {
  const transaction = (await database()).transaction(["entries", "outbox", "drafts", "standings"], "readwrite");
  await Promise.all([
    transaction.objectStore("entries").add(fresh),
    transaction.objectStore("outbox").add({ id: fresh.id, tries: 0 }),
    draft ? transaction.objectStore("drafts").delete(draft) : undefined,
    transaction.objectStore("standings").delete(fresh.unit),
    transaction.done,
  ]);
  changed();
}

/**
 * Take in entries that another phone could not deliver: into this one's log and outbox, unless they are here.
 * @param {Entry[]} brought
 * @returns {Promise<number>} how many were new here
 */
export async function adopt(brought) {
  const transaction = (await database()).transaction(["entries", "outbox", "standings"], "readwrite");
  let fresh = 0;
  for (const one of brought) {
    if (await transaction.objectStore("entries").get(one.id)) continue;
    fresh += 1;
    transaction.objectStore("entries").put(one);
    transaction.objectStore("outbox").put({ id: one.id, tries: 0 });
    transaction.objectStore("standings").delete(one.unit);
  }
  await transaction.done;
  if (fresh) changed();
  return fresh;
}

/**
 * A store that is written to without a promise for each row: `done` tells whether all went well.
 * @template {import("idb").StoreNames<Book>[]} Names
 * @param {import("idb").IDBPTransaction<Book, Names, "readwrite">} transaction
 * @param {Names[number]} name
 * @returns {IDBObjectStore}
 */
const rows = (transaction, name) => unwrap(transaction.objectStore(name));

/**
 * Take in entries that the server has: new ones, and its numbers for our own.
 * @param {Entry[]} received
 * @param {number} [upTo] how far the log has been read with them
 */
export async function take(received, upTo) {
  const transaction = (await database()).transaction(["entries", "outbox", "standings", "facts"], "readwrite");
  const waiting = new Set(await transaction.objectStore("outbox").getAllKeys());
  for (const one of received) {
    rows(transaction, "entries").put(one);
    // Whatever the server has is delivered, even where its answer got lost on the way.
    if (waiting.has(one.id)) rows(transaction, "outbox").delete(one.id);
  }
  for (const unit of new Set(received.map((one) => one.unit))) rows(transaction, "standings").delete(unit);
  if (upTo !== undefined) rows(transaction, "facts").put(upTo, "after");
  await transaction.done;
  if (received.length) changed(SOME_MS);
}

/**
 * Note the server's answers to entries that were sent.
 * @param {Answer[]} answers
 * @param {Entry[]} sent
 */
export async function note(answers, sent) {
  const own = new Map(sent.map((one) => [one.id, one]));
  const transaction = (await database()).transaction(["entries", "outbox", "standings"], "readwrite");
  const units = new Set();
  for (const { id, answer, errors, seq, judged, agrees, received, clock_off_s } of answers) {
    const one = own.get(id ?? "");
    if (!one) continue;
    if (answer === "refused") {
      const row = await transaction.objectStore("outbox").get(one.id);
      if (row) rows(transaction, "outbox").put({ ...row, tries: row.tries + 1, refused: errors ?? [] });
    } else if (answer === "stored" || answer === "already_there") {
      rows(transaction, "outbox").delete(one.id);
      const told = Object.entries({ seq, judged, agrees, received, clock_off_s }).filter(
        ([, value]) => value !== undefined,
      );
      rows(transaction, "entries").put({ ...one, ...Object.fromEntries(told) });
      units.add(one.unit);
    }
  }
  for (const unit of units) rows(transaction, "standings").delete(unit);
  await transaction.done;
  changed(SOME_MS);
}

/**
 * Put into the outbox again what a log that ends at number `last` has lost, and read it anew.
 * @param {number} last
 */
export async function bringBack(last) {
  const transaction = (await database()).transaction(["entries", "outbox", "facts"], "readwrite");
  for (let cursor = await transaction.objectStore("entries").openCursor(); cursor; cursor = await cursor.continue())
    if ((cursor.value.seq ?? 0) > last) transaction.objectStore("outbox").put({ id: cursor.value.id, tries: 0 });
  transaction.objectStore("facts").put(0, "after");
  await transaction.done;
  changed();
}

/** Offer a refused entry to the server once more. @param {string} id */
export async function offerAgain(id) {
  await (await database()).put("outbox", { id, tries: 0 });
  changed();
}

/** Tells this tab and the others that what is stored has changed. */
const channel = new BroadcastChannel("slipbook-log");
/** @type {Set<() => void>} */
const listeners = new Set();
/** @type {ReturnType<typeof setTimeout> | undefined} */
let told;
let due = Infinity;
const SOON_MS = 30;
// Many pages of a log may come in a row: screens are drawn for several of them at once.
const SOME_MS = 1000;
channel.addEventListener("message", ({ data }) => tellListeners(data));

/** @param {number} within */
function tellListeners(within) {
  if (due <= performance.now() + within) return;
  clearTimeout(told);
  due = performance.now() + within;
  told = setTimeout(() => {
    due = Infinity;
    for (const listener of listeners) listener();
  }, within);
}

/** Tell all that show something of it. @param {number} [within] how soon, in ms */
export function changed(within = SOON_MS) {
  channel.postMessage(within);
  tellListeners(within);
}

/**
 * Call `listener` whenever what is stored has changed, here or in another tab; never twice at once: while it is at
 * work, any number of changes make one more call.
 * @param {() => unknown} listener
 */
export function onChange(listener) {
  let busy = false;
  let again = false;
  const call = async () => {
    again = true;
    if (busy) return;
    busy = true;
    try {
      while (again) {
        again = false;
        await listener();
      }
    } finally {
      busy = false;
    }
  };
  listeners.add(call);
  return () => listeners.delete(call);
}
