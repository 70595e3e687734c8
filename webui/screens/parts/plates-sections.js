// @ts-check
// The sections of measured plates: the stack to tap, the plate that is typed, the verdict.

import { stackDrawing } from "../../draw/stack.js";
import { PLATE_POINTS } from "../../log/limits.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { caution, choiceField, choiceKeys, clearKey, errorLine, numberField, verdictMark } from "../form/fields.js";
import { placeOf, readingRow } from "../form/readings.js";
import { worked } from "../form/worked.js";
import { countOf, typedPlate } from "./plates-draft.js";
import { choosePlate, chooseUnit, putPlate, save, sentPlates } from "./plates-form.js";
import { rowVerdict } from "./row-verdict.js";

/** @typedef {import("./plates-form.js").PlatesForm} PlatesForm */
/** @typedef {import("./plates-draft.js").Part} Part */

const MARKS = [
  { value: "none", words: "none" },
  { value: "slight", words: "slight" },
  { value: "heavy", words: "heavy: blue, cracked, deep" },
];

export const springCaution = caution(
  html`The spring is under load. <b>Hold it closed in a vice before you touch the cover screws</b>, put safety glasses
    on, keep fingers out of the stack. The maker's figures come first.`,
);

/** The engine's row for a plate. @param {PlatesForm} form @param {string} slot */
const rowOf = (form, slot) => form.answer.result?.plates.find((row) => row.slot === slot);

/** The stack, of which every plate is a key. @param {PlatesForm} form */
export function stack(form) {
  const { draft, read, unit } = form;
  const parts = unit.chain.map(({ slot, part, new_mm = null }) => {
    const row = rowOf(form, slot);
    const count = countOf(draft, slot);
    return {
      slot,
      part,
      thickness: part === "spring" ? null : new_mm,
      verdict: row?.verdict,
      told: row ? read.length(row.lowest_mm) : count ? `${count} typed` : undefined,
    };
  });
  const drawing = stackDrawing({
    parts,
    springHeight: unit.spring.l0_mm,
    crush: null,
    say: read.length,
    choose: (slot) => choosePlate(form, slot),
    chosen: draft.chosen,
  });
  return html`<section class="card">
    <h2>Tap a plate</h2>
    ${drawing}
  </section>`;
}

/** The points of a plate. @param {PlatesForm} form @param {Part} plate */
function thicknessRow(form, plate) {
  const { points } = typedPlate(form.draft, plate.slot);
  const { bad } = form.answer;
  const sent = sentPlates(form).indexOf(plate);
  const mine = sent >= 0 && bad?.field.startsWith(`plates.${sent}.`) ? bad : undefined;
  const at = mine?.field.startsWith(`plates.${sent}.points_mm.`)
    ? placeOf(points, Number(mine.field.split(".")[3]))
    : undefined;
  return readingRow({
    readings: points,
    limits: PLATE_POINTS,
    label: (number) => `${plate.slot} point ${number}`,
    wrong: (place) => place === at,
    error: mine?.reason,
    type: (typed) => putPlate(form, { points: typed }),
  });
}

/** @param {PlatesForm} form */
const unitChoice = (form) =>
  choiceField({
    name: "lengthUnit",
    label: "Unit",
    value: form.draft.lengthUnit,
    options: form.read.units.mm.map(({ unit, label }) => /** @type {[string, string]} */ ([unit, label])),
    choose: (chosen) => chooseUnit(form, chosen),
  });

/** Gap and marks of the chosen plate. @param {PlatesForm} form @param {Part} plate */
function gapAndMarks(form, plate) {
  const { gap, marks } = typedPlate(form.draft, plate.slot);
  const unitLabel = form.read.units.mm.find(({ unit }) => unit === form.draft.lengthUnit)?.label;
  const gapField = numberField({
    name: "gap",
    label: "Thickest feeler that passes under its rim",
    value: gap,
    hint: `in ${unitLabel}. On a surface plate, hollow side up; then turned over: the larger counts`,
    type: (typed) => putPlate(form, { gap: typed }),
  });
  const marksKeys = choiceKeys({
    name: "marks",
    label: "Heat or scoring",
    short: true,
    value: marks,
    options: MARKS,
    choose: (chosen) => putPlate(form, { marks: chosen }),
  });
  return html`${gapField}
    <p class="quiet">Some plates are dished on purpose: then the maker's figure is the limit.</p>
    ${marksKeys}`;
}

/** The next plate that is not measured yet, from this one on and round. @param {PlatesForm} form @param {Part} plate */
function nextPlate(form, plate) {
  const { plates } = form;
  const here = plates.indexOf(plate);
  const done = sentPlates(form);
  return [...plates.slice(here + 1), ...plates.slice(0, here)].find((other) => !done.includes(other));
}

/** @param {PlatesForm} form */
export function chosenPlate(form) {
  const { draft, plates, read, switching } = form;
  const plate = plates.find(({ slot }) => slot === draft.chosen) ?? plates[0];
  const row = rowOf(form, plate.slot);
  const next = nextPlate(form, plate);
  const source = !plate.usual_minimum ? "" : " (common practice, no source: use the maker's figure)";
  return html`<section class="card judged ${row?.verdict ?? ""}" id="points" aria-label=${`Plate ${plate.slot}`}>
    <div class="row apart">
      <h2>${plate.slot}, ${plate.part} plate</h2>
      ${row ? verdictMark(row.verdict) : nothing}
    </div>
    <p class="quiet">
      New ${read.length(plate.new_mm)}, limit ${read.length(plate.minimum_mm)}${source}. Three points or more round the
      plate.
    </p>
    <div class="row apart"><b>Thickness</b> ${unitChoice(form)}</div>
    ${switching.question("lengthUnit", read.units.mm)} ${thicknessRow(form, plate)} ${rowVerdict(row)}
    ${gapAndMarks(form, plate)}
    ${next ? html`<button @click=${() => choosePlate(form, next.slot)}>Next: ${next.slot}</button>` : nothing}
  </section>`;
}

/** The engine's refusal, with the plate that it is about. @param {PlatesForm} form */
function refusal(form) {
  const { bad } = form.answer;
  if (!bad) return nothing;
  const plate = bad.field.startsWith("plates.") ? sentPlates(form)[Number(bad.field.split(".")[1])] : undefined;
  return errorLine(`${plate ? `${plate.slot}: ` : ""}${bad.reason}`);
}

/** @param {PlatesForm} form */
export function verdict(form) {
  const { result, failed } = form.answer;
  const { length: all } = form.plates;
  const left = all - sentPlates(form).length;
  const judged = result
    ? html`${verdictMark(result.verdict, true)}
        <p>${result.reason}</p>`
    : html`<h2>Verdict</h2>
        <p class="quiet">Type three points or more of a plate.</p>`;
  return html`<section class="card judged ${result?.verdict ?? ""}" aria-live="polite" aria-label="Verdict">
    ${judged} ${refusal(form)} ${errorLine(failed)} ${worked("plates")}
    ${
      left
        ? html`<p class="quiet">${left} of ${all} not measured yet; they keep what was measured before.</p>`
        : nothing
    }
  </section>`;
}

/** @param {PlatesForm} form */
function micrometerChoice({ draft, micrometers, turnTo }) {
  if (!micrometers.length)
    return html`<p class="quiet">
      No micrometer is in the kit: one with divisions of 0.01 mm and ± 0.004 mm is assumed (ISO 3611).
      <a href="#/kit">Add yours</a>
    </p>`;
  return choiceField({
    name: "micrometer",
    label: "Micrometer",
    value: draft.toolId,
    options: micrometers.map(({ id, name }) => /** @type {[string, string]} */ ([id, name])),
    choose: (toolId) => turnTo({ toolId }),
  });
}

/** @param {PlatesForm} form */
export function saving(form) {
  return html`<section class="card">
    ${micrometerChoice(form)} ${form.sign.field("Measured by")}
    <button class="main big" ?disabled=${!form.answer.result} @click=${() => save(form)}>Save the plates</button>
    ${clearKey(Boolean(form.cleared), form.clear, form.putBack)}
  </section>`;
}
