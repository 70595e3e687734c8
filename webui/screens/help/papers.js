// @ts-check
// Customers, sheets, labels and calendar: what leaves the book, for whom, and what stands on it.

import { journeyDrawing } from "../../draw/journey.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { checkOf, sure, UNIT } from "./example.js";
import { formula, inline } from "./formula.js";
import { story } from "./story.js";
import { word } from "./words.js";

const TODAY = "2026-06-20";
const OIL_DAYS = 60;

const WORKING = html`<h3>Customers</h3>
  <p>
    A customer is entered once, with how to reach them, and each unit says whose it is. Names that differ in capitals or
    spaces alone are one owner. Two records of one customer are joined, and every unit then goes by the joined one.
  </p>
  <h3>Sheet</h3>
  <p>
    One page about a unit as it stands on that day: verdict, torque, what was fitted, what is due. One is for the
    customer, one for the workshop with hours and parts, one is a list to fill in by hand. Print it, or send the PDF and
    write down that you did.
  </p>
  <h3>Labels</h3>
  <p>
    For units, bags of plates and tools, with a code that leads a phone to the right page. Label number ${inline("k")}
    of a sheet, counted from 0, with ${inline("a")} in a row, begins at
  </p>
  ${formula("x = l + q · ( w + e )")}
  <p>
    where ${inline("q")} is what is left when ${inline("k")} is shared out into rows of ${inline("a")}; downwards
    likewise. Print one on plain paper at 100 %, hold it behind the sheet against the light, and only then print labels.
  </p>
  <h3>Calendar</h3>
  <p>
    What is due by days has a day, the one after the last that is allowed. What is overdue is due today. What goes by
    outings or hours alone has no day until it is due:
  </p>
  ${formula("t = t_0 + n + 1")}
  <p>Calendar programs read it at an address of their own, a few times a day. Each device gets its own address.</p>`;

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["x", "left edge of a label", "mm"],
  ["l", "edge of the sheet on the left", "mm"],
  ["w", "width of a label", "mm"],
  ["e", "gap between two in a row", "mm"],
  ["t", "day on which it stands in the calendar", "day"],
  ["t_0", "day of the rebuild or the service that it counts from", "day"],
  ["n", "days allowed", "days"],
];

const LIMITS = [
  "A sheet is true on its day. After the next outing or the next check it is history: look at the unit's page.",
  "Whoever has the address of a calendar can read names and owners in it. Give each device its own, and withdraw " +
    "it when the device is gone.",
  "A label outside in oil comes off or turns black. Put it where it stays dry, and never where a wrench or a jaw " +
    "grips.",
  "A calendar program looks when it likes, often hours later. Before a run look at the unit's page, not at a calendar.",
  "Erasing a customer reaches no paper and no file that was handed out, and no calendar that was read before.",
];

const SOURCES = [
  "Calendar: RFC 5545 and RFC 7986. Pages: ISO 216 for A4. PDF: ISO 32000.",
  "How large a code has to be for a phone, and all else: common practice, no source.",
];

export const purpose = html`What leaves the book: ${word("sheet", "sheets")} for customers, ${word("label", "labels")}
  for units, bags and tools, and a ${word("calendar")} of what is due.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  const unit = { ...UNIT, owner: " tarn  ode", service: { ...UNIT.service, oil_every_days: OIL_DAYS } };
  const entries = await story(calc, "papers", [
    ["unit", "01T09", unit],
    ["rebuild", "02T09", { fitted: [{ slot: "A2", mm: 2.5 }], oil: "A", note: "Example" }],
    ["torque_check", "03T09", checkOf([100, 101, 100], [99, 100, 99])],
  ]);
  const [{ upkeep }, { sheet }, { texts }] = await Promise.all([
    calc("standing", { entries, today: TODAY }),
    calc("sheet", { entries, today: TODAY, write_in: read.torqueUnit, write_lengths_in: read.lengthUnit }),
    calc("owners", {
      customers: [{ id: "c", name: "Tarn Ode", ids: ["c"], gone: false }],
      units: [
        { unit_id: "1", owner: " tarn  ode" },
        { unit_id: "2", owner: "TARN ODE" },
      ],
    }),
  ]);
  const shown = sure(sheet);
  const torque = sure(shown.rows.find(({ title }) => title === "Torque"));
  const [owner] = texts;
  return {
    figures: html`<figure>
      ${journeyDrawing([
        { name: "Customer", about: "entered once, named by each unit" },
        { name: "Label", about: "leads a phone to the unit" },
        { name: "Sheet", about: "what was done, and what is due" },
        { name: "Calendar", about: "what is due by day" },
      ])}
      <figcaption>All of it is made of the log at the moment when it is asked for.</figcaption>
    </figure>`,
    working: WORKING,
    symbols: SYMBOLS,
    example: html`<p>A unit rebuilt with new oil on 2 May, oil allowed ${OIL_DAYS} days:</p>
      <ul class="steps">
        ${upkeep.map(({ text, due_on }) => html`<li>${text} Last day: ${due_on}.</li>`)}
      </ul>
      <p>Its sheet on ${TODAY}, “${shown.title}”: <b>${shown.verdict_text}</b>, ${shown.figure}.</p>
      <p>${torque.title}: ${torque.text}</p>
      <p>
        Owners typed ${owner.spellings.map((one) => `“${one}”`).join(" and ")} are one, with ${owner.units.length}
        units, and ${owner.customer ? "may be linked to the customer of that name" : "no customer has that name"}.
      </p>`,
    limits: LIMITS,
    sources: SOURCES,
    words: ["customer", "sheet", "label", "calendar", "log"],
  };
}
