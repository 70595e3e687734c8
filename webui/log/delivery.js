// @ts-check
// Brings the outbox home, and what others wrote to this phone. Sending twice is harmless: the log is a set.

import { ask, NotPaired, Offline, Refused } from "./access.js";
import { isSamples } from "./book.js";
import { changed } from "./changes.js";
import { healthAddress, isMet, lookAtClock, noteMeeting } from "./clock.js";
import { compare, compareOnce } from "./compare.js";
import { isEntry } from "./entries.js";
import { dropErased } from "./erasures.js";
import { NOT_LET_IN } from "./kinds.js";
import { ownLog } from "./logs.js";
import { isOwn } from "./other-logs.js";
import { sendPhotos } from "./photo-delivery.js";
import { send, sendFewer, sendMany } from "./sending.js";
import { group, list, number, perhaps, text, yesNo } from "./shape.js";
import { reasonOf } from "./storage-fault.js";
import { fact, remember, take } from "./store.js";

// As the workshop's own network answers a question that takes it no work.
const NEAR_MS = 200;
const PAGE = 500;
const FIRST_WAIT_MS = 2000;
const LONGEST_WAIT_MS = 120000;
// A browser may put a tab to sleep in the middle of a delivery; another does not wait for it for ever.
const LONGEST_TURN_MS = 15000;
// Who works at the bench, and who packs the phone, look at the same log.
const LOOK_AGAIN_MS = 45000;

/** @typedef {"idle" | "busy" | "offline" | "failed" | "unpaired" | "elsewhere"} State elsewhere: another log answers */
/** @typedef {{state: State, reason: string, at: number}} Report */

const isPage = group({
  entries: list(isEntry),
  next: number,
  more: yesNo,
  before: perhaps(text),
  log_id: perhaps(text),
});
/** A page of the log. @typedef {typeof isPage extends import("./shape.js").Fits<infer Page> ? Page : never} Page */
const isHealth = group({
  log: number,
  problems: perhaps(list(text)),
  log_id: perhaps(text),
  log_name: perhaps(text),
  demo: perhaps(yesNo),
  role: perhaps(text),
  address: perhaps(text),
  backup: perhaps(group({ made: perhaps(text), days: perhaps(number), problem: text })),
  generation: perhaps(text),
  came_back: perhaps(number),
  returned: perhaps(list(group({ source: text, entries: number, photos: number, at: text }))),
});

/** @type {Report} */
let report = { state: isSamples ? "idle" : "busy", reason: "", at: 0 };
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

/** @param {number} after */
const pageAfter = (after) => ask(`/api/log?after=${after}&most=${PAGE}`, isPage);

/**
 * On a first visit, the log's first page is on its way beside the question which log it is.
 * @returns {Promise<{page?: Promise<Page | undefined>}>}
 */
async function firstPage() {
  const [after, met] = await Promise.all([fact("after", 0), ownLog()]);
  // Where it does not come, it is asked for again, and that tells why.
  return after || met ? {} : { page: pageAfter(0).catch(() => undefined) };
}

/**
 * Read what is new.
 * @param {Page} [first] the log's first page, if it is here
 * @returns {Promise<boolean>} whether there was any
 */
async function receive(first) {
  for (let any = false; ; any = true) {
    const [after, mark] = await Promise.all([fact("after", 0), fact("mark", "")]);
    const page = !after && first ? first : await pageAfter(after);
    if (mark && page.before !== undefined && page.before !== mark) {
      // Somebody put an older copy of the data folder in its place, by hand.
      await compare();
      await send();
      continue;
    }
    if (!page.entries.length) return any;
    await take(page.entries, page.next);
    if (!page.more) return true;
  }
}

/**
 * Keep what the workshop says of its log: what is wrong with it, what came back to it, how old its last backup is; and
 * what this phone may do there.
 * @template {"problems" | "backup" | "returned" | "role" | "address"} Name
 * @param {Name} name @param {import("./store.js").Facts[Name]} content
 */
async function keep(name, content) {
  if (JSON.stringify(content) === JSON.stringify(await fact(name))) return;
  await remember(name, content);
  changed();
}

async function run() {
  try {
    await lookAtClock();
    const { page } = await firstPage();
    const asked = performance.now();
    const health = await ask(healthAddress(), isHealth);
    const isNear = performance.now() - asked < NEAR_MS;
    const { log_id: id, log_name: name, demo, role } = health;
    if (id && !(await isOwn({ id, name: name ?? "", demo: demo ?? false }, Boolean(role))))
      return tryLater("elsewhere");
    if (isMet(health)) await noteMeeting(health);
    await keep("address", health.address ?? "");
    if (role !== undefined) await keep("role", role ?? NOT_LET_IN);
    // A log that was put back from a backup may lack what is here, and the other way round.
    if (health.generation) await compareOnce(health.generation, health.came_back ?? 0);
    const sent = await send(isNear);
    const first = sent ? undefined : await page;
    // Between the two answers, another log may have come to this address.
    if ((await receive(first?.log_id === id ? first : undefined)) || sent) changed();
    await dropErased();
    const photos = await sendPhotos();
    // What this phone brought just now may have filled a gap.
    const after = sent || photos ? await ask("/api/health", isHealth) : health;
    await keep("problems", after.problems ?? []);
    await keep("backup", after.backup ?? null);
    await keep("returned", after.returned ?? []);
    wait = FIRST_WAIT_MS;
    sendMany();
    tell("idle");
    timer = setTimeout(() => document.visibilityState === "visible" && deliver(true), LOOK_AGAIN_MS);
    return true;
  } catch (error) {
    if (error instanceof Offline) {
      sendFewer();
      return tryLater("offline");
    }
    const reason = reasonOf(error);
    if (error instanceof NotPaired) return tryLater("unpaired", reason);
    return tryLater("failed", error instanceof Refused ? `The workshop did not accept it: ${reason}` : reason);
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
 * Do this while no other tab does, but do it: without locks (a very old browser), or where a tab that sleeps holds the
 * lock, two may send the same, and the server answers "already there".
 * @param {() => Promise<boolean>} act
 */
async function inTurn(act) {
  if (!navigator.locks) return act();
  const waiting = new AbortController();
  const end = setTimeout(() => waiting.abort(), LONGEST_TURN_MS);
  try {
    return await navigator.locks.request("slipbook-delivery", { signal: waiting.signal }, () => {
      clearTimeout(end);
      return act();
    });
  } catch (error) {
    if (!waiting.signal.aborted) throw error;
    return act();
  }
}

/**
 * Deliver now; one tab at a time, the others wait for their turn.
 * @param {boolean} [quietly] a look every while is no news
 * @returns {Promise<boolean>} whether all went home
 */
export function deliver(quietly = false) {
  if (isSamples) return Promise.resolve(true);
  clearTimeout(timer);
  // Before its turn comes: from the moment that something was saved until it is home, nothing is up to date.
  if (!quietly) tell("busy");
  if (running) {
    // What was saved meanwhile is not in the batches that are on their way.
    again = true;
    return running;
  }
  running = inTurn(run).finally(() => {
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
