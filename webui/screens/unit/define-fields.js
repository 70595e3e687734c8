// @ts-check
// The fields of a unit's definition, by the section in which they stand.

import { LABELS } from "../../log/labels.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { choiceKeys, numberField, textField, typedOf } from "../form/fields.js";
import { valueAt } from "./define-draft.js";
import { setValue } from "./define-form.js";

/** @typedef {import("./define-form.js").DefineForm} DefineForm */

/**
 * A figure to type: with its unit beside it where it has one, and with keys for what it often is.
 * @typedef {{path: keyof typeof LABELS.unit, si?: "nm" | "mm", hint?: string, usual?: string[]}} FigureField
 */

/** Angles that rings are often cut with: common practice, no source. */
const ANGLES = ["30", "45", "60", "80", "90"];

/**
 * @typedef {"limits" | "intervals" | "hub" | "spring" | "depth" | "friction" | "ramps" | "cover" | "plates"} FieldGroup
 */

/** @type {Record<FieldGroup, FigureField[]>} */
const FIELDS = {
  limits: [
    { path: "order.torque_nm", si: "nm" },
    { path: "order.tolerance_nm", si: "nm" },
    { path: "service.low_nm", si: "nm", hint: "the lowest torque between rebuilds" },
    { path: "service.high_nm", si: "nm", hint: "may stay empty" },
    {
      path: "service.plates_every_days",
      hint: "365 if empty: common practice",
    },
  ],
  intervals: [
    { path: "service.oil_every_outings" },
    { path: "service.oil_every_hours" },
    { path: "service.oil_every_days" },
    { path: "service.check_every_outings" },
    { path: "service.check_every_hours" },
    { path: "service.check_every_days" },
    { path: "service.plates_every_outings" },
    { path: "service.plates_every_hours" },
  ],
  hub: [
    {
      path: "hub_ratio",
      hint: "turns of the output for one turn of the wheel; 1 if there is none",
    },
  ],
  spring: [
    { path: "spring.de_mm", si: "mm" },
    { path: "spring.di_mm", si: "mm" },
    { path: "spring.t_mm", si: "mm" },
    { path: "spring.l0_mm", si: "mm", hint: "of one disc" },
    { path: "spring.parallel", hint: "in parallel" },
    { path: "spring.series", hint: "at one place" },
  ],
  depth: [{ path: "cavity_mm", si: "mm" }],
  friction: [
    { path: "friction.inner_mm", si: "mm", hint: "diameter" },
    { path: "friction.outer_mm", si: "mm", hint: "diameter" },
    { path: "friction.mu", hint: "0.1 is common practice, no source" },
  ],
  ramps: [
    { path: "ramps.pin_radius_mm", si: "mm" },
    { path: "ramps.drive_deg", hint: "from the plane of rotation", usual: ANGLES },
    { path: "ramps.coast_deg", hint: "90 adds no lock", usual: ANGLES },
  ],
  cover: [
    { path: "cover.screws", usual: ["6", "8", "10", "12"] },
    { path: "cover.screw_mm", si: "mm", usual: ["6", "8", "10"] },
    { path: "cover.torque_nm", si: "nm" },
    { path: "cover.start_mm", si: "mm", hint: "left empty, it is assumed, and said so" },
    {
      path: "cover.case_nm",
      si: "nm",
      hint: "engine times gears, or what the tyres hold; left empty, the clamp counts the spring alone",
    },
  ],
  plates: [
    { path: "limits.taper_mm", si: "mm", hint: "common practice, no source" },
    { path: "limits.flatness_mm", si: "mm", hint: "common practice, no source" },
  ],
};

/**
 * A field that begins in the unit that was typed last, and keeps the one that it was typed in.
 * @param {DefineForm} form
 * @param {Parameters<DefineForm["quantityField"]>[0]} field
 */
export const quantityOf = (form, field) =>
  form.quantityField({
    ...field,
    preferred: form.units.preferred(field.si),
    chosen: (unit) => form.units.choose(field.si, unit),
  });

/** Keys for what a figure often is. @param {FigureField} field @param {(typed: string) => void} put */
const usualKeys = ({ path, usual = [] }, put) =>
  usual.length
    ? html`<div class="row usual" role="group" aria-label="${LABELS.unit[path]}, often">
        ${usual.map(
          (figure) =>
            html`<button class="small" aria-label="${LABELS.unit[path]}: ${figure}" @click=${() => put(figure)}>
              ${figure}
            </button>`,
        )}
      </div>`
    : nothing;

/** @param {DefineForm} form @param {FigureField} field */
export function figureField(form, field) {
  const { path, si, hint } = field;
  const label = LABELS.unit[path];
  const value = valueAt(form.draft, path);
  // What contradicts something else is taken all the same, and said at its field.
  const warning = form.answer.result?.warnings.find(({ name }) => name === path)?.text;
  const error = form.answer.error(path) ?? warning;
  const put = (/** @type {import("./define-chain.js").Figure} */ typed) => setValue(form, path, typed);
  const typed = si
    ? quantityOf(form, { name: path, label, si, value, put, error, hint })
    : numberField({ name: path, label, hint, value: typedOf(value), error, type: put });
  return field.usual ? html`<div class="often">${typed}${usualKeys(field, put)}</div>` : typed;
}

/** @param {DefineForm} form @param {FieldGroup} group */
export const figureFields = (form, group) => FIELDS[group].map((field) => figureField(form, field));

/**
 * @param {DefineForm} form
 * @param {"name" | "note" | "plate_family"} path
 * @param {string} label
 * @param {string} [kind]
 * @param {string} [hint]
 */
export function wordsField(form, path, label, kind, hint) {
  const type = (/** @type {string} */ typed) => setValue(form, path, typed);
  return textField({ name: path, label, kind, hint, value: form.draft[path], error: form.answer.error(path), type });
}

/** Which of the two torques order and limits are. @param {DefineForm} form */
export const statedForKeys = (form) =>
  choiceKeys({
    name: "stated_for",
    label: LABELS.unit.stated_for,
    short: true,
    value: form.draft.stated_for,
    choose: (chosen) => setValue(form, "stated_for", chosen),
    options: [
      { value: "one_output_held", words: "one output held" },
      { value: "case_held", words: "case held (twice as much)" },
    ],
  });
