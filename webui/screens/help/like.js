// @ts-check
// Two torque checks side by side: what cancels in their difference, and what makes them unlike.

import { curvesDrawing } from "../../draw/curves.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { UNIT } from "./example.js";
import { formula, inline, raised, root, row } from "./formula.js";
import { story } from "./story.js";
import { word } from "./words.js";

// What the wrench of the example is off by goes with what it reads: 2.5 % of it.
const THEN = { day: 4, torque_nm: 100, tool_nm: 2.5, readings: [100, 101, 100, 99] };
const NOW = { day: 24, torque_nm: 91, tool_nm: 2.275, readings: [91, 92, 91, 90] };
const OIL_DAY = 12;
const HOT_C = 142;

const WORKING = html`<p>The change, and how far it may be off:</p>
  ${formula("D = T_2 − T_1")}
  ${formula("u =", root(row(raised("a_1", "2"), "+", raised("a_2", "2"), "+", raised(row("( c_2 − c_1 )"), "2"))))}
  <p>
    Scatter and rounding, ${inline("a")}, are each check's own. What one wrench or one lever is off by, ${inline("c")},
    is off alike both times, and nearly all of it cancels. With another wrench, or after it was calibrated, nothing
    does:
  </p>
  ${formula(
    "u =",
    root(row(raised("a_1", "2"), "+", raised("a_2", "2"), "+", raised("c_1", "2"), "+", raised("c_2", "2"))),
  )}
  <p>A change counts where it is more than holds 95 % of that, about twice ${inline("u")}.</p>
  <h3>Like with like</h3>
  <p>
    The comparison is made in any case, and whatever was not alike is named: oil, warmth, tool, fresh from a rebuild.
    Which oil was in it is what the check says, or else what the last rebuild or service filled in. One that does not
    name its oil leaves it unknown.
  </p>
  <h3>Between the two</h3>
  <p>
    Oil that was filled in, and the hottest outing with oil above 130 °C, stand beside the share of friction: both
    change friction, and no measurement of plates or spring shows it. That is why they are named and not counted: nobody
    knows how much each does.
  </p>`;

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["D", "change of the torque", "N·m"],
  ["T_1", "torque then", "N·m"],
  ["T_2", "torque now", "N·m"],
  ["a_1", "what is the earlier check's own, standard uncertainty", "N·m"],
  ["a_2", "what is the later check's own", "N·m"],
  ["c_1", "what wrench and lever are off by in the earlier check", "N·m"],
  ["c_2", "the same in the later check", "N·m"],
  ["u", "standard uncertainty of the change", "N·m"],
];

const LIMITS = [
  "Warm oil reads lower than cold, so an evening's check after a run is not comparable with one made in a cold " +
    "workshop: check both cold, or both warm.",
  "Oil temperature is that of the oil, by whatever gauge the car has. The faces of the plates are hotter.",
  "After oil above 130 °C do not go by the torque alone: drain it, smell and look at it, and look at the plates.",
  "Two names of one oil count as two oils. Write it alike each time.",
  "Hot oil burns skin and seals: let it cool before you drain it.",
];

const SOURCES = [
  "What two readings share: JCGM 100:2008 (GUM), 5.2.1, 5.2.2, F.1.2. The interval: JCGM 101:2008.",
  "That warm oil reads lower, that a fresh pack drops in its first outing, and 130 °C: common practice, no source. " +
    "The oil maker's figure comes first.",
];

export const purpose = html`Two checks are compared to see what wear, oil or heat has done. This says whether the
  change is more than the readings' ${word("doubt")}, and in what the two are not alike.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  /** @typedef {import("../../engine/door.js").RequestOf<"compare">["before"]} Side */
  /** One check: its own scatter, and what its wrench is off by. @param {typeof THEN} of @param {Partial<Side>} more */
  const side = ({ torque_nm, tool_nm }, more) => ({
    value_nm: torque_nm,
    u_nm: 1,
    parts: [
      { name: "repeats", u_nm: 1 },
      { name: "tool", u_nm: tool_nm, source: more.tool ?? "" },
    ],
    temperature: /** @type {const} */ ("cold"),
    oil: "A",
    outings: 3,
    ...more,
  });
  const asked = (/** @type {Partial<Side>} */ then, /** @type {Partial<Side>} */ now) =>
    calc("compare", {
      before: side(THEN, { tool: "Long beam", ...then }),
      now: side(NOW, { tool: "Long beam", outings: 7, ...now }),
      write_in: read.torqueUnit,
    });
  const check = (/** @type {typeof THEN} */ { readings }) => ({
    held: "bench_output_held",
    wrench: { name: "Long beam", kind: "beam", low_nm: 0, high_nm: 200, division_nm: 2 },
    steady_nm: { forward: readings, reverse: readings },
    limits: { low_nm: 70, high_nm: 130 },
  });
  const [same, other, warm, entries] = await Promise.all([
    asked({}, {}),
    asked({}, { tool: "Short dial" }),
    asked({}, { oil: "B", temperature: "warm" }),
    story(calc, "like", [
      ["unit", "01T09", UNIT],
      ["torque_check", "04T09", check(THEN)],
      ["service", "12T09", { oil_changed: true, oil: "B" }],
      ["outing", "18T09", { minutes: 20, oil_c: HOT_C }],
      ["torque_check", "24T09", check(NOW)],
    ]),
  ]);
  const { logged } = await calc("change", {
    entries,
    write_in: read.torqueUnit,
    write_lengths_in: read.lengthUnit,
  });
  return {
    figures: html`<figure>
      ${curvesDrawing({
        series: [
          { name: "", points: [THEN, NOW].map(({ day, torque_nm }) => ({ x: day, y: read.torqueIn(torque_nm) })) },
        ],
        dots: [THEN, NOW].map(({ day, torque_nm }) => ({ x: day, y: read.torqueIn(torque_nm) })),
        marks: [
          { x: OIL_DAY, name: "oil" },
          { x: 18, name: `${HOT_C} °C` },
        ],
        xName: "day",
        yName: read.torqueLabel,
        words: same.text,
      })}
      <figcaption>Two checks, and what was logged between them that changes friction.</figcaption>
    </figure>`,
    working: WORKING,
    symbols: SYMBOLS,
    example: html`<p>From ${read.torque(THEN.torque_nm)} to ${read.torque(NOW.torque_nm)}:</p>
      <p>${same.text} It may be off by ${read.torque(same.expanded_nm)}.</p>
      <p>${other.text} Then it may be off by ${read.torque(other.expanded_nm)}.</p>
      <p>${warm.text}</p>
      <ul class="steps">
        ${warm.marks.map(({ text }) => html`<li>${text}</li>`)}
      </ul>
      <p>Logged between the two that are drawn:</p>
      <ul class="steps">
        ${logged.map(({ text }) => html`<li>${text}</li>`)}
      </ul>`,
    limits: LIMITS,
    sources: SOURCES,
    words: ["like with like", "doubt", "bedding in", "scatter", "apparent friction"],
  };
}
