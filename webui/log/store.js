// @ts-check
// What the phone keeps: entries, the outbox, drafts, what stands for each unit, and a few facts about itself.

import { openDB, unwrap } from "../vendor/idb/build/index.js";
import { isSamples } from "./book.js";
import { changed, SOME_MS } from "./changes.js";
import { ADDED, isEntry, said } from "./entries.js";
import { boundDatabase } from "./logs.js";
import { upgrade, VERSION } from "./schema.js";
import { follow } from "./under-way.js";

/** @typedef {import("../engine/calculations.js").Kinds} Kinds */
/** @typedef {import("./entries.js").Entry} Entry */

/**
 * @typedef {object} Waiting an entry's place in the outbox
 * @property {string} id
 * @property {string} [unit] of the entry; what older versions kept does not say it
 * @property {number} tries
 * @property {{field: string, reason: string}[]} [refused]
 * @property {boolean} [back] the log had it, and has lost it
 */

/**
 * `entry`: as the workshop has it, where something was taken out of it there.
 * @typedef {{
 *   id?: string | null, answer: string, errors?: {field: string, reason: string}[], entry?: unknown,
 * }} Fate
 */
/**
 * The workshop's answer to an entry that was sent.
 * @typedef {Partial<Pick<Entry, import("./entries.js").Added>> & Fate} Answer
 */

/**
 * What stands for a unit, or for the kit under a blank id, until an entry, the day or the engine changes.
 * @typedef {object} Kept
 * @property {string} id
 * @property {string} day
 * @property {string} engine its version and the unit of torque of its sentences
 * @property {unknown} standing
 */

/**
 * What a list shows of a unit, kept like what stands for it; its id alone where that is to be worked out anew. Every
 * unit with an entry here has a row.
 * @typedef {{id: string, day?: string, engine?: string, short?: unknown}} InList
 */

/** @typedef {Kinds["refit"]["body"]} Writing */
/** What torques are read in. @typedef {Exclude<Writing["write_in"], "" | null | undefined>} TorqueUnit */
/** What lengths are read in. @typedef {Exclude<Writing["write_lengths_in"], "" | null | undefined>} LengthUnit */

/**
 * @typedef {object} Facts what a phone knows of itself
 * @property {string} device its own number
 * @property {string[]} erased ids of the erasures that are done on it
 * @property {string} who writes
 * @property {number} after how far it has read the log
 * @property {string} mark the id of the entry up to which it has read the log; empty if that is not known
 * @property {string} generation of the log, with which this phone compared what it has
 * @property {number} cameBack how many entries had come back to the log when this phone compared
 * @property {Returned[]} returned what came back to the log, and from where
 * @property {string} token empty while it is not paired
 * @property {{name: string, role: string, at: string} | null} paired as what, and since when
 * @property {string} role what it may do in the workshop, as that said last
 * @property {string} address where phones find the workshop's PC; empty if it serves that PC alone
 * @property {string[]} problems that the workshop has with its log
 * @property {{made?: string | null, days?: number | null, problem: string} | null} backup the last good one of its log
 * @property {TorqueUnit} torqueUnit
 * @property {LengthUnit} lengthUnit
 * @property {Record<string, {chosen: string, usual: string}>} definedIn units that a definition was last typed in, by
 *   the SI unit, and what the settings had then
 * @property {Record<string, Record<string, string>>} people what each of those who share it chose
 * @property {import("./clock.js").Kept} clock what is known of its clock
 * @property {string[]} clockTold what the workshop says is wrong with clocks
 * @property {boolean} installTold
 * @property {import("./papers.js").Paper} paper that it prints on
 * @property {import("./papers.js").LabelSheet} labelSheet that it prints labels on
 * @property {string} micrometer id of the one that was used last
 * @property {string[]} usedUnits ids of the units that were opened last on it, the latest first
 * @property {string} checkTool id of the tool that the last torque check was taken with
 */

/** What the engine said of itself, by name and form. @typedef {Record<`engine ${string}`, unknown>} Answers */

/**
 * `back`: the log had it once.
 * @typedef {{sha256: string, blob: Blob | ArrayBuffer, home: boolean, back?: boolean}} Photo
 */
/** What a device brought back. @typedef {{source: string, entries: number, photos: number, at: string}} Returned */

/**
 * What is stored, in the words of the library.
 * @typedef {object} Book
 * @property {{key: string, value: Entry, indexes: {unit: string}}} entries
 * @property {{key: string, value: Waiting}} outbox
 * @property {{key: string, value: import("./two-drafts.js").Row}} drafts
 * @property {{key: string, value: Kept}} standings
 * @property {{key: string, value: InList}} listed
 * @property {{key: string, value: Photo}} photos
 * @property {{key: string, value: unknown}} facts
 */

/** @typedef {import("idb").IDBPDatabase<Book>} Database */

// What nobody else has yet is on the disk before it counts as kept, where the browser can do that: without this a
// browser calls it written while it is in the memory of the phone, which an empty battery clears.
/** @type {IDBTransactionOptions} */
export const ON_DISK = { durability: "strict" };

/** @type {Promise<Database> | undefined} */
let opened;

/** The database of this page's log, opened once. */
export function database() {
  opened ??= boundDatabase().then(open);
  opened.catch(() => (opened = undefined));
  return opened;
}

/**
 * The database of a log, made if it is not there.
 * @param {string} name
 * @param {boolean} [soonClosed] whether its user closes it after one piece of work, for which others can wait
 * @returns {Promise<Database>}
 */
export function open(name, soonClosed = false) {
  const opening = openDB(name, VERSION, {
    upgrade,
    /**
     * Another tab waits to bring the database up to date, or to forget it: let it, and open anew at the next use.
     * @param {number} _now @param {number | null} _wanted @param {Event} event
     */
    blocking(_now, _wanted, event) {
      if (soonClosed) return;
      const db = /** @type {IDBDatabase} */ (event.target);
      db.close();
      letGo(db);
    },
    terminated() {
      opened = undefined;
    },
  });
  return follow(opening);
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

/**
 * A new entry's or unit's number: UUID version 7 (RFC 9562).
 * @param {number} [ms] since 1970, the time that it is of; by default now
 * @returns {Promise<string>}
 */
export async function newId(ms) {
  return (await import("../vendor/uuid/dist/v7.js")).default(ms === undefined ? undefined : { msecs: ms });
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
  // What older versions kept has the workshop's result twice, which the engine would have to read.
  return (await (await database()).getAllFromIndex("entries", "unit", unit)).map(said);
}

/** @param {string} id @returns {Promise<Entry | undefined>} */
export async function entry(id) {
  return (await database()).get("entries", id);
}

/** The outbox, oldest first. @returns {Promise<Waiting[]>} */
export async function outbox() {
  return (await database()).getAll("outbox");
}

/**
 * Save an entry: into the log of this phone, into the outbox, and its draft away, all or nothing.
 * @param {Entry} fresh
 * @param {(drafts: IDBObjectStore) => void} [removeDraft] the one that it came from
 */
export async function save(fresh, removeDraft) {
  const stores = /** @type {const} */ (["entries", "outbox", "drafts", "standings", "listed"]);
  const transaction = (await database()).transaction(stores, "readwrite", ON_DISK);
  removeDraft?.(rows(transaction, "drafts"));
  outOfDate(transaction, fresh.unit);
  await Promise.all([
    transaction.objectStore("entries").add(fresh),
    // Of the sample book nothing is sent.
    isSamples ? undefined : transaction.objectStore("outbox").add({ id: fresh.id, unit: fresh.unit, tries: 0 }),
    // Also where the page is put away at once.
    transaction.commit(),
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
  const stores = /** @type {const} */ (["entries", "outbox", "standings", "listed"]);
  const transaction = (await database()).transaction(stores, "readwrite", ON_DISK);
  let fresh = 0;
  for (const newcomer of brought) {
    if (await transaction.objectStore("entries").get(newcomer.id)) continue;
    fresh += 1;
    rows(transaction, "entries").put(newcomer);
    const { id, unit, receipt } = newcomer;
    if (!isSamples) rows(transaction, "outbox").put({ id, unit, tries: 0, back: Boolean(receipt) });
    outOfDate(transaction, unit);
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
export const rows = (transaction, name) => unwrap(transaction.objectStore(name));

/**
 * What stands for a unit, or for the kit under a blank id, is to be worked out anew.
 * @template {(import("idb").StoreNames<Book>)[]} Names
 * @param {import("idb").IDBPTransaction<Book, Names, "readwrite">} transaction over what is derived, among others
 * @param {string} unit
 */
function outOfDate(transaction, unit) {
  rows(transaction, "standings").delete(unit);
  if (unit) rows(transaction, "listed").put({ id: unit });
}

// So many entries are handed to the database in one turn.
const IN_ONE_TURN = 20;

/**
 * Take in entries that the server has: new ones, and its numbers for our own.
 * @param {Entry[]} received
 * @param {number} [upTo] how far the log has been read with them
 */
export async function take(received, upTo) {
  const stores = /** @type {const} */ (["entries", "outbox", "standings", "listed", "facts"]);
  const transaction = (await database()).transaction(stores, "readwrite");
  const waiting = new Set(await transaction.objectStore("outbox").getAllKeys());
  const erasing = (await transaction.objectStore("facts").get("erased")) !== undefined;
  const entries = rows(transaction, "entries");
  for (const [at, arrived] of received.entries()) {
    // An answer comes in a turn of its own; what was tapped or typed meanwhile comes before it.
    if (at && at % IN_ONE_TURN === 0) await transaction.objectStore("facts").getKey("after");
    // A log that was put back from an old backup may still have what was erased here.
    const kept = erasing && !arrived.erased ? await transaction.objectStore("entries").get(arrived.id) : undefined;
    if (!kept?.erased) entries.put(said(arrived));
    // Whatever the server has is delivered, even where its answer got lost on the way.
    if (waiting.has(arrived.id)) rows(transaction, "outbox").delete(arrived.id);
  }
  for (const unit of new Set(received.map((arrived) => arrived.unit))) outOfDate(transaction, unit);
  if (upTo !== undefined) {
    rows(transaction, "facts").put(upTo, "after");
    rows(transaction, "facts").put(received.find(({ seq }) => seq === upTo)?.id ?? "", "mark");
  }
  await transaction.done;
  if (received.length) changed(SOME_MS);
}

/**
 * Note the server's answers to entries that were sent.
 * @param {Answer[]} answers
 * @param {Entry[]} sent
 * @returns {Promise<string[]>} the ids of those that are home: they may leave the outbox, and are known there if they
 *   are sent once more before they do
 */
export async function note(answers, sent) {
  const own = new Map(sent.map((copy) => [copy.id, copy]));
  const transaction = (await database()).transaction(["entries", "outbox", "standings", "listed"], "readwrite");
  const entries = rows(transaction, "entries");
  const units = /** @type {Set<string>} */ (new Set());
  /** @type {string[]} */
  const home = [];
  for (const reply of answers) {
    const { id, answer, errors } = reply;
    const copy = own.get(id ?? "");
    if (!copy) continue;
    if (answer === "refused") {
      const row = await transaction.objectStore("outbox").get(copy.id);
      if (row) rows(transaction, "outbox").put({ ...row, tries: row.tries + 1, refused: errors ?? [] });
    } else if (answer === "stored" || answer === "already_there") {
      home.push(copy.id);
      const added = ADDED.flatMap((name) => (reply[name] === undefined ? [] : [[name, reply[name]]]));
      // Where something was taken out of it there, that is what stays here.
      entries.put(isEntry(reply.entry) ? said(reply.entry) : { ...copy, ...Object.fromEntries(added) });
      units.add(copy.unit);
    }
  }
  for (const unit of units) outOfDate(transaction, unit);
  await transaction.done;
  changed(SOME_MS);
  return home;
}

/** Offer a refused entry to the server once more. @param {string} id */
export async function offerAgain(id) {
  const db = await database();
  await db.put("outbox", { ...(await db.get("outbox", id)), id, tries: 0, refused: undefined });
  changed();
}
