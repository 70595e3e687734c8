// @ts-check
// Brings the outbox home, and what others wrote to this phone. Sending twice is harmless: the log is a set.

import { NotPaired, Offline, ask } from "./access.js";
import { sendPhotos } from "./photo-delivery.js";
import { bringBack, changed, database, fact, note, now, outbox, remember, take } from "./store.js";

// As many at once as the log takes; fewer where a poor connection breaks off before they are over.
const MOST = 100;
const LEAST = 5;
let batch = MOST;
const PAGE = 500;
const FIRST_WAIT_MS = 2000;
const LONGEST_WAIT_MS = 120000;
// Who works at the bench, and who packs the phone, look at the same log.
const LOOK_AGAIN_MS = 45000;

/** @typedef {{state: "idle" | "busy" | "offline" | "failed" | "unpaired", reason: string, at: number}} Report */

/** @type {Report} */
let report = { state: "busy", reason: "", at: 0 };
/** @type {Set<(report: Report) => void>} */
const watchers = new Set();
let wait = FIRST_WAIT_MS;
/** @type {ReturnType<typeof setTimeout> | undefined} */
let timer;

/** @param {Report["state"]} state @param {string} [reason] */
function tell(state, reason = "") {
  report = { state, reason, at: Date.now() };
  watchers.forEach((watcher) => watcher(report));
}

/** Follow how delivery goes. @param {(report: Report) => void} watcher */
export function watch(watcher) {
  watchers.add(watcher);
  watcher(report);
  return () => watchers.delete(watcher);
}

async function send() {
  const db = await database();
  const waiting = (await outbox()).filter((one) => !one.refused);
  const entries = (await Promise.all(waiting.map((one) => db.get("entries", one.id)))).filter(Boolean).map(bare);
  // The server writes a unit's entries in one go, so they travel together, oldest first.
  entries.sort((one, other) => (one.unit < other.unit ? -1 : Number(one.unit > other.unit)));
  let noted = Promise.resolve();
  try {
    for (let start = 0; start < entries.length; start += batch) {
      const { answers } = await ask("/api/log", {
        method: "POST",
        headers: { "Content-Type": "application/json" },
        body: JSON.stringify({ entries: entries.slice(start, start + batch), sent: now() }),
      });
      await noted;
      // While this phone writes down what is home, the server already has the next ones.
      noted = note(answers);
    }
  } finally {
    await noted;
  }
}

/** An entry as the device made it, without what only the server knows. @param {any} entry */
export function bare(entry) {
  const { seq, received, judged, agrees, clock_off_s, ...own } = entry;
  return own;
}

async function receive() {
  for (let more = true; more; ) {
    const after = await fact("after", 0);
    const page = await ask(`/api/log?after=${after}&most=${PAGE}`);
    await take(page.entries, page.next);
    more = page.more && page.entries.length > 0;
  }
}

/** What the workshop found wrong with its log, for whoever works at the bench. @param {string[]} problems */
async function keepProblems(problems) {
  if (JSON.stringify(problems) === JSON.stringify(await fact("problems", []))) return;
  await remember("problems", problems);
  changed();
}

/** @param {boolean} quietly a look every while is no news */
async function run(quietly) {
  if (!quietly) tell("busy");
  try {
    const { log, problems } = await ask("/api/health");
    // A log shorter than what this phone has read of it was put back from a backup: what it lost is here.
    if (log < (await fact("after", 0))) await bringBack(log);
    await send();
    await receive();
    await sendPhotos(ask);
    await keepProblems(problems ?? []);
    wait = FIRST_WAIT_MS;
    batch = MOST;
    tell("idle");
    timer = setTimeout(() => document.visibilityState === "visible" && deliver(true), LOOK_AGAIN_MS);
    return true;
  } catch (error) {
    const { message } = /** @type {Error} */ (error);
    if (error instanceof Offline) {
      batch = Math.max(LEAST, Math.floor(batch / 2));
      tell("offline");
    } else tell(error instanceof NotPaired ? "unpaired" : "failed", message);
    timer = setTimeout(() => deliver(), wait);
    wait = Math.min(2 * wait, LONGEST_WAIT_MS);
    return false;
  }
}

/** @type {Promise<boolean> | undefined} */
let running;
let again = false;

/**
 * Deliver now; one tab at a time, the others wait for their turn.
 * @param {boolean} [quietly]
 * @returns {Promise<boolean>} whether all went home
 */
export function deliver(quietly = false) {
  clearTimeout(timer);
  if (running) {
    // What was saved meanwhile is not in the batches that are on their way.
    again = true;
    return running;
  }
  // Without locks (a very old browser) two tabs may send the same; the server answers "already there".
  const turn = navigator.locks ? navigator.locks.request("slipbook-delivery", () => run(quietly)) : run(quietly);
  running = Promise.resolve(turn).finally(() => {
    running = undefined;
    if (again) {
      again = false;
      deliver();
    }
  });
  return running;
}

/** Deliver soon after something was saved, when the network returns, when the app comes back, and in the background. */
export function startDelivery() {
  const soon = () => {
    wait = FIRST_WAIT_MS;
    deliver();
  };
  addEventListener("online", soon);
  addEventListener("offline", () => tell("offline"));
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && soon());
  navigator.serviceWorker?.addEventListener("message", ({ data }) => data === "deliver" && soon());
  soon();
}

/** Ask the browser to wake the app for delivery; browsers without Background Sync deliver when it is opened. */
export async function wakeForDelivery() {
  const registration = /** @type {any} */ (await navigator.serviceWorker?.getRegistration());
  await registration?.sync?.register("slipbook-outbox").catch(() => {});
}
