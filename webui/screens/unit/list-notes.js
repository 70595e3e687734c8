// @ts-check
// What is to be said of a unit in a list or a table besides its figures: what is half typed, and what warns.

import { DEVICE } from "../../log/device.js";
import { when } from "../form/fields.js";

/** @typedef {import("../../log/stands.js").Listed} Listed */
/** @typedef {Pick<import("./list.js").UnitList, "refused" | "inVice" | "hand">} Known */

/** So few are found by eye. */
export const FEW = 5;

/** Groups of what is in hand. */
export const GROUPS = { typed: "Half typed", used: `Last used on this ${DEVICE}`, due: "Due", others: "Other units" };

/** What is half typed, in words. @type {Record<string, string>} */
const FORMS = {
  check: "torque check",
  plates: "plates",
  refit: "refit",
  rebuild: "rebuild",
  strip: "stripping",
  close: "closing",
  note: "note",
  springs: "springs",
  rings: "ramp rings",
  inspect: "other parts",
  outing: "outing",
  service: "service",
  unit: "how it is built",
};

/** @param {import("../../log/in-vice.js").InVice} left */
function heldByVice({ since, by, screwsOut }) {
  const screws = screwsOut ? ": screws are out" : "";
  return `Spring held by a vice${screws}, since ${when(since)}${by ? ` by ${by}` : ""}`;
}

/** What is half typed of a unit; empty where nothing is. @param {Listed} unit @param {Known} known */
export function halfTyped({ unit_id }, { hand }) {
  const typed = unit_id ? hand.typed.get(unit_id) : undefined;
  return typed ? `Half typed: ${typed.map((form) => FORMS[form]).join(", ")}` : "";
}

/** What warns of a unit. @param {Listed} unit @param {Known} known @returns {string[]} */
export function warnings({ unit_id, findings, replaced }, { refused, inVice }) {
  const left = unit_id ? inVice.get(unit_id) : undefined;
  const doubtful = refused.some((entry) => entry && entry.unit === unit_id && !replaced[entry.id]);
  return [
    ...findings.map(({ title }) => title),
    ...(left ? [heldByVice(left)] : []),
    ...(doubtful ? ["Includes an entry that the workshop did not take"] : []),
  ];
}
