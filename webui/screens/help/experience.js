// @ts-check
// From builds so far: torque over thickness from the log, drawn towards the pattern's line, with its band.

import { html } from "../../vendor/lit-html/lit-html.js";
import { buildsDrawing } from "../bench/builds.js";
import { sure, UNIT } from "./example.js";
import { formula, inline } from "./formula.js";
import { word } from "./words.js";

/** Invented builds: thickness of plates and rings, and the torque once bedded in. @param {[number, number][]} rows */
const builds = (rows) => rows.map(([thickness_mm, torque_nm]) => ({ thickness_mm, torque_nm, u_nm: 1.5 }));

const EXPERIENCE = {
  own: builds([
    [57.95, 76],
    [58.1, 91],
    [58.2, 104],
  ]),
  others: [
    {
      name: "Its twin",
      own: builds([
        [57.85, 70],
        [58, 86],
        [58.25, 113],
      ]),
    },
    {
      name: "Its cousin",
      own: builds([
        [57.9, 69],
        [58.15, 98],
      ]),
    },
  ],
};

const WORKING = html`<p>Each build gives one point: the thickness of its plates and rings, and its torque.</p>
  ${formula("T = a + b · x + e")} ${formula("a = b_0 + u_0")} ${formula("b = b_1 + u_1")}
  <p>
    ${inline("b_0")} and ${inline("b_1")} are the line of the pattern, ${inline("u_0")} and ${inline("u_1")} how one
    unit's own line differs from it, ${inline("e")} how one build differs from the next alike one. With many builds of
    its own a unit has its own line; with few, it is drawn towards the pattern's. How far is not chosen: the builds
    say how much units differ and how much builds scatter.
  </p>
  <p>
    The first check after a rebuild that was taken with an outing behind it and without a fault says the torque of a
    build. Plates count as they were fitted or measured last. A unit as it was taken in counts once all its plates were
    measured.
  </p>
  <h3>Wear from the first check on</h3>
  <p>
    The same is done for what an outing takes: each build is a line of torque over outings, with a level of its own,
    whatever it was set to, and a rise that is drawn towards those of the other builds. What a kind of plate loses
    begins at nothing. The next opening is where a reading below the limit has a chance of 5 in 100; the line is not
    carried further than twice the longest build, and the rule to open it once a season stays.
  </p>`;

const DEEPER = {
  title: "How the band is worked out",
  text: html`<p>
      For given ratios of the variances, the lines follow in closed form: generalized least squares for the pattern's,
      the best linear unbiased prediction for the unit's. Few units say little about these ratios, and a band that takes
      the likeliest for certain is too narrow. So all ratios are gone through, each with the weight of its restricted
      likelihood, and the band holds 95 % of the mixture of Student's t that they give.
    </p>
    <p>
      Before any build was seen, the scatter of builds is taken as 5 % of the torque and the doubt of the checks
      together, as if seen in four degrees of freedom; a ratio as about one, with a long tail. With more builds, theirs
      counts.
    </p>`,
};

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["T", "torque of a build", "N·m"],
  ["x", "thickness of plates and rings", "mm"],
  ["a, b", "the unit's own line", "N·m, N·m/mm"],
  ["b_0", "torque of the pattern at the middle thickness", "N·m"],
  ["b_1", "what a millimetre gives in the pattern", "N·m/mm"],
  ["u_0", "how the unit's torque differs from that", "N·m"],
  ["u_1", "how what a millimetre gives differs", "N·m/mm"],
  ["e", "how one build differs from the next", "N·m"],
];

const LIMITS = [
  "Only within the thickness that was built. A torque outside it is refused: go towards it in one build, check that, " +
    "and plan again.",
  "Where builds scatter twice as much as is taken beforehand, the band of two builds alone holds about 84 of 100 and " +
    "not 95. Six builds hold about 88; builds of twenty other units mend it.",
  "Another spring begins anew: builds before it do not count. Another oil, or another make of plate, does not show " +
    "in the thickness, and builds before it still count: do not rely on them.",
  "With one earlier build nobody knows how much builds differ in wear, and the band is very wide. From three on it " +
    "says something.",
  "It says nothing of forces. Treat the spring as more than an ordinary vice can hold, opening and closing.",
  "Where the spring is known as well, and both differ beyond their doubts, measure the spring's height and the depth " +
    "before you trust either.",
];

const SOURCES = [
  "The model: Laird and Ware, Biometrics 38 (1982) 963.",
  "The restricted likelihood: Harville, Journal of the American Statistical Association 72 (1977) 320, and as weight " +
    "of the ratios Biometrika 61 (1974) 383.",
  "Why the likeliest ratios alone make the band too narrow: Kackar and Harville, Journal of the American Statistical " +
    "Association 79 (1984) 853.",
  "What ratios are before any build was seen: Gelman, Bayesian Analysis 1 (2006) 515.",
  "Lines, ratios and doubts equal those of a mixed model of the statsmodels library, and of Henderson's equations, " +
    "in our tests; a simulation holds the 95 of 100.",
  "A scatter of 5 % from build to build, of 3 % from check to check and of 0.01 mm in what a plate lost, seen in " +
    "four degrees of freedom; opening it once a season: common practice, no source.",
];

export const purpose = html`What does a tenth of a millimetre give in this unit, where nobody knows its spring? The
      ${word("stack")} and the torque of each build in the log say it, and a plan can go by them.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  const plan = await calc("plan", {
    unit: UNIT,
    by: "builds",
    experience: EXPERIENCE,
    wanted: { torque_nm: 95, tolerance_nm: 12 },
    shelf: [2.45, 2.5, 2.55].map((mm) => ({
      name: `F ${mm.toFixed(2)}`,
      part: /** @type {const} */ ("friction"),
      mm,
      count: 4,
    })),
    write_in: read.torqueUnit,
    write_lengths_in: read.lengthUnit,
    alternatives: false,
  });
  const result = sure(plan.possible && plan);
  const shown = sure(result.experience);
  return {
    figures: html`<figure>
      ${buildsDrawing(shown, read)}
      <figcaption>
        Each dot is a build, of this unit or of its pattern. The line is this unit's; the next build comes out in the
        shaded ${word("prediction band")} 95 times of 100.
      </figcaption>
    </figure>`,
    working: WORKING,
    deeper: DEEPER,
    symbols: SYMBOLS,
    example: html`<p>${shown.tenth_text}</p>
      <p>${read.torque(95)} ± ${read.torqueFigure(12)} wanted:</p>
      <ul class="steps">
        ${result.choices.map((choice) => html`<li>${choice.chance_text}: ${choice.text}</li>`)}
      </ul>`,
    limits: LIMITS,
    sources: SOURCES,
    words: ["stack", "pattern", "prediction band", "bedding in", "order"],
  };
}
