// @ts-check
// What went wrong, in a sentence, also where it was the phone's storage: browsers give those reasons no words, or words
// for programmers.

import { DEVICE } from "./device.js";

// What Chromium was seen to answer on a phone without room: the first where the browser's share is used up, the others
// where the disk itself is full, as it was before and once the database had to be closed.
const OF_STORAGE = ["QuotaExceededError", "DataError", "UnknownError", "AbortError", "InvalidStateError"];

const TO_DELETE = DEVICE === "PC" ? "files" : "photos, films or apps";
const FULL =
  `This ${DEVICE} cannot store anything more, most likely because it is full: delete ${TO_DELETE} that you do ` +
  "not need, then try again. What it had stored before stays.";

/** A sentence that says what to do, or what the error itself says. @param {unknown} error */
export function reasonOf(error) {
  if (error instanceof DOMException && OF_STORAGE.includes(error.name)) return FULL;
  return error instanceof Error ? error.message || error.name : String(error);
}
