// @ts-check
// More about the drive, in a unit's definition: what is left out unless somebody gives it. Each with a word of help.

import { bevelDrawing } from "../../draw/bevel.js";
import { LABELS } from "../../log/labels.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { choiceKeys } from "../form/fields.js";
import { worked } from "../form/worked.js";
import { figureField } from "./define-fields.js";
import { setValue } from "./define-form.js";

/** @typedef {import("./define-form.js").DefineForm} DefineForm */
/** @typedef {import("./define-fields.js").FigureField} FigureField */

/** @type {FigureField[]} */
const GEARS = [
  { path: "ramps.gears.pressure_deg", hint: "often 20 to 25" },
  { path: "ramps.gears.pitch_radius_mm", si: "mm" },
  { path: "ramps.gears.side_teeth" },
  { path: "ramps.gears.pinion_teeth" },
  {
    path: "ramps.gears.cone_deg",
    hint: "where it is known, instead of the teeth",
  },
];

/** @type {FigureField[]} */
const EARS = [
  { path: "ramps.ears.radius_mm", si: "mm", hint: "from the middle of the case" },
  { path: "ramps.ears.mu", hint: "0.1 is common practice, no source" },
];

/** @type {FigureField[]} */
const PINS = [{ path: "ramps.mu", hint: "0.1 is common practice, no source" }];

/** @type {FigureField[]} */
const DISCS = [
  { path: "spring.flats_t_mm", si: "mm", hint: "only for a disc with contact flats" },
  { path: "spring.surface_friction", hint: "about 0.005 to 0.03" },
  { path: "spring.edge_friction", hint: "about 0.01 to 0.05" },
];

/** @type {FigureField[]} */
const WARMING = [
  { path: "warming.warmer_k", hint: "a step of 1 K is one of 1 °C" },
  { path: "warming.case_ppm", hint: "aluminium 23, steel 11.5" },
  { path: "warming.stack_ppm", hint: "steel 11.5" },
];

/** @param {DefineForm} form @param {FigureField[]} fields */
const figures = (form, fields) => html`<div class="fields">${fields.map((field) => figureField(form, field))}</div>`;

/** @param {DefineForm} form */
function bearing(form) {
  const { on_packs: onPacks } = form.draft.ramps.gears;
  return choiceKeys({
    name: "ramps.gears.on_packs",
    label: LABELS.unit["ramps.gears.on_packs"],
    short: true,
    value: onPacks === "" ? "" : onPacks ? "packs" : "case",
    error: form.answer.error("ramps.gears.on_packs"),
    options: [
      { value: "packs", words: "rings or packs" },
      { value: "case", words: "the case" },
      { value: "", words: "not given" },
    ],
    choose: (chosen) => setValue(form, "ramps.gears.on_packs", chosen && chosen === "packs"),
  });
}

/** @param {DefineForm} form */
export function aboutTheDrive(form) {
  return html`<p class="quiet">All of this may stay empty: what is not given is left out.</p>
      <h2 class="minor">Bevel gears</h2>
      <p class="quiet">Under torque they push apart. Where they bear on rings or packs, that adds to the lock.</p>
      ${bevelDrawing()} ${bearing(form)} ${figures(form, GEARS)}
      <h2 class="minor">Ramp rings</h2>
      <p class="quiet">Friction of pins on ramps and of the rings' ears in the case's slots takes from the lock.</p>
      ${figures(form, [...PINS, ...EARS])}
      <h2 class="minor">Disc spring</h2>
      <p class="quiet">Friction makes it push harder while it is closed, and less while it is let go.</p>
      ${figures(form, DISCS)}
      <h2 class="minor">A case of another metal</h2>
      <p class="quiet">An aluminium case grows more than the plates in it, and a warm unit has less preload.</p>
      ${figures(form, WARMING)} ${worked("ramps")}`;
}
