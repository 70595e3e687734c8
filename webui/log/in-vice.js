// @ts-check
// Units whose spring a vice alone holds, by the guided strip or close that was begun on this phone and not finished.

import { draftKeys, peekDraft } from "./drafts.js";
import { group, perhaps, text } from "./shape.js";

/**
 * What the guide's draft says of it.
 * @typedef {object} InVice
 * @property {string} since when the vice took it
 * @property {string} by who did it; empty where no name was known
 * @property {boolean} screwsOut
 * @property {string} to the address of the guide
 */

const isLeft = group({ heldSince: text, heldBy: perhaps(text) });
const GUIDED = /^(?:strip|close)\/([\w-]+)(?:\/|$)/;

/** By the id of the unit. @returns {Promise<Map<string, InVice>>} */
export async function inVice() {
  /** @type {Map<string, InVice>} */
  const left = new Map();
  for (const key of await draftKeys()) {
    const unit = GUIDED.exec(key)?.[1];
    const content = unit && (await peekDraft(key));
    if (!unit || !isLeft(content)) continue;
    const [procedure, , corrected] = key.split("/");
    left.set(unit, {
      since: content.heldSince,
      by: content.heldBy ?? "",
      screwsOut: "screwsOut" in content && content.screwsOut === true,
      to: `#/unit/${unit}/${procedure}${corrected ? `/${corrected}` : ""}`,
    });
  }
  return left;
}
