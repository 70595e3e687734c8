// @ts-check
// A unit's definition as it is typed. The draft is the request itself with text in its fields, so that nothing has to
// be carried over when a field is added.

import { record } from "../../log/shape.js";
import { chainFor, withAlike } from "./define-chain.js";

/** @typedef {import("./define-chain.js").Figure} Figure */
/** @typedef {import("./define-chain.js").Part} Part */

/**
 * Ramps that the unit can run with instead.
 * @typedef {{name: string} & Record<"drive_deg" | "coast_deg" | "pin_radius_mm", Figure>} Pair
 */

/**
 * What is inspected on another part, as it is typed.
 * @typedef {Record<"name" | "part" | "measure" | "gauge" | "outside", string> &
 *   Record<"places" | "new_mm" | "low_mm" | "high_mm" | "change_mm" | "most_uses", Figure> &
 *   {usual_limits: boolean | null, counted: string}} Feature
 */
/** A part with a mark of its own. @typedef {Record<"part" | "place" | "mark", string>} MarkedPart */
/** A ready-made list of features of a part. @typedef {{title: string, features: Feature[]}} FeatureList */

/** @typedef {import("../../engine/calculations.js").UnitRequest} Body */

/** Intervals that few units have. */
const INTERVALS = [
  "plates_every_outings",
  "plates_every_hours",
  "check_every_outings",
  "check_every_hours",
  "check_every_days",
  "oil_every_outings",
  "oil_every_hours",
  "oil_every_days",
];
/** Limits for running, and after how much use what is done. */
const SERVICE = ["low_nm", "high_nm", "plates_every_days", ...INTERVALS];

/** Whether any of those is typed. @param {UnitDraft} draft */
export const hasIntervals = ({ service }) => INTERVALS.some((name) => !empty(service[name]));

/** Groups of figures. @typedef {"order" | "service" | "spring" | "cover" | "limits" | "warming"} Group */

/** What presses the packs. @typedef {object} Ramps
 * @property {Figure} pin_radius_mm
 * @property {Figure} drive_deg
 * @property {Figure} coast_deg
 * @property {Figure} mu
 * @property {Record<string, Figure>} ears
 * @property {Record<string, Figure | boolean>} gears
 */

/**
 * @typedef {Record<"name" | "owner" | "customer_id" | "car_id" | "note" | "plate_family" | "sits" | "judged_on" |
 *   "stated_for" | "layout", string> &
 *   Record<"hub_ratio" | "cavity_mm", Figure> & Record<Group, Record<string, Figure>> &
 *   {friction: Record<string, Figure | boolean>, ramps: Ramps, other_ramps: Pair[], chain: Part[], features: Feature[],
 *   marked_parts: MarkedPart[], worked_out: Record<string, object>,
 *   working: {from: string, typed: Record<string, Figure>, fromLog: string},
 *   form: number}} UnitDraft
 */

/** Number of this form. The first one had a layout before anybody chose it. */
const FORM = 2;

/**
 * A new unit: two friction plates a side, one spring in line, as many are. Nothing is known of it yet: what is left
 * empty stays out of the definition.
 * @returns {UnitDraft}
 */
export function newUnit() {
  return {
    form: FORM,
    name: "",
    owner: "",
    customer_id: "",
    car_id: "",
    note: "",
    plate_family: "",
    sits: "",
    order: { torque_nm: "", tolerance_nm: "" },
    judged_on: "steady",
    stated_for: "one_output_held",
    service: Object.fromEntries(SERVICE.map((name) => [name, ""])),
    hub_ratio: "1",
    layout: "",
    spring: {
      de_mm: "",
      di_mm: "",
      t_mm: "",
      l0_mm: "",
      parallel: "1",
      series: "1",
      flats_t_mm: "",
      surface_friction: "",
      edge_friction: "",
    },
    cavity_mm: "",
    chain: chainFor("in_line", 2),
    friction: { inner_mm: "", outer_mm: "", mu: "0.1", run_in: true },
    ramps: {
      pin_radius_mm: "",
      drive_deg: "",
      coast_deg: "",
      mu: "0.1",
      ears: { radius_mm: "", mu: "0.1" },
      gears: { on_packs: "", pressure_deg: "", pitch_radius_mm: "", cone_deg: "", side_teeth: "", pinion_teeth: "" },
    },
    other_ramps: [],
    // Marks of figures that were worked out, and what is being worked out now.
    worked_out: {},
    working: { from: "", typed: {}, fromLog: "" },
    cover: { screws: "", screw_mm: "", torque_nm: "", start_mm: "", case_nm: "" },
    limits: { taper_mm: "0.03", flatness_mm: "0.10" },
    warming: { warmer_k: "", case_ppm: "23", stack_ppm: "11.5" },
    features: [],
    marked_parts: [],
  };
}

/** A feature of which nothing is known yet. @returns {Feature} */
export const blankFeature = () => ({
  name: "",
  part: "other",
  measure: "size",
  gauge: "",
  outside: "",
  places: "1",
  new_mm: "",
  low_mm: "",
  high_mm: "",
  change_mm: "",
  most_uses: "",
  counted: "",
  usual_limits: null,
});

/** A feature of the log or of a ready-made list, as it is typed. @param {object} known @returns {Feature} */
export function featureDraft(known) {
  const given = Object.entries(known).filter(([, value]) => value !== null && value !== undefined);
  return { ...blankFeature(), ...Object.fromEntries(given) };
}

/** What a group or a list holds under a name. @param {unknown} group @param {string} name @returns {unknown} */
const under = (group, name) => (typeof group === "object" && group !== null ? Reflect.get(group, name) : undefined);

/**
 * The value at a path such as "order.torque_nm" or "chain.3.new_mm", which is that of a figure.
 * @param {UnitDraft} draft
 * @param {string} path
 */
export const valueAt = (draft, path) => /** @type {Figure} */ (path.split(".").reduce(under, draft));

/**
 * A copy with another value at a path.
 * @param {UnitDraft} draft
 * @param {string} path
 * @param {Figure | boolean} value
 */
export function withValue(draft, path, value) {
  const names = path.split(".");
  const last = /** @type {string} */ (names.pop());
  const copy = structuredClone(draft);
  Reflect.set(/** @type {object} */ (names.reduce(under, copy)), last, value);
  return copy;
}

/** Whether nothing was typed, be it with a unit chosen. @param {unknown} value */
const empty = (value) => {
  const typed = record(value) && "typed" in value ? value.typed : value;
  return typed === null || typed === undefined || (typeof typed === "string" && !typed.trim());
};

/** Groups that a unit may do without, and the fields that say whether it has them. */
const OPTIONAL = {
  order: ["torque_nm", "tolerance_nm"],
  service: SERVICE,
  spring: ["de_mm", "di_mm", "t_mm", "l0_mm", "flats_t_mm", "surface_friction", "edge_friction"],
  friction: ["inner_mm", "outer_mm"],
  ears: ["radius_mm"],
  gears: ["on_packs", "pressure_deg", "pitch_radius_mm", "cone_deg", "side_teeth", "pinion_teeth"],
  cover: ["screws", "screw_mm", "torque_nm"],
  warming: ["warmer_k"],
};

/**
 * What was typed of a group.
 * @template {object} Fields
 * @param {Fields} group
 */
const whole = (group) =>
  /** @type {Partial<Fields>} */ (Object.fromEntries(Object.entries(group).filter(([, value]) => !empty(value))));

/**
 * A group that a unit may do without, if anything was typed of what it has to have.
 * @template {keyof typeof OPTIONAL} Name
 * @param {Name} name
 * @param {Record<string, Figure | boolean>} group
 */
function optional(name, group) {
  const begun = OPTIONAL[name].some((field) => !empty(group[field]));
  return /** @type {Partial<Record<Name, Record<string, Figure>>>} */ (begun ? { [name]: whole(group) } : {});
}

/** The ramps with what presses beside them, if anything was typed of it; their friction stands there always. */
function pressing(/** @type {Ramps} */ { ears, gears, mu, ...cut }) {
  const typed = { ...whole(cut), ...optional("ears", ears), ...optional("gears", gears) };
  return Object.keys(typed).length ? { ramps: { ...whole({ mu }), ...typed } } : {};
}

/** Whether anything was typed of a stack; its places alone say nothing. @param {Part[]} chain */
const isBegun = (chain) => chain.some(({ new_mm, minimum_mm }) => !empty(new_mm) || !empty(minimum_mm));

/** What of the drive somebody gave beside the ramps, of which most units are not asked. @param {UnitDraft} draft */
export function hasMore({ ramps, warming, spring }) {
  const more = { ...optional("ears", ramps.ears), ...optional("gears", ramps.gears), ...optional("warming", warming) };
  const discs = whole({ flats: spring.flats_t_mm, between: spring.surface_friction, edges: spring.edge_friction });
  return Object.keys({ ...more, ...discs }).length > 0;
}

/**
 * The request: what was left empty is left out, and a group of which nothing was typed as well.
 * @param {UnitDraft} draft
 * @returns {import("../../engine/calculations.js").AsTyped<Body>}
 */
export function unitRequest(draft) {
  const { order, service, spring, friction, ramps, other_ramps, cover, warming, chain, worked_out, ...rest } = draft;
  const { form: _form, working: _working, features, marked_parts, ...always } = rest;
  return {
    ...whole(always),
    limits: whole(draft.limits),
    ...optional("order", order),
    ...optional("service", service),
    ...optional("spring", spring),
    ...optional("friction", friction),
    ...pressing(ramps),
    ...(other_ramps.length ? { other_ramps: other_ramps.map(whole) } : {}),
    ...optional("cover", cover),
    ...optional("warming", warming),
    ...(features.length ? { features: features.map(whole) } : {}),
    ...(marked_parts.length ? { marked_parts: marked_parts.map(whole) } : {}),
    ...(Object.keys(whole(worked_out)).length ? { worked_out: whole(worked_out) } : {}),
    ...(isBegun(chain) ? { chain: chain.map(({ alike: _alike, ...item }) => whole(item)) } : {}),
  };
}

/**
 * What was typed, in place of what a blank draft has; what is missing or empty stays as blank as that.
 * @param {unknown} blank
 * @param {unknown} typed
 * @returns {unknown}
 */
function filledIn(blank, typed) {
  if (typed === undefined || typed === null) return blank;
  if (!record(blank) || !record(typed) || Array.isArray(blank)) return typed;
  const fields = Object.entries(blank).map(([name, value]) => [name, filledIn(value, under(typed, name))]);
  return { ...typed, ...Object.fromEntries(fields) };
}

/**
 * A definition as a draft: the same, with every group there.
 * @param {Partial<Body> | object} body of the log
 * @returns {UnitDraft}
 */
export function unitDraft(body) {
  const draft = /** @type {UnitDraft} */ (filledIn(newUnit(), structuredClone(body)));
  const chain = draft.chain.map((item) => ({ ...{ new_mm: "", minimum_mm: "" }, ...item }));
  return { ...draft, chain: withAlike(chain), features: draft.features.map(featureDraft) };
}

/**
 * A draft that was kept, by this form or by the first one.
 * @param {object} kept
 * @returns {UnitDraft}
 */
export function draftAgain(kept) {
  const draft = unitDraft(kept);
  const wasChosen = "form" in kept || isBegun(draft.chain);
  return { ...draft, form: FORM, layout: wasChosen ? draft.layout : "" };
}
