// @ts-check
// A unit's definition as it is typed. The draft is the request itself with text in its fields, so that nothing has to
// be carried over when a field is added.

import { named } from "../../log/shape.js";

/** As it was typed, in a unit or without, or as the log has it. @typedef {import("../form/fields.js").Typed} Figure */

/** A part of the stack. @typedef {{slot: string, part: string, new_mm: Figure, minimum_mm: Figure}} Part */

/** @typedef {import("../../engine/calculations.js").UnitRequest} Body */

/** Groups of figures. @typedef {"order" | "service" | "spring" | "ramps" | "cover" | "limits"} Group */

/**
 * @typedef {Record<"name" | "owner" | "note" | "judged_on" | "stated_for" | "layout", string> &
 *   Record<"hub_ratio" | "cavity_mm", Figure> & Record<Group, Record<string, Figure>> &
 *   {friction: Record<string, Figure | boolean>, chain: Part[]}} UnitDraft
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
    order: { torque_nm: "", tolerance_nm: "" },
    judged_on: "steady",
    stated_for: "one_output_held",
    service: { low_nm: "", high_nm: "" },
    hub_ratio: "1",
    layout: "in_line",
    spring: { de_mm: "", di_mm: "", t_mm: "", l0_mm: "", parallel: "1", series: "1" },
    cavity_mm: "",
    chain: chainFor("in_line", 2),
    friction: { inner_mm: "", outer_mm: "", mu: "0.1", run_in: true },
    ramps: { pin_radius_mm: "", drive_deg: "", coast_deg: "", mu: "0.1" },
    cover: { screws: "", screw_mm: "", torque_nm: "", start_mm: "" },
    limits: { taper_mm: "0.03", flatness_mm: "0.10" },
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

/** A copy with another value at a path. @param {UnitDraft} draft @param {string} path @param {Figure} value */
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
const OPTIONAL = /** @type {const} */ ({
  ramps: ["pin_radius_mm", "drive_deg", "coast_deg"],
  cover: ["screws", "screw_mm", "torque_nm"],
});

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
 * @param {UnitDraft} draft
 * @param {Name} name
 */
function optional(draft, name) {
  const group = draft[name];
  const begun = OPTIONAL[name].some((field) => !empty(group[field]));
  return /** @type {Partial<Pick<UnitDraft, Name>>} */ (begun ? { [name]: whole(group) } : {});
}

/**
 * The request: what was left empty is left out, and a group of which nothing was typed as well.
 * @param {UnitDraft} draft
 * @returns {import("../../engine/calculations.js").AsTyped<Body>}
 */
export function unitRequest(draft) {
  const { ramps, cover, ...always } = draft;
  return {
    ...whole(always),
    order: whole(draft.order),
    service: whole(draft.service),
    spring: whole(draft.spring),
    friction: whole(draft.friction),
    limits: whole(draft.limits),
    ...optional(draft, "ramps"),
    ...optional(draft, "cover"),
    chain: draft.chain.map(whole),
  };
}

/**
 * A definition, of the log or as it was typed in an older version, as a draft: the same, with every group there.
 * @param {Partial<Body> | object} body
 * @returns {UnitDraft}
 */
export function unitDraft(body) {
  const blank = newUnit();
  const given = structuredClone(body);
  const groups = Object.entries(blank).flatMap(([name, group]) => {
    const stored = /** @type {object | null | undefined} */ (under(given, name));
    return named(group) ? [[name, { ...group, ...stored }]] : [];
  });
  const chain = "chain" in given && Array.isArray(given.chain) ? given.chain : blank.chain;
  return {
    ...blank,
    ...given,
    ...Object.fromEntries(groups),
    chain: chain.map((item) => ({ new_mm: "", minimum_mm: "", ...item })),
  };
}
