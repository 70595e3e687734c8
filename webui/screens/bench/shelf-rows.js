// @ts-check
// What stands of the shelf beside what is typed: what is to be bought, and of each row its numbers and their trail.

import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { whenDay } from "../form/fields.js";

/** @typedef {import("../../log/stands.js").ShelfNow} ShelfNow */

/** @param {ShelfNow["to_buy"]} to_buy */
const lines = (to_buy) => html`<ul class="steps">
  ${to_buy.map(({ text }) => html`<li>${text}</li>`)}
</ul>`;

/** @param {ShelfNow["to_buy"]} to_buy */
const foldedList = (to_buy) => html`<details>
  <summary>To buy: ${to_buy.length === 1 ? "1 class" : `${to_buy.length} classes`}</summary>
  ${lines(to_buy)}
</details>`;

/**
 * The sum of it all, what disagrees, and the buying list.
 * @param {ShelfNow} now
 * @param {boolean} [folded] whether the list is folded away, since the grid says it row by row
 */
export function buyingList({ rows, count, reserved, to_buy, says }, folded = false) {
  if (!rows.length && !to_buy.length && !says.length) return nothing;
  return html`<section class="card">
    <p><b>${count} plates</b>${reserved ? `, ${reserved} of them planned` : nothing}.</p>
    ${says.map((text) => html`<p class="finding doubt">${text}</p>`)}
    ${to_buy.length ? (folded ? foldedList(to_buy) : html`<h2>To buy</h2>${lines(to_buy)}`) : nothing}
  </section>`;
}

/** A row's numbers, what is to be said of them, and where they come from. @param {ShelfNow} now @param {string} name */
export function rowState({ rows }, name) {
  const row = rows.find((other) => other.name === name.trim());
  if (!row) return nothing;
  const numbers = [
    `${row.count} here`,
    row.wanted ? `${row.wanted} planned, ${row.free} left` : "",
    row.lowest_stock === null ? "" : `lowest stock ${row.lowest_stock}`,
    row.to_buy ? `${row.to_buy} to buy` : "",
  ];
  return html`<p><b>${row.name}</b>: ${numbers.filter(Boolean).join(" · ")}</p>
    ${row.says.map((text) => html`<p class="finding ${row.short || row.is_low ? "doubt" : "note"}">${text}</p>`)}
    ${
      row.trail.length
        ? html`<details>
            <summary>Where the number comes from</summary>
            <ul class="steps">
              ${row.trail.map(
                ({ at, who, text, left, change, unit, id }) =>
                  html`<li>
                    ${whenDay(at)}, ${who}:
                    ${unit ? html`<a href="#/unit/${unit}/entry/${id}">${text}</a>` : text}
                    ${left === null || change === null ? nothing : html`<b>${left} left.</b>`}
                  </li>`,
              )}
            </ul>
          </details>`
        : nothing
    }`;
}
