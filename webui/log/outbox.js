// @ts-check
// Makes entries, and the file that brings an outbox home when nothing else does.

import { engine } from "../engine/door.js";
import { deliver, wakeForDelivery } from "./delivery.js";
import { draftsKept } from "./drafts.js";
import { bare, isEntry } from "./entries.js";
import { group, list, number } from "./shape.js";
import { adopt, deviceId, entriesOf, entry, fact, newId, now, outbox, save } from "./store.js";

/** @typedef {import("./store.js").Kinds} Kinds */
/** @typedef {import("./entries.js").Entry} Entry */
/** @typedef {import("./store.js").Waiting & {entry: Entry}} WaitingEntry */

/**
 * Write an entry into this phone's log and outbox, then try to deliver it.
 * @template {keyof Kinds} Kind
 * @param {object} written
 * @param {string} written.unit empty for what belongs to no unit
 * @param {Kind} written.kind
 * @param {Kinds[Kind]["body"]} written.body the request as it was typed
 * @param {Kinds[Kind]["shown"]} written.shown the result as it was shown
 * @param {string} [written.replaces] the entry that this one corrects
 * @param {string} [written.draft] key of the draft to drop with it
 * @returns {Promise<string>} the entry's number
 */
export async function write({ unit, kind, body, shown, replaces, draft }) {
  const { version, kinds } = await engine();
  /** @type {import("./entries.js").EntryOf<Kind>} */
  const fresh = {
    id: await newId(),
    at: now(),
    who: await fact("who", ""),
    device: await deviceId(),
    unit,
    kind,
    version: kinds[kind].version,
    engine: version,
    body,
    shown,
    ...(replaces ? { replaces } : {}),
  };
  // A keystroke that is still being written would bring the draft back after it was dropped.
  await draftsKept();
  await save(/** @type {Entry} */ (fresh), draft);
  askToPersist();
  deliver();
  wakeForDelivery();
  return fresh.id;
}

/** Ask the browser not to clear what is stored when the phone runs full. */
export async function askToPersist() {
  return (await navigator.storage?.persist?.()) ?? false;
}

/**
 * What waits, oldest first, each with its entry.
 * @returns {Promise<WaitingEntry[]>}
 */
export async function waiting() {
  const rows = await Promise.all(
    (await outbox()).map(async (one) => {
      const own = await entry(one.id);
      return own ? [{ ...one, entry: own }] : [];
    }),
  );
  return rows.flat();
}

/**
 * Those of the outbox that were refused and corrected since: nothing is left to be done about them.
 * @returns {Promise<Set<string>>}
 */
export async function settled() {
  const refused = (await outbox()).filter((one) => one.refused);
  const units = new Set((await Promise.all(refused.map(({ id }) => entry(id)))).map((one) => one?.unit ?? ""));
  const corrected = new Set((await Promise.all([...units].map(entriesOf))).flat().map((one) => one.replaces));
  return new Set(refused.map(({ id }) => id).filter((id) => corrected.has(id)));
}

/** Everything undelivered as the text of a file that the server takes in. */
export async function outboxFile() {
  const entries = (await waiting()).map((one) => bare(one.entry));
  return JSON.stringify({ slipbook_outbox: 1, entries }, null, 1);
}

const isOutbox = group({ slipbook_outbox: number, entries: list(isEntry) });

/**
 * Take in the outbox that another phone saved to a file; it goes home from here.
 * @param {Blob} file
 * @returns {Promise<{brought: number, fresh: number}>}
 */
export async function takeInFile(file) {
  /** @type {unknown} */
  const content = await file
    .text()
    .then(JSON.parse)
    .catch(() => undefined);
  if (!isOutbox(content) || content.slipbook_outbox !== 1)
    throw new Error("This is no outbox that Slipbook saved: choose the file again.");
  const fresh = await adopt(content.entries);
  deliver();
  return { brought: content.entries.length, fresh };
}
