// @ts-check
// What cannot be measured: a depth, a free height or a friction worked out from what can be, with its doubt.

import { dimensionDrawing } from "../../draw/dimensions.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { percent } from "../form/fields.js";
import { UNIT } from "./example.js";
import { formula, inline, over, row } from "./formula.js";
import { word } from "./words.js";

const { cavity_mm: _unmeasured, ...NO_DEPTH } = UNIT;

const RATIO = row(over("T_2", "T_1"), "=", over("F ( s + d )", "F ( s )"));

const WORKING = html`<h3>Depth</h3>
  <p>The stack is one chain: whoever knows the ${word("crush")} knows the depth.</p>
  ${formula("D = S + h − g")}
  <p>
    The gap under the cover while it lies loose on the stack is the crush itself. Where it cannot be gauged, one torque
    gives it, if the friction is known: torque over faces, friction and radius is the preload, and the spring's curve
    says at which crush it has that.
  </p>
  ${formula(row("F =", over("T", "n · μ · r")))}
  <p>
    Two builds do without the friction. What a known thickness ${inline("d")} adds to the torque, as a share, falls the
    further the spring is squeezed already, so only one crush fits both.
  </p>
  ${formula(RATIO)}
  <h3>Free height</h3>
  <p>
    The height under a known load says how far the disc still is from flat; only one free height gives that load there.
  </p>
  <h3>Friction</h3>
  <p>With depth, plates and spring known, the same torque says the friction instead.</p>
  <h3>The doubt</h3>
  <p>
    Everything that went in is followed to both its ends: the gap or torque as it was read, plates, free height and load
    of the spring by what it was gauged to, or by a new spring's tolerance. The range holds 19 of 20 cases. It goes with
    the figure into every plan, lock, force at the vice and clamp, and each of them says that the figure was worked out,
    not measured. Type what you measure over it, and the mark is gone.
  </p>`;

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["D", "depth from the cover's face to the floor", "mm"],
  ["S", "plates and rings together", "mm"],
  ["h", "free height of the springs together", "mm"],
  ["g", "gap under the loose cover, which is the crush", "mm"],
  ["F", "force of the spring", "N"],
  ["s", "how far it is squeezed", "mm"],
  ["d", "how much thicker the second build was", "mm"],
  ["T", "torque of one pack", "N·mm"],
  ["n", "its sliding faces", ""],
  ["μ", "friction of the plates", ""],
  ["r", "their effective radius", "mm"],
];

const LIMITS = [
  "A spring whose load peaks gives one torque at two crushes. Both depths are said then, and neither is taken: gauge " +
    "the gap.",
  "Near such a peak the curve is flat, and a torque says nothing of the crush. It is refused.",
  "Below 15 and above 75 % of the cone height a disc does not follow its formula, so nothing is worked out from a " +
    "load there. A gap needs no formula.",
  "A depth that came from a torque with a friction taken as known cannot say what the friction is, nor the other way " +
    "round: that would only give back what went in.",
  "Two builds say something only if friction and spring were the same: the same plates' faces, oil and outings.",
  "In a press keep out of line with the spring, behind a guard: a disc that slips flies.",
];

const SOURCES = [
  "Load of a disc over its deflection: DIN EN 16984:2017; Almen and Laszlo, Trans. ASME 58 (1936).",
  "Tolerances of new discs on load and free height: DIN EN 16983:2017.",
  "How doubts add up: JCGM 100:2008, 4.3.7 and 5.1; JCGM 101:2008, 5.2.",
  "A gap to 0.05 mm, a press to 2 %, a torque to 5 % and a friction to a fifth, where nobody says: common practice, " +
    "no source.",
];

export const purpose = html`No gauge reaches the floor of the case? The ${word("cavity")} depth, the free height of
  the ${word("disc spring")} and the friction of the plates can be worked out from what can be measured, and are
  marked as worked out until they are.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  const written = { write_in: read.torqueUnit, write_lengths_in: read.lengthUnit };
  const [gap, torque, friction] = await Promise.all([
    calc("work_out", { from: "depth_from_gap", unit: NO_DEPTH, gap: { gap_mm: 1.45 }, ...written }),
    calc("work_out", { from: "depth_from_torque", unit: NO_DEPTH, torque: { torque_nm: 100 }, ...written }),
    calc("work_out", { from: "friction_from_torque", unit: UNIT, torque: { torque_nm: 100 }, ...written }),
  ]);
  return {
    figures: html`${dimensionDrawing({ name: "gap", typed: "gap.gap_mm" })}`,
    working: WORKING,
    symbols: SYMBOLS,
    example: html`<p>A gap of ${read.length(1.45)} under the loose cover of the example unit: ${gap.text}</p>
      <p>The same unit, from a torque of ${read.torque(100)} and a friction of ${UNIT.friction.mu}: ${torque.text}</p>
      <ul class="steps">
        ${torque.doubt.map(({ meaning, share }) => html`<li>${meaning}: ${percent(share)} of the doubt</li>`)}
      </ul>
      <p>With a depth of ${read.length(UNIT.cavity_mm)} that was measured, the same torque: ${friction.text}</p>`,
    limits: LIMITS,
    sources: SOURCES,
    words: ["worked out", "cavity", "crush", "disc spring", "apparent friction", "doubt", "preload"],
  };
}
