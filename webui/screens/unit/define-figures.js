// @ts-check
// What a unit comes to as far as it is typed, beside the fields, and the key that saves it.

import { stackDrawing } from "../../draw/stack.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { saveKey } from "../form/act-key.js";
import { clearKey, warningLines } from "../form/fields.js";
import { save } from "./define-form.js";
import { otherFaults, sectionOf } from "./define-sections.js";

/** @typedef {import("./define-form.js").DefineForm} DefineForm */

/** Figures that a phone shows all the time. */
const IN_THE_BAR = ["torque", "vice"];

/** The figures in words; one that is refused is told by its section. @param {DefineForm} form */
function rows({ answer: { bad }, soFar, touched }) {
  const where = touched && bad ? sectionOf(bad.field) : undefined;
  const figures = soFar.result?.figures ?? [];
  return html`${where ? html`<p class="error">Look at: ${where.title}</p>` : nothing}
  ${
    figures.length
      ? html`<dl class="figures">
          ${figures.map(
            ({ name, title, text }) =>
              html`<div data-figure=${name}>
                <dt>${title}</dt>
                <dd>${text}</dd>
              </div>`,
          )}
        </dl>`
      : html`<p class="quiet">The figures appear as you type.</p>`
  }`;
}

/** The stack as it is typed, to scale. @param {DefineForm} form */
export function drawnToScale({ answer: { result }, read }) {
  if (!result?.checked.chain) return nothing;
  const parts = result.checked.chain.map(({ slot, part, new_mm: thickness }) => ({ slot, part, thickness }));
  const springHeight = result.checked.spring?.l0_mm ?? null;
  return html`<section class="card">
    <h2>To scale</h2>
    ${stackDrawing({ parts, springHeight, crush: result.crush_mm, workedOut: result.worked_out, say: read.length })}
  </section>`;
}

/** What it comes to: at the bench beside the fields, on a phone below them. @param {DefineForm} form */
export const figures = (form) =>
  html`<section class="card sum" aria-live="polite" aria-labelledby="sum">
    <h2 id="sum">What it comes to</h2>
    ${rows(form)} ${warningLines(form.answer.result?.warnings ?? [])}
  </section>`;

/** The first figures in a bar that stays in sight, with the key that saves. @param {DefineForm} form */
export function saving(form) {
  const shown = (form.soFar.result?.figures ?? []).filter(({ name }) => IN_THE_BAR.includes(name));
  return html`<section class="save-bar">
    <p class="live">${shown.map(({ title, text }) => html`<span>${title} <b>${text}</b></span>`)}</p>
    ${saveKey({
      answer: form.answer,
      words: form.id || form.pattern ? "Save the change" : "Add the unit",
      save: () => save(form),
    })}
  </section>`;
}

/** Who enters it, what else is wrong, and a key that clears. @param {DefineForm} form */
export const atTheEnd = (form) =>
  html`<section class="card">
    ${form.sign.fieldIfUnknown("Entered by") ?? nothing} ${otherFaults(form)}
    ${clearKey(Boolean(form.cleared), form.clear, form.putBack)}
  </section>`;
