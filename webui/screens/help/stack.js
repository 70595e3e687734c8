// @ts-check
// The stack and its crush, and what tolerances make of them.

import { stackDrawing } from "../../draw/stack.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { sure, UNIT, unitWith, whole } from "./example.js";
import { formula, inline, raised, root, row } from "./formula.js";
import { word } from "./words.js";

const WORKING = html`${formula("c = ∑ h_k + H − D")} ${formula("H = n · ( l_0 + ( p − 1 ) · t )")}
  ${formula("s = c / n")}
  <p>
    Nested discs lie in one another, so each beyond the first adds only its thickness. With springs at two places
    ${inline("n")} counts both. Below zero the stack is loose: there is no ${word("preload")} at all. The preload is
    the spring's load at ${inline("s")}, times ${inline("p")}: see <a href="#/help/spring">Disc spring</a>.
  </p> `;

const DEEPER = {
  title: "What tolerances do",
  text: html`<p>
          Each new piece may be off by its own ${inline("w")}, anywhere within. They hardly all miss the same way, so
          their squares add up. With ${inline("m")}, the torque for each millimetre of thickness, a plan's torque may
          come out off by
        </p>
        ${formula("± 1.96 · m ·", root(row("∑", raised("w", "2"), "/ 3")))}
        <p>
          at 95 %. So do the places that stay, those that go, and the depth; a spring that nobody gauged brings the
          tolerance of its free height, and a measured torque its own doubt. See <a href="#/help/plan">Plan</a>.
        </p>`,
};

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["c", "crush", "mm"],
  ["h_k", "thickness of each plate, ring and shim", "mm"],
  ["H", "free height of all springs together", "mm"],
  ["D", "depth from the cover's face to the floor", "mm"],
  ["n", "nests of discs one after another", "–"],
  ["p", "discs nested the same way in each", "–"],
  ["l_0", "free height of one disc", "mm"],
  ["t", "thickness of one disc", "mm"],
  ["s", "how far each disc is squeezed", "mm"],
  ["w", "how far off a piece may be", "mm"],
];

const LIMITS = [
  "The depth D is the figure that is measured worst and counts like every other: take it at several " +
    "places, with the cover's own step taken off.",
  "A bent plate stands higher free than squeezed, and a burr or a hair is thickness too.",
  "Oil and dirt between the plates are thickness as well: measure clean.",
];

const SOURCES = [
  "The chain: geometry.",
  "Tolerances of new discs: DIN EN 16983:2017, as a spring maker's table gives them; above 6 mm from memory.",
  "Squares of independent parts: JCGM 100:2008 (GUM), 5.1.2. A class of plates within 0.02 mm where the " +
    "shelf does not say: common practice, no source.",
];

export const purpose = html`Cover, plates, rings and spring are one chain. How much higher it stands than the case is
  deep is the ${word("crush")}, and the crush is what squeezes the spring. A hundredth of a millimetre counts the same
  wherever it is in the chain.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  // Each of the four friction plates thinner by this, as two hundredths gone from each side of the stack would be.
  const worn = 0.02;
  const [now, later] = (await Promise.all([calc("unit", UNIT), calc("unit", unitWith(2.5 - worn))])).map(whole);
  const plates = UNIT.chain
    .filter((item) => item.part !== "spring" && item.part !== "ring")
    .map((item) => ({ slot: item.slot, mm: item.new_mm }));
  const planned = await calc("plan", {
    unit: UNIT,
    fitted: plates.map((plate) => ({ ...plate, replace: true })),
    measured: { torque_nm: now.breakaway_nm, expanded_nm: 0 },
    wanted: { torque_nm: now.breakaway_nm, tolerance_nm: 20 },
    shelf: [
      { name: "friction", part: "friction", mm: 2.5, count: 4 },
      { name: "separator", part: "separator", mm: 2, count: 6 },
    ],
  });
  const plan = sure(planned.possible && planned);
  return {
    figures: html`<figure>
      ${stackDrawing({
        parts: UNIT.chain.map((item) => ({
          slot: item.slot,
          part: item.part,
          thickness: item.new_mm ?? null,
        })),
        springHeight: UNIT.spring.l0_mm,
        crush: now.crush_mm,
        say: read.length,
      })}
      <figcaption>
        From the cover to the floor of the case. The dashed strip above the case's edge is the crush, drawn larger than
        it is.
      </figcaption>
    </figure>`,
    working: WORKING,
    deeper: DEEPER,
    symbols: SYMBOLS,
    example: html`<table class="facts">
        <thead>
          <tr>
            <td></td>
            <th scope="col" class="number">As drawn</th>
            <th scope="col" class="number">${read.length(worn)} off each friction plate</th>
          </tr>
        </thead>
        <tbody>
          <tr>
            <th scope="row">crush</th>
            <td class="number">${read.length(now.crush_mm)}</td>
            <td class="number">${read.length(later.crush_mm)}</td>
          </tr>
          <tr>
            <th scope="row">preload</th>
            <td class="number">${Math.round(now.preload_n)} N</td>
            <td class="number">${Math.round(later.preload_n)} N</td>
          </tr>
          <tr>
            <th scope="row">breakaway</th>
            <td class="number">${read.torque(now.breakaway_nm)}</td>
            <td class="number">${read.torque(later.breakaway_nm)}</td>
          </tr>
        </tbody>
      </table>
      <p>
        Fresh plates throughout, each within ${read.length(0.02)}: the torque may come out ±
        ${read.torque(plan.spread_nm.plates_nm)} from thickness alone.
      </p>`,
    limits: LIMITS,
    sources: SOURCES,
    words: ["stack", "crush", "cavity", "preload", "shim", "disc spring", "travel"],
  };
}
