// @ts-check
// Brings the outbox home, and what others wrote to this phone. Sending twice is harmless: the log is a set.

import { ask, askJson, NotPaired, Offline } from "./access.js";
import { bare, isEntry } from "./entries.js";
import { isOwn } from "./other-logs.js";
import { sendPhotos } from "./photo-delivery.js";
import { group, list, number, perhaps, text, yesNo } from "./shape.js";
import { bringBack, changed, entriesWaiting, fact, note, now, remember, take } from "./store.js";

// As many at once as the log takes; fewer where a poor connection breaks off before they are over.
const MOST = 100;
const LEAST = 5;
const QUICK_MS = 1000;
let batch = MOST;
const PAGE = 500;
const FIRST_WAIT_MS = 2000;
const LONGEST_WAIT_MS = 120000;
// Who works at the bench, and who packs the phone, look at the same log.
const LOOK_AGAIN_MS = 45000;

/** @typedef {"idle" | "busy" | "offline" | "failed" | "unpaired" | "elsewhere"} State elsewhere: another log answers */
/** @typedef {{state: State, reason: string, at: number}} Report */

/** @typedef {import("./entries.js").Entry} Entry */
/** @typedef {import("./store.js").Answer} Answer */

const hasAnswer = group({ id: perhaps(text), answer: text });
/** @param {unknown} value @returns {value is Answer} */
const isAnswer = (value) => hasAnswer(value);
const areAnswers = group({ answers: list(isAnswer) });
const isPage = group({ entries: list(isEntry), next: number, more: yesNo });
const isHealth = group({
  log: number,
  problems: perhaps(list(text)),
  log_id: perhaps(text),
  log_name: perhaps(text),
  demo: perhaps(yesNo),
  backup: perhaps(group({ made: perhaps(text), days: perhaps(number), problem: text })),
});

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
  for (const watcher of watchers) watcher(report);
}

/** Follow how delivery goes. @param {(report: Report) => void} watcher */
export function watch(watcher) {
  watchers.add(watcher);
  watcher(report);
  return () => watchers.delete(watcher);
}

/** Bring the outbox home. @returns {Promise<boolean>} whether there was any */
async function send() {
  const entries = (await entriesWaiting()).map(bare);
  // The server writes a unit's entries in one go, so they travel together, oldest first.
  entries.sort((one, other) => (one.unit < other.unit ? -1 : Number(one.unit > other.unit)));
  const numbers = new Set();
  /** @type {{some: Entry[], answer: Promise<{answers: Answer[]}>}[]} */
  const underWay = [];
  let most = 1;
  // What is on its way may arrive in any order, but one entry of a unit never overtakes another.
  const post = () => {
    while (entries.length && underWay.length < most && underWay[0]?.some.at(-1)?.unit !== entries[0].unit) {
      const some = entries.splice(0, wholeUnits(entries));
      const answer = askJson("/api/log", areAnswers, "POST", { entries: some, sent: now() });
      answer.catch(() => {});
      underWay.push({ some, answer });
    }
  };
  for (post(); underWay.length; ) {
    const { some, answer } = underWay[0];
    const start = performance.now();
    const { answers } = await answer;
    underWay.shift();
    // Where answers come quickly, the server need not wait for this phone, which writes down meanwhile what is home.
    most = performance.now() - start < QUICK_MS ? 2 : 1;
    post();
    await note(answers, some);
    for (const { seq } of answers) numbers.add(seq);
  }
  // What came home in one row after all that this phone has read need not be read back.
  const after = await fact("after", 0);
  let upTo = after;
  while (numbers.has(upTo + 1)) upTo += 1;
  if (upTo > after) await remember("after", upTo);
  return numbers.size > 0;
}

/**
 * How many of these, sorted by unit, make a batch that breaks off within no unit, if it can be had.
 * @param {{unit: string}[]} entries
 */
function wholeUnits(entries) {
  let size = batch;
  while (size && entries[size]?.unit === entries[size - 1]?.unit && entries[size]) size -= 1;
  return size || batch;
}

/** Read what is new. @returns {Promise<boolean>} whether there was any */
async function receive() {
  for (let any = false; ; any = true) {
    const after = await fact("after", 0);
    const page = await ask(`/api/log?after=${after}&most=${PAGE}`, isPage);
    if (!page.entries.length) return any;
    await take(page.entries, page.next);
    if (!page.more) return true;
  }
}

/**
 * Keep what the workshop says of its log: what is wrong with it, and how old its last backup is.
 * @template {"problems" | "backup"} Name
 * @param {Name} name @param {import("./store.js").Facts[Name]} content
 */
async function keep(name, content) {
  if (JSON.stringify(content) === JSON.stringify(await fact(name))) return;
  await remember(name, content);
  changed();
}

/** @param {boolean} quietly a look every while is no news */
async function run(quietly) {
  if (!quietly) tell("busy");
  try {
    const { log, problems, log_id, log_name, demo, backup } = await ask("/api/health", isHealth);
    if (log_id && !(await isOwn({ id: log_id, name: log_name ?? "", demo: demo ?? false })))
      return tryLater("elsewhere");
    // A log shorter than what this phone has read of it was put back from a backup: what it lost is here.
    if (log < (await fact("after", 0))) await bringBack(log);
    const sent = await send();
    if ((await receive()) || sent) changed();
    await sendPhotos();
    await keep("problems", problems ?? []);
    await keep("backup", backup ?? null);
    wait = FIRST_WAIT_MS;
    batch = MOST;
    tell("idle");
    timer = setTimeout(() => document.visibilityState === "visible" && deliver(true), LOOK_AGAIN_MS);
    return true;
  } catch (error) {
    const { message } = /** @type {Error} */ (error);
    if (error instanceof Offline) {
      batch = Math.max(LEAST, Math.floor(batch / 2));
      return tryLater("offline");
    }
    return tryLater(error instanceof NotPaired ? "unpaired" : "failed", message);
  }
}

/** @param {State} state @param {string} [reason] */
function tryLater(state, reason = "") {
  tell(state, reason);
  timer = setTimeout(() => deliver(), wait);
  wait = Math.min(2 * wait, LONGEST_WAIT_MS);
  return false;
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
  /** What Background Sync adds. @typedef {{sync?: {register: (tag: string) => Promise<void>}}} Syncing */
  const registration = await navigator.serviceWorker?.getRegistration();
  const { sync } = /** @type {Syncing} */ (registration ?? {});
  await sync?.register("slipbook-outbox").catch(() => {});
}
