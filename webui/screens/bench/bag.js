// @ts-check
// A class of plates whose bag was read: what it is, how many there are, and where the number comes from.

import { onChange } from "../../log/changes.js";
import { DEVICE } from "../../log/device.js";
import { shelfNow } from "../../log/stands.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { backTo, reading, whenDay } from "../form/fields.js";

/** @typedef {Awaited<ReturnType<typeof shelfNow>>["rows"][number]} Row */

/** The row of a class, from every count and rebuild on this phone. @param {string} name */
const rowOf = async (name) => (await shelfNow()).rows.find((row) => row.name === name);

/** @param {Row} row @param {import("../form/fields.js").Reading} read */
function facts(row, read) {
  const usual = row.usual_minimum ? " (common practice)" : "";
  return html`<table>
    <tbody>
      <tr>
        <th scope="row">Part</th>
        <td>${row.part ?? "plate"}${row.family ? `, ${row.family}` : nothing}</td>
      </tr>
      <tr>
        <th scope="row">Thickness</th>
        <td>${read.length(row.mm)}</td>
      </tr>
      <tr>
        <th scope="row">Limit</th>
        <td>${read.length(row.minimum_mm)}${usual}</td>
      </tr>
      <tr>
        <th scope="row">Counted</th>
        <td>${row.counted_at ? `${whenDay(row.counted_at)} by ${row.counted_by}` : "never"}</td>
      </tr>
    </tbody>
  </table>`;
}

/** @param {Row} row @param {import("../form/fields.js").Reading} read */
const known = (row, read) =>
  html`<section class="card">
      <p class="figure">${row.count} ${row.count === 1 ? "piece" : "pieces"}</p>
      ${row.wanted ? html`<p>${row.wanted} of them are wanted by plans, ${row.free} are free.</p>` : nothing}
      ${row.says.map((sentence) => html`<p class="finding doubt">${sentence}</p>`)} ${facts(row, read)}
    </section>
    <section class="card">
      <h2>Where the number comes from</h2>
      <ul class="list">
        ${row.trail.map(({ at, text, unit }) => {
          const words = unit ? html`<a class="back" href="#/unit/${unit}">${text}</a>` : text;
          return html`<li>${whenDay(at)}: ${words}</li>`;
        })}
      </ul>
    </section>`;

/** @type {import("../../app.js").Show} */
export async function show(place, [written]) {
  // What stands on a label is whatever somebody called the class.
  const name = decodeURIComponent(written);
  const draw = async () => {
    const [row, read] = await Promise.all([rowOf(name), reading()]);
    render(
      html`${backTo("#/shelf", "Shelf")}
        <h1>${name}</h1>
        ${
          row
            ? known(row, read)
            : html`<section class="card">
                <p>
                  No plates of this name are on the shelf that this ${DEVICE} knows: they are used up, were given
                  another name, or the count has not come to this ${DEVICE} yet.
                </p>
              </section>`
        }
        <a class="button main" href="#/shelf">Count the shelf</a>`,
      place,
    );
  };
  await draw();
  return onChange(draw);
}
