// @ts-check
// Springs and ramp rings, measured part by part, with a verdict for each as it is typed.

import { LABELS } from "../../log/labels.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { saveKey } from "../form/act-key.js";
import { backTo, caution, choiceField, choiceKeys, errorLine, verdictMark } from "../form/fields.js";
import { lackCard } from "../form/lack.js";
import { placeOf, readingRow } from "../form/readings.js";
import { worked } from "../form/worked.js";
import { rowVerdict } from "./row-verdict.js";
import { MEASURED } from "./springs-and-rings-draft.js";
import { chooseUnit, partsForm, putPart, save, sentParts } from "./springs-and-rings-form.js";

/** @typedef {import("./springs-and-rings-form.js").PartsForm} PartsForm */

const MARKS = [
  { value: "none", words: "none" },
  { value: "slight", words: "slight" },
  { value: "heavy", words: "heavy" },
];

const WORDS = {
  springs: {
    title: "Measure the spring",
    label: LABELS.spring_check["springs..points_mm"],
    point: LABELS.spring_check["springs..points_mm."],
    marks: LABELS.spring_check["springs..marks"],
    how: `Each disc free on a surface plate, three clock points or more. With several discs at a place, measure the
      lowest of them.`,
    help: "spring",
    caution: html`<div class="full">
      ${caution(
        html`<b>Only a spring that was released in a vice is safe to touch.</b> The maker's limits come first.`,
      )}
    </div>`,
  },
  rings: {
    title: "Measure the ramp rings",
    label: LABELS.ring_check["rings..steps_mm"],
    point: LABELS.ring_check["rings..steps_mm."],
    marks: LABELS.ring_check["rings..marks"],
    how: `The depth of the step that the pin has worn into each ramp. 0.05 mm is the usual limit: common practice, no
      source.`,
    help: "rings",
    caution: nothing,
  },
};

/** @param {PartsForm} form */
function heading({ id, what, corrected, name }) {
  const { title, how, help } = WORDS[what];
  return html`<div class="full">
    ${backTo(`#/unit/${id}`, name)}
    <h1>${corrected ? `Correct: ${title.toLowerCase()}` : title}</h1>
    <p class="quiet">${how}</p>
    ${worked(help)}
  </div>`;
}

/** @param {PartsForm} form */
function units(form) {
  const { mm } = form.read.units;
  const choice = choiceField({
    name: "unit",
    label: "Lengths in",
    value: form.draft.unit,
    options: mm.map(({ unit, label }) => /** @type {[string, string]} */ ([unit, label])),
    choose: (chosen) => chooseUnit(form, chosen),
  });
  return html`<section class="card full">${choice} ${form.switching.question("unit", mm)}</section>`;
}

/** The points of a part. @param {PartsForm} form @param {string} slot */
function series(form, slot) {
  const { draft, read, what, answer } = form;
  const path = `${what}.${sentParts(form).indexOf(slot)}.`;
  const bad = answer.bad?.field.startsWith(path) ? answer.bad : undefined;
  const { points } = draft.typed[slot];
  // A fault of the whole part is one of all its points.
  const at = bad && placeOf(points, Number(bad.field.split(".")[3]));
  const row = readingRow({
    readings: points,
    limits: MEASURED[what].limits,
    label: (number) => `${slot} ${WORDS[what].point} ${number}`,
    wrong: (place) => Boolean(bad) && (at === undefined || place === at),
    error: bad?.reason,
    type: (points) => putPart(form, slot, { points }),
  });
  return html`<fieldset>
    <legend>${WORDS[what].label}, ${read.units.mm.find(({ unit }) => unit === draft.unit)?.label}</legend>
    ${row}
  </fieldset>`;
}

/** @typedef {import("../../engine/calculations.js").MeasuredSpring} MeasuredSpring */
/** @typedef {import("../../engine/calculations.js").WornPart} WornPart */

/** @param {PartsForm} form @param {string} slot */
function part(form, slot) {
  const { result } = form.answer;
  /** @type {(MeasuredSpring | WornPart)[]} */
  const rows = result ? ("springs" in result ? result.springs : result.rings) : [];
  const row = rows.find((judged) => judged.name === slot);
  const marks = choiceKeys({
    name: `marks ${slot}`,
    label: WORDS[form.what].marks,
    short: true,
    value: form.draft.typed[slot].marks,
    options: MARKS,
    choose: (chosen) => putPart(form, slot, { marks: chosen }),
  });
  return html`<section class="card judged ${row?.verdict ?? ""}" aria-label=${slot}>
    <div class="row apart">
      <h2>${slot}</h2>
      ${row ? verdictMark(row.verdict) : nothing}
    </div>
    ${series(form, slot)} ${marks} ${rowVerdict(row)}
  </section>`;
}

/** @param {PartsForm} form */
function verdict({ what, answer }) {
  const { result, bad, failed } = answer;
  const judged = result
    ? html`${verdictMark(result.verdict, true)}
        <p>${result.reason}</p>`
    : html`<p class="quiet">Type what you measured.</p>`;
  return html`<section class="card judged ${result?.verdict ?? ""}" aria-live="polite" aria-label="Verdict">
    ${judged} ${bad && !bad.field.startsWith(`${what}.`) ? errorLine(bad.reason) : nothing} ${errorLine(failed)}
  </section>`;
}

/** @param {PartsForm} form */
const saving = (form) =>
  html`<section class="card">
    ${form.sign.field("Measured by")}
    ${saveKey({ answer: form.answer, words: "Save", save: () => save(form), first: ".readings input" })}
  </section>`;

/** @param {PartsForm} form */
const measuring = (form) =>
  html`${units(form)} ${form.slots.map((slot) => part(form, slot))} ${verdict(form)} ${saving(form)}`;

/** @type {import("../../app.js").Show} */
export async function show(place, [id, what, corrected]) {
  const form = await partsForm(id, what === "rings" ? "rings" : "springs", corrected, () => draw());
  if (!form) {
    location.hash = `#/unit/${id}`;
    return;
  }
  const draw = () =>
    render(
      html`${heading(form)}
        ${WORDS[form.what].caution} ${form.lack ? lackCard(id, form.lack) : measuring(form)}`,
      place,
    );
  place.classList.add("wide");
  draw();
  await form.answer.judge();
}
