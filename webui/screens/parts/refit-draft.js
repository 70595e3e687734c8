// @ts-check
// A refit as it is typed, and the request that it makes.

import { BACKLASH_POINTS, BEARING_READINGS, SCREW_READINGS } from "../../log/limits.js";
import { today } from "../../log/store.js";
import { quantity, typedOf, unitOf } from "../form/fields.js";
import { filled } from "../form/readings.js";
import { emptySetting, figuresOfSetting, settingDraft, settingRequest } from "./setting-draft.js";

/** @typedef {import("../../engine/calculations.js").BodyOf<"refit">} Body */
/** @typedef {import("../../engine/calculations.js").AsTyped<Body>} Request */
/** @typedef {NonNullable<Body["bearings"]>["tool"]} TorqueTool */
/** @typedef {NonNullable<Body["backlash"]>["gauge"] | TorqueTool} RefitTool */
/** @typedef {import("../form/fields.js").Typed} Figure */

/**
 * @typedef {object} Part what is typed of one of the three
 * @property {string[]} readings
 * @property {string} low
 * @property {string} high
 * @property {string} uneven of backlash only
 * @property {string} [wanted] of backlash and bearings; drafts of older versions have none
 * @property {string} [rise] of bearings only: how much torque a shim adds
 * @property {string} [shim] of bearings only: that shim
 * @property {string} toolId of the kit; empty for one that is typed
 * @property {RefitTool | null} tool the tool's figures, where it came from the kit or from the entry that is corrected
 * @property {string} division of a tool that is typed
 */

/** @typedef {"backlash" | "bearings" | "screws"} Name */

/**
 * @typedef {{torqueUnit: string, lengthUnit: string} & Record<Name, Part> &
 *   import("./setting-draft.js").SettingDraft} RefitDraft
 */

/**
 * The three in the order of the work, and what differs between them: how many readings the engine takes, their
 * field, and the field of the tool.
 * @type {Record<Name, {si: "mm" | "nm", limits: {least: number, most: number}, field: string, tool: string}>}
 */
export const PARTS = {
  screws: { si: "nm", limits: SCREW_READINGS, field: "readings_nm", tool: "tool" },
  bearings: { si: "nm", limits: BEARING_READINGS, field: "readings_nm", tool: "tool" },
  backlash: { si: "mm", limits: BACKLASH_POINTS, field: "points_mm", tool: "gauge" },
};

export const NAMES = /** @type {Name[]} */ (Object.keys(PARTS));

/** @param {number} offered */
const blank = (offered) => ({
  readings: Array(offered).fill(""),
  low: "",
  high: "",
  uneven: "",
  wanted: "",
  rise: "",
  shim: "",
  toolId: "",
  tool: null,
  division: "",
});

/** @param {string} torqueUnit @param {string} lengthUnit @returns {RefitDraft} */
export function emptyRefit(torqueUnit, lengthUnit) {
  return { torqueUnit, lengthUnit, backlash: blank(4), bearings: blank(3), screws: blank(3), ...emptySetting() };
}

/** The unit that a part is typed in. @param {RefitDraft} draft @param {Name} name */
export function unitFor(draft, name) {
  return PARTS[name].si === "mm" ? draft.lengthUnit : draft.torqueUnit;
}

/**
 * What an entry holds of one of the three.
 * @param {Body} body its request
 * @param {Name} name
 * @returns {{readings: Figure[], low: Figure, high: Figure, uneven?: Figure, wanted?: Figure, rise?: Figure,
 *   shim?: Figure,
 *   tool: RefitTool} | undefined}
 */
function groupIn(body, name) {
  if (name === "backlash") {
    const { backlash: read } = body;
    if (!read) return undefined;
    const { points_mm: readings, low_mm: low, high_mm: high, uneven_mm: uneven, wanted_mm: wanted, gauge: tool } = read;
    return { readings, low, high, uneven, wanted, tool };
  }
  if (name === "bearings") {
    const { bearings: read } = body;
    if (!read) return undefined;
    const { readings_nm: readings, low_nm: low, high_nm: high, wanted_nm: wanted, tool } = read;
    return { readings, low, high, wanted, rise: read.rise_nm, shim: read.for_mm, tool };
  }
  const { [name]: read } = body;
  return read ? { readings: read.readings_nm, low: read.low_nm, high: read.high_nm, tool: read.tool } : undefined;
}

/**
 * The unit that an entry was typed in.
 * @param {Body} body its request
 * @param {"mm" | "nm"} si
 * @param {string} otherwise where nothing of the kind was typed
 */
function unitAgain(body, si, otherwise) {
  const typed = NAMES.filter((part) => PARTS[part].si === si).flatMap((part) => groupIn(body, part) ?? []);
  if (typed.length) return unitOf(typed[0].readings[0], si);
  const { behind_mm, tooth_mm, pinion_mm, step_mm } = body.shims ?? {};
  const shim = [behind_mm, tooth_mm, pinion_mm, step_mm].find((pack) => pack !== undefined && pack !== null);
  return si === "mm" && shim !== undefined ? unitOf(shim, si) : otherwise;
}

/**
 * A draft from an entry.
 * @param {Body} body its request
 * @param {RefitDraft} empty
 * @param {boolean} whole with what was read; else only its limits and tools, for the next time
 * @returns {RefitDraft}
 */
export function refitDraft(body, empty, whole) {
  const draft = structuredClone(empty);
  draft.lengthUnit = unitAgain(body, "mm", empty.lengthUnit);
  draft.torqueUnit = unitAgain(body, "nm", empty.torqueUnit);
  for (const name of NAMES) {
    const group = groupIn(body, name);
    if (!group) continue;
    draft[name] = {
      readings: whole ? group.readings.map(typedOf) : draft[name].readings,
      low: typedOf(group.low),
      high: typedOf(group.high),
      uneven: typedOf(group.uneven),
      wanted: typedOf(group.wanted),
      rise: typedOf(group.rise),
      shim: typedOf(group.shim),
      toolId: "",
      tool: group.tool ?? null,
      division: "",
    };
  }
  return { ...draft, ...settingDraft(body, whole) };
}

/**
 * A wrench of the kit as far as this check asks for it.
 * @param {import("../../engine/calculations.js").Wrench} wrench
 * @param {Record<string, number>} permitted percent by kind
 * @returns {TorqueTool}
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
  NAMES.filter((name) => PARTS[name].si === si)
    .flatMap((name) => {
      const { readings, low, high, uneven, wanted, rise, division } = draft[name];
      return [...readings, low, high, uneven, wanted, rise, division];
    })
    .concat(si === "mm" ? draft.bearings.shim : undefined, figuresOfSetting(draft, si));

/**
 * What is sent of one of the three.
 * @param {Name} name
 * @param {Part} typed
 * @param {string} unit that it is typed in
 * @param {string} lengthUnit
 * @returns {Partial<Request>}
 */
function groupOf(name, { readings, low, high, uneven, wanted, rise, shim, tool, division }, unit, lengthUnit) {
  const figure = (/** @type {string | undefined} */ typed) => quantity(typed, unit);
  const read = filled(readings).map(figure);
  const own = figure(division);
  if (name === "backlash") {
    const gauge = { ...tool, ...(own ? { division_mm: own } : {}) };
    return {
      backlash: {
        points_mm: read,
        low_mm: figure(low),
        high_mm: figure(high),
        uneven_mm: figure(uneven),
        wanted_mm: figure(wanted),
        gauge,
      },
    };
  }
  const wrench = { ...tool, ...(own ? { division_nm: own } : {}) };
  const judged = { readings_nm: read, low_nm: figure(low), high_nm: figure(high), tool: wrench };
  if (name === "screws") return { screws: judged };
  const set = { wanted_nm: figure(wanted), rise_nm: figure(rise), for_mm: quantity(shim, lengthUnit) };
  return { bearings: { ...judged, ...set } };
}

/** The request; nothing while too little was read. @param {RefitDraft} draft @returns {Request | undefined} */
export function refitRequest(draft) {
  const read = NAMES.filter((name) => filled(draft[name].readings).length >= PARTS[name].limits.least);
  if (!read.length && !draft.contact) return undefined;
  /** @type {Request} */
  const request = { day: today(), write_in: draft.torqueUnit, write_lengths_in: draft.lengthUnit };
  for (const name of read) Object.assign(request, groupOf(name, draft[name], unitFor(draft, name), draft.lengthUnit));
  Object.assign(request, settingRequest(draft));
  return JSON.parse(JSON.stringify(request));
}
