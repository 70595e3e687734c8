// @ts-check
// The disc spring: its curve, its danger zones, set, and the check of its free height.

import { curvesDrawing } from "../../draw/curves.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { percent, verdictMark } from "../form/fields.js";
import { sure, UNIT } from "./example.js";
import { formula, inline, over, raised, row, squared } from "./formula.js";
import { word } from "./words.js";

const TALL = { de_mm: 100, di_mm: 51, t_mm: 2, l0_mm: 5.4 };
const ZONES = /** @type {Record<string, string>} */ ({ slight: "loose", far: "too far", past_peak: "past peak" });

const WORKING = html`<p>
    The load of one disc, squeezed by ${inline("s")}, with ${inline("h_0 = l_0 − t")},
    ${inline("h = K_4 · h_0 / t")} and ${inline("x = K_4 · s / t")}:
  </p>
  ${formula(
    "k =",
    over(row("4 ·", "E"), row("1 −", raised("ν", "2"))),
    "·",
    over(raised("t", "3"), row("K_1 ·", raised("D_e", "2"))),
    "·",
    raised("K_4", "2"),
  )}
  ${formula("F = k · s · ( ( h − x ) · ( h −", over("x", "2"), ") + 1 )")}
  <p>
    ${inline("K_4 = 1")} without contact flats; with them the reduced thickness takes the place of ${inline("t")},
    ${inline("K_4")} follows the standard, and the disc is flat at its free height less that reduced thickness. The
    load peaks before flat where ${inline(row("h >"))} √2. Nested discs add their loads, nests one after another share
    the travel.
  </p>
  <h3>Has it set?</h3>
  <p>
    Out of the unit, on a surface plate, three points or more. The lowest judges, against your limit or, where you
    give none, against the lowest free height that its standard allows a new disc; the guard band is the gauge's.
    What a lower disc costs is its load at the height that it has in the closed unit.
  </p>`;

const DEEPER = {
  title: "Coefficient K₁, and the stress when flat",
  text: html`<p>With the diameters in ${inline("δ = D_e / D_i")}:</p>
        ${formula("K_1 =", over("1", "π"), "·", squared("δ − 1", "δ"), "/ q")}
        ${formula("q =", over("δ + 1", "δ − 1"), "−", over("2", "ln δ"))}
        <p>
          Pressed flat, the stress in the middle of the section says whether it sets: above about 1 600 N/mm² it does.
        </p>
        ${formula("σ = −", over("3", "π"), "·", over("k", "K_4"), "·", over("s", raised("t", "2")))}`,
};

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["F", "load of one disc", "N"],
  ["s", "how far it is squeezed", "mm"],
  ["D_e", "outside diameter", "mm"],
  ["D_i", "inside diameter", "mm"],
  ["t", "thickness", "mm"],
  ["l_0", "free height", "mm"],
  ["E", "modulus of elasticity, 206 000 unless you say", "N/mm²"],
  ["ν", "Poisson's ratio, 0.3 unless you say", "–"],
  ["σ", "stress in the middle of the section", "N/mm²"],
];

const LIMITS = [
  "Friction between nested discs and at their edges is left out of the curve: a column pushes a little less on " +
    "the way up than on the way down. Strip and close say how much, once the definition gives it.",
  "Above three quarters of the travel the real load is higher than the curve.",
  "A worn seat or a groove in the spring changes its lever: measure the torque rather than trust the drawing.",
  "New discs differ: their standard allows a load well above the table and somewhat below it.",
];

const SOURCES = [
  "DIN EN 16984:2017, Disc springs, Calculation; Almen and Laszlo, The uniform-section disk spring, Trans. " +
    "ASME 58 (1936), 305-314.",
  "Tested against the tables of DIN EN 16983:2017. Zones and 1 600 N/mm²: DIN EN 16984.",
  "Tolerance on free height: DIN EN 16983:2017, as a spring maker's table gives it; above 6 mm from memory.",
  "A height gauge within 0.03 mm, and 0.10 mm of unevenness: common practice, no source.",
];

/**
 * The spring's curve, with the stretches to stay out of.
 * @param {import("../../engine/door.js").ResultOf<"spring">} result
 * @param {string} words
 * @param {{x: number, name: string}[]} marks
 */
function curve({ curve: points, zones }, words, marks) {
  const pastPeak = zones.some(({ name }) => name === "past_peak");
  return curvesDrawing({
    series: [
      {
        name: "",
        points: points.map((point) => ({
          x: Number(point.deflection_mm.toFixed(4)),
          y: point.load_n,
        })),
      },
    ],
    zones: zones
      .filter(({ name }) => name !== "far" || !pastPeak)
      .map(({ from_mm, to_mm, name }) => ({
        from: from_mm,
        to: to_mm,
        name: ZONES[name],
      })),
    marks,
    xName: "squeezed, mm",
    yName: "N",
    words,
  });
}

/**
 * What the spring does at its travel.
 * @param {NonNullable<import("../../engine/door.js").ResultOf<"spring">["at"]>} figures
 * @param {number} flatStress N/mm²
 */
const figuresOf = (figures, flatStress) =>
  html`<table class="facts">
        <tbody>
          <tr>
            <th scope="row">load</th>
            <td class="number">${Math.round(figures.load_n)} N</td>
          </tr>
          <tr>
            <th scope="row">for each hundredth of a millimetre</th>
            <td class="number">${Math.round(figures.rate_n_per_mm / 100)} N</td>
          </tr>
          <tr>
            <th scope="row">energy held</th>
            <td class="number">${figures.energy_j.toFixed(1)} J</td>
          </tr>
          <tr>
            <th scope="row">stress if pressed flat</th>
            <td class="number">${String(Math.round(flatStress)).replace("-", "−")} N/mm²</td>
          </tr>
        </tbody>
      </table>`;

export const purpose = html`A ${word("disc spring")} is a shallow cone of steel. Squeezed, it pushes back along a
  curve that bends over: that curve turns ${word("crush")} into ${word("preload")}.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  const { spring } = UNIT;
  const unit = await calc("unit", UNIT);
  const flatter = await calc("spring", {
    spring,
    deflection_mm: unit.deflection_mm,
    write_lengths_in: read.lengthUnit,
  });
  const figures = sure(flatter.at);
  const [tall, sagged, fresh] = await Promise.all([
    calc("spring", { spring: TALL, write_lengths_in: read.lengthUnit }),
    calc("spring_check", {
      gauge: {},
      write_in: read.lengthUnit,
      springs: [{ slot: "S1", spring, points_mm: [4.95, 4.96, 4.94], fitted_mm: figures.height_mm }],
    }),
    calc("spring_check", {
      gauge: {},
      write_in: read.lengthUnit,
      springs: [{ slot: "S1", spring, points_mm: [5.19, 5.2, 5.19], fitted_mm: figures.height_mm }],
    }),
  ]);
  const sagging = sagged.springs[0];
  const good = fresh.springs[0];
  return {
    figures: html`<figure>
        ${curve(flatter, `Load against squeeze, up to ${Math.round(flatter.flat_n)} N when flat.`, [
          { x: figures.deflection_mm, name: "here" },
        ])}
        <figcaption>
          The example's spring. Shaded: stay out. Below 15 % of its travel it works loose and cracks sooner; above 75 %
          it rolls on to its edges and the real load climbs above the curve.
        </figcaption>
      </figure>
      <figure>
        ${curve(tall, `A tall, thin disc: the load peaks at ${read.length(tall.peak_mm ?? 0)} and then falls.`, [
          { x: tall.peak_mm ?? 0, name: "peak" },
        ])}
        <figcaption>
          A tall, thin disc peaks before it is flat. Beyond the peak a thicker plate gives <b>less</b> torque, and wear
          raises it. Slipbook never plans there.
        </figcaption>
      </figure>`,
    working: WORKING,
    deeper: DEEPER,
    symbols: SYMBOLS,
    example: html`<p>
        Disc ${spring.de_mm} × ${spring.di_mm} × ${spring.t_mm} mm, ${spring.l0_mm} mm high, squeezed by
        ${read.length(figures.deflection_mm)} (${percent(figures.travel)} of its travel):
      </p>
      ${figuresOf(figures, flatter.flat_stress_nmm2)}
      <p>${verdictMark(good.verdict)} ${good.reason}</p>
      <p>
        ${verdictMark(sagging.verdict)} ${sagging.reason}
        ${sagging.findings.map((finding) => finding.text).join(" ")}
      </p>`,
    limits: LIMITS,
    sources: SOURCES,
    words: ["disc spring", "preload", "crush", "travel", "set", "solid", "guard band"],
  };
}
