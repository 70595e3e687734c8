// @ts-check
// A car's figures: what a corner needs of it, how to measure that, and what is taken where nobody did.

import { carDrawing } from "../../draw/car.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { caution } from "../form/fields.js";
import { sure } from "./example.js";
import { formula, inline, over } from "./formula.js";

const CORNERS = { front_left_kg: 262, front_right_kg: 238, rear_left_kg: 256, rear_right_kg: 244 };
/** Figures that the example shows. */
const SHOWN = ["mass_kg", "weight_share", "cg_mm", "tyre_mm", "track_mm"];
const GEARS = ["3.1", "2.05", "1.45", "1.1"];

const WORKING = html`<p>Rolling radius, by how far the car rolls while the tyre turns ${inline("n")} times:</p>
  ${formula("r =", over("d", "2 · π · n"))}
  <p>Torque at the driven axle at full throttle, in each gear, and what engine braking makes of it:</p>
  ${formula("T = M · i · j · h")} ${formula("T_b = M · i · j · b")}
  <p>Share of the weight on the driven axle, by scales under all four wheels:</p>
  ${formula("p =", over("W_1 + W_2", "m"))}
  <p>
    Height of the centre of gravity, by lifting the other axle by ${inline("z")} and reading what the scales under this
    one gain:
  </p>
  ${formula("H = H_0 +", over("G · l", "m · tan θ"), ",", "sin θ =", over("z", "l"))}
  <p>
    The torque of a wheel becomes a push along the ground by the radius, so a larger tyre pushes less in the same gear.
    A shorter gear or more engine makes the inner wheel slide at less throttle, and never changes the torque at which it
    does.
  </p>
  <p>
    Whatever nobody measured is taken as usual for such cars, with a wide range; what was typed or measured has a narrow
    one. A corner takes every figure to both ends of its range.
  </p>`;

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["r", "rolling radius", "mm"],
  ["d", "how far it rolled", "mm"],
  ["n", "turns of the tyre", "–"],
  ["M", "greatest torque of the engine", "N·m"],
  ["i", "ratio of the gear", "–"],
  ["j", "ratio of the final drive", "–"],
  ["h", "share that gears and joints let through, 0.92", "–"],
  ["b", "engine braking as a share of the greatest torque, 0.25", "–"],
  ["T", "torque at the driven axle", "N·m"],
  ["p", "share of the weight on the driven axle", "–"],
  ["W_1", "weight on one driven wheel", "kg"],
  ["m", "weight of the whole car with its driver", "kg"],
  ["H", "height of the centre of gravity", "mm"],
  ["H_0", "height of the hubs on level ground", "mm"],
  ["G", "weight that the scales gain", "kg"],
  ["l", "wheelbase", "mm"],
  ["z", "how far the hubs were lifted", "mm"],
];

const LIMITS = [
  "The radius on the side of a tyre is that of one that carries nothing. Roll the car, with its driver in the seat " +
    "and the pressures of the track.",
  "An engine's torque from a brochure was measured at the crank of a new engine. The range takes some of that up; " +
    "a run on a dynamometer takes up all of it.",
  "The height by lifting an axle hangs on a few kilograms: lift high, lock the springs, and read the scales twice.",
  "Grip in words is a wide range. It is the largest doubt of every corner, and only the track narrows it.",
];

export const purpose = html`What a corner and traction need of a car: weights, tyres, size, engine and gears. All but
    the name may stay empty; each figure that you measure makes the answers narrower.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  const known = await calc("car", {
    name: "Example",
    axle: "rear",
    corners: CORNERS,
    rolled: { turns: 3, distance_mm: 5640 },
    wheelbase_mm: 2400,
    lifted: { axle: "front", lift_mm: 600, gained_kg: 24, hub_mm: 300 },
    engine_nm: 180,
    final_drive: 4.1,
    gears: GEARS,
    write_lengths_in: read.lengthUnit,
  });
  const kg = (/** @type {number} */ load) => `${load} kg`;
  const low = sure(known.gears[0]);
  return {
    figures: html`<figure>
      ${carDrawing({
        loads: {
          front_left: kg(CORNERS.front_left_kg),
          front_right: kg(CORNERS.front_right_kg),
          rear_left: kg(CORNERS.rear_left_kg),
          rear_right: kg(CORNERS.rear_right_kg),
        },
        places: ["rear"],
        words: "A car from above with the weight on each wheel, and its differential in the rear axle.",
      })}
      <figcaption>Scales under all four wheels, level, the driver in the seat.</figcaption>
    </figure>`,
    working: html`${WORKING} ${caution(known.caution)}`,
    symbols: SYMBOLS,
    example: html`<p>Weighed as drawn, rolled, lifted, with engine and gears:</p>
      <ul class="steps">
        ${known.figures
          .filter(({ name }) => SHOWN.includes(name))
          .map(({ meaning, text, from }) => html`<li>${meaning}: ${text}, ${from}</li>`)}
      </ul>
      <p>
        In gear ${low.gear} the axle gets ${read.torque(low.torque_nm)} at full throttle
        (${read.torque(low.low_nm)} to ${read.torque(low.high_nm)}), and ${read.torque(low.braking_nm)} by engine
        braking.
      </p>
      <p>${known.text}</p>`,
    limits: LIMITS,
    sources: [
      "Height by lifting an axle: W. F. and D. L. Milliken, Race Car Vehicle Dynamics; from memory.",
      "Usual figures of cars, tyres and grip, what gears let through, and engine braking: common practice, no source.",
    ],
    words: ["rolling radius", "track", "wheelbase", "centre of gravity", "final drive", "grip"],
  };
}
