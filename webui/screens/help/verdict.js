// @ts-check
// The verdict: the uncertainty budget, the guard band, and why it sometimes says measure again.

import { checkGuard } from "../../draw/guard.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { percent, verdictMark } from "../form/fields.js";
import { checkOf } from "./example.js";
import { formula, inline, over, raised, root, row } from "./formula.js";
import { word } from "./words.js";

/** Two readings each way, then more of the same scatter. @param {number} middle @param {number} count */
const readings = (middle, count) => Array.from({ length: count }, (_, place) => middle + [0, 1.5, -1.5][place % 3]);

const WORKING = html`<p>
    Everything that makes the reading doubtful is listed with its size as a standard deviation ${inline("u_k")}: the
    ${word("budget")}. What is only known to lie somewhere within ${inline("± a")} counts as
    ${inline(over("a", root("3")))}; half a ${word("division")} counts so too; a ${word("certificate")} counts as
    half its figure (k = 2). The repeats count as their pooled scatter ${inline("s")}, with ${inline("n_f")}
    readings forward and ${inline("n_r")} in reverse:
  </p>
  ${formula("u_1 =", over("s", "2"), "·", root(row(over("1", "n_f"), "+", over("1", "n_r"))))}
  <p>Together, with the effective ${word("degrees of freedom")} for Student's ${inline("t")}:</p>
  ${formula("u =", root(row("∑", raised("u_k", "2"))))}
  ${formula("ν = ν_1 ·", over(raised("u", "2"), raised("u_1", "2")))}
  <p class="quiet">with one degree of freedom only, the root of that fraction</p>
  ${formula("U = t_0.975 ( ν ) · u")} ${formula("g = d +", "t_0.95 ( ν ) · u")}
  <p>
    ${inline("U")} is what stands behind ± on the screen. The guard band ${inline("g")} is one-sided, so that a unit
    that truly lies at the limit is passed at most once in twenty, however few readings there are. In it half a
    ${word("division")} ${inline("d")} counts whole and no longer as a part of ${inline("u")}, since a limit lies
    between two marks the same way at every check. What grows with the reading is taken at the limit where that is
    larger, and levers at the ends of what they may be: a wrench that happens to read low must not look better for it.
  </p>
  ${formula("x − L ≥ g")}
  <p class="quiet">go, for a lower limit; an upper one the other way round</p>`;

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["x", "the value that is judged: mean of both directions", "N·m"],
  ["L", "the limit", "N·m"],
  ["u_k", "standard uncertainty of one part", "N·m"],
  ["u_1, ν_1", "the part of the repeats, and its degrees of freedom", "N·m, –"],
  ["d", "half a division of the scale, as torque", "N·m"],
  ["u", "all parts together", "N·m"],
  ["U", "expanded uncertainty, 95 %, both sides", "N·m"],
  ["g", "guard band, 95 %, one side", "N·m"],
];

const LIMITS = [
  "It covers what the budget lists. A unit held another way than you ticked, or a wrench read from the " +
    "side, is not in it.",
  "A tool whose calibration has run out, a reading low on the scale, repeats that drift and directions " +
    "that disagree are each named, and the verdict is then measure again whatever the mean is.",
  "Repeats can only show what changes between them. A wrench that is wrong reads equally wrong each time: " +
    "that is what its certificate is for.",
];

const SOURCES = [
  "Budget, pooled scatter: JCGM 100:2008 (GUM), 4.2, 4.3, 5.1.2, G.4.1, G.6.4.",
  "Effective degrees of freedom: fewer than Welch and Satterthwaite allow, whose formula lets few readings beside a " +
    "large certificate look too good (M. Ballico, Metrologia 37, 2000, from memory).",
  "Guarded acceptance: JCGM 106:2012, 8.3. Rules for deciding conformity: ISO 14253-1:2017.",
  "Student's t: Abramowitz and Stegun, Handbook of Mathematical Functions (1964), 26.7.",
  "Permitted deviation of wrenches where nothing better is known, and the lowest fifth of the scale: ISO " +
    "6789-1:2017, from memory.",
];

const TERMS = [
  "guard band",
  "doubt",
  "budget",
  "scatter",
  "degrees of freedom",
  "certificate",
  "division",
  "permitted deviation",
  "go",
  "rework",
  "measure again",
];

export const purpose = html`A reading is never exact. Slipbook works out how far off it may be and keeps that much
  distance from a limit: the ${word("guard band")}. Inside by more than that is <b>go</b>, outside by more is
  <b>rework</b> or <b>replace</b>, and between the reading cannot say: <b>measure again</b>.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  const verdictOf = (/** @type {number} */ middle, /** @type {number} */ count) =>
    calc(
      "breakaway",
      checkOf(readings(middle, count), readings(middle - 1, count), {
        limits: { low_nm: 70 },
        write_in: read.torqueUnit,
      }),
    );
  const [good, unsure, bad, few, many] = await Promise.all([
    verdictOf(84, 3),
    verdictOf(71.5, 3),
    verdictOf(62, 3),
    verdictOf(84, 2),
    verdictOf(84, 8),
  ]);
  const picture = (/** @type {(typeof good)} */ result) =>
    html`<div>${verdictMark(result.verdict)} ${checkGuard(result, read.torque, result.reason)}</div>`;
  return {
    figures: html`<figure>
      ${[good, unsure, bad].map(picture)}
      <figcaption>
        Thick stroke: the limit. Dashed: its guard band. Dot and bar: the reading and its doubt. It is
        go where the dot is clear of the guard band.
      </figcaption>
    </figure>`,
    working: WORKING,
    symbols: SYMBOLS,
    example: html`<p>${good.reason}</p>
      <table class="facts">
        <thead>
          <tr>
            <th scope="col">Part of the doubt</th>
            <th scope="col" class="number">u</th>
            <th scope="col" class="number">Share</th>
          </tr>
        </thead>
        <tbody>
          ${good.budget.map(
            (part) =>
              html`<tr>
                <td>${part.meaning}</td>
                <td class="number">${read.torque(part.u_nm)}</td>
                <td class="number">${percent(part.share)}</td>
              </tr>`,
          )}
        </tbody>
      </table>
      <p>
        With two readings each way the guard band would be ${read.torque(few.guard_nm)}, with eight
        ${read.torque(many.guard_nm)}.
      </p>
      <p>In the middle picture above, this would help most:</p>
      <ul class="steps">
        ${unsure.helps.map((help) => html`<li>${help.text}</li>`)}
      </ul>`,
    limits: LIMITS,
    sources: SOURCES,
    words: TERMS,
  };
}
