// @ts-check
// The sections of a refit: units, the three checks, the verdict.

import { LABELS } from "../../log/labels.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { saveKey } from "../form/act-key.js";
import { caution, choiceField, clearKey, errorLine, numberField, verdictMark } from "../form/fields.js";
import { placeOf, readingRow } from "../form/readings.js";
import { worked } from "../form/worked.js";
import { PARTS, unfinished, unitFor } from "./refit-draft.js";
import { chooseUnit, chooseWrench, isOpen, putPart, save } from "./refit-form.js";
import { rowVerdict } from "./row-verdict.js";

/** @typedef {import("./refit-form.js").RefitForm} RefitForm */
/** @typedef {import("./refit-draft.js").Name} Name */

/** What stands beside a field, by its path. @type {Record<string, string>} */
const NAMED = LABELS.refit;

/** @type {Record<Name, {title: string, how: string, reading: string, least: string}>} */
const WORDS = {
  backlash: {
    title: NAMED.backlash,
    how: `Crown wheel against pinion, dial gauge square to a tooth at its heel, pinion held. Four teeth, a quarter turn
      apart.`,
    reading: NAMED["backlash.points_mm."],
    least: "three teeth or more",
  },
  bearings: {
    title: NAMED.bearings,
    how: "Carrier alone, pinion not meshing, turned slowly and steadily after a few turns to settle the bearings.",
    reading: NAMED["bearings.readings_nm."],
    least: "two readings or more",
  },
  screws: {
    title: NAMED.screws,
    how: `Tightened crosswise in steps, clean threads, then each screw checked once. Not those set in compound that has
      cured, or tightened by angle: they are not clicked again; mark them with paint and look at the marks.`,
    reading: NAMED["screws.readings_nm."],
    least: "one screw or more",
  },
};

export const carCaution = caution(
  html`<b>Car on stands under load-bearing points, wheels chocked, gearbox in neutral.</b> Fingers out of the teeth
    while it turns. The maker's figures and local rules come first.`,
);

export const inOrder = html`<p>
  <b>In this order:</b> crown-wheel screws, carrier bearings, backlash, tooth contact by marking paste; then check
  bearings and backlash once more, since shims move both.
</p>`;

/** The label of the unit that a part is typed in. @param {RefitForm} form @param {Name} name */
function unitLabel({ read, draft }, name) {
  const chosen = unitFor(draft, name);
  return read.units[PARTS[name].si].find(({ unit }) => unit === chosen)?.label;
}

/** @param {RefitForm} form @param {"mm" | "nm"} si @param {"lengthUnit" | "torqueUnit"} field @param {string} label */
function unitChoice(form, si, field, label) {
  const units = form.read.units[si];
  const choice = choiceField({
    name: field,
    label,
    value: form.draft[field],
    options: units.map((choice) => /** @type {[string, string]} */ ([choice.unit, choice.label])),
    choose: (unit) => chooseUnit(form, si, field, unit),
  });
  return html`<div class="field">${choice} ${form.switching.question(field, units)}</div>`;
}

/** @param {RefitForm} form */
export function units(form) {
  return html`<section class="card full">
    <div class="pair">
      ${unitChoice(form, "mm", "lengthUnit", "Lengths in")} ${unitChoice(form, "nm", "torqueUnit", "Torques in")}
    </div>
  </section>`;
}

/** @param {RefitForm} form @param {Name} name */
const toolError = ({ answer }, name) => answer.error(`${name}.${PARTS[name].tool}.division_${PARTS[name].si}`);

/** The smallest step of a tool that is typed here. @param {RefitForm} form @param {Name} name */
const divisionField = (form, name) =>
  numberField({
    name: `${name}.division`,
    label: `${NAMED[`${name}.${PARTS[name].tool}.division_${PARTS[name].si}`]}, ${unitLabel(form, name)}`,
    hint: name === "backlash" ? "0.01 mm if left empty" : "the smallest step you read",
    value: form.draft[name].division,
    error: toolError(form, name),
    type: (division) => putPart(form, name, { division }),
  });

/** @param {RefitForm} form @param {Name} name */
function wrench(form, name) {
  const { tool, toolId } = form.draft[name];
  const before =
    tool && !toolId ? `as before: ${tool.name || "a wrench that was typed"}` : "another: type its division";
  const choice = choiceField({
    name: `${name}.tool`,
    label: "Read on",
    value: toolId,
    options: [["", before], ...form.wrenches.map(({ id, name }) => /** @type {[string, string]} */ ([id, name]))],
    choose: (chosen) => chooseWrench(form, name, chosen),
  });
  return html`${choice} ${tool ? errorLine(toolError(form, name)) : divisionField(form, name)}`;
}

/** @param {RefitForm} form @param {Name} name */
function series(form, name) {
  const { draft, answer } = form;
  const { field, limits } = PARTS[name];
  const { readings } = draft[name];
  const bad = answer.bad?.field.startsWith(`${name}.${field}.`) ? answer.bad : undefined;
  const at = bad && placeOf(readings, Number(bad.field.split(".")[2]));
  const row = readingRow({
    readings,
    limits,
    label: (number) => `${WORDS[name].title}, ${WORDS[name].reading} ${number}`,
    wrong: (place) => place === at,
    error: at === undefined ? answer.error(`${name}.${field}`) : bad?.reason,
    type: (typed) => putPart(form, name, { readings: typed }),
  });
  return html`<fieldset>
    <legend>Read, ${unitLabel(form, name)}</legend>
    ${row}
  </fieldset>`;
}

/**
 * @param {RefitForm} form
 * @param {Name} name
 * @param {"low" | "high" | "uneven" | "wanted"} which
 * @param {string} [hint]
 */
const limitField = (form, name, which, hint = "") =>
  numberField({
    name: `${name}.${which}`,
    label: `${NAMED[`${name}.${which}_${PARTS[name].si}`]}, ${unitLabel(form, name)}`,
    hint,
    value: form.draft[name][which],
    error: form.answer.error(`${name}.${which}_${PARTS[name].si}`),
    type: (typed) => putPart(form, name, { [which]: typed }),
  });

const MIDDLE = "the middle of the limits if left empty";

/** How much torque a shim adds, where the maker states it. @param {RefitForm} form */
function stiffness(form) {
  const { draft, answer } = form;
  const wrong = ["rise_nm", "for_mm"].some((field) => answer.error(`bearings.${field}`));
  const field = (/** @type {"rise" | "shim"} */ which, /** @type {"rise_nm" | "for_mm"} */ path) =>
    numberField({
      name: `bearings.${which}`,
      label: `${NAMED[`bearings.${path}`]}, ${unitLabel(form, which === "rise" ? "bearings" : "backlash")}`,
      value: draft.bearings[which],
      error: answer.error(`bearings.${path}`),
      type: (typed) => putPart(form, "bearings", { [which]: typed }),
    });
  return html`<details ?open=${isOpen(form, "stiffness", wrong)}>
    <summary>What a shim does, if the maker states it</summary>
    <div class="inside pair">${field("rise", "rise_nm")} ${field("shim", "for_mm")}</div>
  </details>`;
}

/** One of the three checks. @param {RefitForm} form @param {Name} name */
export function part(form, name) {
  const { title, how, least } = WORDS[name];
  const row = form.answer.result?.checks.find((/** @type {{name: string}} */ check) => check.name === name);
  const uneven = () => limitField(form, name, "uneven", "0.05 mm if left empty: common practice, no source");
  const begun = unfinished(form.draft).includes(name);
  return html`<section class="card judged ${row?.verdict ?? ""}" aria-label=${title}>
    <div class="row apart">
      <h2>${title}</h2>
      ${row ? verdictMark(row.verdict) : nothing}
    </div>
    <p class="quiet">${how}</p>
    ${series(form, name)}
    ${begun ? html`<p class="quiet" role="status">Type ${least}, or empty this part.</p>` : nothing} ${rowVerdict(row)}
    <div class="pair">${limitField(form, name, "low")} ${limitField(form, name, "high")}</div>
    ${name === "screws" ? nothing : limitField(form, name, "wanted", MIDDLE)}
    ${name === "backlash" ? html`${uneven()} ${divisionField(form, name)}` : wrench(form, name)}
    ${name === "bearings" ? stiffness(form) : nothing}
  </section>`;
}

/** The engine's refusal, with the part that it is about. @param {import("../../engine/door.js").BadInput} bad */
function refusal({ field, reason }) {
  const [name] = field.split(".");
  return errorLine(name in WORDS && name !== field ? `${WORDS[/** @type {Name} */ (name)].title}: ${reason}` : reason);
}

/** @param {RefitForm} form */
export function verdict({ answer }) {
  const { result, bad, failed } = answer;
  const judged = result
    ? html`${verdictMark(result.verdict, true)}
        <p>${result.reason}</p>`
    : html`<h2>Verdict</h2>
        <p class="quiet">Type what you read.</p>`;
  return html`<section class="card judged ${result?.verdict ?? ""}" aria-live="polite" aria-label="Verdict">
    ${judged} ${bad ? refusal(bad) : nothing} ${errorLine(failed)} ${worked("refit")}
  </section>`;
}

/** @param {RefitForm} form */
export function saving(form) {
  const { result } = form.answer;
  const begun = unfinished(form.draft);
  const titles = begun.map((name) => WORDS[name].title.toLowerCase()).join(", ");
  return html`<section class="card">
    ${form.sign.field("Refitted by")}
    ${begun.length && result ? html`<p class="quiet">To finish first: ${titles}.</p>` : nothing}
    ${saveKey({
      answer: form.answer,
      words: form.corrected ? "Save the correction" : "Save the refit",
      ready: form.answer.ready && !begun.length,
      save: () => save(form),
      first: ".readings input",
    })}
    ${clearKey(Boolean(form.cleared), form.clear, form.putBack)}
  </section>`;
}
