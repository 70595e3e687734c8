// @ts-check
// Large files from the workshop's PC and to it, with how far they are.

import { ask, Offline, request } from "./access.js";
import { deliver } from "./delivery.js";
import { ownLog } from "./logs.js";
import { group, list, number, text, yesNo } from "./shape.js";

// A log with all its photos over a poor network.
const LONGEST_MS = 60 * 60 * 1000;
const PIECE = 1000 * 1000;
const MB = 1000 * 1000;

/** Hears how far something is: a share of all, or nothing. @typedef {(share: number | undefined) => void} Tell */

/** A size as people read it. @param {number} bytes */
export const size = (bytes) => (bytes < MB ? `${Math.ceil(bytes / 1000)} kB` : `${(bytes / MB).toFixed(1)} MB`);

/** How long something took, as people read it. @param {number} since by `performance.now` */
const took = (since) => `${((performance.now() - since) / 1000).toFixed(1)} s`;

/** @param {string} path @param {Tell} tell */
async function fetched(path, tell) {
  const since = performance.now();
  tell(undefined);
  const answer = await request(path, undefined, LONGEST_MS);
  const all = Number(answer.headers.get("Content-Length") ?? 0);
  const fileName = /filename="([^"]+)"/.exec(answer.headers.get("Content-Disposition") ?? "")?.[1] ?? "slipbook";
  const type = answer.headers.get("Content-Type") ?? "";
  const pieces = [];
  let size = 0;
  const reader = answer.body?.getReader();
  try {
    for (;;) {
      const { done, value } = (await reader?.read()) ?? { done: true };
      if (done || !value) break;
      pieces.push(value);
      size += value.length;
      tell(all ? size / all : undefined);
    }
  } catch {
    throw new Offline("The connection to the workshop's PC broke off: nothing was saved. Try again.");
  }
  return { file: new File(pieces, fileName, { type }), answer, took: took(since) };
}

const isAbout = group({ entries: number, last: number, faults: list(text) });

/** The whole log as a file. @param {Tell} tell */
export async function wholeBackup(tell) {
  const { answer, ...rest } = await fetched("/api/backup", tell);
  /** @type {unknown} */
  const about = JSON.parse(answer.headers.get("Slipbook-Backup") ?? "null");
  return { ...rest, about: isAbout(about) ? about : { entries: 0, last: 0, faults: [] } };
}

/** The whole log as a table. @param {"csv" | "xlsx"} form @param {URLSearchParams} chosen @param {Tell} tell */
export const wholeTable = (form, chosen, tell) =>
  fetched(`/api/table${form === "csv" ? "" : "/workbook"}?all=true&${chosen}`, tell);

const isUnit = group({ unit: text, name: text, new: number, there: number, only_here: number });
const isLook = group({
  accepted: text,
  may: yesNo,
  says: list(text),
  new: number,
  new_photos: number,
  units: list(isUnit),
  more_units: number,
});

/** What a backup would change. @typedef {Awaited<ReturnType<typeof lookAt>>} Look */

/** Send a backup to the workshop's PC, and read what it would change. @param {File} file @param {Tell} tell */
export async function lookAt(file, tell) {
  const headers = { "Content-Type": "application/octet-stream" };
  tell(0);
  for (let at = 0; ; ) {
    const body = file.slice(at, at + PIECE);
    const { size } = await ask(`/api/backup/pieces?at=${at}`, group({ size: number }), {
      method: "POST",
      headers,
      body,
    });
    at = size;
    tell(at / file.size);
    if (at >= file.size) break;
  }
  tell(undefined);
  return ask("/api/backup/look", isLook, { method: "POST" }, LONGEST_MS);
}

const isDone = group({
  stored: number,
  there: number,
  refused: number,
  photos: number,
  looked_at: number,
  all: number,
  finished: yesNo,
});

/** Bring back what was looked at. @param {string} accepted @param {string} yes as it was typed @param {Tell} tell */
export async function bringBack(accepted, yes, tell) {
  const since = performance.now();
  const sent = { method: "POST", headers: { "Content-Type": "application/json" } };
  tell(0);
  for (;;) {
    const body = JSON.stringify({ accepted, yes });
    const done = await ask("/api/backup/bring-back", isDone, { ...sent, body }, LONGEST_MS);
    tell(done.looked_at / done.all);
    if (done.finished) return { ...done, took: took(since) };
  }
}

/** Whether another log than this page's answers now: an empty one has become the one that was brought back. */
export async function isAnotherNow() {
  // It notes which log it meets, so that a page that is loaded anew shows that one.
  await deliver();
  const { log_id } = await ask("/api/health", group({ log_id: text }));
  return log_id !== (await ownLog())?.id;
}
