// @ts-check
// Saves a unit to a file, to be sent to another workshop or kept.

import { unitFile } from "../../log/unit-file.js";
import { today } from "../../log/store.js";

/**
 * @param {string} unit
 * @param {string} name
 * @returns {Promise<string>} what to tell
 */
export async function saveUnit(unit, name) {
  const { text, entries, missing } = await unitFile(unit, name);
  const url = URL.createObjectURL(new Blob([text], { type: "application/json" }));
  const file = `slipbook-${
    name
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, "-")
      .replace(/^-|-$/g, "") || "unit"
  }-${today()}.json`;
  Object.assign(document.createElement("a"), { href: url, download: file }).click();
  setTimeout(() => URL.revokeObjectURL(url), 60000);
  const photos = missing
    ? ` ${missing === 1 ? "1 photo is" : `${missing} photos are`} not in it: save it again where the workshop can be reached.`
    : "";
  return `${entries} ${entries === 1 ? "entry is" : "entries are"} in ${file}.${photos} On another phone: Units, Take in a file.`;
}
