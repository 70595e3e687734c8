// @ts-check
// What each kind of entry shows beside its verdict, from what was typed and what the engine made of it.

import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { typedOf, unitOf, verdictMark } from "../form/fields.js";

/** @typedef {Awaited<ReturnType<typeof import("../form/fields.js").reading>>} Read */

/** @typedef {import("../../log/entries.js").LooseEntry} Entry */

/** @typedef {import("../../log/kinds.js").Kind} Kind */

/** @typedef {Record<string, {name: string, text: string}[]>} Steps of the guided procedures */

/**
 * Where an entry is corrected; empty where nothing in it could be.
 * @param {Entry} entry
 * @param {Record<string, Kind>} kinds
 */
export function correctionOf({ id, kind, unit, body }, kinds) {
  const { about, corrected_on: screen } = kinds[kind] ?? {};
  // No form shows what is no longer in use.
  if (!screen || body.gone === "yes") return "";
  if (about === "shop") return `#/${screen}/${id}`;
  return unit ? `#/unit/${unit}/${screen}/${id}` : "";
}

/** Checks that the engine names for itself. @type {Record<string, string>} */
const CHECKS = { backlash: "Backlash", bearings: "Turning torque of the bearings", screws: "Crown-wheel screws" };

/** @param {any} row @param {Read} read */
function span(row, read) {
  if (typeof row.lowest_mm === "number")
    return row.lowest_mm === row.highest_mm
      ? read.length(row.lowest_mm)
      : `${read.length(row.lowest_mm)} to ${read.length(row.highest_mm)}`;
  if (typeof row.lowest_nm !== "number") return "";
  return row.lowest_nm === row.highest_nm
    ? read.torque(row.lowest_nm)
    : `${read.torque(row.lowest_nm)} to ${read.torque(row.highest_nm)}`;
}

/** Tables of judged parts. @param {any} shown @param {Kind["tables"]} named in the result @param {Read} read */
function tables(shown, named, read) {
  return named
    .filter(([name]) => shown[name]?.length)
    .map(
      ([name, title]) =>
        html`<section class="card">
          <h2>${title}</h2>
          ${shown[name].map(
            (/** @type {any} */ row) =>
              html`<div class="finding">
                <p class="row apart"><b>${CHECKS[row.name] ?? row.name}</b>${verdictMark(row.verdict)}</p>
                <p>${span(row, read)}</p>
                <p class="quiet">${row.reason}</p>
              </div>`,
          )}
        </section>`,
    );
}

/**
 * Figures as they were typed.
 * @param {any[] | undefined} values
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

/** Readings of a torque check as they were typed. @param {Entry} entry @param {Read} read */
function readings({ body }, read) {
  const series = ["steady_nm", "steady_n", "first_nm", "first_n"].filter((field) => body[field]);
  if (!series.length) return nothing;
  const row = (/** @type {string} */ field) => {
    const { forward, reverse } = body[field];
    const si = field.split("_")[1];
    return html`<p>
      <b>${field.startsWith("first") ? "First move" : "Steady"}, forward:</b> ${typed(forward, read, si)}
      ${reverse ? html`<br /><b>reverse:</b> ${typed(reverse, read, si)}` : nothing}
    </p>`;
  };
  return html`<section class="card">
    <h2>As typed</h2>
    ${series.map(row)}
    <p class="quiet">
      With ${(body.wrench ?? body.scale)?.name || "a tool without a name"}; ${String(body.held).replaceAll("_", " ")}.
    </p>
  </section>`;
}

/** Plates with their points as they were typed. @param {Entry} entry @param {Read} read */
function plates({ body, shown }, read) {
  if (!shown.plates) return nothing;
  return html`<section class="card">
    <h2>Plates</h2>
    ${shown.plates.map(
      (/** @type {any} */ { slot, lowest_mm, verdict }, /** @type {number} */ number) =>
        html`<div class="finding">
          <p class="row apart"><b>${slot}, lowest ${read.length(lowest_mm)}</b>${verdictMark(verdict)}</p>
          <p class="quiet">${typed(body.plates[number]?.points_mm, read, "mm")}, as typed</p>
        </div>`,
    )}
  </section>`;
}

/** @param {Entry} entry @param {Read} _ @param {Steps} steps */
function signOff({ kind, body, shown }, _, steps) {
  return html`<section class="card">
    <h2>${shown.complete ? "All steps done" : "Steps done"}, signed ${shown.signed}</h2>
    <ul class="steps">
      ${steps[kind].map(({ name, text }) => html`<li>${body.done.includes(name) ? "✓" : "– not done:"} ${text}</li>`)}
    </ul>
    ${body.note ? html`<p>${body.note}</p>` : nothing}
  </section>`;
}

/** @param {Entry} entry @param {Read} read */
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
                (/** @type {any} */ part) =>
                  html`<tr>
                    <th scope="row">${part.slot}</th>
                    <td>${part.piece}</td>
                    <td class="number">${read.length(part.mm)}</td>
                  </tr>`,
              )}
            </tbody>
          </table>`
        : html`<p>No part was exchanged.</p>`
    }
    <p>${body.note}</p>
    ${body.oil ? html`<p>Oil: ${body.oil}</p>` : nothing}${body.spring ? html`<p>Spring: ${body.spring}</p>` : nothing}
  </section>`;
}

/** @param {Entry} entry @param {Read} read */
function definition({ shown }, read) {
  const { checked } = shown;
  if (!checked) return nothing;
  const parts = checked.chain.map(
    (/** @type {any} */ { slot, new_mm }) => `${slot}${new_mm ? ` ${read.length(new_mm)}` : ""}`,
  );
  return html`<section class="card">
    <h2>${checked.name}</h2>
    <p>
      Ordered ${read.torque(checked.order.torque_nm)} ± ${read.torque(checked.order.tolerance_nm)}; with every part new
      it gives ${read.torque(shown.breakaway_nm)}.
    </p>
    <p class="quiet">
      Crush ${read.length(shown.crush_mm)}, preload ${Math.round(shown.preload_n)} N, sliding faces ${shown.faces.first}
      and ${shown.faces.second}.
    </p>
    <p class="quiet">${parts.join(" · ")}</p>
  </section>`;
}

/**
 * Views of kinds that show more than tables of judged parts.
 * @type {Record<string, (entry: Entry, read: Read, steps: Steps) => unknown>}
 */
const VIEWS = {
  unit: definition,
  torque_check: readings,
  plate_check: plates,
  strip: signOff,
  close: signOff,
  rebuild: rebuilt,
};

/**
 * What an entry shows beside its verdict.
 * @param {Entry} entry
 * @param {Kind | undefined} kind as its record has it
 * @param {Read} read
 * @param {Steps} steps
 */
export function entryView(entry, kind, read, steps) {
  const view = VIEWS[entry.kind];
  return view ? view(entry, read, steps) : tables(entry.shown, kind?.tables ?? [], read);
}
