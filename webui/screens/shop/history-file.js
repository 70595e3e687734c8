// @ts-check
// A history in a spreadsheet, as the workshop's PC looks into it: what is sent, and what comes back.

import { askJson } from "../../log/access.js";
import { anything, group, list, number, text, yesNo } from "../../log/shape.js";

/**
 * How a file is read; what is empty is not sent.
 * @typedef {object} Settings
 * @property {string} file its name
 * @property {string} data in base64
 * @property {string} sheet
 * @property {Column[]} [columns] once somebody chose one
 * @property {string} unit
 * @property {{called: string, unit: string}[]} names
 * @property {string} torque_unit
 * @property {string} length_unit
 * @property {string} decimal
 * @property {string} days
 * @property {string} held
 * @property {object} [wrench]
 * @property {object} [micrometer]
 * @property {boolean} hidden
 * @property {string} who
 */

/** @typedef {{number: number, means: string, place: string}} Column */

const isRow = group({ row: number, reason: text });
const isMistake = group({ row: number, column: text, reason: text });
const isEntry = group({ row: number, day: text, name: text, who: text, there: yesNo, says: text });
const isColumn = group({ number, heading: text, means: text, place: text, samples: list(text) });

const isLook = group({
  preview: text,
  sheet: text,
  sheets: list(text),
  written_in: text,
  heading_row: number,
  empty: number,
  columns: list(isColumn),
  asks: list(group({ field: text, reason: text })),
  unknown_units: list(text),
  new: number,
  there: number,
  entries: list(isEntry),
  mistakes: list(isMistake),
  left_out: list(isRow),
});

const isDone = group({ stored: number, there: number, refused: number });
const areChoices = group({ choices: anything });

/**
 * What a file holds.
 * @typedef {Awaited<ReturnType<typeof lookInto>>} Look
 */

/** What was filled in. @param {Settings} settings */
const filled = (settings) =>
  Object.fromEntries(Object.entries(settings).filter(([, value]) => value !== "" && value !== undefined));

/** @param {Settings} settings */
export const lookInto = (settings) => askJson("/api/history/look", isLook, "POST", filled(settings));

/** Write what was looked at. @param {Settings} settings @param {string} accepted its preview */
export const importHistory = (settings, accepted) =>
  askJson("/api/history", isDone, "POST", { ...filled(settings), accepted });

/** What may be chosen, by field. @returns {Promise<Record<string, Record<string, string>>>} */
export async function choicesOf() {
  const { choices } = await askJson("/api/history", areChoices);
  return /** @type {Record<string, Record<string, string>>} */ (choices);
}

const areUnits = group({ units: list(group({ id: text, name: text })) });

/** The workshop's units. */
export const unitsThere = async () => (await askJson("/api/units", areUnits)).units;

/** A file in base64. @param {File} file @returns {Promise<string>} */
export const packed = (file) =>
  new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.onload = () => resolve(String(reader.result).replace(/^[^,]*,/, ""));
    reader.onerror = () => reject(new Error("This file cannot be read: choose it again."));
    reader.readAsDataURL(file);
  });
