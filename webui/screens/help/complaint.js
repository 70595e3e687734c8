// @ts-check
// From complaint to change: which figure is behind what a driver felt, and how much it should change.

import { curvesDrawing } from "../../draw/curves.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { newtons } from "../form/fields.js";
import { formula, inline, over } from "./formula.js";

const CAR = /** @type {const} */ ({
  axle: "rear",
  mass_kg: 1000,
  cg_mm: 500,
  track_mm: 1450,
  wheelbase_mm: 2400,
  weight_share: 0.5,
  tyre_mm: 300,
  grip: 1,
  radius_m: 15,
  lateral_ms2: 7.5,
});
const LOCK = { preload_nm: 200, s_drive: 0.35, s_coast: 0.2 };
// Throttle of each point of the curves, N·m.
const THROTTLE = Array.from({ length: 23 }, (_, place) => place * 40);

const WORKING = html`<p>
    Each complaint is looked for where it shows: on power, on engine braking, or in a tight turn at walking pace; in
    slow corners, in fast ones, or in both. Corners are taken at 0.8 of what the tyres hold. The figure behind it is
    one of those of the page on corners:
  </p>
  <ul>
    <li>
      Pushes on power: the greatest difference ${inline("D")} that pushes the nose out, from no throttle to full. It is
      where the lock ${inline("L")}, which grows with the throttle, meets what a locked axle would make, which falls.
    </li>
    <li>
      Loose on lift-off: how much more the difference would steady the car if the plates did not slip on engine
      braking. Pushes on lift-off or turning in: how much it pushes there.
    </li>
    <li>Inside wheel spins: the torque at which it does, against full throttle in that gear.</li>
    <li>
      Lets go all at once: what is left to the outer wheel when the inner one lets go. Below 2 % both go together.
    </li>
    <li>
      Clicks or hops in tight turns: the lock from preload against what the tyres hold. Below it the plates slip, and
      oil and plates come first; above it the tyres scrub, and less preload frees the turn.
    </li>
  </ul>
  <p>
    A difference is given as the side force at the other axle that would turn the car as much, with ${inline("l")} the
    wheelbase:
  </p>
  ${formula("F = ", over("D · b", "2 · r · l"))}
  <p>
    From 1 % of the weight on the driven axle on it counts as felt. Fits: it is felt at both ends of the range. May fit:
    at one of them. Where it is felt at neither, the differential is not the cause, and the page says so.
  </p>`;

const STEP_BY_STEP = html`<p>
    A push is to be halved. Where more steadying is wanted, it is to be doubled. An inner wheel that spins is to begin
    half way to what a locked axle puts down, but no later than full throttle. Where both let go together, 5 % is to be
    left. In a tight turn the preload is to be a tenth below what the tyres hold. All of that is our own choice.
  </p>
  <p>
    What gets there is worked out anew with each change: rings turned over, other pairs of the unit, the smallest
    change of preload, the nearest usual ramp, two to six faces more or fewer. A change that moves the figure by less
    than a tenth of what is wanted is left out: where the preload sets the lock, no ramp changes it. Every other figure
    is worked out with it too, and what changes by more than a twentieth is told.
  </p>
  <p>
    The range takes every figure of the car to both ends, the corner from 0.65 to 0.95 of what the tyres hold, the
    engine and its braking, and the lock with all that is not known of it; the squares of what comes of each add up.
  </p>`;

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["D", "inner less outer torque", "N·m"],
  ["L", "lock at that torque", "N·m"],
  ["F", "side force at the other axle that turns the car as much", "N"],
  ["b", "track", "m"],
  ["r", "rolling radius of the tyre", "m"],
  ["l", "wheelbase", "m"],
];

export const purpose = html`Leads from what a driver felt to the computed figure that is behind it, or says that none
  is; to what can be changed, by how much, and what that costs elsewhere.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  const [hard, soft, ...all] = await Promise.all([
    calc("corner", { ...CAR, ...LOCK, torque_nm: 400, write_in: read.torqueUnit }),
    calc("corner", { ...CAR, ...LOCK, preload_nm: 100, torque_nm: 200, write_in: read.torqueUnit }),
    ...THROTTLE.map((torque_nm) => calc("corner", { ...CAR, ...LOCK, torque_nm })),
  ]);
  const series = (/** @type {"lock_nm" | "demand_nm" | "difference_nm"} */ field, /** @type {boolean} */ dashed) => ({
    name: "",
    dashed,
    points: all.map((result, place) => ({ x: THROTTLE[place], y: read.torqueIn(result[field]) })),
  });
  return {
    figures: html`<figure>
      ${curvesDrawing({
        series: [series("demand_nm", true), series("lock_nm", true), series("difference_nm", false)],
        xName: `torque at the axle, ${read.torqueLabel}`,
        yName: `inner less outer torque, ${read.torqueLabel}`,
        words: `The difference of a locked axle falls with the throttle, the lock grows with it; the difference of the
          unit is the smaller of both, and greatest where they meet.`,
      })}
      <figcaption>
        Dashed: what a locked axle would make, falling, and the lock, rising. Line: the difference of the unit. Its top
        is the greatest push.
      </figcaption>
    </figure>`,
    working: WORKING,
    deeper: { title: "How much, and how sure", text: STEP_BY_STEP },
    symbols: SYMBOLS,
    example: html`<p>
      A car of ${CAR.mass_kg} kg in a corner of ${CAR.radius_m} m. With a lock of ${read.torque(LOCK.preload_nm)} from
      preload and ${read.torque(400)} at the axle the difference is ${read.torque(hard.difference_nm)}, and weighs as
      ${newtons(hard.yaw_side_n)} sideways at the other axle. With half of that preload it is
      ${read.torque(soft.difference_nm)} at ${read.torque(200)}, and weighs as ${newtons(soft.yaw_side_n)}: where the
      preload sets it, half of the preload is half of the push.
    </p>`,
    limits: [
      "What is felt, where it shows and what to try is common practice, no source. Tyres, dampers, springs and bars " +
        "push and step out too, and nothing here knows them.",
      "Judder, bangs, whining and pulling to one side are not computed at all.",
      "Of two changes that are made at once nobody can tell which one helped.",
      "Drivers and tracks differ. The makers of car and tyres and a qualified person come first; try a change where " +
        "there is room to go wrong.",
    ],
    sources: [
      "Load transfer and ellipse: W. F. and D. L. Milliken, Race Car Vehicle Dynamics; from memory.",
      "From what is felt to what to try, usual figures of cars and tyres: common practice, no source.",
    ],
    words: ["grip", "lock", "locking value", "preload", "solid"],
  };
}
