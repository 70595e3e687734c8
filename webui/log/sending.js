// @ts-check
// Sends what waits in the outbox: in batches of whole units, some of them at once where answers come quickly.

import { askJson, ownPass } from "./access.js";
import { changed, SOME_MS } from "./changes.js";
import { lookAtClock } from "./clock.js";
import { asStored, bare } from "./entries.js";
import { group, list, perhaps, text } from "./shape.js";
import { database, deviceId, entry, fact, note, now, outbox, remember, rows } from "./store.js";

/** @typedef {import("./entries.js").Entry} Entry */
/** @typedef {import("./store.js").Answer} Answer */
/** @typedef {import("./store.js").Waiting} Waiting */

// As many at once as the log takes; fewer where a poor connection breaks off before they are over.
const MOST = 100;
const LEAST = 5;
const QUICK_MS = 1000;
let batch = MOST;

const hasAnswer = group({ id: perhaps(text), answer: text });
/** @param {unknown} value @returns {value is Answer} */
const isAnswer = (value) => hasAnswer(value);
const areAnswers = group({ answers: list(isAnswer) });

/** A connection broke off: fewer go at once from now on. */
export function sendFewer() {
  batch = Math.max(LEAST, Math.floor(batch / 2));
}

/** All went well: as many as the log takes go at once again. */
export function sendMany() {
  batch = MOST;
}

/** What is to be delivered of the outbox. @typedef {Pick<Waiting, "id" | "back"> & {unit: string}} ToSend */

/**
 * The places of those entries that wait for delivery and were not refused, oldest first.
 * @returns {Promise<ToSend[]>}
 */
async function toSend() {
  const waiting = (await outbox()).filter((row) => !row.refused);
  return Promise.all(
    waiting.map(async ({ id, back, unit }) => ({ id, back, unit: unit ?? (await entry(id))?.unit ?? "" })),
  );
}

/** The entries of some places in the outbox, as they travel. @param {ToSend[]} places */
async function asTheyTravel(places) {
  const { store } = (await database()).transaction("entries");
  const found = await Promise.all(places.map(({ id }) => store.get(id)));
  return found.flatMap((row, at) => (row ? [places[at].back ? asStored(row) : bare(row)] : []));
}

/**
 * Let entries leave the outbox, because they are home. One after the other takes a phone nearly as long as writing them
 * down did, so all that lie beside each other go in one piece.
 * @param {Set<string>} home their ids, of which none is left
 */
export async function leaveOutbox(home) {
  if (!home.size) return;
  const transaction = (await database()).transaction(["outbox"], "readwrite");
  const keys = await transaction.objectStore("outbox").getAllKeys();
  for (let start = 0; start < keys.length; start += 1) {
    if (!home.has(keys[start])) continue;
    let end = start;
    while (home.has(keys[end + 1])) end += 1;
    rows(transaction, "outbox").delete(IDBKeyRange.bound(keys[start], keys[end]));
    start = end;
  }
  await transaction.done;
  home.clear();
  changed(SOME_MS);
}

/**
 * Bring the outbox home.
 * @param {boolean} [near] whether the workshop has just answered quickly
 * @returns {Promise<boolean>} whether there was any
 */
export async function send(near = false) {
  const places = await toSend();
  if (!places.length) return false;
  // What follows is asked with the same pass, so that it is on its way before what came home is written down.
  const [device, { fell_s }, pass] = await Promise.all([deviceId(), lookAtClock(), ownPass()]);
  // The server writes a unit's entries in one go, so they travel together, oldest first.
  places.sort((earlier, later) => (earlier.unit < later.unit ? -1 : Number(earlier.unit > later.unit)));
  /** @type {Map<number, string>} */
  const numbers = new Map();
  /** @type {Set<string>} */
  const home = new Set();
  /** @type {{some: Entry[], answer: Promise<{answers: Answer[]}>}[]} */
  const underWay = [];
  let most = near ? 2 : 1;
  // What is on its way may arrive in any order, but one entry of a unit never overtakes another.
  const post = async () => {
    while (places.length && underWay.length < most && underWay[0]?.some.at(-1)?.unit !== places[0].unit) {
      const some = await asTheyTravel(places.splice(0, wholeUnits(places)));
      if (!some.length) continue;
      const answer = askJson("/api/log", areAnswers, "POST", { entries: some, sent: now(), device, fell_s }, pass);
      answer.catch(() => {});
      underWay.push({ some, answer });
    }
  };
  try {
    let left = performance.now();
    for (await post(); underWay.length; ) {
      const { some, answer } = underWay[0];
      const start = performance.now();
      const { answers } = await answer;
      underWay.shift();
      // Where answers come quickly, the server need not wait for this phone, which writes down meanwhile what is home.
      most = performance.now() - start < QUICK_MS ? 2 : 1;
      await post();
      for (const id of await note(answers, some)) home.add(id);
      for (const { seq, id } of answers) if (seq) numbers.set(seq, id ?? "");
      if (performance.now() - left < SOME_MS) continue;
      await leaveOutbox(home);
      left = performance.now();
    }
  } finally {
    await leaveOutbox(home);
  }
  await countAsRead(numbers);
  return numbers.size > 0;
}

/**
 * What came home in one row after all that this phone has read need not be read back.
 * @param {Map<number, string>} numbers of the log, with the ids of their entries
 */
async function countAsRead(numbers) {
  const after = await fact("after", 0);
  let upTo = after;
  while (numbers.has(upTo + 1)) upTo += 1;
  if (upTo === after) return;
  await remember("after", upTo);
  await remember("mark", numbers.get(upTo) ?? "");
}

/**
 * How many of these, sorted by unit, make a batch that breaks off within no unit, if it can be had.
 * @param {{unit: string}[]} places
 */
function wholeUnits(places) {
  let size = batch;
  while (size && places[size]?.unit === places[size - 1]?.unit && places[size]) size -= 1;
  return size || batch;
}
