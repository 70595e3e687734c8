// @ts-check
// What can hurt somebody for each way of holding the unit, and where the wrench may go.

import { html } from "../../vendor/lit-html/lit-html.js";

/**
 * The words of one way of holding it.
 * @typedef {{feels: string, presses?: boolean, first: string, also: string[]}} Cautions
 */

const GROUND =
  "Level, hard ground; chocks on both sides of each wheel that stays down; parking brake off if it holds a driven " +
  "wheel.";
const NOBODY = "Nobody under the car, nobody in it.";
const WHERE =
  "Wrench on a bar bolted across the studs or a plug in the splines, never on a hub nut, wheel nut or cover screw. " +
  "Socket home, no pipe; pull, don't push.";
const PLUG = "Wrench on a plug in the splines, fully home, never on a cover screw. Pull, don't push.";

/** @type {Record<string, Cautions>} */
const CAUTIONS = {
  bench_output_held: {
    feels: "The wrench feels the mean of both packs.",
    first: "Hold the unit so that it cannot jump out when it breaks away.",
    also: [PLUG],
  },
  bench_case_held: {
    feels: "The wrench feels the sum of both packs: twice as much.",
    presses: true,
    first: "Clamp the case by its flange, never by the cover screws.",
    also: [PLUG],
  },
  car_one_wheel_down: {
    feels: "The wrench feels the mean of both packs.",
    first: "Gearbox in neutral, ignition off, stand under a load-bearing point, not on the jack alone.",
    also: [
      GROUND,
      "The other driven wheel takes the pull: 85 N·m at a radius of 0.3 m are about 280 N, and the car can creep.",
      NOBODY,
      WHERE,
    ],
  },
  car_both_wheels_up: {
    feels: "The wrench feels the sum of both packs: twice as much.",
    presses: true,
    first: "Ignition off, gear engaged, stands under load-bearing points on both sides, not on the jack alone.",
    also: [GROUND, "The other wheel turns backwards: hands and clothes away from it.", NOBODY, WHERE],
  },
};

/** What is felt with the case held where the ramps press beside the spring. */
const PRESSED =
  "Its spring sits between the ramp rings, so the ramps press too: the wrench feels more than twice. " +
  "One output held tells the preload better.";

/**
 * @param {string} held a way of holding it
 * @param {string} layout where the unit's spring sits
 */
export function heldCautions(held, layout) {
  const { feels, presses, first, also } = CAUTIONS[held];
  return html`${presses && layout === "between_rings" ? PRESSED : feels} <b>${first}</b>
    <ul>
      ${also.map((sentence) => html`<li>${sentence}</li>`)}
    </ul>`;
}

/** For a weight that hangs on a bar. */
export const WEIGHT = html`<b>Feet clear of the weight</b>, and nothing under it that can break: it drops when the unit
  breaks away.`;
