// @ts-check
// What can hurt somebody for each way of holding the unit, and where the wrench may go.

import { html } from "../../vendor/lit-html/lit-html.js";
import { worked } from "../form/worked.js";

/**
 * The words of one way of holding it.
 * @typedef {{feels: string, presses?: boolean, first: string, also: string[]}} Cautions
 */

const GROUND =
  "Level, hard ground; chocks on both sides of each wheel that stays down, before the handbrake is let off.";
const FREE =
  "Handbrake off where it works on the driven axle, and brakes free on the wheel that is turned: a brake that drags, " +
  "or holds a driven wheel, is read as torque.";
const FOUR =
  "Four-wheel drive with a centre that is locked or viscous: the other axle holds the case, and the car rolls before " +
  "the unit turns. Take that propeller shaft off first, or lift both wheels.";
const NOBODY = "Nobody under the car, nobody in it.";
const WHERE =
  "Wrench on a bar bolted across the studs or a plug in the splines, never on a hub nut, wheel nut or cover screw: " +
  "turned in reverse they come undone. Socket home, no pipe; pull, don't push.";
const PLUG = "Wrench on a plug in the splines, fully home, never on a cover screw. Pull, don't push.";

/** What is said beside that of a unit at one of the axles, on the car. @type {Record<string, string>} */
const AT_AXLE = {
  front:
    "At the front axle: steering straight ahead and free. Where the handbrake works on the rear axle, it stays on.",
  rear: "At the rear axle: where the handbrake works on it, the chocks at the front wheels alone hold the car.",
};

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
    first:
      "Chocks first, then handbrake off and brakes free; gearbox in neutral, ignition off; a stand under a " +
      "load-bearing point.",
    also: [
      GROUND,
      FREE,
      "Never on the jack alone. The other driven wheel passes the pull to the ground, where 85 N·m at a tyre of " +
        "0.3 m are 280 N: the car can creep.",
      FOUR,
      NOBODY,
      WHERE,
    ],
  },
  car_both_wheels_up: {
    feels: "The wrench feels the sum of both packs: twice as much.",
    presses: true,
    first:
      "Chocks first, then handbrake off and brakes free; gear engaged, ignition off; stands under load-bearing " +
      "points on both sides.",
    also: [
      GROUND,
      FREE,
      "Never on the jack alone. The other wheel turns backwards: hands and clothes away from it.",
      NOBODY,
      WHERE,
    ],
  },
};

/** What is felt with the case held where the ramps press beside the spring. */
const PRESSED =
  "Its spring sits between the ramp rings, so the ramps press too: the wrench feels more than twice. " +
  "One output held tells the preload better.";

/**
 * What the wrench feels.
 * @param {string} held a way of holding it
 * @param {string} layout where the unit's spring sits
 */
export const feltWith = (held, layout) =>
  CAUTIONS[held].presses && layout === "between_rings" ? PRESSED : CAUTIONS[held].feels;

/**
 * @param {string} held a way of holding it
 * @param {string} layout where the unit's spring sits
 * @param {boolean} whole whether all of them are open to read at once
 * @param {string | null} where it sits in the car
 */
export function heldCautions(held, layout, whole, where) {
  const { first, also } = CAUTIONS[held];
  const beside = held.startsWith("car") && where && where in AT_AXLE ? [AT_AXLE[where]] : [];
  return html`<b>${first}</b>
    <details class="more" ?open=${whole}>
      <summary>Before you pull</summary>
      <p>${feltWith(held, layout)}</p>
      <ul>
        ${[...beside, ...also].map((sentence) => html`<li>${sentence}</li>`)}
      </ul>
      ${worked("held", "Why it matters how it is held")}
    </details>`;
}

/** For a weight that hangs on a bar. */
export const WEIGHT = html`<b>Feet clear of the weight</b>, and nothing under it that can break: it drops when the unit
  breaks away.`;
