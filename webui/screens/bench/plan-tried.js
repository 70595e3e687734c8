// @ts-check
// A preload that is chosen to be tried: the plan aims at it, and says why.

import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { figureIn } from "../form/fields.js";

/** @typedef {import("../../log/stands.js").BuiltStanding} BuiltStanding */
/** @typedef {import("../form/fields.js").Reading} Reading */
/** What is typed of a plan's torque. @typedef {{torque: string, unit: string}} Aim */

/** The preload that is chosen to be tried and not made yet. @param {BuiltStanding} found */
export const toTry = ({ trials }) => trials.find(({ lever, state }) => lever === "preload" && state === "chosen");

/**
 * The torque of that, as it is typed in a unit; nothing where there is none.
 * @param {BuiltStanding} found @param {Reading} read @param {string} unitOfTorque
 */
export function aimOf(found, read, unitOfTorque) {
  const torque = toTry(found)?.torque_nm;
  return typeof torque === "number" ? { torque: figureIn(read.units, "nm", unitOfTorque, torque, 1) } : {};
}

/**
 * The change that a plan makes, where it aims at it.
 * @param {BuiltStanding} found @param {Reading} read @param {Aim} draft
 */
export const triedWith = (found, read, draft) =>
  aimOf(found, read, draft.unit).torque === draft.torque ? toTry(found) : undefined;

/**
 * What is chosen to be tried, and the way back to it.
 * @param {BuiltStanding} found @param {Reading} read @param {Aim} draft @param {(aim: {torque?: string}) => void} put
 */
export function tried(found, read, draft, put) {
  const trial = toTry(found);
  if (!trial) return nothing;
  const aim = aimOf(found, read, draft.unit);
  return html`<p>To try: <b>${trial.change}</b>${trial.felt ? html`, against “${trial.felt}”` : nothing}.</p>
    <p class="quiet">${trial.reason}</p>
    ${aim.torque === draft.torque ? nothing : html`<button @click=${() => put(aim)}>Aim at ${trial.change}</button>`}`;
}
