// @ts-check
// After a restore, or when entries are found missing, phone and log compare what they have, and exchange what either
// lacks, whoever wrote it. Entries go back as they were, each with its receipt.

import { ask } from "./access.js";
import { changed } from "./changes.js";
import { group, list, number, text } from "./shape.js";
import { database, entriesOf, fact, outbox, rows } from "./store.js";

/** @typedef {import("./entries.js").Entry} Entry */

const areDigests = group({ last: number, units: list(group({ unit: text, digest: text })) });
const areKnown = group({ entries: list(group({ id: text, seq: number })) });

/**
 * What has to be done so that both have the same.
 * @typedef {object} Differences
 * @property {Entry[]} back entries that the log lacks
 * @property {number} upTo the number up to which this phone has all that the log has
 */

/**
 * Compare once in each generation of the log, and whenever more has come back to it from other phones.
 * @param {string} generation
 * @param {number} cameBack how many entries have come back to the log
 */
export async function compareOnce(generation, cameBack) {
  const [before, count] = await Promise.all([fact("generation"), fact("cameBack", 0)]);
  if (before === generation && count === cameBack) return;
  await compare();
  const transaction = (await database()).transaction("facts", "readwrite");
  rows(transaction, "facts").put(generation, "generation");
  rows(transaction, "facts").put(cameBack, "cameBack");
  await transaction.done;
}

/** Put into the outbox what the log lacks, and read anew from where this phone lacks something. */
export async function compare() {
  const db = await database();
  // A phone that has nothing yet reads all in any case.
  if (!(await db.count("entries"))) return;
  const { back, upTo } = await differences();
  const transaction = db.transaction(["outbox", "photos", "facts"], "readwrite");
  for (const { id, unit } of back) rows(transaction, "outbox").put({ id, unit, tries: 0, back: true });
  // Whether the log has a picture still, it says when that is offered.
  for (const photo of await transaction.objectStore("photos").getAll())
    if (photo.home) rows(transaction, "photos").put({ ...photo, home: false, back: true });
  rows(transaction, "facts").put(upTo, "after");
  rows(transaction, "facts").put("", "mark");
  await transaction.done;
  changed();
}

/** @returns {Promise<Differences>} */
async function differences() {
  const { last, units } = await ask("/api/compare", areDigests);
  const theirs = new Map(units.map(({ unit, digest }) => [unit, digest]));
  const waits = new Set((await outbox()).map(({ id }) => id));
  /** @type {Entry[]} */
  const back = [];
  // What a version without receipts has read is read once more.
  let upTo = (await fact("generation")) === undefined ? 0 : Math.min(last, await fact("after", 0));
  for (const unit of new Set([...theirs.keys(), ...(await unitsHere())])) {
    const mine = await entriesOf(unit);
    if (theirs.get(unit) === (await digestOf(mine.filter(({ seq }) => seq)))) continue;
    const { entries } = await ask(`/api/compare/ids?unit=${unit}`, areKnown);
    const numbers = new Map(mine.map(({ id, seq }) => [id, seq]));
    // One that has another number by now is read again as well.
    for (const { id, seq } of entries) if (numbers.get(id) !== seq) upTo = Math.min(upTo, seq - 1);
    const known = new Set(entries.map(({ id }) => id));
    back.push(...mine.filter(({ id }) => !known.has(id) && !waits.has(id)));
  }
  return { back, upTo };
}

/** Every unit of which something is on this phone; the shop under a blank id. */
async function unitsHere() {
  const units = [];
  const index = (await database()).transaction("entries").store.index("unit");
  for (let cursor = await index.openKeyCursor(null, "nextunique"); cursor; cursor = await cursor.continue())
    units.push(String(cursor.key));
  return units;
}

/** As the log makes it: see server/log/digest.py. @param {Entry[]} entries */
async function digestOf(entries) {
  const lines = entries.map(({ id, seq }) => `${id} ${seq}\n`).sort();
  const digest = await crypto.subtle.digest("SHA-256", new TextEncoder().encode(lines.join("")));
  return Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, "0")).join("");
}
