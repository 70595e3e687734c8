// @ts-check
// The one door to the engine. The worker behind it starts with the first call and answers in order.

/**
 * A request that the engine refused: `field` is the dotted path of the field at fault, `reason` what to do about
 * it.
 */
export class BadInput extends Error {
  /** @param {string} field @param {string} reason */
  constructor(field, reason) {
    super(reason);
    this.field = field;
    this.reason = reason;
  }
}

/** @typedef {{text: string, tried: number, resolve: (result: any) => void, reject: (error: Error) => void}} Waiting */

/** @type {Worker | undefined} */
let worker;
/** Calls that are not answered yet, by number, oldest first. @type {Map<number, Waiting>} */
const waiting = new Map();
let last = 0;

/** A calculation changes nothing, so a worker that died may be asked the same again, once. @param {string} reason */
function restart(reason) {
  worker?.terminate();
  worker = undefined;
  for (const [id, asked] of waiting) {
    if (asked.tried > 1) {
      waiting.delete(id);
      asked.reject(new Error(`The engine stopped: ${reason}`));
    } else send(id, asked);
  }
}

/** @returns {Worker} */
function running() {
  if (worker) return worker;
  const fresh = new Worker(new URL("./worker.js", import.meta.url), { type: "module" });
  worker = fresh;
  fresh.onerror = (event) => {
    if (worker === fresh) restart(event.message ?? "its files could not be loaded");
  };
  fresh.onmessage = ({ data }) => {
    if (worker !== fresh || data.ready) return;
    if (data.dead) return restart(data.dead);
    const asked = waiting.get(data.id);
    waiting.delete(data.id);
    if (data.grown && !waiting.size) {
      // It did something large, and would be slow from now on.
      fresh.terminate();
      worker = undefined;
      warm();
    }
    if (data.failed) return asked?.reject(new Error(data.failed));
    const { ok, bad } = JSON.parse(data.text);
    if (bad) asked?.reject(new BadInput(bad.field, bad.reason));
    else asked?.resolve(ok);
  };
  return fresh;
}

/** @param {number} id @param {Waiting} asked */
function send(id, asked) {
  asked.tried += 1;
  running().postMessage({ id, text: asked.text });
}

/** Start the engine now, so that the first verdict does not wait for it. */
export function warm() {
  running();
}

/**
 * Ask the engine.
 * @param {string} name the calculation
 * @param {object} request plain values, numbers as they were typed
 * @returns {Promise<any>} its result; rejects with BadInput where it refuses
 */
export function calc(name, request) {
  return new Promise((resolve, reject) => {
    const id = ++last;
    const asked = { text: JSON.stringify({ calc: name, request }), tried: 0, resolve, reject };
    waiting.set(id, asked);
    send(id, asked);
  });
}

/**
 * @typedef {object} Kind a kind of entry, as the engine's record of it has it
 * @property {number} version of the body's form
 * @property {string} meaning what an entry of it says
 * @property {string} nouns what several of them are called in a sentence
 * @property {string} calculation the one that judges its body
 * @property {"unit" | "shop" | "either"} about
 * @property {string[]} writers roles that may write it
 * @property {boolean} is_look whether somebody who wrote it looked at the unit itself
 * @property {[string, string][]} tables of judged parts in its result: name in the result, heading
 * @property {string} corrected_on name of the screen on which it is corrected, in its address; empty for none
 */

/**
 * @type {Promise<{
 *   version: string, kinds: Record<string, Kind>, permitted_percent: Record<string, number>,
 * }> | undefined}
 */
let about;

/** The engine's version, and the kinds of entry that it judges. */
export function engine() {
  about ??= calc("about", {});
  about.catch(() => (about = undefined));
  return about;
}
