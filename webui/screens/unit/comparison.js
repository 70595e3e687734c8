// @ts-check
// Two checks of a unit side by side: what was measured between them, and what the engine makes of the difference.

import { calc } from "../../engine/door.js";
import { typedOf } from "../form/fields.js";
import { heightBetween } from "./as-it-stands.js";

/** @typedef {import("../../log/store.js").Entry} Entry */

/**
 * @typedef {object} Comparison
 * @property {any} [loss] where the preload went, by the engine
 * @property {any} [compared] how the readings compare, by the engine
 * @property {string[]} unmeasured what was not measured between the two checks
 * @property {string} fault why the engine could not say
 */

const time = (/** @type {Entry} */ entry) => Date.parse(entry.at);

/** Entries that were not corrected, by time. @param {Entry[]} entries @param {Record<string, string>} replaced */
export const standingEntries = (entries, replaced) =>
  entries.filter((entry) => !replaced[entry.id]).sort((a, b) => time(a) - time(b));

/**
 * Until when what is measured belongs to a check: a unit is opened after its torque was read, and nothing wears before
 * it is closed and read again, or rebuilt.
 * @param {Entry[]} entries by time
 * @param {Entry} check
 */
function belongsUntil(entries, check) {
  const next = entries.find((entry) => time(entry) > time(check) && ["torque_check", "rebuild"].includes(entry.kind));
  return next ? time(next) - 1 : Infinity;
}

/**
 * The plates as they were last measured by a time, mean thickness.
 * @param {Entry[]} entries by time
 * @param {number} until ms
 */
function platesAt(entries, until) {
  /** @type {Record<string, {slot: string, mm: number}>} */
  const rows = {};
  for (const { kind, shown } of entries.filter((entry) => time(entry) <= until)) {
    if (kind === "plate_check") for (const { slot, mean_mm } of shown.plates) rows[slot] = { slot, mm: mean_mm };
    if (kind === "rebuild") for (const { slot, mm } of shown.fitted) rows[slot] = { slot, mm };
  }
  return Object.values(rows);
}

/** A reading and what it was taken in. @param {Entry} check */
function circumstances({ body, shown }) {
  const { oil, temperature, outings } = body.circumstances ?? {};
  return {
    value_nm: shown.value_nm,
    u_nm: shown.u_nm,
    ...(oil ? { oil } : {}),
    ...(temperature ? { temperature } : {}),
    ...(typedOf(outings) ? { outings } : {}),
  };
}

/** A check with the plates and the spring that belong to it. @param {Entry[]} entries @param {Entry} check */
function side(entries, check) {
  const until = belongsUntil(entries, check);
  const height = heightBetween(entries, -Infinity, until);
  return {
    torque_nm: check.shown.value_nm,
    u_nm: check.shown.u_nm,
    plates: platesAt(entries, until),
    ...(height ? { l0_mm: height } : {}),
  };
}

/** What was not measured between two checks. @param {Entry[]} entries @param {Entry} before @param {Entry} now */
function unmeasuredBetween(entries, before, now) {
  const [first, last] = [belongsUntil(entries, before), belongsUntil(entries, now)];
  const measured = (/** @type {string} */ kind) =>
    entries.some((entry) => entry.kind === kind && time(entry) > first && time(entry) <= last);
  return [...(measured("plate_check") ? [] : ["plates"]), ...(measured("spring_check") ? [] : ["spring"])];
}

/**
 * @param {any} unit its definition in SI
 * @param {Entry[]} entries that stand, by time
 * @param {[Entry | undefined, Entry | undefined]} checks before and now
 * @param {{torqueUnit: string, lengthUnit: string}} read the units to write in
 * @returns {Promise<Comparison>}
 */
export async function compareChecks(unit, entries, [before, now], { torqueUnit, lengthUnit }) {
  if (!before || !now || before === now) return { unmeasured: [], fault: "" };
  const unmeasured = unmeasuredBetween(entries, before, now);
  let loss;
  try {
    const sides = { before: side(entries, before), now: side(entries, now) };
    loss = await calc("loss", { unit, ...sides, write_lengths_in: lengthUnit });
    const readings = { before: circumstances(before), now: circumstances(now) };
    return { loss, compared: await calc("compare", { ...readings, write_in: torqueUnit }), unmeasured, fault: "" };
  } catch (error) {
    return { loss, unmeasured, fault: /** @type {any} */ (error).reason ?? String(error) };
  }
}
