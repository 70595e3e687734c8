// @ts-check
// Saves a unit to a file, to be sent to another workshop or kept.

import { today } from "../../log/store.js";
import { unitFile } from "../../log/unit-file.js";

/**
 * @param {string} unit
 * @param {string} name
 * @returns {Promise<string>} what to tell
 */
export async function saveUnit(unit, name) {
  const { text, entries, missing } = await unitFile(unit, name);
  const url = URL.createObjectURL(new Blob([text], { type: "application/json" }));
  const plainName = name
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-|-$/g, "");
  const file = `slipbook-${plainName || "unit"}-${today()}.json`;
  Object.assign(document.createElement("a"), { href: url, download: file }).click();
  setTimeout(() => URL.revokeObjectURL(url), 60000);
  const saved = `${entries} ${entries === 1 ? "entry is" : "entries are"} in ${file}.`;
  const photos = missing === 1 ? "1 photo is" : `${missing} photos are`;
  const lacking = missing ? ` ${photos} not in it: save it again where the workshop can be reached.` : "";
  return `${saved}${lacking} On another phone: Units, Import a unit from a file.`;
}
