// @ts-check
// A refit as it is typed, and the request that it makes.

import { BACKLASH_POINTS, BEARING_READINGS, SCREW_READINGS } from "../../log/limits.js";
import { today } from "../../log/store.js";
import { quantity, typedOf, unitOf } from "../form/fields.js";
import { filled } from "../form/readings.js";

/**
 * @typedef {object} Part what is typed of one of the three
 * @property {string[]} readings
 * @property {string} low
 * @property {string} high
 * @property {string} uneven of backlash only
 * @property {string} toolId of the kit; empty for one that is typed
 * @property {any} tool the tool's figures, where it came from the kit or from the entry that is corrected
 * @property {string} division of a tool that is typed
 */

/** @typedef {"backlash" | "bearings" | "screws"} Name */

/** @typedef {{torqueUnit: string, lengthUnit: string} & Record<Name, Part>} RefitDraft */

/**
 * What differs between the three: how many readings the engine takes, their field, and the field of the tool.
 * @type {Record<Name, {si: "mm" | "nm", limits: {least: number, most: number}, field: string, tool: string}>}
 */
export const PARTS = {
  backlash: { si: "mm", limits: BACKLASH_POINTS, field: "points_mm", tool: "gauge" },
  bearings: { si: "nm", limits: BEARING_READINGS, field: "readings_nm", tool: "tool" },
  screws: { si: "nm", limits: SCREW_READINGS, field: "readings_nm", tool: "tool" },
};

export const NAMES = /** @type {Name[]} */ (Object.keys(PARTS));

/** @param {number} offered */
const blank = (offered) => ({
  readings: Array(offered).fill(""),
  low: "",
  high: "",
  uneven: "",
  toolId: "",
  tool: null,
  division: "",
});

/** @param {string} torqueUnit @param {string} lengthUnit @returns {RefitDraft} */
export function emptyRefit(torqueUnit, lengthUnit) {
  return { torqueUnit, lengthUnit, backlash: blank(4), bearings: blank(3), screws: blank(3) };
}

/** The unit that a part is typed in. @param {RefitDraft} draft @param {Name} name */
export function unitFor(draft, name) {
  return PARTS[name].si === "mm" ? draft.lengthUnit : draft.torqueUnit;
}

/**
 * The unit that an entry was typed in.
 * @param {any} body its request
 * @param {"mm" | "nm"} si
 * @param {string} otherwise where nothing of the kind was typed
 */
function unitAgain(body, si, otherwise) {
  const name = NAMES.find((part) => body[part] && PARTS[part].si === si);
  return name ? unitOf(body[name][PARTS[name].field][0], si) : otherwise;
}

/**
 * A draft from an entry.
 * @param {any} body its request
 * @param {RefitDraft} empty
 * @param {boolean} whole with what was read; else only its limits and tools, for the next time
 * @returns {RefitDraft}
 */
export function refitDraft(body, empty, whole) {
  const draft = structuredClone(empty);
  draft.lengthUnit = unitAgain(body, "mm", empty.lengthUnit);
  draft.torqueUnit = unitAgain(body, "nm", empty.torqueUnit);
  for (const name of NAMES.filter((part) => body[part])) {
    const { si, field, tool } = PARTS[name];
    const group = body[name];
    draft[name] = {
      readings: whole ? group[field].map(typedOf) : draft[name].readings,
      low: typedOf(group[`low_${si}`]),
      high: typedOf(group[`high_${si}`]),
      uneven: typedOf(group.uneven_mm),
      toolId: "",
      tool: group[tool] ?? null,
      division: "",
    };
  }
  return draft;
}

/**
 * A wrench of the kit as far as this check asks for it.
 * @param {any} wrench
 * @param {Record<string, number>} permitted percent by kind
 */
export function wrenchFor(wrench, permitted) {
  const { name, kind, division_nm, deviation_percent, certificate_percent, calibration_due } = wrench;
  return JSON.parse(
    JSON.stringify({
      name,
      division_nm,
      deviation_percent: deviation_percent ?? permitted[kind],
      certificate_percent,
      calibration_due,
    }),
  );
}

/** Parts of which something was read, but too little to judge. @param {RefitDraft} draft */
export function unfinished(draft) {
  return NAMES.filter((name) => {
    const count = filled(draft[name].readings).length;
    return count > 0 && count < PARTS[name].limits.least;
  });
}

/** Everything that is typed in one kind of unit. @param {RefitDraft} draft @param {"mm" | "nm"} si */
export const figuresOf = (draft, si) =>
  NAMES.filter((name) => PARTS[name].si === si).flatMap((name) => {
    const { readings, low, high, uneven, division } = draft[name];
    return [...readings, low, high, uneven, division];
  });

/** The request; nothing while too little was read. @param {RefitDraft} draft */
export function refitRequest(draft) {
  const read = NAMES.filter((name) => filled(draft[name].readings).length >= PARTS[name].limits.least);
  if (!read.length) return undefined;
  /** @type {Record<string, any>} */
  const request = { day: today(), write_in: draft.torqueUnit, write_lengths_in: draft.lengthUnit };
  for (const name of read) {
    const { si, field, tool } = PARTS[name];
    const typed = draft[name];
    const unit = unitFor(draft, name);
    const own = typed.division.trim() ? { [`division_${si}`]: quantity(typed.division, unit) } : {};
    request[name] = {
      [field]: filled(typed.readings).map((reading) => quantity(reading, unit)),
      [`low_${si}`]: quantity(typed.low, unit),
      [`high_${si}`]: quantity(typed.high, unit),
      ...(name === "backlash" ? { uneven_mm: quantity(typed.uneven, unit) } : {}),
      [tool]: { ...typed.tool, ...own },
    };
  }
  return JSON.parse(JSON.stringify(request));
}
