// @ts-check
// The one door to the engine. The worker behind it starts with the first import and answers in order.

/** A request that the engine refused: `field` is the dotted path of the field at fault, `reason` what to do about it. */
export class BadInput extends Error {
  /** @param {string} field @param {string} reason */
  constructor(field, reason) {
    super(reason);
    this.field = field;
    this.reason = reason;
  }
}

/** @typedef {{resolve: (result: any) => void, reject: (error: Error) => void}} Waiting */

/** @type {Worker | undefined} */
let worker;
/** @type {Map<number, Waiting>} */
const waiting = new Map();
let last = 0;

/** @param {string} reason */
function giveUp(reason) {
  worker?.terminate();
  worker = undefined;
  // The next call starts a new worker; those that wait must not hang.
  for (const { reject } of waiting.values()) reject(new Error(`The engine stopped: ${reason}`));
  waiting.clear();
}

/** @returns {Worker} */
function running() {
  if (worker) return worker;
  worker = new Worker(new URL("./worker.js", import.meta.url), { type: "module" });
  worker.onerror = (event) => giveUp(event.message ?? "its files could not be loaded");
  worker.onmessage = ({ data }) => {
    if (data.ready) return;
    const asked = waiting.get(data.id);
    if (!asked) return data.failed && giveUp(data.failed);
    waiting.delete(data.id);
    if (data.failed) return asked.reject(new Error(data.failed));
    const { ok, bad } = JSON.parse(data.text);
    if (bad) asked.reject(new BadInput(bad.field, bad.reason));
    else asked.resolve(ok);
  };
  return worker;
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
    waiting.set(id, { resolve, reject });
    running().postMessage({ id, text: JSON.stringify({ calc: name, request }) });
  });
}
