// @ts-check
// Where the preload went: plates, spring, friction.

import { sharesDrawing } from "../../draw/shares.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { UNIT } from "./example.js";
import { formula, inline, over, row } from "./formula.js";
import { word } from "./words.js";

const WORKING = html`<p>Torque is friction times the spring's load, so on the logarithm the causes add up:</p>
  ${formula("ln", over("T_1", "T_0"), "= S_p + S_s + S_f")}
  <p>
    Each share ${inline("S")} is what its cause did, on the mean of all orders in which the three can have come; as
    a change it is e to the power S. Each has its doubt from the two torques, the plates and the free heights; where
    the interval that holds 95 % of it reaches nothing at all, it is called within the doubt. What one wrench, one lever
    or one micrometer is off by is off alike both times, and cancels.
  </p>`;

const DEEPER = {
  title: "How the shares are cut",
  text: html`<p>
          Plates and spring act through the same curved load, so what one did depends on whether the other came first.
          Taking all orders in which they can have come and the mean of what each adds (Shapley's shares) settles that
          without preferring either. With ${inline("F ( p , s )")}, the load with plates ${inline("p")} and spring
          ${inline("s")}, each as before (0) or as now (1):
        </p>
        ${formula(
          "S_p =",
          over("1", "2"),
          "· ( ln",
          over("F ( 1 , 0 )", "F ( 0 , 0 )"),
          "+ ln",
          over("F ( 1 , 1 )", "F ( 0 , 1 )"),
          ")",
        )}
        ${formula(
          "S_s =",
          over("1", "2"),
          "· ( ln",
          over("F ( 0 , 1 )", "F ( 0 , 0 )"),
          "+ ln",
          over("F ( 1 , 1 )", "F ( 1 , 0 )"),
          ")",
        )}
        ${formula("S_f = ln", over("T_1", "T_0"), "− ln", over(row("F ( 1 , 1 )"), row("F ( 0 , 0 )")))}
        <p>Friction is a plain factor and keeps its own.</p>`,
};

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["T_0", "torque at the last good check", "N·m"],
  ["T_1", "torque now", "N·m"],
  ["F", "preload with those plates and that spring", "N"],
  ["S_p", "share of the plates", "–"],
  ["S_s", "share of the spring", "–"],
  ["S_f", "share of friction", "–"],
];

const LIMITS = [
  "What was not measured counts as unchanged, give or take what its class or the standard permits, and its part " +
    "shows up as friction. Measure plates and spring before you blame the oil.",
  "Two checks that are not like with like (other oil, other warmth, fresh from a rebuild) differ for that " +
    "reason too: each such difference is named.",
  "An apparent friction outside 0.04 to 0.25 means that something that went in is wrong.",
];

const SOURCES = [
  "L. S. Shapley, A value for n-person games, Contributions to the Theory of Games II (1953), 307-317.",
  "Propagation of uncertainty: JCGM 100:2008 (GUM), 5.1; what two readings share, 5.2; intervals: JCGM 101:2008.",
  "What a disc that nobody gauged may be off by: DIN EN 16983:2017. A plate that nobody measured: 0.02 mm, common " +
    "practice, no source.",
  "That warm oil reads lower, and that a fresh pack drops in its first outing: common practice, no source.",
];

export const purpose = html`The torque has dropped. Thinner plates and a spring that has set both take
  ${word("crush")} away; glazed plates or another oil take friction away. Each is another job, and this tells how much
  each did.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  const friction = UNIT.chain.filter((item) => item.part === "friction");
  const plates = (/** @type {number} */ mm) => friction.map((item) => ({ slot: item.slot, mm }));
  const result = await calc("loss", {
    unit: UNIT,
    before: { torque_nm: 100, u_nm: 1.5, plates: plates(2.5), l0_mm: 5.2 },
    now: { torque_nm: 71, u_nm: 1.5, plates: plates(2.47), l0_mm: 5.14 },
    write_lengths_in: read.lengthUnit,
  });
  const alike = await calc("compare", {
    before: { value_nm: 100, u_nm: 1.5, oil: "A", temperature: "cold", outings: 1 },
    now: { value_nm: 71, u_nm: 1.5, oil: "B", temperature: "warm", outings: 9 },
    write_in: read.torqueUnit,
  });
  return {
    figures: html`<figure>
      ${sharesDrawing({
        before: result.before.torque_nm,
        steps: result.shares.map((share) => ({
          name: share.cause,
          factor: share.factor,
        })),
        say: read.torque,
      })}
      <figcaption>
        From then to now. Each step multiplies what stood before it, so it does not matter in which order they are
        drawn.
      </figcaption>
    </figure>`,
    working: WORKING,
    deeper: DEEPER,
    symbols: SYMBOLS,
    example: html`<p>${result.text}</p>
      <table class="facts">
        <thead>
          <tr>
            <th scope="col">Cause</th>
            <th scope="col" class="number">Alone</th>
            <th scope="col">What to do</th>
          </tr>
        </thead>
        <tbody>
          ${result.shares.map(
            (share) =>
              html`<tr>
                <th scope="row">${share.cause}</th>
                <td class="number">${share.percent.toFixed(1)} %</td>
                <td>${share.text}</td>
              </tr>`,
          )}
        </tbody>
      </table>
      <h3>Like with like</h3>
      <p>${alike.text}</p>
      <ul class="steps">
        ${alike.marks.map((mark) => html`<li>${mark.text}</li>`)}
      </ul>`,
    limits: LIMITS,
    sources: SOURCES,
    words: ["preload", "crush", "set", "apparent friction", "bedding in", "outing", "doubt"],
  };
}
