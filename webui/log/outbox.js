// @ts-check
// Makes entries, and the file that brings an outbox home when nothing else does.

import { engine } from "../engine/door.js";
import { draftsKept } from "./drafts.js";
import { bare, deliver, wakeForDelivery } from "./delivery.js";
import { database, deviceId, fact, newId, now, outbox, save } from "./store.js";

/**
 * Write an entry into this phone's log and outbox, then try to deliver it.
 * @param {object} written
 * @param {string} written.unit empty for what belongs to no unit
 * @param {string} written.kind
 * @param {any} written.body the request as it was typed
 * @param {any} written.shown the result as it was shown
 * @param {string} [written.replaces] the entry that this one corrects
 * @param {string} [written.draft] key of the draft to drop with it
 * @returns {Promise<string>} the entry's number
 */
export async function write({ unit, kind, body, shown, replaces, draft }) {
  const { version, kinds } = await engine();
  const entry = {
    id: newId(),
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
  await save(entry, draft);
  askToPersist();
  deliver();
  wakeForDelivery();
  return entry.id;
}

/** Ask the browser not to clear what is stored when the phone runs full. */
export async function askToPersist() {
  return (await navigator.storage?.persist?.()) ?? false;
}

/** Everything undelivered as the text of a file that the server takes in. */
export async function outboxFile() {
  const db = await database();
  const waiting = await outbox();
  const entries = (await Promise.all(waiting.map((one) => db.get("entries", one.id)))).filter(Boolean).map(bare);
  return JSON.stringify({ slipbook_outbox: 1, entries }, null, 1);
}
