// @ts-check
// Which unit? For what was begun outside a unit's own page: a check from the home screen, a photo that was shared.

import { calc } from "../../engine/door.js";
import { finder } from "../../log/find.js";
import { listing } from "../../log/stands.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { backTo, verdictMark } from "../form/fields.js";

// Enough to see; the search finds the rest.
const SHOWN = 30;

/** @typedef {import("../../log/stands.js").Listed} Listed */
/** A unit with its id. @typedef {Listed & {unit_id: string}} Unit */

/**
 * The same units, whatever was checked last first: most often that is what is meant.
 * @param {Listed[]} units
 * @returns {Promise<Unit[]>}
 */
async function byLastLook(units) {
  const looks = units.map(({ unit_id, looked_at }) => ({ unit_id: unit_id ?? "", looked_at }));
  const { order } = await calc("last_looked", { units: looks });
  const byId = new Map(units.map((unit) => [unit.unit_id, unit]));
  return order.flatMap((id) => {
    const unit = byId.get(id);
    return unit ? [{ ...unit, unit_id: id }] : [];
  });
}

/**
 * A list of units to tap.
 * @param {() => void} draw
 * @param {(unit: Unit) => unknown} row what a unit's row is
 */
export function unitChoice(draw, row) {
  let sought = "";
  /** @type {Unit[] | undefined} */
  let units;
  const give = async (/** @type {Listed[]} */ found) => {
    units = await byLastLook(found);
    draw();
  };
  listing(give).then(give);
  return () => {
    const fits = finder(sought);
    const found = (units ?? []).filter(({ unit }) => fits(`${unit.name} ${unit.owner}`));
    const more = Math.max(0, found.length - SHOWN);
    return html`${
      (units?.length ?? 0) > 5
        ? html`<div class="field">
            <label for="search">Find a unit</label
            ><input
              id="search"
              type="search"
              .value=${sought}
              @input=${(/** @type {{target: HTMLInputElement}} */ event) => {
                sought = event.target.value;
                draw();
              }}
            />
          </div>`
        : nothing
    }
    ${
      !units
        ? html`<p role="status">Looking for units…</p>`
        : found.length
          ? html`<ul class="list">
              ${found.slice(0, SHOWN).map(row)}
            </ul>`
          : html`<p>${sought ? `No unit has “${sought}” in its name or owner.` : "There are no units yet."}</p>`
    }
    ${more ? html`<p class="quiet">And ${more} more: type a part of the name.</p>` : nothing}`;
  };
}

/** @type {import("../../app.js").Show} */
export async function show(place) {
  const choice = unitChoice(
    () => draw(),
    ({ unit_id, unit, verdict }) =>
      html`<li>
        <a href="#/unit/${unit_id}/check"
          ><strong>${unit.name}</strong>${verdictMark(verdict)} <span class="quiet">${unit.owner}</span></a
        >
      </li>`,
  );
  const draw = () =>
    render(
      html`${backTo("#/", "Units")}
        <h1>Check which unit?</h1>
        ${choice()}`,
      place,
    );
  draw();
}
