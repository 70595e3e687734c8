// @ts-check
// In a corner: what the differential does to a driven axle, and to the car.

import { curvesDrawing } from "../../draw/curves.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { newtons } from "../form/fields.js";
import { formula, inline, over, plainWords, raised, root, row } from "./formula.js";

const CAR = /** @type {const} */ ({
  axle: "rear",
  mass_kg: 1000,
  cg_mm: 500,
  track_mm: 1450,
  wheelbase_mm: 2400,
  weight_share: 0.5,
  tyre_mm: 300,
  grip: 1,
  radius_m: 200,
});
const LOCK = { preload_nm: 80, s_drive: 0.35, s_coast: 0.2 };
// Lateral acceleration of each point of the curves, m/s².
const LATERAL = Array.from({ length: 18 }, (_, place) => place / 2);

const WORKING = html`<p>
    The inner wheel is lighter by what the corner shifts across. A tyre's grip is shared between sideways and along:
    of its force ${inline("N")} the side force takes the share ${inline("u")}, the same on both wheels, and the ellipse
    leaves along
  </p>
  ${formula("A = r · e · N ·", root(row("1 −", raised("u", "2"))))}
  <p>
    A solid axle turns both wheels at one speed, though the outer one has the longer way: with little throttle the inner
    wheel drives and the outer one brakes, which pushes the nose out. The differential is that solid axle as far as its
    plates hold: the difference ${inline("D")} of inner less outer torque is that of the solid axle, but never more than
    the lock ${inline("L")}, which grows with the throttle as on the page on ramps. The car is turned further in by
  </p>
  ${formula("M = −", over("D · b", "2 · r"))}
  <p>On drive the inner wheel begins to slide where both carry</p>
  ${formula("T = 2 ·", plainWords("A of the inner wheel"), "+ L")}
  <p>
    and never beyond what a solid axle puts down. From there on the outer wheel gives up side force for torque, until
    both together no longer hold the line. An inner wheel that spins carries no more than its grip, and so the outer one
    gets no more than that and the lock: where it still holds the line then, the axle keeps it however much the
    throttle. Where the lock could carry all the difference of grip, both wheels let go together: there is no warning by
    an inner wheel that spins. On engine braking it is all the same, with an inner wheel that is dragged.
  </p>`;

const STEP_BY_STEP = html`<p>
    Load that goes across is the axle's share of mass, times lateral acceleration, times height of the centre of
    gravity, over the track. Where it is more than half of the axle's weight, the inner wheel is off the ground: then
    only preload, and what the ramps add to it, drives. Grip falls a little where load rises, so an axle that leans on
    one wheel has less of it.
  </p>
  <p>
    Before a tyre slides its torque is in proportion to its slip. With one speed for both wheels and a torque that is
    given, that makes two equations for two torques; a wheel that would have to carry more than it can carries what it
    can, and the other one the rest.
  </p>
  <p>
    At a certain throttle the difference of a solid axle is nothing: below it the nose is pushed out, above it the tail
    is helped round, already before the inner wheel spins. That throttle is the same for every lock, and in fast corners
    it is small. On engine braking the difference only ever pushes the nose out: more lock on coast steadies.
  </p>
  <p>
    The dashed and dotted lines take every figure of the car to both ends of its range, one at a time, and add up the
    squares of what comes of it. How stiff a tyre is along changes where nose turns to tail, and never what is put down.
  </p>`;

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["A", "torque that a wheel has grip left for", "N·m"],
  ["N", "force of a wheel in all directions together", "N"],
  ["u", "share of it that the side force takes", "–"],
  ["e", "grip along over grip sideways", "–"],
  ["r", "rolling radius of the tyre", "m"],
  ["L", "lock at that torque", "N·m"],
  ["D", "inner less outer torque", "N·m"],
  ["M", "moment that turns the car further in", "N·m"],
  ["b", "track", "m"],
  ["T", "torque at the axle", "N·m"],
];

export const purpose = html`What an axle puts down and whether the differential pushes the nose out or helps the tail
  round, at each lateral acceleration and throttle: so that ramps and preload are chosen for a car and a corner.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  const answerAt = (/** @type {number} */ lateral, /** @type {number} */ torque) =>
    calc("corner", { ...CAR, ...LOCK, lateral_ms2: lateral, torque_nm: torque, write_in: read.torqueUnit });
  const [little, much, ...all] = await Promise.all([
    answerAt(6, 100),
    answerAt(6, 700),
    ...LATERAL.map((lateral) => answerAt(lateral, 0)),
  ]);
  const series = (
    /** @type {"most_nm" | "open_nm" | "solid_nm" | "changes_at_nm"} */ field,
    /** @type {string} */ name,
    /** @type {boolean} */ dashed,
  ) => ({ name, dashed, points: all.map((result, place) => ({ x: LATERAL[place], y: read.torqueIn(result[field]) })) });
  return {
    figures: html`<figure>
      ${curvesDrawing({
        series: [
          series("solid_nm", "", true),
          series("most_nm", "", false),
          series("open_nm", "", true),
          series("changes_at_nm", "", true),
        ],
        xName: "lateral acceleration, m/s²",
        yName: `torque at the axle, ${read.torqueLabel}`,
        words: `Torque at which the inner wheel slides, of a solid axle, this unit and an open one, falling with lateral
          acceleration; and where nose turns to tail.`,
      })}
      <figcaption>
        Line: this unit. Dashed from above: a solid axle, an open one, and where it turns from nose out to tail out in a
        corner of ${CAR.radius_m} m.
      </figcaption>
    </figure>`,
    working: WORKING,
    deeper: { title: "Step by step", text: STEP_BY_STEP },
    symbols: SYMBOLS,
    example: html`<p>
        A car of ${CAR.mass_kg} kg, half of it on the driven rear axle, at 6 m/s² in a corner of ${CAR.radius_m} m.
        With
        ${read.torque(100)} at the axle: ${little.text} The inner wheel carries ${read.torque(little.inner_nm)}, the
        outer one ${read.torque(little.outer_nm)}.
      </p>
      <p>
        With ${read.torque(700)}: ${much.text} The inner wheel begins to slide at ${read.torque(much.most_nm)}; the
        difference weighs as ${newtons(much.yaw_side_n)} sideways at the other axle.
      </p>`,
    limits: [
      "Left out: grip that falls past its peak, aerodynamics, roll angle, steer angle, rolling resistance, and all " +
        "that changes quicker than the car settles.",
      "Friction of plates and ramps, grip and the height of the centre of gravity are never known exactly: look at " +
        "the dashed lines, and at what stays true on both sides of them.",
      "Drivers and tracks differ. The makers of car and tyres and a qualified person come first; try a change where " +
        "there is room to go wrong.",
    ],
    sources: [
      "Load transfer, ellipse, load sensitivity: W. F. and D. L. Milliken, Race Car Vehicle Dynamics; from memory.",
      "Load shifted by driving force: T. D. Gillespie, Fundamentals of Vehicle Dynamics; from memory.",
      "Slip stiffness: H. B. Pacejka, Tire and Vehicle Dynamics; from memory.",
      "Usual figures of cars and tyres: common practice, no source.",
    ],
    words: ["grip", "lock", "locking value", "preload", "solid"],
  };
}
