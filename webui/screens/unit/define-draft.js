// @ts-check
// A unit's definition as it is typed. The draft is the request itself with text in its fields, so that nothing has to
// be carried over when a field is added.

import { named } from "../../log/shape.js";

/** As it was typed, in a unit or without, or as the log has it. @typedef {import("../form/fields.js").Typed} Figure */

/**
 * A part of the stack; of a disc spring also which side its point faces.
 * @typedef {{slot: string, part: string, new_mm: Figure, minimum_mm: Figure, cone_to?: string | null}} Part
 */

/** @typedef {import("../../engine/calculations.js").UnitRequest} Body */

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
 * @typedef {Record<"name" | "owner" | "note" | "plate_family" | "judged_on" | "stated_for" | "layout", string> &
 *   Record<"hub_ratio" | "cavity_mm", Figure> & Record<Group, Record<string, Figure>> &
 *   {friction: Record<string, Figure | boolean>, ramps: Ramps, chain: Part[]}} UnitDraft
 */

/**
 * A new unit: two friction plates a side, one spring in line. Sizes are left to be measured.
 * @returns {UnitDraft}
 */
export function newUnit() {
  return {
    name: "",
    owner: "",
    note: "",
    plate_family: "",
    order: { torque_nm: "", tolerance_nm: "" },
    judged_on: "steady",
    stated_for: "one_output_held",
    service: { low_nm: "", high_nm: "", plates_every_days: "" },
    hub_ratio: "1",
    layout: "in_line",
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
    cover: { screws: "", screw_mm: "", torque_nm: "", start_mm: "" },
    limits: { taper_mm: "0.03", flatness_mm: "0.10" },
    warming: { warmer_k: "", case_ppm: "23", stack_ppm: "11.5" },
  };
}

/**
 * A stack of a layout, separators at both ends of each pack.
 * @param {string} layout
 * @param {number} friction plates a side
 * @returns {Part[]}
 */
export function chainFor(layout, friction) {
  const part = (/** @type {string} */ slot, /** @type {string} */ kind) => ({
    slot,
    part: kind,
    new_mm: "",
    minimum_mm: "",
  });
  const pack = (/** @type {string} */ side) =>
    Array.from({ length: 2 * friction + 1 }, (_, place) =>
      part(`${side}${place + 1}`, place % 2 ? "friction" : "separator"),
    );
  const [first, second] = [part("R1", "ring"), part("R2", "ring")];
  if (layout === "between_rings") return [...pack("A"), first, part("S1", "spring"), second, ...pack("B")];
  return [
    part("S1", "spring"),
    ...pack("A"),
    first,
    second,
    ...pack("B"),
    ...(layout === "two_springs" ? [part("S2", "spring")] : []),
  ];
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

/** A slot's name that the stack does not have yet. @param {Part[]} chain @param {string} side */
export function freeSlot(chain, side) {
  const taken = new Set(chain.map((item) => item.slot));
  for (let number = 1; ; number++) if (!taken.has(`${side}${number}`)) return `${side}${number}`;
}

/** Whether nothing was typed, be it with a unit chosen. @param {unknown} value */
const empty = (value) => {
  const typed = named(value) && "typed" in value ? value.typed : value;
  return typed === null || typed === undefined || (typeof typed === "string" && !typed.trim());
};

/** Groups that a unit may do without, and the fields that say whether it has them. */
const OPTIONAL = {
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
  const { ramps, cover, warming, ...always } = draft;
  return {
    ...whole(always),
    order: whole(draft.order),
    service: whole(draft.service),
    spring: whole(draft.spring),
    friction: whole(draft.friction),
    limits: whole(draft.limits),
    ...pressing(ramps),
    ...optional("cover", cover),
    ...optional("warming", warming),
    chain: draft.chain.map(whole),
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
  if (!named(blank) || !named(typed) || Array.isArray(blank)) return typed;
  const fields = Object.entries(blank).map(([name, value]) => [name, filledIn(value, under(typed, name))]);
  return { ...typed, ...Object.fromEntries(fields) };
}

/**
 * A definition, of the log or as it was typed in an older version, as a draft: the same, with every group there.
 * @param {Partial<Body> | object} body
 * @returns {UnitDraft}
 */
export function unitDraft(body) {
  const draft = /** @type {UnitDraft} */ (filledIn(newUnit(), structuredClone(body)));
  return { ...draft, chain: draft.chain.map((item) => ({ ...{ new_mm: "", minimum_mm: "" }, ...item })) };
}
