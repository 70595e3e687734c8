// @ts-check
// Marked parts of the whole workshop: which are in stock, which are in a unit, and which are gone.

import { onChange } from "../../log/changes.js";
import { markedParts } from "../../log/stands.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { backTo, verdictMark } from "../form/fields.js";
import { partWords, toMarked } from "../form/marked.js";
import { worked } from "../form/worked.js";

/** @typedef {import("../../log/stands.js").MarkedPart} Part */

/** Where parts are, in the order of the screen. @type {[string, Part["where"][]][]} */
const GROUPS = [
  ["In stock", ["stock"]],
  ["In a unit", ["unit"]],
  ["Nobody said where", ["unknown"]],
  ["Gone", ["scrap", "away"]],
];

/** @param {Part} part */
const row = (part) =>
  html`<li>
    <a href=${toMarked(part)}
      ><span class="about"
        ><strong>${partWords(part.part)} ${part.mark}</strong><span class="quiet">${part.text} ${part.used}</span>${
          part.says.length ? html`<span class="typed">The log contradicts itself about it.</span>` : nothing
        }</span
      >
      ${part.verdict ? verdictMark(part.verdict) : nothing}</a
    >
  </li>`;

/** @param {Part[]} parts */
const groups = (parts) =>
  GROUPS.map(([title, where]) => {
    const inGroup = parts.filter((part) => where.includes(part.where));
    return inGroup.length
      ? html`<section class="card" aria-label=${title}>
          <h2>${title}</h2>
          <ul class="list cards units">
            ${inGroup.map(row)}
          </ul>
        </section>`
      : nothing;
  });

/** @type {import("../../app.js").Show} */
export async function show(place) {
  const draw = async () => {
    const { parts } = await markedParts();
    render(
      html`${backTo("#/kit", "Kit")}
        <h1>Marked parts</h1>
        <p class="quiet">
          Springs, rings, gears, cases and screw sets with a number or mark of their own. What each ran, what was found
          of it and where it was goes with it from unit to unit. ${worked("marked")}
        </p>
        ${
          parts.length
            ? groups(parts)
            : html`<section class="card">
                <p>
                  There are none yet. Give a part its mark where you change its unit, under Marked parts, or in the
                  rebuild that fits it.
                </p>
              </section>`
        }`,
      place,
    );
  };
  await draw();
  return onChange(draw);
}
