// @ts-check
// The sections of a unit's definition beside its stack, and the figures that come of it.

import { stackDrawing } from "../../draw/stack.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { choiceKeys, clearKey, errorLine, newtons, numberField, percent, textField, typedOf } from "../form/fields.js";
import { valueAt } from "./define-draft.js";
import { save, setValue } from "./define-form.js";

/** @typedef {import("./define-form.js").DefineForm} DefineForm */

/**
 * A figure to type: with its unit beside it where it has one.
 * @typedef {{path: string, label: string, si?: "nm" | "mm", hint?: string}} FigureField
 */

/** @type {Record<string, FigureField[]>} */
const FIELDS = {
  limits: [
    { path: "order.torque_nm", label: "Breakaway ordered", si: "nm" },
    { path: "order.tolerance_nm", label: "Give or take", si: "nm" },
    { path: "service.low_nm", label: "Limits for running: from", si: "nm", hint: "the lowest torque between rebuilds" },
    { path: "service.high_nm", label: "Limits for running: up to", si: "nm", hint: "may stay empty" },
    {
      path: "service.plates_every_days",
      label: "Measure the plates every, days",
      hint: "365 if empty: common practice",
    },
  ],
  hub: [
    {
      path: "hub_ratio",
      label: "Hub reduction",
      hint: "turns of the output for one turn of the wheel; 1 if there is none",
    },
  ],
  spring: [
    { path: "spring.de_mm", label: "Outside diameter De", si: "mm" },
    { path: "spring.di_mm", label: "Inside diameter Di", si: "mm" },
    { path: "spring.t_mm", label: "Thickness t", si: "mm" },
    { path: "spring.l0_mm", label: "Free height l0", si: "mm", hint: "of one disc" },
    { path: "spring.parallel", label: "Discs nested", hint: "in parallel" },
    { path: "spring.series", label: "Stacked in series", hint: "at one place" },
  ],
  friction: [
    { path: "friction.inner_mm", label: "Rubbing ring, inside", si: "mm", hint: "diameter" },
    { path: "friction.outer_mm", label: "Rubbing ring, outside", si: "mm", hint: "diameter" },
    { path: "friction.mu", label: "Friction coefficient of the plates", hint: "0.1 is common practice, no source" },
  ],
  ramps: [
    { path: "ramps.pin_radius_mm", label: "Pin radius", si: "mm" },
    { path: "ramps.drive_deg", label: "Drive ramp, degrees", hint: "from the plane of rotation" },
    { path: "ramps.coast_deg", label: "Coast ramp, degrees" },
  ],
  cover: [
    { path: "cover.screws", label: "How many" },
    { path: "cover.screw_mm", label: "Thread", si: "mm" },
    { path: "cover.torque_nm", label: "Screw torque", si: "nm" },
    { path: "cover.start_mm", label: "Gap at first thread", si: "mm", hint: "left empty, it is assumed, and said so" },
  ],
  plates: [
    { path: "limits.taper_mm", label: "Taper", si: "mm", hint: "common practice, no source" },
    { path: "limits.flatness_mm", label: "Out of flat", si: "mm", hint: "common practice, no source" },
  ],
};

/** @param {DefineForm} form @param {FigureField} field */
export function figureField(form, { path, label, si, hint }) {
  const value = valueAt(form.draft, path);
  // What contradicts something else is taken all the same, and said at its field.
  const said = form.answer.result?.warnings.find(({ name }) => name === path)?.text;
  const error = form.answer.error(path) ?? said;
  const put = (/** @type {import("./define-draft.js").Figure} */ typed) => setValue(form, path, typed);
  if (!si) return numberField({ name: path, label, hint, value: typedOf(value), error, type: put });
  // What makers state, springs and rings, is in mm whatever a reader's own unit is.
  const preferred = si === "mm" ? "mm" : undefined;
  return form.quantityField({ name: path, label, si, value, put, preferred, error, hint });
}

/** @param {DefineForm} form @param {keyof typeof FIELDS} group */
const figureFields = (form, group) => FIELDS[group].map((field) => figureField(form, field));

/**
 * @param {DefineForm} form
 * @param {"name" | "owner" | "note" | "plate_family"} path
 * @param {string} label
 * @param {string} [kind]
 * @param {string} [hint]
 */
function wordsField(form, path, label, kind, hint) {
  const type = (/** @type {string} */ typed) => setValue(form, path, typed);
  return textField({ name: path, label, kind, hint, value: form.draft[path], error: form.answer.error(path), type });
}

const FAMILY = "rubbing ring, lugs or splines, material; a plan offers no plate of another family";

/** @param {DefineForm} form */
export function whatItIs(form) {
  return html`<section class="card all what">
    <h2>What it is</h2>
    ${wordsField(form, "name", "Name of the unit")} ${wordsField(form, "owner", "Owner")}
    ${wordsField(form, "note", "Anything to know about it", "long")}
    ${wordsField(form, "plate_family", "Plate family, if you keep several", undefined, FAMILY)}
  </section>`;
}

/** @param {DefineForm} form */
export function torqueAndLimits(form) {
  const { draft } = form;
  const statedFor = choiceKeys({
    name: "stated_for",
    label: "These are stated for",
    short: true,
    value: draft.stated_for,
    choose: (chosen) => setValue(form, "stated_for", chosen),
    options: [
      { value: "one_output_held", words: "one output held" },
      { value: "case_held", words: "case held (twice as much)" },
    ],
  });
  const judgedOn = choiceKeys({
    name: "judged_on",
    label: "The unit is judged on",
    short: true,
    value: draft.judged_on,
    choose: (chosen) => setValue(form, "judged_on", chosen),
    options: [
      { value: "steady", words: "steady turning" },
      { value: "first_move", words: "the first move" },
    ],
  });
  return html`<section class="card">
    <h2>Torque ordered, and limits</h2>
    <div class="fields">${figureFields(form, "limits")}</div>
    ${statedFor} ${judgedOn} ${figureFields(form, "hub")}
  </section>`;
}

/** @param {DefineForm} form */
export function spring(form) {
  return html`<section class="card">
    <h2>Spring</h2>
    <div class="fields">${figureFields(form, "spring")}</div>
  </section>`;
}

/** @param {DefineForm} form @param {keyof typeof FIELDS} group @param {string} title @param {boolean} open */
const fold = (form, group, title, open) =>
  html`<details ?open=${open}>
    <summary>${title}</summary>
    <div class="inside fields">${figureFields(form, group)}</div>
  </details>`;

/**
 * @param {DefineForm} form
 * @param {boolean} unfolded whether there is room for everything
 * @param {import("../form/fields.js").Template} more what is left out unless it is given
 */
export function frictionRampsCover(form, unfolded, more) {
  const { ramps, cover } = form.draft;
  return html`<section class="card rub">
    <h2>Friction, ramps, cover</h2>
    <div class="fields">${figureFields(form, "friction")}</div>
    ${fold(form, "ramps", "Ramps", unfolded || Boolean(ramps.drive_deg))}
    ${fold(form, "cover", "Cover screws", unfolded || Boolean(cover.screws))}
    ${fold(form, "plates", "Limits for every plate", unfolded)} ${more}
  </section>`;
}

/** A field's path as people read it. @param {DefineForm} form @param {string} path */
const fieldInWords = (form, path) =>
  path
    .replace(/^chain\.(\d+)/, (_, number) => form.draft.chain[number].slot)
    .replace("new_mm", "thickness")
    .replace("minimum_mm", "limit")
    .replace(/_(nm|mm|deg)$/, "")
    .replaceAll(".", " › ")
    .replaceAll("_", " ") || "the unit as a whole";

/** @param {DefineForm} form */
function missingFigures(form) {
  const { bad, failed } = form.answer;
  return html`<section class="card sum" aria-live="polite">
    <h2>Result</h2>
    ${
      bad
        ? html`${errorLine(bad.reason)}
            <p class="quiet">At: ${fieldInWords(form, bad.field)}</p>`
        : html`<p class="quiet">Fill in the fields; the figures appear as you type.</p>`
    }
    ${errorLine(failed)}
  </section>`;
}

/** What the engine makes of the definition. @param {DefineForm} form */
export function figures(form) {
  const { result } = form.answer;
  if (!result) return missingFigures(form);
  const { torque, length } = form.read;
  const { checked, faces, warnings } = result;
  const parts = checked.chain.map(({ slot, part, new_mm: thickness }) => ({ slot, part, thickness }));
  return html`<section class="card sum" aria-live="polite">
    <h2>Result</h2>
    <p class="figure">${torque(result.breakaway_nm)}</p>
    <p class="quiet">
      breakaway with these parts; preload ${newtons(result.preload_n)}, crush ${length(result.crush_mm)}, sliding
      faces ${faces.first} and ${faces.second}, ${percent(result.travel)} of the spring's travel.
    </p>
    ${
      result.warm
        ? html`<p class="quiet">
            Warm, by expansion alone: crush ${length(result.warm.crush_mm)}, preload ${newtons(result.warm.preload_n)}.
          </p>`
        : nothing
    }
    ${warnings.map((warning) => html`<p class="finding doubt">${warning.text}</p>`)}
    ${stackDrawing({ parts, springHeight: checked.spring.l0_mm, crush: result.crush_mm, say: length })}
  </section>`;
}

/** @param {DefineForm} form */
export function saving(form) {
  return html`<section class="card all">
    ${form.sign.fieldIfUnknown("Entered by") ?? nothing}
    <button class="main big" ?disabled=${!form.answer.result} @click=${() => save(form)}>
      ${form.id ? "Save the change" : "Add the unit"}
    </button>
    ${clearKey(Boolean(form.cleared), form.clear, form.putBack)}
  </section>`;
}
