// @ts-check
// Why the wrench feels the mean of both packs one way and their sum the other.

import { heldDrawing } from "../../draw/held.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { checkOf } from "./example.js";
import { formula, inline, over } from "./formula.js";
import { word } from "./words.js";

const WORKING = html`${formula("T =", over("T_1 + T_2", "2"))}
  <p class="quiet">one output held, case free</p>
  ${formula("T = T_1 + T_2")}
  <p class="quiet">case held, other output free</p>
  <p>
    With the spring in line with the packs the two differ by exactly two, as long as the ramps do not lock. Drag
    ${inline("D_c")} on a free case is shared by the gears like a pack, and counts half; on a held case it counts not at
    all. Drag ${inline("D_w")} on the turned wheel counts whole. With a hub ratio ${inline("i")} the reading
    ${inline("R")} at the wheel is
  </p>
  ${formula("R = i ·", "( T +", over("D_c", "2"), ") + D_w")}
  <p>
    With both wheels up in gear the other wheel turns too, backwards: its drag ${inline("D_o")} is in the reading as
    well.
  </p>
  ${formula("R = i · T + D_w + D_o")}
  <p>
    <b>Spring between the ramp rings, case held: more than twice.</b> The pins carry what the free output takes, and the
    ramps turn that into a push beside the spring. With ${inline("T_0")} for the mean of the packs from preload alone
    and ${inline("S")} for the ${word("locking value")} of the flank that is loaded,
  </p>
  ${formula("T =", over("2 · T_0", "1 − S"))}
  <p class="quiet">turned forward, as the wheel rolls: coast flank; in reverse: drive flank</p>
  <p>
    Limits and orders are for ${inline("T_0")}, and Slipbook takes the ramps off. Friction is never known well, so that
    leaves a wide doubt: hold one output where you can. From ${inline("S = 1")} on that flank cannot be turned at all.
  </p>`;

const DEEPER = {
  title: "Step by step, from what stands in balance",
  text: html`<p>
          Turn output 1 slowly and steadily, so that nothing is sped up. A small gear between the side gears can turn
          freely on its pin, so it pushes both side gears with the same torque ${inline("G")}, and the pin pushes the
          case back with ${inline("2 G")}. Each pack drags the faster of its two sides back and the slower one along.
        </p>
        <h3>One output held, case free</h3>
        <p>The case follows at half the speed: slower than output 1, faster than output 2.</p>
        ${formula("T − T_1 + G = 0")}
        <p class="quiet">side gear 1: wrench, its pack, the small gears</p>
        ${formula("T_1 − T_2 − 2 · G = 0")}
        <p class="quiet">case: dragged along by pack 1, held back by pack 2 and by the pins</p>
        <p>The second gives ${inline("G")}; put into the first:</p>
        ${formula("T =", over("T_1 + T_2", "2"))}
        <h3>Case held, other output free</h3>
        <p>Output 2 turns backwards as fast as output 1 turns forwards.</p>
        ${formula("T − T_1 + G = 0")}
        <p class="quiet">side gear 1, as before</p>
        ${formula("G + T_2 = 0")}
        <p class="quiet">side gear 2 is free: its pack alone stands against the small gears</p>
        ${formula("T = T_1 + T_2")}
        <p>
          Work says the same: over a small turn the wrench's work is what the packs lose, at half the turn each with the
          case free and at the whole turn each with the case held.
        </p>
        <h3>What the ramps add with the case held</h3>
        <p>
          The pins push the case with ${inline("2 · T_2")}, and through the ramps the packs with it. What a pack holds
          grows by ${inline("S")} for each N·m of half the pins' torque, beside what the spring gives; the drag of the
          other wheel goes through the pins as well.
        </p>
        ${formula("T_2 = T_0 + S · ( T_2 +", over("D_o", "i"), ")")}
        <p class="quiet">both packs alike; solved for T_0, which is what is judged</p>`,
};

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["T", "torque at the turned output", "N·m"],
  ["T_1", "pack torque on the turned side", "N·m"],
  ["T_2", "pack torque on the other side", "N·m"],
  ["G", "what the small gears put on each side gear", "N·m"],
  ["D_c", "drag on the case, where it is free", "N·m"],
  ["D_w", "drag on the turned wheel", "N·m"],
  ["D_o", "drag on the other wheel, where both are up", "N·m"],
  ["R", "reading at the wheel", "N·m"],
  ["i", "turns of the output for one turn of the wheel", "–"],
  ["T_0", "mean of the packs from preload alone", "N·m"],
  ["S", "locking value of the flank that is loaded", "–"],
];

const LIMITS = [
  "What friction of plates and ramps may be off by, a fifth of it and 0.03, is common practice: the real one may be " +
    "further off.",
  "Both packs rub. If one side has no preload, or a plate is caught, the two ways no longer differ by two " +
    "in your readings.",
  "Turned slowly and steadily. A jerk adds inertia: read while it turns, and write the first move down apart.",
  html`On the car, a dragging brake or a stiff shaft is in the reading. Take the wheel's own drag off, or check on
      the bench.`,
  "Held by a gearbox: in gear, on both wheels up, the case must not creep. If the engine turns over, it is " +
    "not held.",
];

const SOURCES = [
  "Equilibrium of case and side gears, and equal work over a small turn: statics, worked through above.",
  "That a unit's order says which way it is meant for: common practice, no source. Ask the maker which one " +
    "his figure is.",
];

const TERMS = [
  "breakaway torque",
  "case",
  "output",
  "pack",
  "drag",
  "hub ratio",
  "stated for",
  "locking value",
  "steady turning",
  "first move",
];

export const purpose = html`The same unit reads once or twice its ${word("breakaway torque")}, or more, depending on
  what is held. Saying which way it was held is part of every reading; Slipbook converts it to the way that your
  limits are ${word("stated for")}.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  const benchCheck = await calc("breakaway", checkOf([84, 86, 85], [83, 85, 84], { write_in: read.torqueUnit }));
  const two = await calc(
    "breakaway",
    checkOf([168, 172, 170], [166, 170, 168], { held: "bench_case_held", write_in: read.torqueUnit }),
  );
  const mixed = await calc("breakaway", checkOf([168, 172, 170], [166, 170, 168], { write_in: read.torqueUnit }));
  const hint = mixed.findings.find((finding) => finding.name === "holding");
  return {
    figures: html`<figure>
        <div class="two">
          <div>
            ${heldDrawing("bench_output_held")}
            <p>bench: one output held</p>
          </div>
          <div>
            ${heldDrawing("car_one_wheel_down")}
            <p>car: one wheel down, neutral</p>
          </div>
        </div>
        <figcaption><b>Case free: once.</b> The wrench feels the mean of both packs.</figcaption>
      </figure>
      <figure>
        <div class="two">
          <div>
            ${heldDrawing("bench_case_held")}
            <p>bench: case in the vice</p>
          </div>
          <div>
            ${heldDrawing("car_both_wheels_up")}
            <p>car: both wheels up, in gear</p>
          </div>
        </div>
        <figcaption>
          <b>Case held: twice, or more where the ramps press.</b> The wrench feels the sum of both packs; the other
          output turns backwards.
        </figcaption>
      </figure>`,
    working: WORKING,
    deeper: DEEPER,
    symbols: SYMBOLS,
    example: html`<table class="facts">
        <thead>
          <tr>
            <th scope="col">Read</th>
            <th scope="col">Held</th>
            <th scope="col" class="number">Judged as</th>
          </tr>
        </thead>
        <tbody>
          <tr>
            <td>about ${read.torque(benchCheck.felt.one_output_held_nm)}</td>
            <td>one output</td>
            <td class="number">${read.torque(benchCheck.value_nm)}</td>
          </tr>
          <tr>
            <td>about ${read.torque(two.felt.case_held_nm ?? 0)}</td>
            <td>case</td>
            <td class="number">${read.torque(two.value_nm)}</td>
          </tr>
        </tbody>
      </table>
      <p>Had somebody ticked the wrong drawing for the second, Slipbook would ask:</p>
      ${hint ? html`<p class="finding">${hint.text}</p>` : html`<p class="finding">${mixed.reason}</p>`}`,
    limits: LIMITS,
    sources: SOURCES,
    words: TERMS,
  };
}
