// @ts-check
// A torque check as it is typed, and the request that it makes.

import { today } from "../../log/store.js";
import { quantity, typedOf, unitOf } from "../form/fields.js";

/**
 * @typedef {object} CheckDraft
 * @property {string} held
 * @property {string} toolId
 * @property {any} tool the tool's figures as the kit has them
 * @property {"wrench" | "scale"} toolKind
 * @property {string} torqueUnit
 * @property {string} forceUnit
 * @property {{forward: string[], reverse: string[]}} steady
 * @property {{forward: string[], reverse: string[]}} first
 * @property {{wrench_mm: string, adapter_mm: string, angle_deg: string, doubt_mm: string, doubt_deg: string}} adapter
 * @property {{length_mm: string, moment_nm: string, doubt_mm: string}} bar
 * @property {{case_nm: string, wheel_nm: string, doubt_nm: string}} drag
 * @property {string} oil
 * @property {string} temperature
 * @property {string} outings
 * @property {"service" | "order"} against
 * @property {string} [replaces]
 */

const OFFERED = 3;

/** @param {string} torqueUnit @returns {CheckDraft} */
export function emptyCheck(torqueUnit) {
  const none = () => ({ forward: Array(OFFERED).fill(""), reverse: Array(OFFERED).fill("") });
  return {
    held: "",
    toolId: "",
    tool: null,
    toolKind: "wrench",
    torqueUnit,
    forceUnit: "kgf",
    steady: none(),
    first: { forward: ["", ""], reverse: ["", ""] },
    adapter: { wrench_mm: "", adapter_mm: "", angle_deg: "", doubt_mm: "", doubt_deg: "" },
    bar: { length_mm: "", moment_nm: "", doubt_mm: "" },
    drag: { case_nm: "", wheel_nm: "", doubt_nm: "" },
    oil: "",
    temperature: "cold",
    outings: "",
    against: "service",
  };
}

/** Always one more empty place to type in. @param {string[]} readings */
export function grown(readings) {
  return readings.length < 50 && readings.every((one) => one.trim()) ? [...readings, ""] : readings;
}

/** @param {Record<string, string>} group */
const filled = (group) => Object.fromEntries(Object.entries(group).filter(([, typed]) => typed.trim()));

/** @param {{forward: string[], reverse: string[]}} readings @param {string} unit */
function series(readings, unit) {
  const typed = (/** @type {string[]} */ values) =>
    values.filter((one) => one.trim()).map((one) => quantity(one, unit));
  const [forward, reverse] = [typed(readings.forward), typed(readings.reverse)];
  return forward.length || reverse.length ? { forward, ...(reverse.length ? { reverse } : {}) } : undefined;
}

/**
 * The request of a check against a unit.
 * @param {CheckDraft} draft
 * @param {any} unit the unit's definition in SI
 */
export function checkRequest(draft, unit) {
  const wrench = draft.toolKind === "wrench";
  const [end, shown] = wrench ? ["nm", draft.torqueUnit] : ["n", draft.forceUnit];
  const drag = filled(draft.drag);
  const order = {
    low_nm: unit.order.torque_nm - unit.order.tolerance_nm,
    high_nm: unit.order.torque_nm + unit.order.tolerance_nm,
  };
  const service = { low_nm: unit.service.low_nm, ...(unit.service.high_nm ? { high_nm: unit.service.high_nm } : {}) };
  const adapter = filled(draft.adapter);
  /** @type {Record<string, any>} */
  const request = {
    held: draft.held,
    [draft.toolKind]: draft.tool ?? undefined,
    [`steady_${end}`]: series(draft.steady, shown),
    [`first_${end}`]: series(draft.first, shown),
    judged_on: unit.judged_on,
    stated_for: unit.stated_for,
    hub_ratio: draft.held.startsWith("car") ? unit.hub_ratio : 1,
    limits: draft.against === "order" ? order : service,
    day: today(),
    write_in: draft.torqueUnit,
    circumstances: {
      temperature: draft.temperature,
      ...(draft.oil.trim() ? { oil: draft.oil } : {}),
      ...(draft.outings.trim() ? { outings: draft.outings } : {}),
    },
  };
  if (wrench && Object.keys(adapter).length) request.adapter = adapter;
  if (!wrench) request.bar = filled(draft.bar);
  if (Object.keys(drag).length) request.drag = drag;
  return JSON.parse(JSON.stringify(request));
}

/** Whether there is enough to ask for a verdict: way of holding, tool and two readings. @param {CheckDraft} draft */
export function enough(draft) {
  const count = (/** @type {string[]} */ values) => values.filter((one) => one.trim()).length;
  const most = Math.max(...[draft.steady, draft.first].map((readings) => count(readings.forward)));
  return Boolean(draft.held && draft.tool && most >= 2);
}

/**
 * The engine counts the readings that were sent; the screen has gaps. Which place on the screen is meant?
 * @param {string[]} values
 * @param {number} sent
 */
export function placeOf(values, sent) {
  return values.map((one, place) => [one, place]).filter(([one]) => String(one).trim())[sent]?.[1];
}

/** A draft to correct an entry with. @param {any} body its request @param {CheckDraft} empty @returns {CheckDraft} */
export function draftOf(body, empty) {
  const wrench = Boolean(body.wrench);
  const end = wrench ? "nm" : "n";
  const texts = (/** @type {any} */ group, /** @type {number} */ least) => {
    const of = (/** @type {any[]} */ values = []) => [
      ...values.map(typedOf),
      ...Array(Math.max(0, least - values.length)).fill(""),
    ];
    return { forward: of(group?.forward), reverse: of(group?.reverse) };
  };
  const unit = unitOf(body[`steady_${end}`]?.forward?.[0] ?? body[`first_${end}`]?.forward?.[0], end);
  const group = (/** @type {any} */ given, /** @type {any} */ blank) =>
    Object.fromEntries(Object.keys(blank).map((name) => [name, typedOf(given?.[name])]));
  return {
    ...empty,
    held: body.held,
    tool: body.wrench ?? body.scale,
    toolKind: wrench ? "wrench" : "scale",
    torqueUnit: wrench ? unit : empty.torqueUnit,
    forceUnit: wrench ? empty.forceUnit : unit,
    steady: texts(body[`steady_${end}`], OFFERED),
    first: texts(body[`first_${end}`], 2),
    adapter: /** @type {any} */ (group(body.adapter, empty.adapter)),
    bar: /** @type {any} */ (group(body.bar, empty.bar)),
    drag: /** @type {any} */ (group(body.drag, empty.drag)),
    oil: body.circumstances?.oil ?? "",
    temperature: body.circumstances?.temperature ?? "cold",
    outings: typedOf(body.circumstances?.outings),
  };
}
