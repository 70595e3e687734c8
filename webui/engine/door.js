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

/** @typedef {import("./calculations.js").Calculations} Calculations */
/**
 * @template {keyof Calculations} Name
 * @typedef {import("./calculations.js").RequestOf<Name>} RequestOf
 */
/**
 * @template {keyof Calculations} Name
 * @typedef {import("./calculations.js").ResultOf<Name>} ResultOf
 */

/**
 * @typedef {object} Waiting
 * @property {keyof Calculations} name
 * @property {string} text
 * @property {number} tried
 * @property {Asker[]} askers at least one
 */
/** Who waits for an answer. @typedef {{resolve: (result: unknown) => void, reject: (error: Error) => void}} Asker */

/**
 * What the worker says: that it is ready or dead, or what came of the call with a number.
 * @typedef {{ready?: boolean, dead?: string, id: number, text: string, grown?: boolean, failed?: string}} Said
 */
/** What comes of a call. @typedef {{ok?: unknown, bad?: {field: string, reason: string}}} Outcome */

/** @type {Worker | undefined} */
let worker;
/** Calls that are not answered yet, by number, oldest first. @type {Map<number, Waiting>} */
const waiting = new Map();
let last = 0;

/** A calculation changes nothing, so a worker that died may be asked the same again, once. @param {string} reason */
function restart(reason) {
  worker?.terminate();
  worker = undefined;
  for (const [id, question] of waiting) {
    if (question.tried > 1) {
      waiting.delete(id);
      for (const { reject } of question.askers) reject(new Error(`The engine stopped: ${reason}`));
    } else send(id, question);
  }
}

/** @returns {Worker} */
function running() {
  if (worker) return worker;
  const fresh = new Worker("/engine/worker.js", { type: "module" });
  worker = fresh;
  fresh.onerror = (event) => {
    if (worker === fresh) restart(event.message ?? "its files could not be loaded");
  };
  fresh.onmessage = (/** @type {MessageEvent<Said>} */ { data }) => {
    if (worker !== fresh || data.ready) return;
    if (data.dead) return restart(data.dead);
    const question = waiting.get(data.id);
    waiting.delete(data.id);
    if (data.grown && !waiting.size) {
      // It did something large, and would be slow from now on.
      fresh.terminate();
      worker = undefined;
      warm();
    }
    for (const asker of question?.askers ?? []) tell(asker, data);
  };
  return fresh;
}

/** Each gets an answer of its own, which it may change. @param {Asker} asker @param {Said} said */
function tell({ resolve, reject }, { failed, text }) {
  if (failed) return reject(new Error(failed));
  /** @type {Outcome} */
  const { ok, bad } = JSON.parse(text);
  if (bad) reject(new BadInput(bad.field, bad.reason));
  else resolve(ok);
}

/** @param {number} id @param {Waiting} question */
function send(id, question) {
  question.tried += 1;
  running().postMessage({ id, name: question.name, text: question.text });
}

/**
 * Start the engine now, so that the first verdict does not wait for it.
 * @param {keyof Calculations} [name] what it will be asked
 */
export function warm(name) {
  if (name) running().postMessage({ name });
  else running();
}

/**
 * Ask the engine.
 * @template {keyof Calculations} Name
 * @param {Name} name the calculation
 * @param {RequestOf<Name>} request plain values, numbers as they were typed
 * @returns {Promise<ResultOf<Name>>} its result; rejects with BadInput where it refuses
 */
export function calc(name, request) {
  return new Promise((resolve, reject) => {
    const text = JSON.stringify({ calc: name, request });
    // What the worker answers to this text is the result of this calculation.
    const asker = { resolve: /** @type {Asker["resolve"]} */ (resolve), reject };
    // A list that is drawn anew while it is filled asks for the same again.
    const same = [...waiting.values()].find((question) => question.text === text);
    if (same) {
      same.askers.push(asker);
      return;
    }
    const id = ++last;
    const question = { name, text, tried: 0, askers: [asker] };
    waiting.set(id, question);
    send(id, question);
  });
}

/**
 * Ask the engine about what is still being typed. It refuses what is missing and any choice that it does not know, so
 * that what it answered is a whole request.
 * @template {keyof Calculations} Name
 * @param {Name} name the calculation
 * @param {import("./calculations.js").AsTyped<RequestOf<Name>>} typed
 * @returns {Promise<{request: RequestOf<Name>, result: ResultOf<Name>}>} rejects with BadInput where it refuses
 */
export async function judge(name, typed) {
  const request = /** @type {RequestOf<Name>} */ (typed);
  return { request, result: await calc(name, request) };
}

/** A kind of entry, as the engine's record of it has it. @typedef {ResultOf<"about">["kinds"][string]} Kind */

/** @type {Promise<ResultOf<"about">> | undefined} */
let about;

/** The engine's version, and the kinds of entry that it judges. */
export function engine() {
  about ??= calc("about", {});
  about.catch(() => (about = undefined));
  return about;
}
