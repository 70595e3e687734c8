// @ts-check
// Every unit with its standing verdict, and what is due.

import { icon } from "../../draw/icons.js";
import { watch } from "../../log/delivery.js";
import { inVice } from "../../log/in-vice.js";
import { standings } from "../../log/stands.js";
import { entry, fact, onChange, outbox } from "../../log/store.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { choiceField, errorLine, VERDICTS, verdictMark, when, whenDay } from "../form/fields.js";

// A long list is drawn as far as anybody scrolls at once; the search finds the rest.
const PAGE = 60;

// So few are found by eye.
const FEW = 5;

/** What stands for a unit. @typedef {import("../../log/stands.js").UnitStanding} Standing */

/**
 * @typedef {object} UnitList
 * @property {HTMLElement} place
 * @property {() => void} draw
 * @property {string} sought
 * @property {string} chosen which units are shown
 * @property {number} drawn so many
 * @property {Standing[]} [units] none until the first are worked out
 * @property {number} left units that are not worked out yet
 * @property {(import("../../log/store.js").Entry | undefined)[]} refused entries that the workshop did not take
 * @property {Awaited<ReturnType<typeof inVice>>} inVice what the guide on this phone left in a vice
 * @property {string} failed
 * @property {unknown} problems what tells of them
 * @property {string} delivery its state
 */

/** Which units are shown: all, those due for something, or those of one verdict. */
const CHOICES = /** @type {[string, string, (unit: Standing) => boolean][]} */ ([
  ["", "all", () => true],
  ["due", "something due", ({ due }) => due.length > 0],
  ...["replace", "rework", "measure_again", "go"].map((name) => [
    name,
    VERDICTS[name],
    (/** @type {Standing} */ { verdict }) => verdict === name,
  ]),
  ["none", "not judged", ({ verdict }) => !verdict],
]);

/** @param {Standing} standing @param {UnitList} list */
function row({ unit_id, unit, verdict, looked_at, due, findings, replaced }, { refused, inVice }) {
  const owner = unit.owner ? `${unit.owner} · ` : "";
  const checked = looked_at ? `last checked ${whenDay(looked_at)}` : "not checked yet";
  const left = unit_id ? inVice.get(unit_id) : undefined;
  const doubtful = refused.some((entry) => entry && entry.unit === unit_id && !replaced[entry.id]);
  return html`<li>
    <a href="#/unit/${unit_id}">
      <strong>${unit.name}</strong>${verdictMark(verdict)}
      <span class="quiet">${owner}${checked}${due.length ? html`<br />Due: ${due[0].text}` : nothing}</span>
      ${findings.map(({ title }) => html`<span class="error">${title}</span>`)}
      ${left ? html`<span class="error">Spring held by a vice since ${when(left.since)}</span>` : nothing}
      ${doubtful ? html`<span class="error">Includes an entry that the workshop refused</span>` : nothing}
    </a>
  </li>`;
}

/** Units that are chosen and sought. @param {UnitList} list */
function matching({ units = [], chosen, sought }) {
  const fits = CHOICES.find(([name]) => name === chosen)?.[2] ?? (() => true);
  const words = sought.toLowerCase().trim();
  return units.filter(
    (standing) => fits(standing) && `${standing.unit.name} ${standing.unit.owner}`.toLowerCase().includes(words),
  );
}

/** @param {UnitList} list */
function finder(list) {
  const { units = [], chosen, sought, draw } = list;
  if (units.length <= FEW) return nothing;
  const seek = (/** @type {Partial<UnitList>} */ change) => {
    Object.assign(list, change, { drawn: PAGE });
    draw();
  };
  const counted = CHOICES.map(([name, words, fits]) => ({ name, words, count: units.filter(fits).length }));
  const choice = choiceField({
    name: "shown",
    label: "Show",
    value: chosen,
    options: counted
      .filter(({ name, count }) => count || name === chosen)
      .map(({ name, words, count }) => [name, `${words}, ${count}`]),
    choose: (value) => seek({ chosen: value }),
  });
  return html`<div class="pair">
    <div class="field">
      <label for="search">Find</label>
      <input
        id="search"
        type="search"
        .value=${sought}
        @input=${(/** @type {{target: HTMLInputElement}} */ event) => seek({ sought: event.target.value })}
      />
    </div>
    ${choice}
  </div>`;
}

/** Why the list is empty. @param {UnitList} list */
function empty({ units, chosen, sought, delivery }) {
  const none = `No unit${chosen ? " of these" : ""} has “${sought}” in its name or owner.`;
  if (units?.length) return html`<p>${sought ? none : "No unit is among these."}</p>`;
  const why =
    delivery === "busy" || !units
      ? "Looking for units…"
      : delivery === "unpaired"
        ? html`No unit is on this phone yet. <a href="#/pair">Pair it with the workshop</a> to fetch its log.`
        : "There are no units yet. Add a unit, or connect to the workshop once to fetch its log.";
  return html`<section class="card"><p>${why}</p></section>`;
}

/** @param {UnitList} list @param {number} all so many match */
function moreKey(list, all) {
  const { drawn, draw, place } = list;
  if (all <= drawn) return nothing;
  const more = () => {
    list.drawn += PAGE;
    draw();
    /** @type {HTMLElement | undefined} */ (place.querySelectorAll(".list a")[drawn])?.focus();
  };
  return html`<button @click=${more}>Show ${Math.min(PAGE, all - drawn)} more of ${all}</button>`;
}

/** @param {UnitList} list */
function view(list) {
  const { left, drawn, problems, failed } = list;
  const found = matching(list);
  return html`<div class="row apart">
      <h1>Units</h1>
      <a class="button" href="#/unit/new">${icon("plus")}Add a unit</a>
    </div>
    ${finder(list)} ${left ? html`<p role="status">Working out the verdicts: ${left} more to come…</p>` : nothing}
    ${problems} ${errorLine(failed)}
    ${
      found.length
        ? html`<ul class="list cards">
            ${found.slice(0, drawn).map((standing) => row(standing, list))}
          </ul>`
        : empty(list)
    }
    ${moreKey(list, found.length)}
    <p class="quiet"><a class="back" href="#/import">Import a unit from a file</a></p>`;
}

/** Rarely are there any: what tells of them is loaded only then. @param {UnitList} list */
async function lookForProblems(list) {
  const some = (await fact("problems", [])).length > 0;
  list.problems = some ? await (await import("../shop/problems.js")).problemsBanner() : nothing;
  list.draw();
}

/** @param {UnitList} list */
async function load(list) {
  try {
    const refused = (await outbox()).filter((waiting) => waiting.refused);
    list.inVice = await inVice();
    list.refused = await Promise.all(refused.map(({ id }) => entry(id)));
    list.units = await standings((found, all) => {
      list.units = found;
      list.left = all - found.length;
      list.draw();
    });
    list.left = 0;
  } catch (error) {
    list.failed = String(/** @type {Error} */ (error).message);
  }
  list.draw();
  lookForProblems(list);
}

/** @type {import("../../app.js").Show} */
export async function show(place) {
  /** @type {UnitList} */
  const list = {
    place,
    draw: () => render(view(list), place),
    sought: "",
    chosen: "",
    drawn: PAGE,
    left: 0,
    refused: [],
    inVice: new Map(),
    failed: "",
    problems: nothing,
    delivery: "busy",
  };
  const stopListening = onChange(() => load(list));
  const stopWatching = watch(({ state }) => {
    list.delivery = state;
    list.draw();
  });
  load(list);
  return () => {
    stopListening();
    stopWatching();
  };
}
