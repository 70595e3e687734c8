// @ts-check
// A unit's definition as it is typed. The draft is the request itself with text in its fields, so that nothing has to
// be carried over when a field is added.

/** As it was typed, in a unit or without, or as the log has it. @typedef {any} Figure */

/** A part of the stack. @typedef {{slot: string, part: string, new_mm: Figure, minimum_mm: Figure}} Part */

/** @typedef {ReturnType<typeof newUnit>} UnitDraft */

/** A new unit: two friction plates a side, one spring in line. Sizes are left to be measured. */
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

/** @param {any} draft @param {string[]} names */
const within = (draft, names) => names.reduce((group, name) => group?.[name], draft);

/**
 * The value at a path such as "order.torque_nm" or "chain.3.new_mm".
 * @param {UnitDraft} draft
 * @param {string} path
 * @returns {Figure}
 */
export const valueAt = (draft, path) => within(draft, path.split("."));

/** A copy with another value at a path. @param {UnitDraft} draft @param {string} path @param {Figure} value */
export function withValue(draft, path, value) {
  const names = path.split(".");
  const last = /** @type {string} */ (names.pop());
  const copy = structuredClone(draft);
  within(copy, names)[last] = value;
  return copy;
}

/** A slot's name that the stack does not have yet. @param {Part[]} chain @param {string} side */
export function freeSlot(chain, side) {
  const taken = new Set(chain.map((item) => item.slot));
  for (let number = 1; ; number++) if (!taken.has(`${side}${number}`)) return `${side}${number}`;
}

/** Whether nothing was typed, be it with a unit chosen. @param {Figure} value */
const empty = (value) => {
  const typed = value && typeof value === "object" && "typed" in value ? value.typed : value;
  return typed === null || typed === undefined || (typeof typed === "string" && !typed.trim());
};

/** Groups that a unit may do without, and the fields that say whether it has them. */
const OPTIONAL = /** @type {const} */ ({
  ramps: ["pin_radius_mm", "drive_deg", "coast_deg"],
  cover: ["screws", "screw_mm", "torque_nm"],
});

/**
 * The request: what was left empty is left out, and a group of which nothing was typed as well.
 * @param {UnitDraft} draft
 */
export function unitRequest(draft) {
  const whole = (/** @type {Record<string, any>} */ group) =>
    Object.fromEntries(Object.entries(group).filter(([, value]) => !empty(value)));
  const request = whole(draft);
  for (const name of /** @type {const} */ (["order", "service", "spring", "friction", "limits"]))
    request[name] = whole(draft[name] ?? {});
  for (const name of /** @type {const} */ (["ramps", "cover"])) {
    /** @type {Record<string, Figure>} */
    const group = draft[name] ?? {};
    if (OPTIONAL[name].some((field) => !empty(group[field]))) request[name] = whole(group);
    else delete request[name];
  }
  request.chain = draft.chain.map(whole);
  return request;
}

/** The definition in the log as a draft: the same, with every group there. @param {any} body @returns {UnitDraft} */
export function unitDraft(body) {
  const blank = /** @type {Record<string, any>} */ (newUnit());
  const filled = { ...blank, ...structuredClone(body) };
  for (const [name, group] of Object.entries(blank))
    if (group && typeof group === "object" && !Array.isArray(group)) filled[name] = { ...group, ...(body[name] ?? {}) };
  filled.chain = filled.chain.map((/** @type {Partial<Part>} */ item) => ({ new_mm: "", minimum_mm: "", ...item }));
  return filled;
}
