// @ts-check
// An inspection of other parts as it is typed, and the request that it makes.

import { today } from "../../log/store.js";
import { quantity, typedOf, unitOf } from "../form/fields.js";
import { filled } from "../form/readings.js";

/** @typedef {import("../../engine/calculations.js").BodyOf<"inspection">} Body */
/** @typedef {import("../../engine/calculations.js").AsTyped<Body>} Request */
/** A feature as an inspection holds it. @typedef {Body["features"][number]} Inspected */
/** @typedef {Omit<Inspected, "tool" | "points_mm" | "marks" | "crack" | "uses">} Feature */
/** @typedef {NonNullable<Inspected["tool"]>} Gauge */
/** @typedef {import("../../log/stands.js").Tool} Tool */
/** A kind of gauge. @typedef {Exclude<NonNullable<Feature["gauge"]>, "">} Kind */

/** What was found of a feature. @typedef {{points: string[], marks: string, crack: string, uses: string}} Found */
/**
 * @typedef {object} InspectDraft
 * @property {string} unit of length
 * @property {Record<string, Found>} found by the feature's name
 * @property {Partial<Record<Kind, string>>} toolIds of the kit, by the kind of gauge
 * @property {Partial<Record<Kind, string>>} zeros how far off zero a gauge stood
 * @property {Partial<Record<Kind, Gauge>>} tools as the entry that is corrected has them
 */

/** The gauge that is usual for what is measured. @type {Record<string, Kind>} */
const USUAL_GAUGE = {
  size: "micrometer",
  play: "dial_gauge",
  backlash: "dial_gauge",
  end_float: "dial_gauge",
  run_out: "dial_gauge",
  flatness: "feeler",
};

/** The kind of gauge that a feature is measured with; none where it has no length. @param {Feature} feature */
export const gaugeOf = ({ gauge, measure }) => gauge || USUAL_GAUGE[measure];

/** A feature without what was found of it. @param {Inspected} inspected @returns {Feature} */
function listed({ tool: _tool, points_mm: _points, marks: _marks, crack: _crack, uses: _uses, ...feature }) {
  return feature;
}

/**
 * What is inspected: what the definition lists, then what an entry that is corrected has besides.
 * @param {Feature[]} defined @param {Body} [body]
 */
export function featuresOf(defined, body) {
  const more = (body?.features ?? []).filter(({ name }) => !defined.some((known) => known.name === name));
  return [...defined, ...more.map(listed)];
}

/** @param {Feature} feature @param {Inspected} [inspected] @returns {Found} */
function foundOf({ places }, inspected) {
  const points = (inspected?.points_mm ?? []).map(typedOf);
  /** @type {string[]} */
  const empty = Array(Number(typedOf(places)) || 1).fill("");
  return {
    points: empty.map((nothing, place) => points[place] ?? nothing).concat(points.slice(empty.length)),
    marks: inspected?.marks ?? "",
    crack: inspected?.crack ?? "",
    uses: typedOf(inspected?.uses),
  };
}

/**
 * @param {Feature[]} features
 * @param {string} unit
 * @param {Body} [body] request of the entry that is corrected
 * @returns {InspectDraft}
 */
export function inspectDraft(features, unit, body) {
  const rows = body?.features ?? [];
  const measured = rows.find(({ points_mm }) => points_mm?.length);
  const found = features.map((feature) => [
    feature.name,
    foundOf(
      feature,
      rows.find(({ name }) => name === feature.name),
    ),
  ]);
  return {
    unit: measured ? unitOf(measured.points_mm?.[0], "mm") : unit,
    found: Object.fromEntries(found),
    toolIds: {},
    zeros: {},
    tools: Object.fromEntries(rows.flatMap((row) => (row.tool ? [[gaugeOf(row), row.tool]] : []))),
  };
}

/** Whether anything was found of a feature. @param {Found | undefined} found */
const isFound = (found) =>
  Boolean(found && (filled(found.points).length || found.marks || found.crack || found.uses.trim()));

/**
 * Features of which something was found, in the order in which they are sent.
 * @param {InspectDraft} draft @param {Feature[]} features
 */
export const inspected = ({ found }, features) => features.filter(({ name }) => isFound(found[name]));

/** The kinds of gauge that features are measured with, each once. @param {Feature[]} features */
export const kindsOf = (features) => [...new Set(features.map(gaugeOf).filter((kind) => kind !== undefined))];

/**
 * The gauge of a kind: one of the kit, that of the entry that is corrected, or what is usual.
 * @param {InspectDraft} draft @param {Kind} kind @param {Tool[]} kit
 * @returns {import("../../engine/calculations.js").AsTyped<Gauge> | undefined}
 */
function toolOf({ toolIds, tools, zeros, unit }, kind, kit) {
  const chosen = kit.find(({ id }) => id === toolIds[kind])?.body[kind] ?? tools[kind];
  const zero = quantity(zeros[kind], unit);
  return chosen || zero ? { ...chosen, ...(zero ? { zero_mm: zero } : {}) } : undefined;
}

/**
 * The request; nothing while nothing was found.
 * @param {InspectDraft} draft
 * @param {Feature[]} features
 * @param {Tool[]} kit
 * @returns {Request | undefined}
 */
export function inspectRequest(draft, features, kit) {
  const rows = inspected(draft, features).map((feature) => {
    const { points, marks, crack, uses } = draft.found[feature.name];
    const kind = gaugeOf(feature);
    const tool = kind && toolOf(draft, kind, kit);
    const read = filled(points).map((point) => quantity(point, draft.unit));
    return {
      ...feature,
      ...(read.length ? { points_mm: read } : {}),
      ...(marks ? { marks } : {}),
      ...(crack ? { crack } : {}),
      ...(uses.trim() ? { uses } : {}),
      ...(tool && read.length ? { tool } : {}),
    };
  });
  return rows.length ? { day: today(), write_in: draft.unit, features: rows } : undefined;
}
