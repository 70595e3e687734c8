// @ts-check
// A torque check as it is typed, and the request that it makes.

import { READINGS } from "../../log/limits.js";
import { today } from "../../log/store.js";
import { quantity, typedOf, unitOf } from "../form/fields.js";
import { filled } from "../form/readings.js";

/** @typedef {import("../../log/stands.js").Tool} Tool */
/** @typedef {import("../../log/stands.js").BuiltStanding} BuiltStanding */
/** @typedef {import("../../engine/calculations.js").BodyOf<"torque_check">} Body */
/** @typedef {import("../../engine/calculations.js").Wrench} Wrench */
/** @typedef {import("../../engine/calculations.js").Scale} Scale */
/** @typedef {Wrench | Scale} ToolFigures */
/**
 * @template Request
 * @typedef {import("../../engine/calculations.js").AsTyped<Request>} AsTyped
 */
/** @typedef {"wrench" | "scale"} ToolKind */
/** @typedef {{forward: string[], reverse: string[]}} Readings */

/**
 * @typedef {object} CheckDraft
 * @property {string} held
 * @property {string} toolId
 * @property {ToolFigures | null} tool the tool's figures as the kit has them
 * @property {ToolKind} toolKind
 * @property {string} torqueUnit
 * @property {string} forceUnit
 * @property {string} partUnit of torques that are typed beside the readings: drag, and a bar's own
 * @property {Readings} steady
 * @property {Readings} first
 * @property {{wrench_mm: string, adapter_mm: string, angle_deg: string, doubt_mm: string, doubt_deg: string}} adapter
 * @property {{length_mm: string, moment_nm: string, doubt_mm: string}} bar
 * @property {{case_nm: string, wheel_nm: string, other_wheel_nm: string, doubt_nm: string}} drag
 * @property {string} oil
 * @property {string} temperature
 * @property {string} outings
 * @property {"service" | "order"} against
 * @property {boolean} [sureOfUnit] whether somebody has said that the unit of the readings is right
 * @property {string} [replaces]
 */

// Three readings each way are what a check usually takes: so many places are offered at a time.
export const OFFERED = 3;

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
    partUnit: torqueUnit,
    steady: none(),
    first: { forward: ["", ""], reverse: ["", ""] },
    adapter: { wrench_mm: "", adapter_mm: "", angle_deg: "", doubt_mm: "", doubt_deg: "" },
    bar: { length_mm: "", moment_nm: "", doubt_mm: "" },
    drag: { case_nm: "", wheel_nm: "", other_wheel_nm: "", doubt_nm: "" },
    oil: "",
    temperature: "cold",
    outings: "",
    against: "service",
  };
}

/** Whether the other wheel turns as well, backwards. @param {string} held */
export const turnsBothWheels = (held) => held === "car_both_wheels_up";

/** What was typed of a group of fields. @param {Record<string, string>} group */
const typedIn = (group) => Object.fromEntries(Object.entries(group).filter(([, typed]) => typed?.trim()));

/** The same, torques with their unit. @param {Record<string, string>} group @param {string} unit */
const torquesIn = (group, unit) =>
  Object.fromEntries(
    Object.entries(typedIn(group)).map(([name, typed]) => [name, name.endsWith("_nm") ? quantity(typed, unit) : typed]),
  );

/** @param {Readings} readings @param {string} unit */
function series(readings, unit) {
  const typed = (/** @type {string[]} */ values) => filled(values).map((reading) => quantity(reading, unit));
  const [forward, reverse] = [typed(readings.forward), typed(readings.reverse)];
  return forward.length || reverse.length ? { forward, ...(reverse.length ? { reverse } : {}) } : undefined;
}

/**
 * The tool of a check, and what was read on it.
 * @param {CheckDraft} draft
 * @returns {AsTyped<Body>}
 */
function toolAndReadings({ tool, toolKind, torqueUnit, forceUnit, steady, first }) {
  return toolKind === "wrench"
    ? { wrench: tool ?? undefined, steady_nm: series(steady, torqueUnit), first_nm: series(first, torqueUnit) }
    : { scale: tool ?? undefined, steady_n: series(steady, forceUnit), first_n: series(first, forceUnit) };
}

/**
 * The request of a check against a unit.
 * @param {CheckDraft} draft
 * @param {BuiltStanding} found what stands for it
 * @returns {AsTyped<Body>}
 */
export function checkRequest(draft, found) {
  const unit = found.derived.checked;
  const adapter = typedIn(draft.adapter);
  // What is typed for a wheel that does not turn stays in the draft.
  const turning = { ...draft.drag, ...(turnsBothWheels(draft.held) ? {} : { other_wheel_nm: "" }) };
  const drag = torquesIn(turning, draft.partUnit);
  /** @type {AsTyped<Body>} */
  const request = {
    held: draft.held,
    ...toolAndReadings(draft),
    judged_on: unit.judged_on,
    stated_for: unit.stated_for,
    hub_ratio: draft.held.startsWith("car") ? unit.hub_ratio : 1,
    build: found.built.for_check,
    limits: found.limits?.[draft.against] ?? undefined,
    last_nm: found.start.last_nm ?? undefined,
    sure_of_unit: draft.sureOfUnit ?? false,
    day: today(),
    write_in: draft.torqueUnit,
    write_forces_in: draft.forceUnit,
    circumstances: {
      temperature: draft.temperature,
      ...(draft.oil.trim() ? { oil: draft.oil } : {}),
      ...(draft.outings.trim() ? { outings: draft.outings } : {}),
    },
  };
  if (draft.toolKind === "scale") request.bar = torquesIn(draft.bar, draft.partUnit);
  else if (Object.keys(adapter).length) request.adapter = adapter;
  if (Object.keys(drag).length) request.drag = drag;
  return JSON.parse(JSON.stringify(request));
}

/** Whether there is enough to ask for a verdict: way of holding, tool and readings. @param {CheckDraft} draft */
export function enough(draft) {
  const most = Math.max(...[draft.steady, draft.first].map((readings) => filled(readings.forward).length));
  return Boolean(draft.held && draft.tool && most >= READINGS.least);
}

/** Every figure that is typed in the unit of the readings. @param {CheckDraft} draft */
export const readingsOf = ({ toolKind, steady, first, drag }) => [
  ...[steady, first].flatMap((readings) => [...readings.forward, ...readings.reverse]),
  ...(toolKind === "wrench" ? Object.values(drag) : []),
];

/** The field that holds the unit in which a kind of tool is read. @param {ToolKind} kind */
export const unitField = (kind) => (kind === "wrench" ? "torqueUnit" : "forceUnit");

/** @param {Tool | undefined} tool @returns {ToolKind} */
export const kindOf = (tool) => (tool?.tool === "scale" ? "scale" : "wrench");

/**
 * The unit that a tool's scale is written in.
 * @param {ToolFigures | null | undefined} figures of the tool
 * @returns {Partial<Record<"torqueUnit" | "forceUnit", string>>}
 */
export function scaleUnit(figures) {
  if (!figures) return {};
  return "high_nm" in figures
    ? { torqueUnit: unitOf(figures.high_nm, "nm") }
    : { forceUnit: unitOf(figures.high_n, "n") };
}

/** Tools that a torque can be read on. @param {Tool[]} tools */
export const torqueTools = (tools) => tools.filter(({ tool }) => tool === "wrench" || tool === "scale");

/**
 * An empty check with the tool that the last one was taken with.
 * @param {CheckDraft} empty
 * @param {Tool[]} tools of the kit
 * @param {string} last the id of that tool
 * @returns {CheckDraft}
 */
function withUsualTool(empty, tools, last) {
  const fitting = torqueTools(tools);
  // A kit with one wrench leaves nothing to choose.
  const tool = fitting.length === 1 ? fitting[0] : tools.find(({ id }) => id === last);
  const toolKind = kindOf(tool);
  const figures = tool?.body[toolKind];
  const units = scaleUnit(figures);
  const partUnit = units.torqueUnit ?? empty.partUnit;
  return { ...empty, toolId: tool?.id ?? "", tool: figures ?? null, toolKind, ...units, partUnit };
}

/**
 * An empty check that starts as the last one of this unit was taken: held so, on this tool, with its lever and oil.
 * What it dragged is measured each time.
 * @param {CheckDraft} empty
 * @param {Tool[]} tools of the kit
 * @param {Body} last the request of that check
 * @returns {CheckDraft | undefined} nothing where its tool is no longer in the kit
 */
function asLastTime(empty, tools, last) {
  const again = draftOf(last, empty);
  const tool = torqueTools(tools).find(
    (choice) => kindOf(choice) === again.toolKind && choice.name === again.tool?.name,
  );
  if (!tool) return undefined;
  const { steady, first, drag, temperature, outings, against } = empty;
  const kept = { steady, first, drag, temperature, outings, against };
  return { ...again, ...kept, toolId: tool.id, tool: tool.body[again.toolKind] ?? null };
}

/**
 * An empty check of a unit with all that is known before it is taken.
 * @param {CheckDraft} empty
 * @param {Tool[]} tools of the kit
 * @param {BuiltStanding} found what stands for the unit
 * @param {Body | undefined} last the request of its last check
 * @param {string} lastTool the id of the tool that this phone used last
 * @returns {CheckDraft}
 */
export function withWhatIsKnown(empty, tools, found, last, lastTool) {
  const { outings, against } = found.start;
  const known = { ...empty, outings: outings === null ? "" : String(outings), against };
  const draft = (last && asLastTime(known, tools, last)) ?? withUsualTool(known, tools, lastTool);
  // A unit between the axles may have been checked on the car before anybody said where it sits.
  return found.sits.car && draft.held.startsWith("car") ? { ...draft, held: "" } : draft;
}

/** Three more places each way, as far as a check takes them. @param {Readings} readings @returns {Readings} */
export function withMorePlaces({ forward, reverse }) {
  const longer = (/** @type {string[]} */ values) => [...values, ...Array(OFFERED).fill("")].slice(0, READINGS.most);
  return { forward: longer(forward), reverse: longer(reverse) };
}

/** Nothing read yet. @returns {Pick<CheckDraft, "steady" | "first">} */
export function withoutReadings() {
  const { steady, first } = emptyCheck("nm");
  return { steady, first };
}

/**
 * Readings as they were typed, with empty places up to what a new check offers.
 * @param {Body["steady_nm"]} series of an entry
 * @param {number} least
 * @returns {Readings}
 */
function readingsAgain(series, least) {
  const texts = (/** @type {import("../form/fields.js").Typed[] | null} */ values) => {
    const typed = (values ?? []).map(typedOf);
    return [...typed, ...Array(Math.max(0, least - typed.length)).fill("")];
  };
  return { forward: texts(series?.forward ?? null), reverse: texts(series?.reverse ?? null) };
}

/**
 * @template {Record<string, string>} Group
 * @param {{[Field in keyof Group]?: import("../form/fields.js").Typed} | null | undefined} typed of an entry
 * @param {Group} empty
 */
const groupAgain = (typed, empty) =>
  /** @type {Group} */ (Object.fromEntries(Object.keys(empty).map((name) => [name, typedOf(typed?.[name])])));

/**
 * The unit of the torques that an entry has beside its readings; that of its readings where it has none.
 * @param {Body} body
 * @param {string} otherwise
 */
function partUnitOf(body, otherwise) {
  const typed = [...Object.entries(body.drag ?? {}), ...Object.entries(body.bar ?? {})]
    .filter(([name, value]) => name.endsWith("_nm") && typedOf(value))
    .map(([, value]) => unitOf(value, "nm"));
  return typed[0] ?? otherwise;
}

/** A draft to correct an entry with. @param {Body} body its request @param {CheckDraft} empty @returns {CheckDraft} */
export function draftOf(body, empty) {
  const toolKind = body.wrench ? "wrench" : "scale";
  const [si, steady, first] = body.wrench ? ["nm", body.steady_nm, body.first_nm] : ["n", body.steady_n, body.first_n];
  const read = unitOf(steady?.forward?.[0] ?? first?.forward?.[0], si);
  return {
    ...empty,
    held: body.held,
    tool: body.wrench ?? body.scale ?? null,
    toolKind,
    [unitField(toolKind)]: read,
    partUnit: partUnitOf(body, toolKind === "wrench" ? read : empty.partUnit),
    steady: readingsAgain(steady, OFFERED),
    first: readingsAgain(first, 2),
    adapter: groupAgain(body.adapter, empty.adapter),
    bar: groupAgain(body.bar, empty.bar),
    drag: groupAgain(body.drag, empty.drag),
    oil: body.circumstances?.oil ?? "",
    temperature: body.circumstances?.temperature || "cold",
    outings: typedOf(body.circumstances?.outings),
  };
}
