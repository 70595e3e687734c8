// @ts-check
// The shelf: how it keeps itself, what a count settles, and what is on the buying list.

import { journeyDrawing } from "../../draw/journey.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { formula, inline } from "./formula.js";
import { word } from "./words.js";

const WORKING = html`${formula("n = c − f + k")} ${formula("b = p + l − n")}
  <p>
    ${inline("f")} and ${inline("k")} are those of the rebuilds since the count. A count is the truth at its moment:
    what was fitted before it is in it already, however late it was entered. Where the clocks of two phones cannot tell
    which was first, the class says so; count it again.
  </p>
  <h3>Rebuild</h3>
  <p>
    What you fit by its name on the ${word("shelf")} comes off it. For each plate that comes out you say where it goes:
    kept, scrapped, or fitted again in another place of the unit. What the last check found worn starts as scrap, what
    it found within its limit as kept; what was not measured you have to say. A kept plate is a row of its own, with
    its mean thickness, its doubt and its lowest point, and has the limit of its class.
  </p>
  <p>
    Did you buy a plate for this rebuild, so that it never lay on the shelf? Say so beside it. Do you enter a rebuild
    late, and the shelf was counted since it was done? Then choose "leave it: counted since".
  </p>
  <h3>Plan</h3>
  <p>
    A plan that you take for later reserves its plates until the unit is rebuilt or you withdraw the plan; other plans
    do without them. All plans and lowest stocks together make the buying list.
  </p>
  <h3>Count</h3>
  <p>
    Count what you like: a count is of the rows that you changed, or of the whole shelf when you say so. In a count of
    the whole shelf, what is not listed is not there. A row may stand at 0, so that its lowest stock is remembered.
  </p>`;

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["n", "plates of a class that are there now", "–"],
  ["c", "as counted last", "–"],
  ["f", "fitted from the shelf since", "–"],
  ["k", "came out of units since and kept", "–"],
  ["b", "to buy; none where this is below 0", "–"],
  ["p", "planned for units", "–"],
  ["l", "lowest stock that you set", "–"],
];

const LIMITS = [
  "The shelf knows what is entered. A plate that is taken without a rebuild is missed until the next count.",
  "Where more of a class were fitted than it had, it stands at 0 and says that it disagrees: count it, or correct " +
    "the rebuild if the plates were bought for it.",
  "A kept plate is as good as its last measurement. Look at it for heat, scoring and flatness before it goes in again.",
  "A rebuild that another phone has not delivered yet is not in the numbers.",
];

const SOURCES = ["Plain bookkeeping: common practice, no source."];

export const purpose = html`The ${word("shelf")} keeps itself: rebuilds take from it and return to it, plans reserve,
  and a count puts it right.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc }) {
  const heading = { at: "2026-03-02T09:00:00Z", who: "", first_s: 0, last_s: 0, old: false, knew: [], elsewhere: [] };
  const part = { name: "2.50", slot: "A2", part: "friction", mm: 2.5 };
  const { rows, to_buy } = await calc("shelf_now", {
    counts: [
      {
        ...heading,
        ...{ id: "count", first: "count", at_s: 0, only_these: false },
        pieces: [{ name: "2.50", part: "friction", mm: 2.5, count: 6, lowest_stock: 4 }],
      },
    ],
    units: [
      {
        unit: "one",
        name: "the first unit",
        moves: [
          {
            ...heading,
            ...{ id: "rebuild", first: "rebuild", at_s: 1, first_s: 1, last_s: 1, kept: [] },
            taken: [part, { ...part, slot: "A4" }],
          },
        ],
        plan: null,
      },
      {
        unit: "two",
        name: "the second unit",
        moves: [],
        plan: { ...heading, id: "plan", first: "plan", at_s: 2, fitted: [{ ...part, piece: "2.50", bought: false }] },
      },
    ],
  });
  return {
    figures: html`<figure>
      ${journeyDrawing([
        { name: "Count", about: "the truth at its moment" },
        { name: "Plan", about: "reserves plates, or puts them on the buying list" },
        { name: "Rebuild", about: "takes what is fitted" },
        { name: "What came out", about: "kept with its measure, or scrapped" },
      ])}
      <figcaption>From one count to the next.</figcaption>
    </figure>`,
    working: WORKING,
    symbols: SYMBOLS,
    example: html`<p>Six counted, two fitted since, one planned, and a lowest stock of four:</p>
      <ul class="steps">
        ${rows.flatMap(({ says }) => says).map((text) => html`<li>${text}</li>`)}
        ${to_buy.map(({ text }) => html`<li>${text}</li>`)}
      </ul>`,
    limits: LIMITS,
    sources: SOURCES,
    words: ["shelf", "order", "log"],
  };
}
