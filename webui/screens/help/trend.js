// @ts-check
// Trend, prediction band and next opening.

import { curvesDrawing } from "../../draw/curves.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { sure } from "./example.js";
import { formula, inline, over, raised, root, row } from "./formula.js";
import { word } from "./words.js";

const CHECKS = [
  [1, 104],
  [2, 101.5],
  [4, 99.5],
  [5, 96],
  [7, 94],
  [9, 90.5],
].map(([use, torque_nm]) => ({ use, torque_nm }));
const LOW = 70;

const WORKING = html`<p>Least squares through ${inline("n")} checks:</p>
  ${formula("b =", over("∑ ( x_k − x̄ ) · ( y_k − ȳ )", "S"))}${formula("S =", "∑", raised("( x_k − x̄ )", "2"))}
  <p>Their scatter about the line, with ${inline("n − 2")} degrees of freedom:</p>
  ${formula("s =", root(over(row("∑", raised("( y_k − y )", "2")), "n − 2")))}
  <p>The next reading at use ${inline("x")} lies within</p>
  ${formula("y ± t_0.975 · s ·", root(row("1 +", over("1", "n"), "+", over(raised("( x − x̄ )", "2"), "S"))))}
  <p>
    For the earliest meeting the one-sided factor ${inline("t_0.95")} takes its place: the same risk of one in
    twenty that a verdict runs. A limit further off than twenty times the use so far is not in sight.
  </p>`;

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["x", "use: outings since the rebuild", "–"],
  ["y", "breakaway torque on the line", "N·m"],
  ["b", "slope", "N·m each"],
  ["n", "checks", "–"],
  ["s", "scatter about the line", "N·m"],
  ["t_0.975", "Student's t with n − 2 degrees of freedom", "–"],
];

const LIMITS = [
  "A straight line. A fresh pack drops faster in its first outing, which would make the line too steep: the check " +
    "before it is drawn hollow, and left out of the line unless you ask for it.",
  "Three checks since the rebuild at least, each with its outings: they are what x counts. Two make a line " +
    "and no scatter.",
  "Another oil or another way of driving begins another line.",
  "It says nothing of what breaks at once. Open it once a season whatever the trend says.",
];

const SOURCES = [
  "Prediction band: NIST/SEMATECH e-Handbook of Statistical Methods, 4.5.1.",
  "Tested against NIST Statistical Reference Datasets, linear regression, Norris: certified values.",
  "Opening once a season: common practice, no source.",
];

export const purpose = html`Torque drops with use. From the checks since the last rebuild Slipbook draws the line,
  says where the next reading will lie, and when the limit will be met: the earliest that is worth planning for, and
  the likely.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  const outlookOf = (/** @type {typeof CHECKS} */ torque) =>
    calc("life", { use: "outings", torque, limits: { low_nm: LOW } });
  const [first, second] = CHECKS;
  const [line, few] = await Promise.all([outlookOf(CHECKS), outlookOf([first, second])]);
  const result = sure(line.enough && line);
  const series = (/** @type {"value" | "low" | "high"} */ field) =>
    result.curve.map((point) => ({ x: point.use, y: read.torqueIn(point[field]) }));
  const each = (/** @type {number} */ nm) => read.torqueIn(nm).toFixed(2);
  return {
    figures: html`<figure>
      ${curvesDrawing({
        series: [
          { name: "", points: series("value") },
          { name: "", dashed: true, points: series("low") },
          { name: "", dashed: true, points: series("high") },
        ],
        dots: CHECKS.map((check) => ({ x: check.use, y: read.torqueIn(check.torque_nm) })),
        marks: [
          { y: read.torqueIn(LOW), name: "limit" },
          ...(result.due_use ? [{ x: result.due_use, name: "next opening" }] : []),
        ],
        base: read.torqueIn(0.8 * LOW),
        xName: "outings since the rebuild",
        yName: read.torqueLabel,
        words: result.text,
      })}
      <figcaption>
        Dots: checks. Line: least squares. Dashed: the ${word("prediction band")}, where the next reading lies nineteen
        times in twenty. Next opening: where a reading past the limit first has a chance of one in twenty.
      </figcaption>
    </figure>`,
    working: WORKING,
    symbols: SYMBOLS,
    example: html`<p>${result.text}</p>
      <p>
        It loses ${each(-result.slope)} ${read.torqueLabel} an outing, give or take ${each(result.slope_sd)} (one
        standard deviation).
      </p>
      <p>With the first two checks alone: ${few.text}</p>`,
    limits: LIMITS,
    sources: SOURCES,
    words: ["outing", "prediction band", "scatter", "degrees of freedom", "service limits", "bedding in"],
  };
}
