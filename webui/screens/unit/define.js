// @ts-check
// Add a unit, or change one: what it is, the torque ordered and its limits, its spring, its stack.

import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { backTo } from "../form/fields.js";
import { style } from "../form/style.js";
import { hasMore } from "./define-draft.js";
import { aboutTheDrive } from "./define-drive.js";
import { defineForm } from "./define-form.js";
import { figures, frictionRampsCover, saving, spring, torqueAndLimits, whatItIs } from "./define-sections.js";
import { stack, wide } from "./define-stack.js";

/** @param {import("./define-form.js").DefineForm} form */
function heading({ id, corrected, name }) {
  const title = corrected ? "Correct the unit" : id ? "Change the unit" : "Add a unit";
  return html`<div class="full">
    ${backTo(id ? `#/unit/${id}` : "#/", name ?? "Units")}
    <h1>${title}</h1>
    ${
      id
        ? nothing
        : html`<p class="quiet">
            Did another Slipbook save it to a file? <a href="#/import">Import the unit from the file</a>
          </p>`
    }
  </div>`;
}

/** @type {import("../../app.js").Show} */
export async function show(place, [id, corrected]) {
  const [form] = await Promise.all([defineForm(place, id, corrected, () => draw()), style("define")]);
  if (!form) {
    location.hash = `#/unit/${id}`;
    return;
  }
  // Folds that somebody closed stay closed, so the width counts once.
  const unfolded = wide.matches;
  const more = hasMore(form.draft);
  const draw = () =>
    render(
      html`${heading(form)}
        <div class="screen">
          ${whatItIs(form)} ${torqueAndLimits(form)} ${spring(form)}
          ${frictionRampsCover(form, unfolded, aboutTheDrive(form, more))}
        </div>
        <div class="screen">${figures(form)} ${stack(form)} ${saving(form)}</div>`,
      place,
    );
  place.classList.add("wide", "define");
  draw();
  await form.answer.judge();
}
