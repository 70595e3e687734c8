// @ts-check
// Where in the car a unit sits, and what that changes.

import { carDrawing } from "../../draw/car.js";
import { BadInput } from "../../engine/door.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { UNIT } from "./example.js";
import { formula, over } from "./formula.js";
import { story } from "./story.js";
import { word } from "./words.js";

const WORKING = html`<p>
    Plates, spring, ramps and torque are worked out alike wherever a unit sits. Both its ${word("output", "outputs")}
    get half of the torque, and what the lock holds can go from one to the other:
  </p>
  ${formula("T_1 + T_2 = T")} ${formula("| T_1 − T_2 | ≤ S · T")}
  ${formula(over("T_1", "T_2"), "≤", over("1 + S", "1 − S"))}
  <p>What these outputs turn is what differs:</p>
  <ul class="steps">
    <li>
      <b>Front or rear axle</b>: the left and the right wheel. Corners, traction and complaints are about them, with the
      pull of that axle: a front axle pulls the nose, a rear axle pushes the car.
    </li>
    <li>
      <b>Centre</b>: the shafts to the front and to the rear. Each leads through another differential to two wheels, so
      nothing is said of wheels; the lock between the shafts stands under Ramps.
    </li>
    <li>
      <b>Nobody said</b>: it is taken for one between two wheels, at the axle that the car drives.
    </li>
  </ul>
  <p>
    On the car a turned wheel tells of a centre unit only through the axle's own differential, its ratio and its drag.
    So it is checked on the bench.
  </p>`;

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["T", "torque into the case", "N·m"],
  ["T_1", "torque of the output that turns slower", "N·m"],
  ["T_2", "torque of the other one", "N·m"],
  ["S", "locking value", "–"],
];

const LIMITS = [
  "A centre unit whose gears share the torque unequally, a planetary one for example, is not what is worked out " +
    "here: both outputs are taken to get half.",
  "On a car driven by all wheels never turn one wheel by the engine with the others on the ground, and never trust " +
    "one pair of chocks: a locked centre drives the other axle. Lift it as its maker says.",
  "A car that is entered as driven at the other axle is kept as it is; the screen says which axle it goes by.",
];

const SOURCES = [
  "Sum and difference of the outputs: statics; see Ramps.",
  "A centre unit is checked on the bench: common practice, no source. On the car only if the maker says how.",
];

export const purpose = html`A ${word("unit")} sits between two wheels of an axle, or between the axles. Say which
  where you change the unit: it decides what the corner, the complaints and the check on the car have to say of it.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  const unit = { ...UNIT, sits: /** @type {const} */ ("centre") };
  const [entries, lock, refused] = await Promise.all([
    story(calc, "sits", [["unit", "01T09", unit]]),
    calc("ramps", { unit, points: 3, write_in: read.torqueUnit }),
    calc("traction", {
      built: { unit },
      left: { load_kg: 300, grip: 1 },
      right: { load_kg: 300, grip: 0.3 },
      tyre_radius_mm: 300,
    }).then(
      ({ text }) => text,
      (/** @type {unknown} */ fault) => {
        if (fault instanceof BadInput) return fault.reason;
        throw fault;
      },
    ),
  ]);
  const { sits } = await calc("standing", { entries });
  const { drive } = lock.fittings[0];
  return {
    figures: html`<figure>
      ${carDrawing({
        places: ["front", "centre", "rear"],
        words:
          "A car from above: a differential in the front axle, one in the centre between the axles, one in the rear.",
      })}
      <figcaption>Front and rear unit turn two wheels each; a centre unit turns the shafts to both axles.</figcaption>
    </figure>`,
    working: WORKING,
    symbols: SYMBOLS,
    example: html`<p>A unit that sits here: ${sits.text}.</p>
      <p>${sits.car}</p>
      <p>Asked for the traction of an axle: ${refused}</p>
      <p>
        Its lock is worked out like any other's: on drive ${drive.locking}, so one shaft can carry as much as
        ${drive.bias_range} times the other's torque.
      </p>
      <p>It goes back under the step: ${sits.goes_back}.</p>`,
    limits: LIMITS,
    sources: SOURCES,
    words: ["centre unit", "output", "lock", "locking value", "bias ratio"],
  };
}
