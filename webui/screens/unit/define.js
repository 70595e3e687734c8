// @ts-check
// Add a unit, or change one: sections that open one after another, and beside them what is known so far.

import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { backTo } from "../form/fields.js";
import { goToField } from "../form/focus.js";
import { style } from "../form/style.js";
import { hasMore } from "./define-draft.js";
import { atTheEnd, drawnToScale, figures, saving } from "./define-figures.js";
import { defineForm } from "./define-form.js";
import { intoTheNext, sectionOf, sections } from "./define-sections.js";
import { openFromLog } from "./work-out-log.js";

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
            A name is enough; what else is known opens more. <a href="#/patterns">Is it of a pattern?</a> Did another
            Slipbook save it to a file? <a href="#/import">Import the unit from the file</a>
          </p>`
    }
  </div>`;
}

/** @type {import("../../app.js").Show} */
export const show = (place, [id, corrected, field]) => showForm(place, { id, corrected, field, heading });

/**
 * @typedef {object} Wanted what the form is opened for
 * @property {string} [id] of the unit
 * @property {string} [corrected] the entry to correct
 * @property {string} [field] to go to
 * @property {import("./define-pattern.js").Subject} [pattern] instead of a unit
 * @property {(form: import("./define-form.js").DefineForm) => unknown} heading
 */

/** @param {HTMLElement} place @param {Wanted} wanted */
export async function showForm(place, { id, corrected, field, pattern, heading }) {
  const [form] = await Promise.all([defineForm(place, id, corrected, () => draw(), pattern), style("define")]);
  if (!form) {
    location.hash = `#/unit/${id}`;
    return;
  }
  form.unfolded.add(sectionOf(field ?? "")?.name ?? "what");
  if (!id) form.unfolded.add("limits");
  // What somebody gave is in sight.
  if (hasMore(form.draft)) form.unfolded.add("more");
  const draw = () =>
    render(
      html`${heading(form)}
        <div class="screen sections">${sections(form)} ${atTheEnd(form)}</div>
        <div class="screen beside">${figures(form)} ${saving(form)} ${drawnToScale(form)}</div>`,
      place,
    );
  place.classList.add("wide", "define");
  place.addEventListener("keydown", (event) => intoTheNext(form, event));
  place.addEventListener("focusin", ({ target }) => {
    const path = target instanceof HTMLElement ? (target.dataset.field ?? "") : "";
    if (!path || path === form.focused) return;
    form.focused = path;
    draw();
  });
  draw();
  await Promise.all([form.answer.judge(), form.askAll()]);
  // Once the screen stands: whoever shows it begins at its top.
  if (!field) return;
  await openFromLog(form, field);
  setTimeout(() => goToField(place, field));
}
