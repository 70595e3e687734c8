// @ts-check
// How this phone shows the workshop that it was let in.

import { fact, now, remember } from "./store.js";

const ANSWER_WITHIN_MS = 30000;
const OUT_OF_REACH = "The workshop cannot be reached: go nearer or try again later.";

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

/** A request with this phone's token, if it has one. @param {RequestInit} [options] @returns {Promise<RequestInit>} */
export async function signed(options = {}) {
  const token = await fact("token", "");
  return token ? { ...options, headers: { ...options.headers, Authorization: `Bearer ${token}` } } : options;
}

/**
 * Ask the workshop's Slipbook.
 * @param {string} path @param {RequestInit} [options]
 * @returns {Promise<Response>} an answer that is no error
 * @throws {Offline | NotPaired | Refused}
 */
export async function request(path, options) {
  const whole = await signed(options);
  let answer;
  try {
    answer = await fetch(path, { ...whole, signal: AbortSignal.timeout(ANSWER_WITHIN_MS) });
  } catch {
    throw new Offline(OUT_OF_REACH);
  }
  if (answer.ok) return answer;
  const body = await answer.json().catch(() => ({}));
  const reason = body.detail ?? body.title ?? `The server answered ${answer.status}.`;
  throw answer.status === 401 ? new NotPaired(reason) : new Refused(reason, answer.status, body.errors ?? []);
}

/** The same, for an answer in JSON. @param {string} path @param {RequestInit} [options] @returns {Promise<any>} */
export async function ask(path, options) {
  const answer = await request(path, options);
  return answer.json().catch(() => {
    // It broke off on its way.
    throw new Offline(OUT_OF_REACH);
  });
}

/** Ask for JSON, or send some and read the answer. @param {string} path @param {string} [method] @param {any} [body] */
export function askJson(path, method = "GET", body = undefined) {
  const sent =
    body === undefined ? {} : { headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) };
  return ask(path, { method, ...sent });
}

/** Be nobody to the workshop again; at its own PC that is enough to get in. */
export async function forgetPairing() {
  await remember("token", "");
  await remember("paired", null);
}

/**
 * Come in with a code from the workshop's PC. What waits in the outbox stays as it is.
 * @param {string} code @param {string} name what the device shall be called
 */
export async function pair(code, name) {
  const { token, device } = await askJson("/api/pair", "POST", { code, name });
  await remember("token", token);
  await remember("paired", { name: device.name, role: device.role, at: now() });
  return device;
}
