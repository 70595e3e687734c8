// @ts-check
// What an entry is, and what can be said of any.

import { group, record, text } from "./shape.js";

/** @typedef {import("../engine/calculations.js").Kinds} Kinds */
/** @typedef {import("../engine/calculations.js").StoredFinding} StoredFinding */
/** @typedef {import("../engine/calculations.js").Verdict} Verdict */

/**
 * @template {keyof Kinds} Kind
 * @typedef {object} EntryOf an entry of one kind
 * @property {string} id
 * @property {string} at device time with offset
 * @property {string} who
 * @property {string} device
 * @property {string} unit empty for what belongs to no unit
 * @property {Kind} kind
 * @property {number} version
 * @property {string} engine
 * @property {Kinds[Kind]["body"]} body the request as it was typed
 * @property {Kinds[Kind]["shown"]} shown the result as it was shown
 * @property {string} [replaces]
 * @property {number} [seq] the log's number, once delivered
 * @property {string} [received]
 * @property {Kinds[Kind]["shown"]} [judged] the result as the workshop had it
 * @property {boolean} [agrees]
 * @property {string[]} [erased] erasures that took something out of it
 * @property {object[]} [marks] of an erasure: by these the log knows a name again
 * @property {string} [receipt] by it the log knows the entry again
 * @property {string[]} [knows] entries that the device had when it was written, and that no other of them knew
 * @property {{file: string, row: number, at: string, by: string}} [imported] the spreadsheet that it was imported from
 * @property {Omit<import("./clock.js").Kept, "highest">} [clock] what the device knew of its clock
 * @property {boolean} [clock_checked] whether the workshop could compare that clock with its own
 * @property {number} [clock_fell_s] by how much the device saw it fall between the entry and its arrival
 * @property {boolean} [received_unsure] whether the workshop's own clock was wrong as it arrived
 * @property {number} [clock_off_s] how far this device's clock was off, where it was off
 */

/**
 * An entry, told apart by its kind. A newer Slipbook may have sent one of a kind that is not among these: whoever goes
 * by the record of a kind has to expect that there is none.
 * @typedef {{[Kind in keyof Kinds]: EntryOf<Kind>}[keyof Kinds]} Entry
 */

/**
 * What the workshop adds to an entry.
 * @typedef {(typeof ADDED)[number]} Added
 */
export const ADDED = /** @type {const} */ ([
  "seq",
  "received",
  "judged",
  "agrees",
  "clock_off_s",
  "clock_checked",
  "clock_fell_s",
  "received_unsure",
  "receipt",
  "erased",
  "marks",
]);

const hasEntry = group({ id: text, at: text, unit: text, kind: text, body: record, shown: record });

/**
 * Whether it is an entry, as far as what travels has to be: the workshop judges it in full.
 * @param {unknown} value
 * @returns {value is Entry}
 */
export const isEntry = (value) => hasEntry(value);

/**
 * Whether there is an entry, and it is of this kind.
 * @template {keyof Kinds} Kind
 * @param {{kind: string} | undefined} entry
 * @param {Kind} kind
 * @returns {entry is EntryOf<Kind>}
 */
export const isOf = (entry, kind) => entry?.kind === kind;

/** @typedef {{verdict?: Verdict | null, reason?: string, findings?: StoredFinding[], value_nm?: number}} Judgement */

/**
 * What an entry was judged as by whoever wrote it, if its kind is judged.
 * @type {(of: Pick<Entry, "shown">) => Judgement}
 */
export const judgement = ({ shown }) => ("verdict" in shown ? shown : {});

/**
 * An entry as the device made it, without what only the server knows, which an entry may lack.
 * @template {{[Name in Added]?: unknown}} Own
 * @param {Own} entry
 * @returns {Own}
 */
export function bare(entry) {
  const own = { ...entry };
  for (const name of ADDED) delete own[name];
  return own;
}

/**
 * An entry with the workshop's result only where that is another than the one that was shown: what is more than a
 * third of an entry need not travel twice, nor be kept or read twice.
 * @param {Entry} entry
 * @returns {Entry}
 */
export function said(entry) {
  if (!entry.judged || !entry.agrees) return entry;
  const { judged, ...rest } = entry;
  return /** @type {Entry} */ (rest);
}

/**
 * An entry as it goes back to a log that has lost it: as it was stored, with its receipt.
 * @param {Entry} entry
 */
export const asStored = (entry) => (entry.receipt ? said(entry) : bare(entry));
