// @ts-check
// The sections of a unit's definition: they open one after another, each says what it gives, and draws what is typed.

import { dimensionDrawing } from "../../draw/dimensions.js";
import { icon } from "../../draw/icons.js";
import { LABELS } from "../../log/labels.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { goesOn, goTo, stopsIn } from "../form/enter.js";
import { choiceField, choiceKeys, errorLine, numberField, textField, typedOf } from "../form/fields.js";
import { worked } from "../form/worked.js";
import { aboutTheDrive } from "./define-drive.js";
import { otherParts } from "./define-features.js";
import { figureFields, quantityOf, statedForKeys, wordsField } from "./define-fields.js";
import { setValue } from "./define-form.js";
import { markedParts } from "./define-marked.js";
import { plates } from "./define-plates.js";
import { workOut } from "./work-out.js";

/** @typedef {import("./define-form.js").DefineForm} DefineForm */

/**
 * @typedef {object} Section
 * @property {string} name of the engine's section, where it has one
 * @property {string} title
 * @property {RegExp} paths of its fields
 * @property {import("../../draw/dimensions.js").SketchName} [sketch]
 * @property {string} [gives] where the engine has no section of that name
 * @property {(form: DefineForm) => boolean} [filled] whether anything is typed, where the engine has no such section
 * @property {(form: DefineForm) => unknown} fields
 */

const FAMILY = "rubbing ring, lugs or splines, material; a plan offers no plate of another family";

/** The car that it is fitted to, where the shop keeps any. @param {DefineForm} form */
const carField = (form) =>
  form.pattern || !form.cars.length
    ? nothing
    : choiceField({
        name: "car_id",
        label: "Car that it is fitted to",
        value: form.draft.car_id,
        options: [["", "not said"], ...form.cars.map(({ id, name }) => /** @type {[string, string]} */ ([id, name]))],
        choose: (chosen) => setValue(form, "car_id", chosen),
      });

/** @param {DefineForm} form */
const whatItIs = (form) =>
  html`<div class="fields">
      ${wordsField(form, "name", form.pattern ? "Name of the pattern" : "Name of the unit")}
      ${form.pattern ? nothing : form.owner.field()}
    </div>
    ${choiceKeys({
      name: "sits",
      label: LABELS.unit.sits,
      short: true,
      value: form.draft.sits ?? "",
      error: form.answer.error("sits"),
      choose: (chosen) => setValue(form, "sits", chosen),
      options: [
        { value: "front", words: "front axle" },
        { value: "rear", words: "rear axle" },
        { value: "centre", words: "centre, between the axles" },
        { value: "", words: "not said" },
      ],
    })}
    ${worked("sits", "What that changes")}
    <details ?open=${form.noted}>
      <summary>Plate family, and a note</summary>
      <div class="inside">
        ${carField(form)}
        ${wordsField(form, "plate_family", "Plate family, if you keep several", undefined, FAMILY)}
        ${wordsField(form, "note", "Anything to know about it", "long")}
      </div>
    </details>`;

/** @param {DefineForm} form */
function torqueAndLimits(form) {
  const judgedOn = choiceKeys({
    name: "judged_on",
    label: "The unit is judged on",
    short: true,
    value: form.draft.judged_on,
    choose: (chosen) => setValue(form, "judged_on", chosen),
    options: [
      { value: "steady", words: "steady turning" },
      { value: "first_move", words: "the first move" },
    ],
  });
  return html`<div class="fields">${figureFields(form, "limits")}</div>
    ${statedForKeys(form)} ${judgedOn} ${figureFields(form, "hub")} ${intervals(form)}`;
}

/** After how much use what is done: whatever comes first; Enter passes what is folded. @param {DefineForm} form */
const intervals = (form) =>
  html`<details ?open=${form.scheduled}>
    <summary>Service intervals</summary>
    <div class="inside">
      <p>
        What comes first counts; hours are hours of running; what is left empty does not count. Plates are due by their
        days besides.
      </p>
      <div class="fields">${figureFields(form, "intervals")}</div>
    </div>
  </details>`;

/** @param {DefineForm} form @param {number} number */
function otherPair(form, number) {
  const pair = form.draft.other_ramps[number];
  const path = `other_ramps.${number}`;
  const label = pair.name || `Pair ${number + 2}`;
  const field = (/** @type {"drive_deg" | "coast_deg"} */ name, /** @type {string} */ words) =>
    numberField({
      name: `${path}.${name}`,
      label: `${label}, ${words}, degrees`,
      value: typedOf(pair[name]),
      error: form.answer.error(`${path}.${name}`),
      type: (typed) => setValue(form, `${path}.${name}`, typed),
    });
  const takeOut = () => form.put({ other_ramps: form.draft.other_ramps.filter((_, place) => place !== number) });
  return html`<li class="card">
    ${textField({
      name: `${path}.name`,
      label: `Name of pair ${number + 2}`,
      hint: "such as turned a third, or spare rings",
      value: pair.name,
      error: form.answer.error(`${path}.name`),
      type: (typed) => setValue(form, `${path}.name`, typed),
    })}
    <div class="fields">
      ${field("drive_deg", "drive")} ${field("coast_deg", "coast")}
      ${quantityOf(form, {
        name: `${path}.pin_radius_mm`,
        label: `${label}, pin radius`,
        hint: "as above if empty",
        si: "mm",
        value: pair.pin_radius_mm,
        put: (typed) => setValue(form, `${path}.pin_radius_mm`, typed),
        error: form.answer.error(`${path}.pin_radius_mm`),
      })}
    </div>
    <button class="small" @click=${takeOut}>Take pair ${number + 2} out</button>
  </li>`;
}

/** @param {DefineForm} form */
function ramps(form) {
  const { other_ramps: others } = form.draft;
  const add = () =>
    form.put({ other_ramps: [...others, { name: "", drive_deg: "", coast_deg: "", pin_radius_mm: "" }] });
  return html`<div class="fields">${figureFields(form, "ramps")}</div>
    ${
      others.length
        ? html`<h2 class="minor">Other ramps that it can run with</h2>
            <ol class="list" aria-label="Other pairs of ramps">
              ${others.map((_, number) => otherPair(form, number))}
            </ol>`
        : nothing
    }
    <button class="small" @click=${add}>Another pair of ramps on these rings, or other rings</button>`;
}

/** @param {DefineForm} form */
const more = (form) =>
  html`<h2 class="minor">Limits for every plate</h2>
    <div class="fields">${figureFields(form, "plates")}</div>
    ${aboutTheDrive(form)}`;

/** @param {import("./define-fields.js").FieldGroup} group */
const figuresOf = (group) => (/** @type {DefineForm} */ form) =>
  html`<div class="fields">${figureFields(form, group)}</div>`;

/**
 * Figures of which one can be worked out, if nobody can measure it.
 * @param {import("./define-fields.js").FieldGroup} group @param {string} path
 */
const withWorkOut = (group, path) => (/** @type {DefineForm} */ form) =>
  html`${figuresOf(group)(form)}${workOut(form, path)}`;

/** @type {Section[]} In the order in which a unit is usually got to know. */
export const SECTIONS = [
  {
    name: "what",
    title: "What it is",
    paths: /^(name|owner|customer_id|car_id|note|plate_family|sits)$/,
    gives: "A name is enough to begin with.",
    filled: (form) => Boolean(form.draft.name.trim()),
    fields: whatItIs,
  },
  {
    name: "limits",
    title: "Torque and limits",
    paths: /^(order|service|judged_on|stated_for|hub_ratio)/,
    fields: torqueAndLimits,
  },
  { name: "chain", title: "Plates and rings", paths: /^(chain|layout)/, sketch: "pack", fields: plates },
  {
    name: "spring",
    title: "Disc spring",
    paths: /^spring\.(de|di|t|l0|parallel|series)/,
    sketch: "spring",
    fields: withWorkOut("spring", "spring.l0_mm"),
  },
  {
    name: "cavity_mm",
    title: "Depth",
    paths: /^cavity_mm/,
    sketch: "depth",
    fields: withWorkOut("depth", "cavity_mm"),
  },
  {
    name: "friction",
    title: "Rubbing ring",
    paths: /^friction/,
    sketch: "rubbing",
    fields: withWorkOut("friction", "friction.mu"),
  },
  {
    name: "ramps",
    title: "Ramps",
    paths: /^(ramps\.(pin|drive|coast)|other_ramps)/,
    sketch: "ramps",
    fields: ramps,
  },
  { name: "cover", title: "Cover screws", paths: /^cover/, sketch: "cover", fields: figuresOf("cover") },
  {
    name: "more",
    title: "More about the drive",
    paths: /^(limits|warming|spring|ramps)/,
    gives: "Limits for taper and flatness, bevel gears, friction of ramps and springs, a case of another metal.",
    fields: more,
  },
  {
    name: "features",
    title: "Other parts to inspect",
    paths: /^features/,
    gives: "Gears, pins, washers, case, screws: each with its limits, judged at an inspection.",
    filled: (form) => form.draft.features.length > 0,
    fields: otherParts,
  },
  {
    name: "marked_parts",
    title: "Marked parts",
    paths: /^marked_parts/,
    gives: "Springs, rings, gears, cases with a number of their own: their history goes with them to another unit.",
    filled: (form) => form.draft.marked_parts.length > 0,
    fields: markedParts,
  },
];

/** The section of a field; nothing for a unit as a whole. @param {string} path */
export const sectionOf = (path) => SECTIONS.find(({ paths }) => paths.test(path));

/** The dimension that a field of the stack is about. @param {string} path */
function dimensionOf(path) {
  const [, part, which] = /^chain\.([a-z]+)\.(\d)/.exec(path) ?? [];
  return part === "separator" && which !== "0" ? "second" : (part ?? path);
}

/** @param {DefineForm} form @param {Section} section */
function headOf(form, { name, title, gives, filled }) {
  const { bad } = form.answer;
  const wrong = form.touched && bad && sectionOf(bad.field)?.name === name ? bad.reason : "";
  const known = form.soFar.result?.sections.find((section) => section.name === name);
  const done = known ? known.known : Boolean(filled?.(form));
  const sign = wrong ? "caution" : done ? "idle" : form.unfolded.has(name) ? "minus" : "plus";
  return html`<summary>
    <span class="state ${wrong ? "wrong" : done ? "done" : ""}">
      ${icon(sign)}<span class="unseen">${done ? "filled in" : "open"}</span>
    </span>
    <span class="title"
      ><b>${title}</b
      ><small
        >${
          wrong && !form.unfolded.has(name)
            ? html`<span role="alert">${wrong}</span>`
            : (known?.gives ?? gives ?? nothing)
        }</small
      ></span
    >
  </summary>`;
}

/** @param {DefineForm} form @param {Section} section */
function sectionCard(form, section) {
  const { name, sketch, fields } = section;
  const open = form.unfolded.has(name);
  const toggle = (/** @type {{currentTarget: HTMLDetailsElement}} */ { currentTarget }) => {
    if (currentTarget.open === form.unfolded.has(name)) return;
    if (currentTarget.open) form.unfolded.add(name);
    else form.unfolded.delete(name);
    form.draw();
  };
  return html`<details class="card section" data-section=${name} ?open=${open} @toggle=${toggle}>
    ${headOf(form, section)}
    <div class="inside ${sketch ? "drawn" : ""}">
      ${sketch ? dimensionDrawing({ name: sketch, typed: dimensionOf(form.focused) }) : nothing}
      <div class="typed">${fields(form)}</div>
    </div>
  </details>`;
}

/** All of them. @param {DefineForm} form */
export const sections = (form) => SECTIONS.map((section) => sectionCard(form, section));

/**
 * Enter in the last field of a section opens the next one, but for the last, of which most units are not asked.
 * @param {DefineForm} form
 * @param {KeyboardEvent} event
 */
export function intoTheNext(form, event) {
  if (!goesOn(event)) return;
  const field = /** @type {HTMLElement} */ (event.target);
  const card = /** @type {HTMLElement | null} */ (field.closest("details.section"));
  const next = /** @type {HTMLElement | null} */ (card?.nextElementSibling);
  if (!card || !next?.matches(".section:not([data-section=more])") || stopsIn(card).at(-1) !== field) return;
  event.preventDefault();
  form.unfolded.add(next.dataset.section ?? "");
  form.draw();
  next.scrollIntoView({ block: "start" });
  goTo(stopsIn(next)[0]);
}

/** A refusal that is about no field of a section. @param {DefineForm} form */
export function otherFaults({ answer: { bad, failed } }) {
  return html`${bad && !sectionOf(bad.field) ? errorLine(bad.reason) : nothing}${errorLine(failed)}`;
}
