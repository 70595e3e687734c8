// @ts-check
// What a strip found: every part in the order in which it comes out, what to order, and what became of it.

import { journeyDrawing } from "../../draw/journey.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { verdictMark } from "../form/fields.js";
import { UNIT } from "./example.js";
import { formula, inline, plainWords } from "./formula.js";
import { story } from "./story.js";
import { word } from "./words.js";

const WORKING = html`<p>
    A strip is an inspection, so only what was measured after it was begun counts here. Each part has the verdict of its
    own page; all together stand as the worst:
  </p>
  ${formula("V =", plainWords("worst of"), "V_1 , V_2 , …")}
  <p>
    As long as one was not looked at there is no go, however good the others are. To order is what is worn and stayed:
  </p>
  ${formula("o = w − e")}
  <p>Alike ones are counted together, with the places in which they sit.</p>
  <h3>What answers a bad part</h3>
  <ul class="steps">
    <li>A rebuild that fits another piece in its place. It says so by itself.</li>
    <li>
      Where it stays in, whoever closes the unit says which: put right, or left as it is, and why. Until each is
      answered the closing cannot be signed as complete.
    </li>
    <li>What was done before it was found bad answers nothing.</li>
  </ul>`;

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["V", "verdict of what was found", "–"],
  ["o", "to order, of parts alike", "–"],
  ["w", "worn: their verdict is replace", "–"],
  ["e", "those of them that were exchanged since, or answered at the closing", "–"],
];

const LIMITS = [
  "The disc spring is under load until the step says that it is released: work through the strip first, with the " +
    "cover held and safety glasses on.",
  "Left as it is does not make a part good. Its verdict stands on the unit and on its sheet until it is replaced, " +
    "or measured again and found good.",
  "What was measured before the strip does not count here. Measure it again, or look at the unit's own page.",
  "Nobody is reminded of a part that the unit does not list: a crack in a case, say, is asked for only where it does.",
  "Sizes under To order are those when new. A plan may take others: plan the rebuild before you order plates.",
];

const SOURCES = [
  "The worst part counts, and a bad part is answered before the unit is closed: common practice, no source.",
  "Limits and guard bands are those of each part's own page.",
];

const THICK = [2.5, 2.5, 2.5];

export const purpose = html`Leads through every part of a stripped ${word("unit")} in the order in which it comes out,
  says what is good, worn or not looked at, what to order, and which bad part nobody has answered for.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  const unit = { ...UNIT, features: [{ name: "Case cracks", part: "case", measure: "crack" }] };
  /** Points of each friction plate. @param {Record<string, number[]>} points */
  const plates = (points) => ({
    micrometer: {},
    write_in: read.lengthUnit,
    plates: UNIT.chain.flatMap(({ slot, part, new_mm, minimum_mm }) =>
      part === "friction" ? [{ slot, part, new_mm, minimum_mm, points_mm: points[slot] ?? THICK }] : [],
    ),
  });
  const entries = await story(calc, "found", [
    ["unit", "01T09", unit],
    ["strip", "02T09", { done: ["drained", "out", "held", "screws", "relieved"], guide: 2, signed: "Example" }],
    ["plate_check", "02T12", plates({ A2: [2.25, 2.26, 2.26], A4: [2.26, 2.27, 2.26], B2: [2.31, 2.3, 2.31] })],
    ["inspection", "02T14", { features: [{ name: "Case cracks", part: "case", measure: "crack", crack: "none" }] }],
    ["rebuild", "03T09", { fitted: [{ slot: "A2", mm: 2.5 }], note: "Example" }],
    [
      "close",
      "03T12",
      {
        done: ["clean"],
        signed: "Example",
        answers: [{ name: "B2", answer: "left", why: "measured with a finer tool before it runs" }],
      },
    ],
  ]);
  const asked = (/** @type {number} */ count) =>
    calc("strip_found", { entries: entries.slice(0, count), write_lengths_in: read.lengthUnit });
  const [stripped, closed] = await Promise.all([asked(4), asked(6)]);
  /** @param {typeof stripped} found */
  const ordered = ({ order }) =>
    order.map(({ what, count, names }) => html`<p>To order: ${count} × ${what}, ${names.join(", ")}.</p>`);
  return {
    figures: html`<figure>
      ${journeyDrawing([
        { name: "Strip", about: "from here on it counts what is found" },
        { name: "Measure", about: "screws, cover, plates, spring, rings" },
        { name: "To order", about: "what is worn, alike ones together" },
        { name: "Rebuild", about: "answers what it exchanges" },
        { name: "Close", about: "says of the rest: put right, or left" },
      ])}
      <figcaption>Each bad part is asked for until it is exchanged or answered.</figcaption>
    </figure>`,
    working: WORKING,
    symbols: SYMBOLS,
    example: html`<p>Stripped, friction plates and case looked at: ${verdictMark(stripped.verdict)}</p>
      <p>${stripped.text}</p>
      ${stripped.parts.filter(({ asks }) => asks).map(({ name, text }) => html`<p><b>${name}</b>: ${text}</p>`)}
      ${ordered(stripped)}
      <p>After a rebuild, and a first answer at the closing:</p>
      ${closed.parts.filter(({ answer }) => answer).map(({ name, answer }) => html`<p><b>${name}</b>: ${answer}.</p>`)}
      ${ordered(closed)}
      <p class="quiet">${inline("o")} is one fewer: one plate was exchanged, and one still asks.</p>`,
    limits: LIMITS,
    sources: SOURCES,
    words: ["strip", "closing", "answer", "replace", "measure again", "standing verdict"],
  };
}
