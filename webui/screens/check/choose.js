// @ts-check
// Which unit? For what was begun outside a unit's own page: a check from the home screen, a photo that was shared.

import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { standings } from "../../log/stands.js";
import { backTo, verdictMark } from "../form/fields.js";

// Enough to see; the search finds the rest.
const SHOWN = 30;

/**
 * A list of units to tap.
 * @param {() => void} draw
 * @param {(unit: any) => any} row what a unit's row is
 */
export function unitChoice(draw, row) {
  let sought = "";
  /** @type {any[] | undefined} */
  let units;
  // Whatever was looked at last is most often what is meant.
  const byLastLook = (/** @type {any} */ one, /** @type {any} */ other) =>
    String(other.looked_at ?? "").localeCompare(String(one.looked_at ?? ""));
  standings((found) => {
    units = [...found].sort(byLastLook);
    draw();
  }).then((found) => {
    units = [...found].sort(byLastLook);
    draw();
  });
  return () => {
    const found = (units ?? []).filter((one) =>
      `${one.unit.name} ${one.unit.owner}`.toLowerCase().includes(sought.toLowerCase().trim()),
    );
    return html`${
      (units?.length ?? 0) > 5
        ? html`<div class="field">
            <label for="search">Find a unit</label
            ><input
              id="search"
              type="search"
              .value=${sought}
              @input=${(/** @type {any} */ event) => {
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
          : html`<p>${sought ? `No unit has “${sought}” in its name or owner.` : "No unit is in the book yet."}</p>`
    }
    ${found.length > SHOWN ? html`<p class="quiet">And ${found.length - SHOWN} more: type a part of the name.</p>` : nothing}`;
  };
}

/** @type {import("../../app.js").Show} */
export async function show(place) {
  const choice = unitChoice(
    () => draw(),
    (one) =>
      html`<li>
        <a href="#/unit/${one.unit_id}/check"
          ><strong>${one.unit.name}</strong>${verdictMark(one.verdict)} <span class="quiet">${one.unit.owner}</span></a
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
