// @ts-check
// A wrench with an adapter: what it really puts on.

import { adapterDrawing } from "../../draw/levers.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { percent } from "../form/fields.js";
import { checkOf, rough, sure } from "./example.js";
import { formula, inline, over, raised, root, row } from "./formula.js";
import { word } from "./words.js";

const ADAPTER = { wrench_mm: 450, adapter_mm: 120, angle_deg: 30, doubt_mm: 3 };

const WORKING = html`<p>
    The hand's force acts on the arm ${inline("L")} for the scale, and on the longer arm for the shaft:
  </p>
  ${formula("T = R ·", over("L + A · cos a", "L"))}
  <p>
    Straight on (${inline("a = 0")}) the wrench is longer by all of the adapter; square to it (90°) the scale is
    right as it stands; turned back it reads too much.
  </p>
  <p>Either length may be off by ${inline("d")}, anywhere within. That makes the torque doubtful by</p>
  ${formula("u =", over("d", root("3")), "·", over("R", "L"), "· q")}
  ${formula("q =", root(row(raised(row("(", over("A · cos a", "L"), ")"), "2"), "+", raised("( cos a )", "2"))))}
  <p>The angle may be off by ${inline("e")} as well. That counts most where the adapter stands square:</p>
  ${formula("v =", over("e", root("3")), "·", over("A · sin a", "L"), "· R")}`;

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["T", "torque at the shaft", "N·m"],
  ["R", "reading on the scale", "N·m"],
  ["L", "middle of the grip to the wrench's drive", "mm"],
  ["A", "the drive to the middle of the shaft", "mm"],
  ["a", "angle of the adapter to the line of the wrench", "°"],
  ["d", "how far off either length may be", "mm"],
  ["e", "how far off the angle may be, 3° where nothing is typed", "rad"],
  ["u", "standard uncertainty from the lengths", "N·m"],
  ["v", "standard uncertainty from the angle", "N·m"],
];

const SOURCES = [
  "FAA Advisory Circular 43.13-1B, figure 7-2, for the corrected reading; its worked example is one of our tests.",
  "Doubt of lengths and angle: JCGM 100:2008 (GUM), 4.3.7 and 5.1.2; 3° where nothing is typed: common " +
    "practice, no source.",
];

export const purpose = html`With an ${word("adapter")} between wrench and shaft the scale no longer shows what the
  shaft feels. Give Slipbook the two lengths and the angle and it corrects for that, and counts what tape measure and
  eye may be off.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  const readings = /** @type {[number[], number[]]} */ ([
    [70, 71, 70],
    [69, 70, 70],
  ]);
  const answerAt = async (/** @type {number} */ angle) =>
    calc("breakaway", checkOf(...readings, { adapter: { ...ADAPTER, angle_deg: angle } }));
  const [bare, straight, bent, square] = await Promise.all([
    calc("breakaway", checkOf(...readings)),
    answerAt(0),
    answerAt(30),
    answerAt(90),
  ]);
  const lengths = sure(bent.budget.find((part) => part.name === "lengths"));
  return {
    figures: html`<figure>
      ${adapterDrawing({
        wrench: ADAPTER.wrench_mm,
        adapter: ADAPTER.adapter_mm,
        angle: ADAPTER.angle_deg,
        say: (mm) => rough(read, mm),
      })}
      <figcaption>
        Pull at the middle of the grip, square to the wrench. What counts is the arm along the wrench.
      </figcaption>
    </figure>`,
    working: WORKING,
    symbols: SYMBOLS,
    example: html`<p>
        The scale shows about ${read.torque(bare.value_nm)}, wrench ${rough(read, ADAPTER.wrench_mm)}, adapter
        ${rough(read, ADAPTER.adapter_mm)}:
      </p>
      <table class="facts">
        <thead>
          <tr>
            <th scope="col">Adapter</th>
            <th scope="col" class="number">At the shaft</th>
          </tr>
        </thead>
        <tbody>
          ${[
            { words: "none", result: bare },
            { words: "straight on", result: straight },
            { words: "at 30°", result: bent },
            { words: "square, 90°", result: square },
          ].map(
            ({ words, result }) =>
              html`<tr>
                <td>${words}</td>
                <td class="number">${read.torque(result.value_nm)}</td>
              </tr>`,
          )}
        </tbody>
      </table>
      <p>
        At 30°, lengths known to ${rough(read, ADAPTER.doubt_mm)} bring ${percent(lengths.share)} of the
        whole doubt (u = ${read.torque(lengths.u_nm)}).
      </p>`,
    limits: [
      "Pull at the middle of the grip: a hand further out makes L longer than you said.",
      "An adapter turned back so far that less than a tenth of the leverage is left is refused.",
    ],
    sources: SOURCES,
    words: ["adapter", "beam wrench", "doubt", "budget"],
  };
}
