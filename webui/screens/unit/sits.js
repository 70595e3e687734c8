// @ts-check
// Where in the car a unit sits: what a screen says of it, and the usual car where no car was chosen.

import { html, nothing } from "../../vendor/lit-html/lit-html.js";

/**
 * What the engine says of where a unit sits.
 * @typedef {import("../../engine/door.js").ResultOf<"standing">["sits"]} Sits
 */
/** @typedef {import("../../engine/calculations.js").BodyOf<"car">} Body */
/** A car as it was typed. @typedef {Body} Car */

/**
 * That a screen about the wheels of one axle says nothing of this unit, and where it is looked at instead.
 * @param {string} id @param {Sits} sits
 */
export const notInACorner = (id, sits) =>
  html`<section class="card">
    <p>${sits.corner}</p>
    <p><a href="#/unit/${id}/ramps">Ramps and drive</a> has the lock between both shafts.</p>
  </section>`;

/**
 * The car that is chosen; a usual one with the unit's own axle driven where none is; nothing where that is the usual
 * one anyway.
 * @param {Car | undefined} chosen @param {Sits} sits
 * @returns {Car | undefined}
 */
export const carWith = (chosen, { where }) =>
  chosen ?? (where === "front" ? { name: "a usual car", axle: "front" } : undefined);

/**
 * That the car that is chosen drives another axle than the one where the unit sits.
 * @param {Car | undefined} chosen @param {Sits} sits
 */
export function otherAxle(chosen, { where, text }) {
  // A car that says nothing of it is driven at the rear, as the engine has it.
  const driven = chosen?.axle || "rear";
  return !chosen || !where || where === driven
    ? nothing
    : html`<p class="quiet" role="status">
        The unit sits at the ${text}, and this car is entered as driven at the ${driven} axle: what follows is about
        that one.
      </p>`;
}
