// @ts-check
// Sends what waits in the outbox: in batches of whole units, some of them at once where answers come quickly.

import { askJson, ownPass } from "./access.js";
import { SOME_MS } from "./changes.js";
import { lookAtClock } from "./clock.js";
import { group, list, perhaps, text } from "./shape.js";
import { asTheyTravel, deviceId, fact, leaveOutbox, note, now, remember, toSend } from "./store.js";

/** @typedef {import("./entries.js").Entry} Entry */
/** @typedef {import("./store.js").Answer} Answer */

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

/**
 * Bring the outbox home.
 * @param {boolean} [near] whether the workshop has just answered quickly
 * @returns {Promise<boolean>} whether there was any
 */
export async function send(near = false) {
  const rows = await toSend();
  if (!rows.length) return false;
  // What follows is asked with the same pass, so that it is on its way before what came home is written down.
  const [device, { fell_s }, pass] = await Promise.all([deviceId(), lookAtClock(), ownPass()]);
  // The server writes a unit's entries in one go, so they travel together, oldest first.
  rows.sort((earlier, later) => (earlier.unit < later.unit ? -1 : Number(earlier.unit > later.unit)));
  /** @type {Map<number, string>} */
  const numbers = new Map();
  /** @type {Set<string>} */
  const home = new Set();
  /** @type {{some: Entry[], answer: Promise<{answers: Answer[]}>}[]} */
  const underWay = [];
  let most = near ? 2 : 1;
  // What is on its way may arrive in any order, but one entry of a unit never overtakes another.
  const post = async () => {
    while (rows.length && underWay.length < most && underWay[0]?.some.at(-1)?.unit !== rows[0].unit) {
      const some = await asTheyTravel(rows.splice(0, wholeUnits(rows)));
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
  // What came home in one row after all that this phone has read need not be read back.
  const after = await fact("after", 0);
  let upTo = after;
  while (numbers.has(upTo + 1)) upTo += 1;
  if (upTo > after) {
    await remember("after", upTo);
    await remember("mark", numbers.get(upTo) ?? "");
  }
  return numbers.size > 0;
}

/**
 * How many of these, sorted by unit, make a batch that breaks off within no unit, if it can be had.
 * @param {{unit: string}[]} rows
 */
function wholeUnits(rows) {
  let size = batch;
  while (size && rows[size]?.unit === rows[size - 1]?.unit && rows[size]) size -= 1;
  return size || batch;
}
