// @ts-check
// Outings since the rebuild: what is logged and what checks say made into one count, and what is due by it.

import { curvesDrawing } from "../../draw/curves.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { formula, inline } from "./formula.js";
import { word } from "./words.js";

/** Outings in May of the year of the example. */
const DAYS = [3, 5, 8, 10, 17];
const CHECK = { day: 12, outings: 6 };

const at = (/** @type {number} */ day) => `2026-05-${String(day).padStart(2, "0")}T12:00:00+02:00`;

const WORKING = html`<p>Each outing that is logged counts one from the day on which it ran:</p>
  ${formula("n = n_logged + n_not")}
  <p>
    A torque check may say itself how many outings the unit had, ${inline("c")}. Where it says more than the count, some
    were not logged, and the count goes on from what it says:
  </p>
  ${formula("n_not = c − n , c > n")}
  <p>
    Where it says less, the two contradict each other. The count stays, so that it never falls, and the unit's page
    says so until the check or the outing is corrected.
  </p>
  <p>
    Days decide which outing was before a check. One that is written on a later day is taken for the last thing of its
    own day. One of the day of a check that is written after it, whether that evening or days later, may have been run
    before it: it is taken for one of those that the check counted, as long as one is missing there. So the count is the
    least that explains what is known.
  </p>
  <p>
    What is due goes by outings, hours of running or days, whatever comes first. Oil and the torque check begin anew
    with a rebuild. Plates go by the one that is known longest: since it was measured, or since the rebuild that fitted
    it.
  </p>`;

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["n", "outings since the rebuild", "–"],
  ["n_logged", "those that were logged", "–"],
  ["n_not", "those that only a check tells of", "–"],
  ["c", "outings that a check says", "–"],
];

const LIMITS = [
  "An outing is one time out with the car. If checks count weekends and the log runs, they contradict each other.",
  "Hours leave out what was logged without a time; a trend by hours needs the time of each outing since the rebuild.",
  "Where nothing was logged since a rebuild, a check's own figure stands as it was typed.",
  "An outing written later, of the day of a rebuild, is taken for one after it.",
];

const SOURCES = ["A rebuilt unit is filled afresh and checked: common practice, no source."];

export const purpose = html`Wear goes by use. Log each ${word("outing")} on the unit's page as it happens: trend, wear
  and what is due then count it, and nobody has to remember how many there were.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc }) {
  const ran = { minutes: "20" };
  const shown = await calc("outing", ran);
  const outings = DAYS.map((day) => ({ id: `o${day}`, unit: "u", kind: "outing", at: at(day), body: ran, shown }));
  const check = {
    id: "check",
    unit: "u",
    kind: "torque_check",
    at: at(CHECK.day),
    body: { circumstances: { outings: CHECK.outings } },
    shown: { verdict: "go", value_nm: 90, findings: [] },
  };
  const rebuilt = { id: "rebuild", unit: "u", kind: "rebuild", at: at(1), body: { fitted: [] }, shown: { fitted: [] } };
  const { used } = await calc("standing", { entries: [rebuilt, ...outings, check] });
  return {
    figures: html`<figure>
      ${curvesDrawing({
        series: [
          {
            name: "count",
            points: [
              { x: 1, y: 0 },
              { x: 3, y: 1 },
              { x: 5, y: 2 },
              { x: 8, y: 3 },
              { x: 10, y: 4 },
              { x: 12, y: 6 },
              { x: 17, y: 7 },
            ],
          },
        ],
        dots: [{ x: CHECK.day, y: CHECK.outings }],
        marks: [],
        xName: "day",
        yName: "outings",
        words: used.text,
      })}
      <figcaption>Each outing counts one. Dot: a check that says more than was logged until then.</figcaption>
    </figure>`,
    working: WORKING,
    symbols: SYMBOLS,
    example: html`<p>${used.text}</p>`,
    limits: LIMITS,
    sources: SOURCES,
    words: ["outing", "bedding in"],
  };
}
