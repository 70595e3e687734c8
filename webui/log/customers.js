// @ts-check
// Customers with their units, and units that have no more than a name that was typed.

import { calc } from "../engine/door.js";
import { write } from "./outbox.js";
import { customers, listing, standing } from "./stands.js";

/** @typedef {import("./stands.js").Customer} Customer */
/** @typedef {import("./stands.js").Listed} Listed */
/** @typedef {import("../engine/door.js").ResultOf<"owners">["texts"][number]} Typed */
/** A customer's record as it is typed. @typedef {Customer["body"]} Body */

/**
 * @typedef {object} Owners
 * @property {(Customer & {units: Listed[]})[]} customers by name
 * @property {(Omit<Typed, "units"> & {units: Listed[]})[]} texts names that were typed, with their units
 */

/** Whose every unit on this phone is. @returns {Promise<Owners>} */
export async function owners() {
  const [all, units] = await Promise.all([customers(), listing()]);
  const found = await calc("owners", {
    customers: all.map(({ id, ids, name, gone }) => ({ id, ids, name, gone })),
    units: units.map(({ unit_id, unit: { owner, customer_id } }) => ({ unit_id, owner, customer_id })),
  });
  const listed = (/** @type {string[]} */ ids) => units.filter(({ unit_id }) => ids.includes(unit_id ?? ""));
  return {
    customers: all.map((customer) => ({ ...customer, units: listed(found.customers[customer.id] ?? []) })),
    texts: found.texts.map((text) => ({ ...text, units: listed(text.units.map(({ unit_id }) => unit_id)) })),
  };
}

/**
 * Write a customer, new or changed.
 * @param {Body} body
 * @param {{replaces?: string, draft?: string}} [more]
 * @returns {Promise<string>} the entry's id, which is a new customer's own
 */
export async function saveCustomer(body, more = {}) {
  return write({ unit: "", kind: "customer", body, shown: await calc("customer", body), ...more });
}

/**
 * Say of units whose they are: each gets an entry of its own, and what was typed stays in the earlier ones.
 * @param {Listed[]} units
 * @param {string} customer its id
 * @param {string} name
 */
export async function linkUnits(units, customer, name) {
  for (const { unit_id } of units) {
    if (!unit_id) continue;
    const { unit } = await standing(unit_id);
    if (!unit) continue;
    const body = { ...unit, owner: name, customer_id: customer };
    await write({ unit: unit_id, kind: "unit", body, shown: await calc("unit", body) });
  }
}
