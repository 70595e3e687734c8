// @ts-check
// Makes entries, and the file that brings an outbox home when nothing else does.

import { calc, engine } from "../engine/door.js";
import { clockOfEntry } from "./clock.js";
import { deliver, wakeForDelivery } from "./delivery.js";
import { draftsKept, keepDraft, letGo, peekDraft } from "./drafts.js";
import { asStored, bare, isEntry } from "./entries.js";
import { group, text as isText, list, number, record } from "./shape.js";
import { knownOf } from "./stands.js";
import { adopt, database, deviceId, entriesOf, entry, fact, newId, now, outbox, save } from "./store.js";
import { markGone, removeIn } from "./two-drafts.js";

/** @typedef {import("../engine/door.js").Calculations} Calculations */
/** @typedef {import("./store.js").Kinds} Kinds */
/** @typedef {import("./entries.js").Entry} Entry */
/** @typedef {import("./store.js").Waiting & {entry: Entry}} WaitingEntry */

/**
 * What was saved last on this page, and what was typed for it: a slip of the thumb can be undone.
 * @typedef {{id: string, unit: string, kind: keyof Kinds, draft?: {key: string, content: object | string}}} Saved
 */

// As many entries as one names at most; the server takes no more.
const MOST_KNOWN = 50;

/** @type {Saved | undefined} */
let last;

/** The entry that was saved last for a unit since the app was opened. @param {string} unit */
export const lastSaved = (unit) => (last?.unit === unit ? last : undefined);

/** Nothing is left to be undone. */
export function settle() {
  last = undefined;
}

/**
 * Undo what was saved last. A note in its place says so, or, where it corrected an entry, that entry anew: all of them
 * stay in the log. What was typed is back in its form.
 * @param {Saved} saved
 * @param {string} text of the note
 */
export async function undo({ id, unit, kind, draft }, text) {
  const corrected = await entry((await entry(id))?.replaces ?? "");
  if (corrected) {
    const { kinds } = await engine();
    const { body } = corrected;
    const calculation = /** @type {keyof Calculations} */ (kinds[kind].calculation);
    const shown = /** @type {Kinds[typeof kind]["shown"]} */ (await calc(calculation, body));
    await write({ unit, kind, body, shown, replaces: id });
  } else await write({ unit, kind: "note", body: { text }, shown: { verdict: null }, replaces: id });
  if (draft) await keepDraft(draft.key, draft.content);
  settle();
}

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
 * @param {string[]} [written.alsoKnows] entries of the other book, the shelf's or the units', that this one rests on
 * @returns {Promise<string>} the entry's number
 */
export async function write({ unit, kind, body, shown, replaces, draft, alsoKnows = [] }) {
  const { version, kinds } = await engine();
  const [knows, clock] = await Promise.all([knownOf(unit), clockOfEntry()]);
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
    ...(knows ? { knows: [...knows, ...alsoKnows].slice(0, MOST_KNOWN) } : {}),
    clock,
  };
  // A keystroke that is still being written would bring the draft back after it was dropped.
  await draftsKept();
  const typed = draft ? await peekDraft(draft) : undefined;
  if (draft) letGo(draft);
  await save(/** @type {Entry} */ (fresh), draft ? (drafts) => removeIn(drafts, draft) : undefined);
  if (draft) markGone(await database(), draft);
  last = {
    id: fresh.id,
    unit,
    kind,
    ...(draft && (record(typed) || isText(typed)) ? { draft: { key: draft, content: typed } } : {}),
  };
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
    (await outbox()).map(async (row) => {
      const own = await entry(row.id);
      return own ? [{ ...row, entry: own }] : [];
    }),
  );
  return rows.flat();
}

/**
 * Those of the outbox that were refused and corrected since: nothing is left to be done about them.
 * @returns {Promise<Set<string>>}
 */
export async function settled() {
  const refused = (await outbox()).filter((row) => row.refused);
  const units = new Set((await Promise.all(refused.map(({ id }) => entry(id)))).map((found) => found?.unit ?? ""));
  const corrected = new Set((await Promise.all([...units].map(entriesOf))).flat().map((found) => found.replaces));
  return new Set(refused.map(({ id }) => id).filter((id) => corrected.has(id)));
}

/** Everything undelivered as the text of a file that the server takes in. */
export async function outboxFile() {
  const entries = (await waiting()).map((row) => (row.back ? asStored(row.entry) : bare(row.entry)));
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
