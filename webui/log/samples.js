// @ts-check
// The sample book: invented units in a store of their own on this phone. It is no log: nothing is sent from it, nothing
// comes to it, and nothing of it is ever offered to a log.

import { calc, engine } from "../engine/door.js";
import { deleteDB } from "../vendor/idb/build/index.js";
import { enterSamples, SAMPLES } from "./book.js";
import { DEVICE } from "./device.js";
import { bringOwner } from "./other-logs.js";
import { group, list, number, perhaps, record, text } from "./shape.js";
import { deviceId, newId, now, open } from "./store.js";

/** @typedef {import("./entries.js").Entry} Entry */
/** @typedef {import("../engine/door.js").Calculations} Calculations */

// Kept on the phone with the app; it says no day, so that a season always ends now.
const FILE = "/samples.json";

const isBook = group({
  rows: list(
    group({
      unit: text,
      days_ago: number,
      clock: text,
      who: text,
      kind: text,
      body: record,
      replaces: perhaps(number),
    }),
  ),
  photos: record,
});

/** @returns {Promise<unknown>} */
async function fetched() {
  try {
    return await (await fetch(FILE)).json();
  } catch {
    throw new Error(`The sample units are not on this ${DEVICE} yet: open them where the workshop can be reached.`);
  }
}

/** A day so many days from now, at a time as a clock shows it. @param {number} days @param {string} [clock] */
function dayFromNow(days, clock = "12:00") {
  const [hour, minute] = clock.split(":").map(Number);
  const day = new Date();
  day.setDate(day.getDate() + days);
  day.setHours(hour, minute, 0, 0);
  return day;
}

/**
 * A part of a body, in which each {"in_days": from now} is the day that it is.
 * @param {unknown} part
 * @returns {unknown}
 */
function withDays(part) {
  if (Array.isArray(part)) return part.map(withDays);
  if (!record(part)) return part;
  if (number(part.in_days)) return now(dayFromNow(part.in_days)).slice(0, 10);
  return Object.fromEntries(Object.entries(part).map(([name, content]) => [name, withDays(content)]));
}

/**
 * The entries of the book, as if they had been written on their days, and its photos by name.
 * @returns {Promise<{entries: Entry[], photos: [string, string][]}>}
 */
async function bookEntries() {
  const book = await fetched();
  if (!isBook(book)) throw new Error("The sample units cannot be read: reload Slipbook.");
  const [{ version, kinds }, device] = await Promise.all([engine(), deviceId()]);
  /** @type {Entry[]} */
  const entries = [];
  /** @type {Map<string, string>} */
  const latest = new Map();
  for (const { unit, days_ago, clock, who, kind, body, replaces } of book.rows) {
    const at = dayFromNow(-days_ago, clock);
    const typed = withDays(body);
    const calculation = /** @type {keyof Calculations} */ (kinds[kind].calculation);
    const shown = await calc(calculation, /** @type {Calculations[typeof calculation]["request"]} */ (typed));
    const id = await newId(at.getTime());
    const known = latest.get(unit);
    const row = {
      ...{ id, at: now(at), who, device, unit, kind, version: kinds[kind].version, engine: version },
      ...{ body: typed, shown },
      ...(typeof replaces === "number" ? { replaces: entries[replaces].id } : {}),
      ...(known ? { knows: [known] } : {}),
    };
    entries.push(/** @type {Entry} */ (/** @type {unknown} */ (row)));
    latest.set(unit, id);
  }
  const photos = Object.entries(book.photos).flatMap(([name, content]) =>
    text(content) ? [/** @type {[string, string]} */ ([name, content])] : [],
  );
  return { entries, photos };
}

/** Lay the sample book out anew and show it on this page; what was tried in it before is gone. */
export async function openSamples() {
  const { entries, photos } = await bookEntries();
  await deleteDB(SAMPLES.database);
  const db = await open(SAMPLES.database);
  try {
    const transaction = db.transaction(["entries", "listed", "photos"], "readwrite");
    const units = new Set(entries.map(({ unit }) => unit));
    await Promise.all([
      ...[...units].filter(Boolean).map((id) => transaction.objectStore("listed").put({ id })),
      ...entries.map((entry) => transaction.objectStore("entries").put(entry)),
      ...photos.map(([sha256, content]) => {
        const blob = Uint8Array.from(atob(content), (letter) => letter.charCodeAt(0)).buffer;
        return transaction.objectStore("photos").put({ sha256, blob, home: true });
      }),
      transaction.done,
    ]);
  } finally {
    db.close();
  }
  await bringOwner(SAMPLES);
  enterSamples();
}
