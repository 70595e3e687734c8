// @ts-check
// How this phone shows the workshop that it was let in.

import { isSamples } from "./book.js";
import { DEVICE } from "./device.js";
import { ownLog } from "./logs.js";
import { group, text } from "./shape.js";
import { fact, now, remember } from "./store.js";

const ANSWER_WITHIN_MS = 30000;
const OUT_OF_REACH = "The workshop cannot be reached: go nearer or try again later.";
const ALONE = `The sample book is on this ${DEVICE} alone: go back to your log for what the workshop has.`;
const NOT_UNDERSTOOD = `The workshop answered in a way that this ${DEVICE} does not understand: reload Slipbook.`;

const isPaired = group({ token: text, device: group({ name: text, role: text }) });

/** No connection, or one so poor that nothing came back. */
export class Offline extends Error {}

/** The workshop knows no device with this phone's token: it has to be paired, for the first time or again. */
export class NotPaired extends Error {}

/** The workshop refused what was asked. */
export class Refused extends Error {
  /** @param {string} reason @param {number} status @param {{field: string, reason: string}[]} errors */
  constructor(reason, status, errors) {
    super(reason);
    this.status = status;
    this.errors = errors;
  }
}

/** @typedef {Record<string, string>} Pass headers by which the workshop knows who asks, and for which log */

/**
 * This phone's token, if it has one, and the log that is meant: another one refuses what is asked.
 * @returns {Promise<Pass>}
 */
export async function ownPass() {
  const [token, log] = await Promise.all([fact("token", ""), ownLog()]);
  /** @type {Pass} */
  const pass = {};
  if (token) pass.Authorization = `Bearer ${token}`;
  if (log) pass["Slipbook-Log"] = log.id;
  return pass;
}

/**
 * Ask the workshop's Slipbook.
 * @param {string} path @param {RequestInit} [options]
 * @param {number} [within] how long the whole answer may take, in milliseconds
 * @param {Pass} [known] with it the request is on its way at once
 * @returns {Promise<Response>} an answer that is no error
 * @throws {Offline | NotPaired | Refused}
 */
export async function request(path, options = {}, within = ANSWER_WITHIN_MS, known = undefined) {
  if (isSamples) throw new Offline(ALONE);
  const whole = { ...options, headers: { ...options.headers, ...(known ?? (await ownPass())) } };
  let answer;
  try {
    answer = await fetch(path, { ...whole, signal: AbortSignal.timeout(within) });
  } catch {
    throw new Offline(OUT_OF_REACH);
  }
  if (answer.ok) return answer;
  /** @type {{detail?: string, title?: string, errors?: {field: string, reason: string}[]}} */
  const body = await answer.json().catch(() => ({}));
  const reason = body.detail ?? body.title ?? `The server answered ${answer.status}.`;
  throw answer.status === 401 ? new NotPaired(reason) : new Refused(reason, answer.status, body.errors ?? []);
}

/**
 * The same, for an answer in JSON.
 * @template Answer
 * @param {string} path
 * @param {import("./shape.js").Fits<Answer>} fits whether it has what is needed of it
 * @param {RequestInit} [options]
 * @param {number} [within] how long the answer may take, in milliseconds
 * @param {Pass} [known]
 * @returns {Promise<Answer>}
 */
export async function ask(path, fits, options, within = undefined, known = undefined) {
  const answer = await request(path, options, within, known);
  /** @type {unknown} */
  const content = await answer.json().catch(() => {
    // It broke off on its way.
    throw new Offline(OUT_OF_REACH);
  });
  if (!fits(content)) throw new Error(NOT_UNDERSTOOD);
  return content;
}

/**
 * Ask for JSON, or send some and read the answer.
 * @template Answer
 * @param {string} path
 * @param {import("./shape.js").Fits<Answer>} fits whether it has what is needed of it
 * @param {string} [method]
 * @param {unknown} [body]
 * @param {Pass} [known]
 */
export function askJson(path, fits, method = "GET", body = undefined, known = undefined) {
  const sent =
    body === undefined ? {} : { headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) };
  return ask(path, fits, { method, ...sent }, undefined, known);
}

/** Be nobody to the workshop again; at its own PC that is enough to get in. */
export async function forgetPairing() {
  await remember("token", "");
  await remember("paired", null);
  // The workshop says anew what this device may do.
  await remember("role", "");
}

/**
 * Come in with a code from the workshop's PC. What waits in the outbox stays as it is.
 * @param {string} code @param {string} name what the device shall be called
 */
export async function pair(code, name) {
  const { token, device } = await askJson("/api/pair", isPaired, "POST", { code, name });
  await remember("paired", { name: device.name, role: device.role, at: now() });
  await remember("role", device.role);
  // Last, since a delivery goes by all three once it has this.
  await remember("token", token);
  return device;
}
