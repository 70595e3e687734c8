// @ts-check
// A unit known in part: what each figure gives, and what stands in for one that nobody has.

import { dimensionDrawing } from "../../draw/dimensions.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { UNIT } from "./example.js";
import { formula, inline, over } from "./formula.js";
import { word } from "./words.js";

const TORQUE = { torque_nm: 65, expanded_nm: 4 };

const WORKING = html`<p>
    A unit is what is known of it. A name is enough to begin with; each further figure is checked as strictly as if it
    were the last, and what it gives is said beside it. What needs more says so in one sentence, and leads to the field.
  </p>
  <p>
    A measured torque stands in for much. It tells what both packs hold between the outputs from preload alone,
    ${inline("M_0")}, whatever presses them; ${inline("k")} is 1 where the order is for one output held, and 2 with the
    case held:
  </p>
  ${formula("M_0 =", over("2 · T", "k"))}
  <p>How hard the ramps press is then worked out by ${inline("z")} faces and the friction of the definition:</p>
  ${formula("S = z · μ · r_m ·", over("F", "T_c"))}
  <p>
    And without the rubbing ring friction and radius only ever count as their product, which a measured torque at a
    preload ${inline("F_0")} gives. So where the torque went, and a plan, need no ring:
  </p>
  ${formula("μ · r_m =", over("T", "z · F_0"), "·", over("2", "k"))}`;

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["T", "measured breakaway torque", "N·m"],
  ["k", "packs in it: 1 with one output held, 2 with the case held", ""],
  ["M_0", "what both packs hold between the outputs", "N·m"],
  ["S", "locking value of the ramps", ""],
  ["z", "sliding faces of both packs", ""],
  ["μ", "friction of the plates", ""],
  ["r_m", "radius at which it works", "m"],
  ["F", "push of ramps and gears on each pack, at", "N"],
  ["T_c", "torque into the case", "N·m"],
  ["F_0", "preload", "N"],
];

const LIMITS = [
  "Without the spring, its depth and its plates nobody knows the force at the vice: treat it as more than an " +
    "ordinary vice can hold.",
  "The lock by a measured torque hangs on the friction of the definition, which may be 20 % off either way; with the " +
    "spring known as well it follows from that torque.",
  "A size that was made up to get past a form is worse than none: leave empty what was not measured, or have it " +
    "worked out from what was.",
  "The range of the torque while a unit is typed is that of new springs and of plates whose friction nobody " +
    "measured. Its first check tells more.",
];

const SOURCES = [
  "Torque of a pack by its faces: V. B. Bhandari, Design of Machine Elements, chapter 11.",
  "Ranges: JCGM 100:2008, 4.3.7, 4.3.9 and 5.1. How far friction may be off: common practice, no source.",
  "Tolerances of new discs: DIN EN 16983:2017, as a spring maker's table gives them.",
  "Angles, screws and threads that the form offers as keys: common practice, no source.",
];

export const purpose = html`Nobody knows everything about a ${word("unit")} on the first day. Here is what each figure
  gives, and what a measured ${word("breakaway torque")} can stand in for.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  const written = { write_in: read.torqueUnit, write_lengths_in: read.lengthUnit };
  const { spring: _spring, cavity_mm: _depth, ...half } = UNIT;
  const [least, whole, lock] = await Promise.all([
    calc("so_far", { unit: { name: "Example", service: { low_nm: 45 } }, ...written }),
    calc("so_far", { unit: UNIT, ...written }),
    calc("ramps", { built: { unit: half, measured: TORQUE }, points: 3, write_in: read.torqueUnit }),
  ]);
  const { drive } = lock.fittings[0];
  return {
    figures: html`${dimensionDrawing({ name: "spring", typed: "spring.l0_mm" })}`,
    working: WORKING,
    symbols: SYMBOLS,
    example: html`<p>Of a unit with a name and a lowest torque of ${read.torque(45)}:</p>
      <ul class="steps">
        ${least.sections.map(({ title, known, gives }) => html`<li><b>${title}</b>${known ? " ✓" : ""}: ${gives}</li>`)}
      </ul>
      <p>Of one of which everything is known, with every part new:</p>
      <ul class="steps">
        ${whole.figures.map(({ title, text }) => html`<li>${title}: ${text}</li>`)}
      </ul>
      <p>Of the same without spring and depth, after a check that read ${read.torque(TORQUE.torque_nm)}:</p>
      <p>${lock.text} Lock on drive ${drive.locking} (${drive.locking_range}).</p>`,
    limits: LIMITS,
    sources: SOURCES,
    words: ["unit", "breakaway torque", "preload", "stated for", "lock", "locking value", "sliding face"],
  };
}
