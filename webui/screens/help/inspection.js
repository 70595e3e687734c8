// @ts-check
// Inspecting other parts: what a gauge may be off by, and what that leaves of a limit.

import { dialDrawing } from "../../draw/dial.js";
import { guardDrawing } from "../../draw/guard.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { verdictMark } from "../form/fields.js";
import { formula, inline, root, row, squared } from "./formula.js";
import { word } from "./words.js";

const WORKING = html`<p>
    The lowest and the highest of all places are judged, each against its limit. What one value may be off by comes from
    the gauge: its permitted error ${inline("a")}, half a division ${inline("d")} for each of ${inline("n")} readings,
    and what it stood from zero afterwards, ${inline("z")}:
  </p>
  ${formula(
    "u =",
    root(row(squared("a", root("3")), "+ n ·", squared("d / 2", root("3")), "+", squared("z", root("3")))),
  )}
  ${formula("g = 1.645 · u")}
  <p>
    A play, a backlash, an end float and a run-out are differences, so that a dial gauge is read twice. A bore gauge is
    set first and then read: twice as well. All others are read once.
  </p>
  ${formula("L − x ≥ g")}
  <p class="quiet">go; outside from L + g on; measure again between. A lower limit likewise.</p>
  <p>
    A feeler gauge tells between which leaves a gap lies. Type the thickest leaf that passes: half a step more is taken
    as the gap.
  </p>
  <p>
    A change against new, ${inline("c")}, allows new − c to new + c. A crack test passes or fails; a surface fails by
    deep scoring, blue colour or cracks; screws fail when they were used as often as they may be.
  </p>`;

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["x", "highest value", "mm"],
  ["L", "limit", "mm"],
  ["a", "permitted error of the gauge", "mm"],
  ["d", "one division", "mm"],
  ["n", "how often it is read for one value", ""],
  ["z", "what it stood from zero afterwards", "mm"],
  ["c", "change allowed", "mm"],
  ["u", "standard doubt of a value", "mm"],
  ["g", "guard band", "mm"],
];

const LIMITS = [
  "A gauge that stands askew reads a movement too large: at 10° by 1.5 % (1 / cos 10°). Set it square.",
  "A needle that does not come back to zero was knocked, or its stand gave way: measure again.",
  "A look by eye finds no fine crack. Only dye or magnetic particles do, and only on a clean part.",
  "A verdict counts until the part is replaced or looked at again: say in the rebuild what was replaced.",
];

const SOURCES = [
  "Parts of the doubt and their sum: JCGM 100:2008, 4.3.7 and 5.1.2. Guard band: ISO 14253-1:2017.",
  "Permitted errors where you give none, from memory: ISO 463 (dial gauge), ISO 3611 (micrometer), DIN 2275 (feeler " +
    "gauge), ISO 13385-2 (depth gauge). A bore gauge set with a micrometer: common practice, no source.",
  "Ready-made lists, and the limits in them: common practice, no source. The maker's figures come first.",
];

export const purpose = html`Plates, spring and ramp rings wear; gears, ${word("cross pin", "cross pins")}, washers and
  case break. A unit lists once what is looked at on them, with its limits, and each look is judged like everything
  else.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  const feature = {
    name: "Side gear end float",
    part: /** @type {const} */ ("bevel_gears"),
    measure: /** @type {const} */ ("end_float"),
    high_mm: 0.3,
    places: 2,
  };
  const judgedOf = async (/** @type {number[]} */ points) =>
    (await calc("inspection", { write_in: read.lengthUnit, features: [{ ...feature, points_mm: points }] }))
      .features[0];
  const [good, close, far] = await Promise.all([judgedOf([0.2, 0.22]), judgedOf([0.28, 0.29]), judgedOf([0.34, 0.35])]);
  return {
    figures: html`<figure>
      ${dialDrawing(read.length(good.highest_mm ?? 0))}
      <figcaption>
        Push the gear in, set the gauge to zero, pull the gear out and read; then look at zero again.
      </figcaption>
    </figure>`,
    working: WORKING,
    symbols: SYMBOLS,
    example: html`${guardDrawing({
      value: good.highest_mm ?? 0,
      expanded: good.guard_mm ?? 0,
      low: null,
      high: good.high_mm,
      guardLow: null,
      guardHigh: good.guard_mm,
      say: read.length,
      words: good.reason,
    })}
    ${[good, close, far].map((row) => html`<p>${verdictMark(row.verdict)} ${row.reason}</p>`)}`,
    limits: LIMITS,
    sources: SOURCES,
    words: ["cross pin", "guard band", "division", "backlash", "replace"],
  };
}
