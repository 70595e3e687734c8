// @ts-check
// Which units the list shows: those of one verdict, those due for something, those that are sought.

import { finder } from "../../log/find.js";
import { nameOfPattern } from "../../log/pattern.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { choiceField, VERDICTS } from "../form/fields.js";
import { FEW } from "./list-notes.js";

/** @typedef {import("./list.js").UnitList} UnitList */
/** @typedef {import("./list.js").Standing} Standing */

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

/** Units that are chosen and sought; looked for once for all frames. @param {UnitList} list */
export function matching(list) {
  const { units = [], chosen, sought, patterns } = list;
  const of = [list.units, chosen, sought, patterns];
  if (!list.found || of.some((part, place) => part !== list.found?.of[place])) {
    const fits = CHOICES.find(([name]) => name === chosen)?.[2] ?? (() => true);
    const has = finder(sought);
    const found = units.filter(
      (standing) =>
        fits(standing) && has(`${standing.unit.name} ${standing.unit.owner} ${nameOfPattern(standing.unit, patterns)}`),
    );
    list.found = { of, found };
  }
  return list.found.found;
}

/**
 * The fields by which units are chosen and sought, where there are more than a few.
 * @param {UnitList} list
 * @param {(change: Partial<UnitList>) => void} seek
 */
export function findFields({ units = [], chosen, sought }, seek) {
  if (units.length <= FEW) return nothing;
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
