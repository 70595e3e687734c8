// @ts-check
// What each kind of entry shows beside its verdict, from what was typed and what the engine made of it.

import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { verdictMark } from "../form/fields.js";

/** @typedef {{torque: (nm: number) => string, length: (mm: number) => string}} Read */

/** @type {Record<string, string>} */
export const CORRECTED_ON = {
  torque_check: "check",
  plate_check: "plates",
  note: "note",
  unit: "change",
  spring_check: "springs",
  ring_check: "rings",
  rebuild: "rebuild",
  refit: "refit",
  strip: "strip",
  close: "close",
};

/**
 * Where an entry is corrected; empty where nothing in it could be.
 * @param {import("../../log/store.js").Entry} entry
 */
export function correctionOf({ id, kind, unit, body }) {
  if (kind === "shelf" || (kind === "kit" && body.gone !== "yes")) return `#/${kind}/${id}`;
  const on = CORRECTED_ON[kind];
  return on && unit ? `#/unit/${unit}/${on}/${id}` : "";
}

/** Tables of judged parts, by the name that the engine gives them. */
const TABLES = { springs: "Springs", rings: "Ramp rings", pins: "Cross pins", checks: "Checks" };

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

/** @param {any} shown @param {Read} read */
function tables(shown, read) {
  return Object.entries(TABLES)
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

/** @param {any} body @param {any} shown @param {{name: string, text: string}[]} steps */
function signOff(body, shown, steps) {
  return html`<section class="card">
    <h2>${shown.complete ? "All steps done" : "Steps done"}, signed ${shown.signed}</h2>
    <ul class="steps">
      ${steps.map((step) => html`<li>${body.done.includes(step.name) ? "✓" : "– not done:"} ${step.text}</li>`)}
    </ul>
    ${body.note ? html`<p>${body.note}</p>` : nothing}
  </section>`;
}

/** @param {any} body @param {any} shown @param {Read} read */
function rebuilt(body, shown, read) {
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

/** @param {any} shown @param {Read} read */
function definition(shown, read) {
  const { checked } = shown;
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
 * What an entry shows beside its verdict.
 * @param {import("../../log/store.js").Entry} entry
 * @param {Read} read
 * @param {Record<string, {name: string, text: string}[]>} steps of the guided procedures
 */
export function entryView({ kind, body, shown }, read, steps) {
  if (kind === "strip" || kind === "close") return signOff(body, shown, steps[kind]);
  if (kind === "rebuild") return rebuilt(body, shown, read);
  if (kind === "unit" && shown.checked) return definition(shown, read);
  return tables(shown, read);
}
