// @ts-check
// An outing as it is typed, and the request that it makes.

import { today } from "../../log/store.js";
import { typedOf } from "../form/fields.js";
import { complaintOf, markedOf } from "./felt.js";

/** @typedef {import("../../engine/calculations.js").BodyOf<"outing">} OutingBody */
/** @typedef {import("../../engine/calculations.js").AsTyped<OutingBody>} OutingRequest */
/** @typedef {Record<"day" | "where" | "session" | "minutes" | "km" | "conditions" | "note" | "oil", string>} Fields */
/**
 * @typedef {Fields &
 *   {nothing: boolean, felt: import("./felt.js").Marked[], helped: Record<string, string>}} OutingDraft
 */
/** @typedef {NonNullable<OutingBody["helped"]>[number]} Helped */

/** @returns {OutingDraft} */
export const emptyOuting = () => ({
  day: today(),
  where: "",
  session: "",
  minutes: "",
  km: "",
  conditions: "",
  note: "",
  oil: "",
  nothing: false,
  felt: [],
  helped: {},
});

/**
 * Another outing like the last: what was felt is asked anew.
 * @param {NonNullable<import("../../log/stands.js").Standing["last_outing"]>["like"]} like
 * @returns {OutingDraft}
 */
export const likeTheLast = ({ where, minutes, km, conditions }) => ({
  ...emptyOuting(),
  where: where ?? "",
  minutes: typedOf(minutes),
  km: typedOf(km),
  conditions: conditions ?? "",
});

/**
 * What was typed of an outing that is in the log.
 * @param {OutingBody} body @param {string} at @returns {OutingDraft}
 */
export const outingAgain = (body, at) => ({
  ...likeTheLast(body),
  day: body.day || at.split("T")[0],
  session: body.session ?? "",
  note: body.note ?? "",
  oil: typedOf(body.oil_c),
  nothing: body.nothing_felt === true,
  felt: markedOf(body.felt ?? []),
  helped: Object.fromEntries((body.helped ?? []).map(({ trial, answer }) => [trial, answer])),
});

/** The request: what was left empty is left out. @param {OutingDraft} draft @returns {OutingRequest} */
export function outingRequest({ nothing, felt, helped, oil, ...typed }) {
  const answers = Object.entries(helped).map(([trial, answer]) => /** @type {Helped} */ ({ trial, answer }));
  const given = Object.fromEntries(Object.entries(typed).filter(([, value]) => value.trim()));
  return {
    ...given,
    today: today(),
    ...(oil.trim() ? { oil_c: oil } : {}),
    ...(nothing ? { nothing_felt: true } : {}),
    ...(felt.length ? { felt: felt.map(complaintOf) } : {}),
    ...(answers.length ? { helped: answers } : {}),
  };
}
