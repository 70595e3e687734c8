// @ts-check
// Kit and shelf as tables: a row a tool or a class, and what becomes of a table that is pasted out of a spreadsheet.

import { journeyDrawing } from "../../draw/journey.js";
import { columnsByHeads, quantityOf, readTable, unitOfHead } from "../../tables/pasted.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { SIGNS } from "../form/tool-typed.js";
import { formula, inline, over, root, row, squared } from "./formula.js";
import { word } from "./words.js";

const PASTED = `Tool;Step (mm);Error (µm)
Mic one;0,01;4
Mic two;0,001;0,002 mm
Mic three;0,01;
`;

const HEADS = [
  { name: "name", heads: ["tool"] },
  { name: "division", heads: ["step"], figure: true },
  { name: "deviation", heads: ["error"], figure: true },
];

const WORKING = html`<p>
    At the bench the kit and the shelf are tables. Enter goes on, arrows move, and the empty row at the end begins
    another one. A cell that is left empty counts as usual for its kind; that figure stands in it, faint.
  </p>
  <h3>Pasting</h3>
  <ul class="steps">
    <li>Copy the rows with their heads in your spreadsheet, and paste them; or choose a CSV.</li>
    <li>Cells are parted at tabs, semicolons or commas, whichever makes rows alike.</li>
    <li>
      The heads say what a column holds. What they do not say is guessed from the cells, and you choose otherwise.
    </li>
    <li>
      A unit in a cell counts for that cell. For the others the one counts that you chose for the column, or else the
      one in its head. Micrometres become millimetres:
    </li>
  </ul>
  ${formula("x =", over("y", "1000"))}
  <ul class="steps">
    <li>Comma and point are both a decimal sign. A day as 03/04/2026 may be two days, so you say which.</li>
    <li>
      You see every row before anything is taken, with what is wrong at its cell. Mend it there, or leave the row out.
    </li>
    <li>A name that is in the kit already changes that tool. Nothing is taken out because it is not in the table.</li>
  </ul>
  <p>
    What a gauge may be off by, ${inline("a")}, its division ${inline("d")} and, where there is one, its certificate
    ${inline("c")} then make the guard band of all that is measured with it:
  </p>
  ${formula("g = 1.645 ·", root(row(squared("a", root("3")), "+", squared("d / 2", root("3")))))}
  <p class="quiet">with a certificate, c / 2 in place of the first</p>`;

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["x", "a length in millimetres", "mm"],
  ["y", "the same in micrometres", "µm"],
  ["a", "largest permitted error", "mm"],
  ["d", "one division", "mm"],
  ["c", "expanded uncertainty from the certificate, k = 2", "mm"],
  ["g", "guard band of one reading", "mm"],
];

const LIMITS = [
  "Look at the unit of each column before you take the rows: a permitted error of 4 read as mm instead of µm makes " +
    "a gauge that can tell nothing, and one the other way round makes verdicts that are too bold.",
  "A permitted error is not what a certificate says of one tool. Put each into its own column.",
  "A workbook file is not read: save it as CSV, or copy its cells.",
  "A table of the shelf is a count of the rows that it has. Say so where it is the whole shelf.",
];

const SOURCES = [
  "CSV: RFC 4180. How people write heads and units: common practice, no source.",
  "What a gauge may be off by where nothing is given: see Inspecting other parts. Guard band: ISO 14253-1:2017.",
];

export const purpose = html`Type the ${word("kit")} and the ${word("shelf")} as tables, or paste a table that you
  have. You see first what comes of it, mend it there, and take it with a key.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  const { rows, separated } = readTable(PASTED);
  const [heads, ...tools] = rows;
  const columns = columnsByHeads(heads, HEADS);
  const units = heads.map((head) => unitOfHead(head, SIGNS) ?? "mm");
  const readings = await Promise.all(
    tools.map(async (cells) => {
      const typed = Object.fromEntries(
        columns.map((name, place) => [name, quantityOf(cells[place], units[place], SIGNS)]),
      );
      const { division: division_mm, deviation: deviation_mm } = typed;
      const { guard_mm } = await calc("plates", {
        micrometer: { ...(division_mm ? { division_mm } : {}), ...(deviation_mm ? { deviation_mm } : {}) },
        plates: [{ slot: "A2", part: "friction", new_mm: 2.5, minimum_mm: 2.3, points_mm: [2.4, 2.4, 2.4] }],
      });
      return { name: cells[0], division: division_mm, deviation: deviation_mm, guard_mm };
    }),
  );
  const cell = (/** @type {ReturnType<typeof quantityOf>} */ quantity) =>
    quantity ? `${quantity.typed} ${quantity.unit}` : "as usual";
  return {
    figures: html`<figure>
      ${journeyDrawing([
        { name: "Paste", about: "rows with their heads, or a CSV" },
        { name: "Columns", about: "what each holds, and in which unit" },
        { name: "Rows", about: "what is new, changed, wrong" },
        { name: "Take", about: "all of them with one key" },
      ])}
      <figcaption>Nothing is saved before the last step.</figcaption>
    </figure>`,
    working: WORKING,
    symbols: SYMBOLS,
    example: html`<p>This table, its cells parted by ${separated}:</p>
      <pre class="formula" tabindex="0">${PASTED.trim()}</pre>
      <p>Taken as micrometers, with the guard band of a plate that is measured with each:</p>
      <ul class="steps">
        ${readings.map(
          ({ name, division, deviation, guard_mm }) =>
            html`<li>
              <b>${name}</b>: division ${cell(division)}, error ${cell(deviation)}; guard band ${read.length(guard_mm)}
            </li>`,
        )}
      </ul>`,
    limits: LIMITS,
    sources: SOURCES,
    words: ["kit", "shelf", "division", "permitted deviation", "certificate", "guard band"],
  };
}
