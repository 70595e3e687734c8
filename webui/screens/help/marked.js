// @ts-check
// Marked parts: what goes with a part from unit to unit, and how what it ran is counted.

import { journeyDrawing } from "../../draw/journey.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { verdictMark } from "../form/fields.js";
import { UNIT } from "./example.js";
import { formula, inline, plainWords } from "./formula.js";
import { story } from "./story.js";
import { word } from "./words.js";

const WORKING = html`<p>
    A part belongs to a unit from the rebuild that puts it in, or from when the unit was added, to the one that takes it
    out: a stay. What it ran is the sum of its stays, each with the outings of that unit:
  </p>
  ${formula("n = n_1 + n_2 + …")}
  <p>A set of screws is counted each time that it is tightened, and the count goes on from unit to unit:</p>
  ${formula("U = m + u")} ${formula("m =", plainWords("the larger of"), "U_0 , b")}
  <p>
    ${inline("U_0")} is what the log counts up to then, ${inline("b")} what the rebuild says of before: of two counts
    the larger is taken, so that no screw is used once too often.
  </p>
  <p>
    What was found of it last counts wherever that was. A rebuild that puts it into a unit takes along what was no go,
    and the unit says so until the part is looked at there. What was go is not taken along: what goes in is measured, or
    it is not known.
  </p>
  <p>
    Marks are compared without spaces at their ends and without capitals: c 7 and C 7 are one part. Kind and mark
    together make a part, so a ring 7 and a case 7 are two.
  </p>`;

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["n", "outings in all", "–"],
  ["n_1", "outings of the first stay", "–"],
  ["U", "how often screws were tightened", "–"],
  ["U_0", "the same, as the log counts it before this stay", "–"],
  ["b", "used before, as the rebuild says", "–"],
  ["u", "tightened in this stay", "–"],
];

const LIMITS = [
  "A cracked part that is in stock looks like a good one: look at its page before it goes into another unit.",
  "Outings that nobody logged are missing, and are said to be: at least so many. Count on more.",
  "One mark on two parts makes one part of them, which is then in two places at once; its page says so. Give one " +
    "of them another mark, and correct the entry that has the old one.",
  "A part that is in two units at once counts what it runs in both, until one of the entries is corrected: rather " +
    "too much than too little.",
  "Do not stamp or grind a mark where a part is loaded: a spring or a ramp breaks from there. Paint or a tag will do.",
];

const SOURCES = ["A book of parts by number, and marks by paint or tag: common practice, no source."];

export const purpose = html`A spring, ring, gear, case or set of screws with a ${word("mark")} of its own can leave
  one unit and go into another. What it ran, what was found of it and where it was goes with it.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc }) {
  const unit = (/** @type {string} */ name, /** @type {string} */ mark) => ({
    ...UNIT,
    name,
    features: [{ name: "Case cracks", part: "case", measure: "crack" }],
    marked_parts: [{ part: "case", mark }],
  });
  const ran = { minutes: "20" };
  const crack = { features: [{ name: "Case cracks", part: "case", measure: "crack", crack: "unclear" }] };
  const stories = await Promise.all([
    story(calc, "one", [
      ["unit", "01T09", unit("Unit one", "C 7")],
      ["outing", "03T09", ran],
      ["outing", "04T09", ran],
      ["outing", "05T09", ran],
      ["inspection", "08T09", crack],
      [
        "rebuild",
        "09T09",
        {
          fitted: [],
          note: "Example",
          marked_parts: [{ part: "case", out_mark: "C 7", out_to: "stock", mark: "C 9" }],
        },
      ],
    ]),
    story(calc, "two", [
      ["unit", "01T09", unit("Unit two", "C 3")],
      [
        "rebuild",
        "12T09",
        {
          fitted: [],
          note: "Example",
          marked_parts: [{ part: "case", out_mark: "C 3", out_to: "scrap", mark: "c 7" }],
        },
      ],
      ["outing", "17T09", ran],
      ["outing", "18T09", ran],
    ]),
  ]);
  const stands = await Promise.all(stories.map((entries) => calc("standing", { entries })));
  const stays = stands.flatMap(({ marked_parts, unit: defined }, place) =>
    marked_parts.stays.map((stay) => ({ ...stay, unit: stories[place][0].unit, unit_name: defined?.name ?? "" })),
  );
  const { parts } = await calc("marked_parts", { stays });
  return {
    figures: html`<figure>
      ${journeyDrawing([
        { name: "Unit one", about: "3 outings, then something was found" },
        { name: "In stock", about: "with all that is known of it" },
        { name: "Unit two", about: "says what was found, until it is looked at" },
        { name: "Gone", about: "scrapped, or to another workshop" },
      ])}
      <figcaption>Each rebuild says what came out, where that went, and what went in.</figcaption>
    </figure>`,
    working: WORKING,
    symbols: SYMBOLS,
    example: html`${parts.map(
      (part) =>
        html`<p>
          <b>${part.text}</b> ${part.used} ${part.verdict ? html`${verdictMark(part.verdict)} ${part.reason}` : ""}
        </p>`,
    )}
    ${parts
      .filter(({ stays: [, other] }) => other)
      .map(
        (part) =>
          html`<ul class="steps">
          ${part.stays.map(({ text, used }) => html`<li>${text} ${used}</li>`)}
        </ul>`,
      )}`,
    limits: LIMITS,
    sources: SOURCES,
    words: ["marked part", "mark", "stay", "outing", "log"],
  };
}
