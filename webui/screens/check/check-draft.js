// @ts-check
// A torque check as it is typed, and the request that it makes.

import { READINGS } from "../../log/limits.js";
import { today } from "../../log/store.js";
import { quantity, typedOf, unitOf } from "../form/fields.js";
import { filled } from "../form/readings.js";

/** A tool of the kit. @typedef {{id: string, name: string, tool: string, body: Record<string, any>}} Tool */
/** @typedef {"wrench" | "scale"} ToolKind */
/** @typedef {{forward: string[], reverse: string[]}} Readings */

/**
 * @typedef {object} CheckDraft
 * @property {string} held
 * @property {string} toolId
 * @property {any} tool the tool's figures as the kit has them
 * @property {ToolKind} toolKind
 * @property {string} torqueUnit
 * @property {string} forceUnit
 * @property {Readings} steady
 * @property {Readings} first
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

/** What was typed of a group of fields. @param {Record<string, string>} group */
const typedIn = (group) => Object.fromEntries(Object.entries(group).filter(([, typed]) => typed.trim()));

/** @param {Readings} readings @param {string} unit */
function series(readings, unit) {
  const typed = (/** @type {string[]} */ values) => filled(values).map((reading) => quantity(reading, unit));
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
  const [si, unitTyped] = wrench ? ["nm", draft.torqueUnit] : ["n", draft.forceUnit];
  const drag = typedIn(draft.drag);
  const order = {
    low_nm: unit.order.torque_nm - unit.order.tolerance_nm,
    high_nm: unit.order.torque_nm + unit.order.tolerance_nm,
  };
  const service = { low_nm: unit.service.low_nm, ...(unit.service.high_nm ? { high_nm: unit.service.high_nm } : {}) };
  const adapter = typedIn(draft.adapter);
  /** @type {Record<string, any>} */
  const request = {
    held: draft.held,
    [draft.toolKind]: draft.tool ?? undefined,
    [`steady_${si}`]: series(draft.steady, unitTyped),
    [`first_${si}`]: series(draft.first, unitTyped),
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
  if (!wrench) request.bar = typedIn(draft.bar);
  if (Object.keys(drag).length) request.drag = drag;
  return JSON.parse(JSON.stringify(request));
}

/** Whether there is enough to ask for a verdict: way of holding, tool and readings. @param {CheckDraft} draft */
export function enough(draft) {
  const most = Math.max(...[draft.steady, draft.first].map((readings) => filled(readings.forward).length));
  return Boolean(draft.held && draft.tool && most >= READINGS.least);
}

/** Every reading of a check. @param {CheckDraft} draft */
export const readingsOf = ({ steady, first }) =>
  [steady, first].flatMap((readings) => [...readings.forward, ...readings.reverse]);

/** The field that holds the unit in which a kind of tool is read. @param {ToolKind} kind */
export const unitField = (kind) => (kind === "wrench" ? "torqueUnit" : "forceUnit");

/** @param {Tool | undefined} tool @returns {ToolKind} */
export const kindOf = (tool) => (tool?.tool === "scale" ? "scale" : "wrench");

/**
 * The unit that a tool's scale is written in.
 * @param {any} figures of the tool
 * @param {ToolKind} kind
 * @returns {Partial<Record<"torqueUnit" | "forceUnit", string>>}
 */
export function scaleUnit(figures, kind) {
  const si = kind === "wrench" ? "nm" : "n";
  return figures ? { [unitField(kind)]: unitOf(figures[`high_${si}`], si) } : {};
}

/** Tools that a torque can be read on. @param {Tool[]} tools */
export const torqueTools = (tools) => tools.filter(({ tool }) => tool !== "micrometer");

/**
 * An empty check with the tool that the last one was taken with.
 * @param {CheckDraft} empty
 * @param {Tool[]} tools of the kit
 * @param {string} last the id of that tool
 * @returns {CheckDraft}
 */
export function withUsualTool(empty, tools, last) {
  const fitting = torqueTools(tools);
  // A kit with one wrench leaves nothing to choose.
  const tool = fitting.length === 1 ? fitting[0] : tools.find(({ id }) => id === last);
  const toolKind = kindOf(tool);
  const figures = tool?.body[toolKind];
  return { ...empty, toolId: tool?.id ?? "", tool: figures ?? null, toolKind, ...scaleUnit(figures, toolKind) };
}

/**
 * Readings as they were typed, with empty places up to what a new check offers.
 * @param {any} series of an entry
 * @param {number} least
 * @returns {Readings}
 */
function readingsAgain(series, least) {
  const texts = (/** @type {any[]} */ values = []) => [
    ...values.map(typedOf),
    ...Array(Math.max(0, least - values.length)).fill(""),
  ];
  return { forward: texts(series?.forward), reverse: texts(series?.reverse) };
}

/**
 * @template {Record<string, string>} Group
 * @param {any} typed of an entry
 * @param {Group} empty
 */
const groupAgain = (typed, empty) =>
  /** @type {Group} */ (Object.fromEntries(Object.keys(empty).map((name) => [name, typedOf(typed?.[name])])));

/** A draft to correct an entry with. @param {any} body its request @param {CheckDraft} empty @returns {CheckDraft} */
export function draftOf(body, empty) {
  const toolKind = body.wrench ? "wrench" : "scale";
  const si = body.wrench ? "nm" : "n";
  const [steady, first] = [body[`steady_${si}`], body[`first_${si}`]];
  return {
    ...empty,
    held: body.held,
    tool: body.wrench ?? body.scale,
    toolKind,
    [unitField(toolKind)]: unitOf(steady?.forward?.[0] ?? first?.forward?.[0], si),
    steady: readingsAgain(steady, OFFERED),
    first: readingsAgain(first, 2),
    adapter: groupAgain(body.adapter, empty.adapter),
    bar: groupAgain(body.bar, empty.bar),
    drag: groupAgain(body.drag, empty.drag),
    oil: body.circumstances?.oil ?? "",
    temperature: body.circumstances?.temperature ?? "cold",
    outings: typedOf(body.circumstances?.outings),
  };
}
