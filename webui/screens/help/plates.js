// @ts-check
// Plates: the lowest point, taper, gap and limit.

import { guardDrawing } from "../../draw/guard.js";
import { plateDrawing } from "../../draw/plate.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { verdictMark } from "../form/fields.js";
import { formula, inline, plainWords, root, row, squared } from "./formula.js";
import { word } from "./words.js";

const POINTS = [2.42, 2.41, 2.41, 2.4, 2.41, 2.42];
const GAP = 0.05;

const WORKING = html`${formula("h =", plainWords("lowest of"), "h_1 , h_2 , h_3 , …")}
  ${formula("p =", plainWords("highest"), "−", plainWords("lowest"))}
  <p>
    One reading of the micrometer may be off by its permitted error ${inline("a")} and by half a division
    ${inline("d")}. The guard band is
  </p>
  ${formula("g = 1.645 ·", root(row(squared("a", root("3")), "+", squared("d / 2", root("3")))))}
  <p>or with a certificate ${inline("c")} in place of the first: ${inline("c / 2")}. Then:</p>
  ${formula("h − h_min ≥ g")}
  <p class="quiet">go</p>
  ${formula("h − h_min ≤ − g")}
  <p class="quiet">replace; between the two, measure again</p>
  <p>
    Taper and gap above their limits replace the plate without a guard band: both ends of a taper are read with the
    same tool, so its constant error drops out. Deep scoring, blue colour or cracks replace it whatever it measures.
  </p>`;

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["h", "lowest point", "mm"],
  ["h_min", "limit of this plate", "mm"],
  ["p", "taper", "mm"],
  ["a", "permitted error of the micrometer", "mm"],
  ["d", "one division", "mm"],
  ["g", "guard band", "mm"],
];

const LIMITS = [
  "A micrometer between grooves or on grit measures the high spots. Wipe the plate, close the thimble by " +
    "its ratchet.",
  "The gap shows how far the plate is bent only while nothing presses on it.",
  "Hollow side down a dished plate stands on its rim, and no feeler finds its gap. Some plates are dished on " +
    "purpose: then the maker's figure is the limit.",
  "Every limit is yours. Where you give none, Slipbook takes 92 % of the new thickness and says so.",
  "A limit that is changed later is held against what was measured before, and the worse verdict stands until the " +
    "plate is measured again. The entry keeps the verdict that it was shown with.",
];

const TERMS = [
  "clock point",
  "taper",
  "flatness",
  "guard band",
  "division",
  "certificate",
  "replace",
  "friction plate",
  "separator plate",
];

export const purpose = html`A plate fails where it is thinnest, so its ${word("clock point", "lowest point")} judges
  it. How much it differs round (${word("taper")}) and how far it is bent (${word("flatness")}) count as well.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  /** @typedef {import("../../engine/door.js").RequestOf<"plates">["plates"][number]} Plate */
  /** @param {Partial<Plate>} more @returns {Plate} */
  const plate = (more) => ({
    slot: "A2",
    part: "friction",
    new_mm: 2.5,
    minimum_mm: 2.3,
    points_mm: POINTS,
    gap_mm: GAP,
    ...more,
  });
  const judgedOf = async (/** @type {Partial<Plate>} */ more) =>
    (await calc("plates", { micrometer: {}, write_in: read.lengthUnit, plates: [plate(more)] })).plates[0];
  const [good, close, worn, bent] = await Promise.all([
    judgedOf({}),
    judgedOf({ points_mm: [2.31, 2.31, 2.3, 2.31] }),
    judgedOf({ points_mm: [2.29, 2.3, 2.28, 2.29] }),
    judgedOf({ gap_mm: 0.15 }),
  ]);
  return {
    figures: html`<figure>
      ${plateDrawing({ points: POINTS, gap: GAP, say: read.length })}
      <figcaption>
        Three points or more, evenly round; the mark is the lowest. Then the thickest feeler that passes under its
        rim, the plate lying hollow side up; turned over it is tried again, and the larger counts.
      </figcaption>
    </figure>`,
    working: WORKING,
    symbols: SYMBOLS,
    example: html`<p>The plate that is drawn, limit ${read.length(good.minimum_mm)}: ${verdictMark(good.verdict)}</p>
      ${guardDrawing({
        value: good.lowest_mm,
        expanded: good.guard_mm,
        low: good.minimum_mm,
        high: null,
        guardLow: good.guard_mm,
        guardHigh: null,
        say: read.length,
        words: good.reason,
      })}
      <p class="quiet">Guard band ${read.length(good.guard_mm)}, taper ${read.length(good.taper_mm)}.</p>
      ${[close, worn, bent].map((row) => html`<p>${verdictMark(row.verdict)} ${row.reason}</p>`)}`,
    limits: LIMITS,
    sources: [
      "Guard band: ISO 14253-1:2017.",
      html`Permitted error of an external micrometer, ${read.length(0.004)} from 0 to 25 mm: ISO 3611, from memory.`,
      "Taper 0.03 mm, gap 0.10 mm and 92 % of new where you give no limit: common practice, no source. The " +
        "maker's figures come first.",
    ],
    words: TERMS,
  };
}
