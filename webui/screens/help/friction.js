// @ts-check
// From preload to torque: sliding faces, effective radius, friction.

import { facesDrawing } from "../../draw/faces.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { UNIT, whole } from "./example.js";
import { formula, over, raised, row } from "./formula.js";
import { word } from "./words.js";

/** @type {Record<string, ("friction" | "separator")[]>} */
const ORDERS = {
  one: ["separator", "friction", "separator", "friction", "separator"],
  two: ["separator", "separator", "friction", "friction", "separator"],
};

/** The example with its first pack, and its second, in another order. @param {("friction" | "separator")[]} order */
function ordered(order) {
  const pack = (/** @type {string} */ side) =>
    order.map((part, place) => ({ slot: `${side}${place + 1}`, part, new_mm: part === "friction" ? 2.5 : 2 }));
  const rings = UNIT.chain.filter((item) => item.part === "ring");
  return { ...UNIT, chain: [UNIT.chain[0], ...pack("A"), ...rings, ...pack("B")] };
}

const WORKING = html`${formula("M = z · μ · r · F")}
  <p>Run-in plates wear evenly, which puts the force nearer the middle; new ones are pressed evenly:</p>
  ${formula("r =", over("r_i + r_o", "2"))}
  <p class="quiet">run in: uniform wear</p>
  ${formula(
    "r =",
    over("2", "3"),
    "·",
    over(row(raised("r_o", "3"), "−", raised("r_i", "3")), row(raised("r_o", "2"), "−", raised("r_i", "2"))),
  )}
  <p class="quiet">new: uniform pressure</p>
  <p>The wrench feels the mean of both packs, or their sum: see <a href="#/help/held">How it is held</a>.</p>
  <h3>The other way round</h3>
  <p>A measured torque at a known preload says what the friction must be:</p>
  ${formula("μ =", over("M", "z · r · F"))}
  <p>
    Outside 0.04 to 0.25 it cannot be believed for plates in oil, and Slipbook asks you to check how the unit was
    held, the thicknesses, the cavity and the spring.
  </p>`;

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["M", "torque of one pack", "N·m"],
  ["z", "sliding faces of the pack", "–"],
  ["μ", "coefficient of friction, plates in oil", "–"],
  ["r", "effective radius", "m"],
  ["r_i", "inside radius of the rubbing ring", "m"],
  ["r_o", "outside radius of the rubbing ring", "m"],
  ["F", "preload", "N"],
];

const LIMITS = [
  "The coefficient of friction is the least certain figure of all. Oil, warmth, bedding in and glazing " +
    "change it; a torque measured on the unit beats any table.",
  html`Fewer faces take preload torque <b>and</b> lock away together; thickness changes only the preload.`,
  "Which plates turn with the output and which with the case is the unit's own; the faces count the same either way.",
  "A plate that hangs on its splines does not pass its force on: free plates are assumed.",
];

const SOURCES = [
  "Uniform wear and uniform pressure, and the count of faces: V. B. Bhandari, Design of Machine Elements, " +
    "chapter 11; its examples 11.1, 11.2 and 11.8 are among our tests.",
  "Friction of plates in oil between 0.04 and 0.25: common practice, no source.",
];

const TERMS = [
  "sliding face",
  "friction plate",
  "separator plate",
  "pack",
  "preload",
  "run in",
  "apparent friction",
  "bedding in",
];

export const purpose = html`Preload becomes torque at the ${word("sliding face", "sliding faces")}: how many there
  are, how far out they rub, and how well they grip. Slipbook counts the faces from the order of the plates; nobody
  has to type them.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  const [oneReading, twoReadings, fresh] = (
    await Promise.all([
      calc("unit", ordered(ORDERS.one)),
      calc("unit", ordered(ORDERS.two)),
      calc("unit", { ...UNIT, friction: { ...UNIT.friction, run_in: false } }),
    ])
  ).map(whole);
  return {
    figures: html`<figure>
      ${facesDrawing({ parts: ORDERS.one, count: oneReading.faces.first })}
      ${facesDrawing({ parts: ORDERS.two, count: twoReadings.faces.first })}
      <figcaption>
        Each bright stroke is a face. The same five plates in another order have fewer: two of a kind side by side do
        not slide on each other.
      </figcaption>
    </figure>`,
    working: WORKING,
    symbols: SYMBOLS,
    example: html`<p>
        ${Math.round(oneReading.preload_n)} N, friction ${UNIT.friction.mu}, rubbing ring ${UNIT.friction.inner_mm} to
        ${UNIT.friction.outer_mm} mm, run in:
      </p>
      <table class="facts">
        <thead>
          <tr>
            <th scope="col">Plates</th>
            <th scope="col" class="number">Faces a side</th>
            <th scope="col" class="number">Breakaway</th>
          </tr>
        </thead>
        <tbody>
          <tr>
            <td>one by one</td>
            <td class="number">${oneReading.faces.first}</td>
            <td class="number">${read.torque(oneReading.breakaway_nm)}</td>
          </tr>
          <tr>
            <td>friction plates together</td>
            <td class="number">${twoReadings.faces.first}</td>
            <td class="number">${read.torque(twoReadings.breakaway_nm)}</td>
          </tr>
          <tr>
            <td>one by one, not run in</td>
            <td class="number">${fresh.faces.first}</td>
            <td class="number">${read.torque(fresh.breakaway_nm)}</td>
          </tr>
        </tbody>
      </table>
      <p>Effective radius ${read.length(oneReading.radius_mm)} run in, ${read.length(fresh.radius_mm)} new.</p>`,
    limits: LIMITS,
    sources: SOURCES,
    words: TERMS,
  };
}
