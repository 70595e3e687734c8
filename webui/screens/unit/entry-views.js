// @ts-check
// What each kind of entry shows beside its verdict, from what was typed and what the engine made of it.

import { number, record } from "../../log/shape.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { newtons, typedOf, unitOf, verdictMark, whenDay, withCapital, workedOutLine } from "../form/fields.js";
import { OUT_TO, partWords } from "../form/marked.js";
import { limitsInWords } from "./limits-in-words.js";

/** @typedef {Awaited<ReturnType<typeof import("../form/fields.js").reading>>} Read */
/** @typedef {import("../form/fields.js").Typed} Typed */
/** @typedef {import("../../engine/calculations.js").Kinds} Kinds */
/** @typedef {import("../../engine/calculations.js").Verdict} Verdict */
/** @typedef {import("../../log/entries.js").Entry} Entry */
/**
 * @template {keyof Kinds} Kind
 * @typedef {import("../../log/entries.js").EntryOf<Kind>} EntryOf
 */
/** @typedef {import("../../log/kinds.js").Kind} Kind */
/** @typedef {import("../../log/stands.js").Standing} Standing */
/** The steps of the guided procedures. @typedef {import("../../engine/door.js").ResultOf<"steps">} Steps */

/**
 * Where an entry is corrected; empty where nothing in it could be.
 * @param {Entry} entry
 * @param {Record<string, Kind>} kinds
 */
export function correctionOf({ id, kind, unit, body }, kinds) {
  const { about, corrected_on: screen } = kinds[kind] ?? {};
  // No form shows what is no longer in use.
  if (!screen || ("gone" in body && body.gone === "yes")) return "";
  if (about === "shop") return `#/${screen}/${id}`;
  return unit ? `#/unit/${unit}/${screen}/${id}` : "";
}

/** Checks that the engine names for itself. @type {Record<string, string>} */
const CHECKS = {
  backlash: "Backlash",
  bearings: "Turning torque of the bearings",
  screws: "Crown-wheel screws",
  contact: "Contact pattern",
};

/**
 * A judged part, whatever it is.
 * @typedef {object} JudgedPart
 * @property {string} name
 * @property {Verdict} verdict
 * @property {string} reason
 * @property {number | null} [lowest_mm]
 * @property {number | null} [highest_mm]
 * @property {number | null} [lowest_nm]
 * @property {number | null} [highest_nm]
 */

/** @param {string} low @param {string} high as they are written */
const range = (low, high) => (low === high ? low : `${low} to ${high}`);

/** From where to where a part was measured. @param {JudgedPart} part @param {Read} read */
function span({ lowest_mm, highest_mm, lowest_nm, highest_nm }, read) {
  if (typeof lowest_mm === "number") return range(read.length(lowest_mm), read.length(highest_mm ?? lowest_mm));
  if (typeof lowest_nm === "number") return range(read.torque(lowest_nm), read.torque(highest_nm ?? lowest_nm));
  return "";
}

/**
 * A table of judged parts, which the record of its kind names.
 * @param {unknown} shown the result
 * @param {string} name
 */
const partsIn = (shown, name) =>
  /** @type {JudgedPart[]} */ (record(shown) && Array.isArray(shown[name]) ? shown[name] : []);

/**
 * What today's limits make of a part that this entry was the last to look at; nothing where they are the same.
 * @param {string} id of the entry
 * @param {string} name of the part
 * @param {{reason?: string}} then as it was judged
 * @param {Standing | undefined} stands of the unit
 */
function todayOf(id, name, { reason = "" }, stands) {
  const measured = stands?.by_slot[name];
  const rows = [measured, stands?.features.find((feature) => feature.name === name)];
  const today = rows.find((row) => row?.id === id);
  if (!today || today.reason === reason) return nothing;
  // What was said then stands in front of it.
  const fresh = today.reason.startsWith(reason) ? today.reason.slice(reason.length).trim() : today.reason;
  return html`<div class="row apart"><span>${fresh}</span>${verdictMark(today.verdict)}</div>`;
}

/**
 * Tables of judged parts.
 * @param {Entry} entry @param {Kind["tables"]} listed @param {Read} read @param {Standing} [stands]
 */
function tables({ id, shown }, listed, read, stands) {
  return listed
    .filter(([name]) => partsIn(shown, name).length)
    .map(
      ([name, title]) =>
        html`<section class="card">
          <h2>${title}</h2>
          ${partsIn(shown, name).map(
            (row) =>
              html`<div class="finding">
                <p class="row apart"><b>${CHECKS[row.name] ?? row.name}</b>${verdictMark(row.verdict)}</p>
                <p>${span(row, read)}</p>
                <p class="quiet">${row.reason}</p>
                ${todayOf(id, row.name, row, stands)}
              </div>`,
          )}
        </section>`,
    );
}

/**
 * Figures as they were typed.
 * @param {Typed[] | null | undefined} values
 * @param {Read} read
 * @param {string} si what a figure without a unit is in
 */
const typed = (values, read, si) =>
  (values ?? [])
    .map((value) => {
      const unit = unitOf(value, si);
      const known = Object.values(read.units)
        .flat()
        .find((choice) => choice.unit === unit);
      return `${typedOf(value)}\u00a0${known?.label ?? ""}`;
    })
    .join(" · ");

/** Readings of a torque check as they were typed. @param {EntryOf<"torque_check">} entry @param {Read} read */
function readings({ body }, read) {
  const { steady_nm, steady_n, first_nm, first_n } = body;
  if (!(steady_nm || steady_n || first_nm || first_n)) return nothing;
  /** @param {string} words @param {typeof steady_nm} series @param {string} si */
  const row = (words, series, si) =>
    series
      ? html`<p>
          <b>${words}, forward:</b> ${typed(series.forward, read, si)}
          ${series.reverse ? html`<br /><b>reverse:</b> ${typed(series.reverse, read, si)}` : nothing}
        </p>`
      : nothing;
  return html`<section class="card">
    <h2>As typed</h2>
    ${row("Steady", steady_nm, "nm")} ${row("Steady", steady_n, "n")} ${row("First move", first_nm, "nm")}
    ${row("First move", first_n, "n")}
    <p class="quiet">
      With ${(body.wrench ?? body.scale)?.name || "a tool without a name"}; ${String(body.held).replaceAll("_", " ")}.
    </p>
  </section>`;
}

/**
 * Plates with their points as they were typed.
 * @param {EntryOf<"plate_check">} entry @param {Read} read @param {Steps} _ @param {Standing} [stands]
 */
function plates({ id, body, shown }, read, _, stands) {
  if (!shown.plates) return nothing;
  return html`<section class="card">
    <h2>Plates</h2>
    ${shown.plates.map(
      ({ slot, lowest_mm, verdict, reason }, number) =>
        html`<div class="finding">
          <p class="row apart"><b>${slot}, lowest ${read.length(lowest_mm)}</b>${verdictMark(verdict)}</p>
          <p class="quiet">${typed(body.plates[number]?.points_mm, read, "mm")}, as typed</p>
          ${todayOf(id, slot, { reason }, stands)}
        </div>`,
    )}
  </section>`;
}

/** @param {EntryOf<"strip"> | EntryOf<"close">} entry @param {Read} _ @param {Steps} steps */
function signOff({ kind, body, shown }, _, steps) {
  /** @type {string[]} */
  const done = body.done;
  return html`<section class="card">
    <h2>${shown.complete ? "All steps done" : "Steps done"}, signed ${shown.signed}</h2>
    <ul class="steps">
      ${steps[kind].map(({ name, text }) => html`<li>${done.includes(name) ? "✓" : "– not done:"} ${text}</li>`)}
    </ul>
    ${
      "answers" in body && body.answers
        ? html`<ul class="steps">
            ${body.answers.map(
              ({ name, answer, why }) =>
                html`<li>${name}: ${answer === "left" ? "left as it is" : "put right"}${why ? `, ${why}` : ""}</li>`,
            )}
          </ul>`
        : nothing
    }
    ${body.note ? html`<p>${body.note}</p>` : nothing}
  </section>`;
}

/** @param {EntryOf<"rebuild">} entry @param {Read} read */
function rebuilt({ body, shown }, read) {
  return html`<section class="card">
    <h2>What was fitted</h2>
    ${
      shown.fitted.length
        ? html`<table>
            <thead>
              <tr>
                <th scope="col">Place</th>
                <th scope="col">Piece</th>
                <th scope="col" class="number">Thickness</th>
              </tr>
            </thead>
            <tbody>
              ${shown.fitted.map(
                (part) =>
                  html`<tr>
                    <th scope="row">${part.slot}</th>
                    <td>${part.piece}</td>
                    <td class="number">${read.length(part.mm)}</td>
                  </tr>`,
              )}
            </tbody>
          </table>`
        : body.marked_parts?.length
          ? nothing
          : html`<p>No part was exchanged.</p>`
    }
    ${(body.marked_parts ?? []).map(
      ({ part, place, mark, out_mark, out_to }) =>
        html`<p>
          ${partWords(part)}${place ? ` (${place})` : ""}: ${mark ? `${mark} went in` : "one without a mark went in"}${
            out_mark ? `, ${out_mark} came out, ${OUT_TO[out_to || "stock"]}` : ""
          }.
        </p>`,
    )}
    ${(shown.came_out ?? []).map(
      ({ slot, where, name, mm }) =>
        html`<p>
          Out of ${slot}${number(mm) ? `, ${read.length(mm)}` : ""}:
          ${where === "keep" ? `kept as ${name}` : where === "scrap" ? "scrapped" : "fitted again"}.
        </p>`,
    )}
    <p>${body.note}</p>
    ${body.oil ? html`<p>Oil: ${body.oil}</p>` : nothing}${body.spring ? html`<p>Spring: ${body.spring}</p>` : nothing}
  </section>`;
}

/** @param {EntryOf<"planned">} entry @param {Read} read */
function planned({ body, shown }, read) {
  const gives = number(shown.torque_nm) ? `It gives ${read.torque(shown.torque_nm)}.` : "";
  return html`<section class="card">
    <h2>What is to be fitted</h2>
    <ul class="steps">
      ${shown.fitted.map(
        ({ slot, piece, mm, bought }) =>
          html`<li>${slot}: ${piece}, ${read.length(mm)}${bought ? ", to buy first" : nothing}</li>`,
      )}
    </ul>
    <p>${gives} ${body.note ?? ""}</p>
  </section>`;
}

/** An outing or a service in one line. @param {EntryOf<"outing"> | EntryOf<"service">} entry */
const inOneLine = ({ body, shown, at }) =>
  html`<section class="card">
    ${shown.text ? html`<p>${shown.text}.</p>` : nothing}
    <p class="quiet">On ${whenDay(body.day || at)}.</p>
  </section>`;

/** @param {EntryOf<"trial">} entry @param {Read} read */
const trial = ({ body, shown }, read) =>
  html`<section class="card">
    <h2>${shown.change}${number(shown.torque_nm) ? `: ${read.torque(shown.torque_nm)}` : nothing}</h2>
    ${shown.felt ? html`<p>Against “${shown.felt}”.</p>` : nothing}
    <p>${body.reason}</p>
    ${body.outing ? html`<p class="quiet">As logged at an outing; it stands in the history.</p>` : nothing}
  </section>`;

/** @param {EntryOf<"unit"> | EntryOf<"pattern">} entry @param {Read} read */
function definition({ shown }, read) {
  const { checked, breakaway_nm, crush_mm, preload_n, faces, worked_out } = shown;
  if (!checked) return nothing;
  const parts = (checked.chain ?? []).map(({ slot, new_mm }) => `${slot}${new_mm ? ` ${read.length(new_mm)}` : ""}`);
  // An entry of another version may lack what only that version worked out.
  const asNew = number(breakaway_nm) ? `With every part new it gives ${read.torque(breakaway_nm)}.` : "";
  const figures = [
    number(crush_mm) ? `crush ${read.length(crush_mm)}` : "",
    number(preload_n) ? `preload ${newtons(preload_n)}` : "",
    faces ? `sliding faces ${faces.first} and ${faces.second}` : "",
  ]
    .filter(Boolean)
    .join(", ");
  return html`<section class="card">
    <h2>${checked.name}</h2>
    <p>${limitsInWords(checked, read)} ${asNew}</p>
    ${figures ? html`<p class="quiet">${withCapital(figures)}.</p>` : nothing}
    <p class="quiet">${parts.join(" · ")}</p>
    ${(worked_out ?? []).map(workedOutLine)}
  </section>`;
}

/** @param {EntryOf<"customer">} entry */
function customer({ body: { name, phone, mail, address, note } }) {
  return html`<section class="card">
    <h2>${name}</h2>
    ${[phone, mail, address, note].filter(Boolean).map((words) => html`<p class="lines">${words}</p>`)}
  </section>`;
}

/** @param {EntryOf<"erasure">} entry */
const erasure = ({ body }) =>
  html`<section class="card">
    <p>
      The data of a customer were erased${body.cuts?.length ? ", and the name in other entries" : ""}. Nothing here says
      whose.
    </p>
  </section>`;

/** How a sheet was sent. */
export const HOW = /** @type {const} */ ({
  mail: "by mail",
  message: "by message",
  paper: "on paper",
  other: "otherwise",
});

/** @param {EntryOf<"sheet_sent">} entry */
const sheetSent = ({ body }) =>
  html`<section class="card">
    <p>${whenDay(body.day)}, ${HOW[body.how]}</p>
    ${body.note ? html`<p>${body.note}</p>` : nothing}
  </section>`;

/**
 * Views of kinds that show more than tables of judged parts.
 * @type {{[Kind in keyof Kinds]?: (entry: EntryOf<Kind>, read: Read, steps: Steps, stands?: Standing) => unknown}}
 */
const VIEWS = {
  unit: definition,
  pattern: definition,
  torque_check: readings,
  plate_check: plates,
  strip: signOff,
  close: signOff,
  rebuild: rebuilt,
  customer,
  sheet_sent: sheetSent,
  planned,
  trial,
  erasure,
  outing: inOneLine,
  service: inOneLine,
};

/**
 * What an entry shows beside its verdict.
 * @param {Entry} entry
 * @param {Kind | undefined} kind as its record has it
 * @param {Read} read
 * @param {Steps} steps
 * @param {Standing} [stands] what stands for the unit today
 */
export function entryView(entry, kind, read, steps, stands) {
  // What stands under a kind takes entries of that kind.
  const view = /** @type {((...given: [Entry, Read, Steps, Standing?]) => unknown) | undefined} */ (VIEWS[entry.kind]);
  return view ? view(entry, read, steps, stands) : tables(entry, kind?.tables ?? [], read, stands);
}
