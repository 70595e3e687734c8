// @ts-check
// A tool of the kit as it is typed: what is asked of each kind, and the request that it makes.

import { UNIT_SIGNS } from "../../log/unit-signs.js";
import { dayOf, quantityOf } from "../../tables/pasted.js";
import { typedOf, unitOf } from "./fields.js";

/** @typedef {import("../../log/stands.js").Tool} Tool */
/** @typedef {Tool["tool"]} ToolKind */
/** @typedef {import("./fields.js").Typed} Typed */
/** @typedef {import("../../engine/door.js").RequestOf<"kit">} Body */

export const KINDS = /** @type {Record<string, [string, string][]>} */ ({
  wrench: [
    ["beam", "beam"],
    ["dial", "dial"],
    ["electronic", "electronic"],
    ["click", "click"],
  ],
  scale: [
    ["pull_scale", "pull scale"],
    ["weight", "known weight"],
  ],
});

/**
 * Gauges of lengths: what is usual for one division and for the largest permitted error, and where that comes from.
 * @type {Record<string, {words: string, division: string, step: string, deviation: string, source: string}>}
 */
export const GAUGES = {
  micrometer: { words: "micrometer", division: "0.01", step: "", deviation: "0.004", source: "ISO 3611, from memory" },
  dial_gauge: { words: "dial gauge", division: "0.01", step: "", deviation: "0.02", source: "ISO 463, from memory" },
  feeler: {
    words: "feeler gauge",
    division: "0.05",
    step: "Step from leaf to leaf",
    deviation: "0.005",
    source: "DIN 2275, from memory",
  },
  bore_gauge: {
    words: "bore gauge",
    division: "0.01",
    step: "",
    deviation: "0.015",
    source: "common practice, set with a micrometer",
  },
  depth_gauge: {
    words: "depth gauge",
    division: "0.01",
    step: "",
    deviation: "0.03",
    source: "ISO 13385-2, from memory",
  },
};

/** Whether a kind of tool measures lengths. @param {ToolKind} tool */
export const isGauge = (tool) => tool in GAUGES;

/** The SI unit of what a kind of tool measures. @param {ToolKind} tool @returns {"nm" | "n" | "mm"} */
export function siOf(tool) {
  return isGauge(tool) ? "mm" : tool === "scale" ? "n" : "nm";
}

/**
 * What a tool may be off by where nothing is typed, and by what source; empty while its kind is not known.
 * @param {{tool: ToolKind, kind: string}} typed @param {Record<string, number>} permitted in per cent, by kind
 */
export function usualDeviation({ tool, kind }, permitted) {
  const gauge = GAUGES[tool];
  if (gauge) return `${gauge.deviation} mm if left empty (${gauge.source})`;
  const source = tool === "wrench" ? "ISO 6789-1" : "common practice, no source";
  return permitted[kind] === undefined ? "" : `${permitted[kind]} % if left empty (${source})`;
}

/** The unit that somebody most likely reads a kind of tool in. */
export function usualUnit(/** @type {import("./fields.js").Reading} */ read, /** @type {ToolKind} */ tool) {
  return tool === "wrench" ? read.torqueUnit : tool === "scale" ? "kgf" : read.lengthUnit;
}

/** What may be typed of a tool in figures, in the order in which its unit is told by them. */
export const FIGURES = /** @type {const} */ (["division", "high", "low", "deviation", "certificate", "zero"]);

/** @typedef {typeof FIGURES[number]} Figure */
/**
 * A tool as it is typed, whatever its kind. Percentages are texts; other figures have the unit that they were typed in.
 * @typedef {Record<Figure, Typed> & {tool: ToolKind, name: string, kind: string, due: string}} TypedTool
 */

/**
 * The field of a request that holds a figure; nothing where this kind of tool has none.
 * @param {ToolKind} tool @param {Figure} figure
 */
export function fieldOf(tool, figure) {
  const isRange = figure === "low" || figure === "high";
  if (isGauge(tool)) return isRange ? undefined : `${figure}_mm`;
  if (figure === "zero") return undefined;
  return isRange || figure === "division" ? `${figure}_${siOf(tool)}` : `${figure}_percent`;
}

/**
 * What a field of a request is among what is typed.
 * @param {string} path such as "wrench.calibration_due", or "tool"
 */
export function columnOf(path) {
  const field = path.split(".")[1] ?? "kind";
  return field === "calibration_due" ? "due" : field.replace(/_(nm|n|mm|percent)$/, "");
}

/**
 * @param {TypedTool} typed @param {string} [id] of the tool that it changes
 * @returns {import("../../engine/calculations.js").AsTyped<Body>}
 */
export function bodyOf(typed, id) {
  const { tool, name, kind, due } = typed;
  const figures = FIGURES.flatMap((figure) => {
    const field = fieldOf(tool, figure);
    return field && typedOf(typed[figure]).trim() ? [[field, typed[figure]]] : [];
  });
  const group = {
    name,
    ...(isGauge(tool) ? {} : { kind }),
    ...Object.fromEntries(figures),
    ...(due.trim() ? { calibration_due: due } : {}),
  };
  return JSON.parse(JSON.stringify({ tool, [tool]: group, ...(id ? { id } : {}) }));
}

/** What was typed when a tool was last changed. @param {Pick<Tool, "tool" | "body">} changed @returns {TypedTool} */
export function typedTool({ tool, body }) {
  /** @type {Record<string, Typed>} */
  const group = { ...body[tool] };
  const text = (/** @type {string} */ field) => typedOf(group[field]);
  const figures = FIGURES.map((figure) => {
    const field = fieldOf(tool, figure) ?? "";
    const typed = text(field);
    return [figure, typed && !field.endsWith("_percent") ? { typed, unit: unitOf(group[field], siOf(tool)) } : typed];
  });
  return {
    tool,
    name: text("name"),
    kind: text("kind"),
    due: text("calibration_due"),
    .../** @type {Record<Figure, Typed>} */ (Object.fromEntries(figures)),
  };
}

/** All signs: what is written in a unit of something else is refused as that, and not for being no number. */
export const SIGNS = { ...UNIT_SIGNS.n, ...UNIT_SIGNS.mm, ...UNIT_SIGNS.nm };
const SIGNS_AND_PERCENT = { ...SIGNS, "%": "percent" };

/**
 * A figure as it is meant where more is written than a field of its own takes: a unit behind it, a sign for percent,
 * or ± before it.
 * @param {ToolKind} tool @param {Figure} figure @param {string} written
 * @param {string} unit of its column; empty where that is not known
 * @returns {Typed} nothing where nothing is written
 */
export function meant(tool, figure, written, unit) {
  const text = written.trim().replace(/^(±|\+\/-|\+-)\s*/, "");
  const isPercent = fieldOf(tool, figure)?.endsWith("_percent");
  const figureTyped = quantityOf(text, unit || (isPercent ? "percent" : siOf(tool)), SIGNS_AND_PERCENT);
  return isPercent && figureTyped?.unit === "percent" ? figureTyped.typed : figureTyped;
}

/**
 * A tool as it is meant by what is typed into cells; a day may be in the order of some country.
 * @param {TypedTool} typed @returns {TypedTool}
 */
export function asMeant(typed) {
  const figures = FIGURES.map((figure) => {
    const value = typed[figure];
    return [figure, meant(typed.tool, figure, typedOf(value), unitOf(value, ""))];
  });
  return {
    ...typed,
    due: dayOf(typed.due.trim()),
    .../** @type {Record<Figure, Typed>} */ (Object.fromEntries(figures)),
  };
}
