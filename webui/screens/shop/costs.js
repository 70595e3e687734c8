// @ts-check
// What rebuilds came to in hours and parts, for each unit, owner or season, as the workshop's PC adds it up.

import { askJson } from "../../log/access.js";
import { group, list, number, text } from "../../log/shape.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { backTo, choiceKeys, errorLine } from "../form/fields.js";

const isSum = group({
  name: text,
  unit: text,
  rebuilds: number,
  hours: text,
  parts_cost: text,
  without_hours: number,
  without_cost: number,
});
const areSums = group({ sums: list(isSum) });

/** @typedef {Awaited<ReturnType<typeof sumsBy>>[number]} Sum */

/** @param {string} by */
const sumsBy = async (by) => (await askJson(`/api/costs?by=${by}`, areSums)).sums;

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {string} by
 * @property {number} turn only the newest answer is shown
 * @property {Sum[]} [sums]
 * @property {string} fault
 */

/** What has a row. @type {Record<string, string>} */
const WHAT = { unit: "Unit", owner: "Owner", season: "Season" };

/** @param {State} state @param {string} by */
async function read(state, by) {
  const turn = ++state.turn;
  Object.assign(state, { by, fault: "", sums: undefined });
  draw(state);
  try {
    const sums = await sumsBy(by);
    if (turn === state.turn) state.sums = sums;
  } catch (error) {
    state.fault = /** @type {Error} */ (error).message;
  }
  if (turn === state.turn) draw(state);
}

/** A sum, and how many rebuilds are missing in it. @param {string} sum @param {number} without */
const cell = (sum, without) => html`<td class="number">
  ${sum || "–"}${sum && without ? html` <span class="quiet">(${without} without)</span>` : nothing}
</td>`;

/** @param {Sum} sum */
const nameOf = ({ name, unit }) =>
  unit ? html`<a class="back" href="#/unit/${unit}">${name || "no name"}</a>` : name || "no name given";

/** @param {Sum} sum */
const row = (sum) => html`<tr>
  <th scope="row">${nameOf(sum)}</th>
  <td class="number">${sum.rebuilds}</td>
  ${cell(sum.hours, sum.without_hours)} ${cell(sum.parts_cost, sum.without_cost)}
</tr>`;

/** @param {State} state */
function table({ sums, by }) {
  if (!sums) return nothing;
  if (!sums.length) return html`<p class="quiet">No rebuild is in the log yet.</p>`;
  return html`<div class="scroll" tabindex="0" role="region" aria-label="What rebuilds came to">
    <table>
      <thead>
        <tr>
          <th scope="col">${WHAT[by]}</th>
          <th scope="col" class="number">Rebuilds</th>
          <th scope="col" class="number">Hours</th>
          <th scope="col" class="number">Parts</th>
        </tr>
      </thead>
      <tbody>
        ${sums.map(row)}
      </tbody>
    </table>
  </div>`;
}

/** @param {State} state */
function draw(state) {
  render(
    html`${backTo("#/settings", "Settings")}
      <h1>Hours and parts</h1>
      <section class="card">
        ${choiceKeys({
          name: "by",
          label: "Added up",
          short: true,
          value: state.by,
          options: [
            { value: "unit", words: "by unit" },
            { value: "owner", words: "by owner" },
            { value: "season", words: "by season" },
          ],
          choose: (by) => read(state, by),
        })}
        ${errorLine(state.fault)} ${table(state)}
        <p class="quiet">Of rebuilds whose entry gives them; parts in the workshop's own money.</p>
      </section>`,
    state.place,
  );
}

/** @type {import("../../app.js").Show} */
export async function show(place) {
  /** @type {State} */
  const state = { place, by: "unit", turn: 0, fault: "" };
  await read(state, "unit");
  return () => {
    state.turn += 1;
  };
}
