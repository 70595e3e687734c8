// @ts-check
// The sections of measured plates: the stack to tap, the plate that is typed, the verdict.

import { icon } from "../../draw/icons.js";
import { plateNow } from "../../draw/plate-now.js";
import { stackDrawing } from "../../draw/stack.js";
import { LABELS } from "../../log/labels.js";
import { PLATE_POINTS } from "../../log/limits.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import {
  caution,
  choiceField,
  choiceKeys,
  clearKey,
  errorLine,
  numberField,
  sayIn,
  VERDICTS,
  verdictMark,
  whenDay,
} from "../form/fields.js";
import { placeOf, readingRow } from "../form/readings.js";
import { worked } from "../form/worked.js";
import { bench } from "../frame/places.js";
import { countOf, OFFERED, typedPlate } from "./plates-draft.js";
import {
  choosePlate,
  chooseUnit,
  chosenOf,
  goOn,
  letGo,
  measureAgain,
  measureMore,
  moveTo,
  nextPlate,
  ownerOf,
  putPlate,
  putPoints,
  save,
  sayIsOwn,
  sentPlates,
  turnSame,
} from "./plates-form.js";
import { rowVerdict } from "./row-verdict.js";
import { changeLine } from "./since-last.js";

/** @typedef {import("./plates-form.js").PlatesForm} PlatesForm */
/** @typedef {import("./plates-draft.js").Part} Part */

export const MARKS = [
  { value: "none", words: "none" },
  { value: "slight", words: "slight" },
  { value: "heavy", words: "heavy: blue, cracked, deep" },
];

export const springCaution = caution(
  html`With the cover on, the spring is under load. <b>Hold it closed in a vice before you touch the cover screws</b>,
    put safety glasses on, keep fingers out of the stack. The maker's figures come first.`,
);

/** The engine's row for a plate. @param {PlatesForm} form @param {string} slot */
export const rowOf = (form, slot) => form.answer.result?.plates.find((row) => row.slot === slot);

/** A length in the unit that is typed. @param {PlatesForm} form @returns {(mm: number) => string} */
const lengthOf =
  ({ draft, read }) =>
  (mm) =>
    sayIn(read.units, "mm", draft.lengthUnit, mm);

/** The stack, of which every plate is a key. @param {PlatesForm} form */
export function stack(form) {
  const { draft, unit } = form;
  const say = lengthOf(form);
  const parts = (unit.chain ?? []).map(({ slot, part, new_mm = null }) => {
    const row = rowOf(form, slot);
    const count = countOf(draft, slot);
    return {
      slot,
      part,
      thickness: part === "spring" ? null : new_mm,
      verdict: row?.verdict,
      told: row ? say(row.lowest_mm) : count ? `${count} typed` : undefined,
    };
  });
  const drawing = stackDrawing({
    parts,
    springHeight: unit.spring?.l0_mm ?? null,
    crush: null,
    say,
    choose: (slot) => choosePlate(form, slot),
    chosen: draft.chosen,
    finger: !bench.matches,
  });
  return html`<section class="stage beside">
    <h2>${bench.matches ? "The stack" : "Tap a plate"}</h2>
    ${drawing}
  </section>`;
}

/** What the engine refuses of a plate. @param {PlatesForm} form @param {Part} plate */
function faultOf(form, plate) {
  const { bad } = form.answer;
  const sent = sentPlates(form).indexOf(plate);
  return sent >= 0 && bad?.field.startsWith(`plates.${sent}.`) ? bad : undefined;
}

/** What is wrong with the feeler of a plate. @param {PlatesForm} form @param {Part} plate */
export function gapError(form, plate) {
  const bad = faultOf(form, plate);
  return bad?.field.endsWith(".gap_mm") ? bad.reason : undefined;
}

/** The points of a plate, or the one figure that stands for all. @param {PlatesForm} form @param {Part} plate */
export function thicknessRow(form, plate) {
  const { points, same } = typedPlate(form.draft, plate.slot);
  const mine = gapError(form, plate) ? undefined : faultOf(form, plate);
  const at = mine?.field.includes(".points_mm.") ? placeOf(points, Number(mine.field.split(".")[3])) : undefined;
  const doubted = form.questions.find(({ slot }) => slot === plate.slot)?.place;
  return readingRow({
    readings: same ? points.slice(0, 1) : points,
    limits: PLATE_POINTS,
    turn: same ? 1 : Math.max(OFFERED, points.length),
    label: (number) =>
      same ? `${plate.slot} all round` : `${plate.slot} ${LABELS.plates["plates..points_mm."]} ${number}`,
    wrong: (place) => place === at || place === doubted,
    error: mine?.reason,
    type: (typed) => putPoints(form, plate.slot, same ? [...typed, ...points.slice(1)] : typed),
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
    label: LABELS.plates["plates..gap_mm"],
    value: gap,
    error: gapError(form, plate),
    hint: `in ${unitLabel}. On a surface plate, hollow side up; then turned over: the larger counts`,
    type: (typed) => putPlate(form, { gap: typed }),
  });
  const marksKeys = choiceKeys({
    name: "marks",
    label: LABELS.plates["plates..marks"],
    short: true,
    value: marks,
    options: MARKS,
    choose: (chosen) => putPlate(form, { marks: chosen }),
  });
  return html`${gapField}
    <p class="quiet">Some plates are dished on purpose: then the maker's figure is the limit.</p>
    ${marksKeys}`;
}

/** What is known of a plate before it is measured. @param {PlatesForm} form @param {Part} plate */
export function known(form, plate) {
  const say = lengthOf(form);
  const { known: how, lowest_mm, at, new_mm, minimum_mm, usual_minimum } = plate;
  const last = lowest_mm === null ? "not measured before" : `last ${say(lowest_mm)}${at ? `, ${whenDay(at)}` : ""}`;
  return html`<p class="known">
    <b>Limit ${say(minimum_mm)}</b>${usual_minimum ? html` <small>(rule of thumb)</small>` : nothing} ·
    ${how === "fitted" ? `fitted at ${say(new_mm)}` : `new ${say(new_mm)}`} · ${last}
  </p>`;
}

/** A plate where it lies in its stack, and its points. @param {PlatesForm} form @param {Part} plate */
export function inItsStack(form, plate) {
  const { draft, unit } = form;
  const { points, same = false } = typedPlate(draft, plate.slot);
  const typed = points.map((point) => Boolean(point.trim()));
  const parts = (unit.chain ?? []).map(({ slot, part }) => ({ slot, part, verdict: rowOf(form, slot)?.verdict }));
  const words = `${plate.slot} in its stack, and its points: ${countOf(draft, plate.slot)} typed.`;
  return plateNow({ parts, chosen: plate.slot, points: typed, same, words });
}

/**
 * The plate in hand, its points, and its drawing: in sight whatever is scrolled or covered by a keyboard.
 * @param {PlatesForm} form
 */
export function now(form) {
  const plate = chosenOf(form);
  const row = rowOf(form, plate.slot);
  return html`<section
    class="plate-head in-hand judged ${row?.verdict ?? ""}"
    id="points"
    aria-label=${`Plate ${plate.slot}`}
    @keydown=${(/** @type {KeyboardEvent} */ event) => goOn(form, event)}
    @focusout=${() => letGo(form)}
  >
    ${inItsStack(form, plate)}
    <div>
      <h2>${plate.slot}, ${plate.part} plate</h2>
      ${known(form, plate)}
    </div>
    ${thicknessRow(form, plate)}
  </section>`;
}

/** @param {PlatesForm} form @param {string} slot */
const nextKey = (form, slot) =>
  html`<button @click=${() => choosePlate(form, slot)}>Next: ${slot}${icon("next")}</button>`;

export const usualLimit = html`<p class="quiet">Its limit is common practice, no source: use the maker's figure.</p>`;

/**
 * How it is measured, and a photo of it.
 * @param {PlatesForm} form @param {unknown} photo
 */
export function how(form, photo) {
  const plate = chosenOf(form);
  const next = nextPlate(form);
  return html`<section class="stage how">
    ${platesKeys(form, html`${next ? nextKey(form, next.slot) : nothing} ${photo}`)}
    ${unitQuestion(form)} ${rowVerdict(rowOf(form, plate.slot))} ${changeLine(form, plate.slot)}
    ${gapAndMarks(form, plate)}
    ${plate.usual_minimum ? usualLimit : nothing}
    ${form.sign.known ? nothing : form.sign.field("Measured by")}
  </section>`;
}

/** What can be done with the plate in hand. @param {PlatesForm} form @param {unknown} others keys */
export function platesKeys(form, others) {
  const { same = false, points } = typedPlate(form.draft, chosenOf(form).slot);
  const full = points.length >= PLATE_POINTS.most;
  return html`<div class="plate-keys">
    <button aria-pressed=${same ? "true" : "false"} @click=${() => turnSame(form)}>
      ${icon(same ? "idle" : "none")}Same all round
    </button>
    ${others}
    ${same || full ? nothing : html`<button class="plain" @click=${() => measureMore(form)}>One more point</button>`}
  </div>`;
}

/** Asked before figures are taken for another unit. @param {PlatesForm} form */
export const unitQuestion = ({ switching, read }) => switching.question("lengthUnit", read.units.mm);

/** The engine's refusal, with the plate that it is about. @param {PlatesForm} form */
function refusal(form) {
  const { bad } = form.answer;
  if (!bad) return nothing;
  const plate = bad.field.startsWith("plates.") ? sentPlates(form)[Number(bad.field.split(".")[1])] : undefined;
  return errorLine(`${plate ? `${plate.slot}: ` : ""}${bad.reason}`);
}

/** A figure that may be another plate's, with a key for each answer. @param {PlatesForm} form */
function question(form) {
  const [doubted] = form.questions;
  if (!doubted) return nothing;
  const owner = ownerOf(form, doubted);
  return html`<div class="asked" role="group" aria-label=${`Figure of ${doubted.slot}`}>
    <p role="alert">${doubted.text}</p>
    ${
      owner
        ? html`<button class="small" @click=${() => moveTo(form, doubted.slot, owner)}>It was ${owner}</button>`
        : nothing
    }
    <button class="small" @click=${() => sayIsOwn(form, doubted)}>It was ${doubted.slot}</button>
    <button class="small" @click=${() => measureAgain(form, doubted)}>Type again</button>
  </div>`;
}

/** The verdict of the plate in hand, or of the one before it, and how many are measured. @param {PlatesForm} form */
function atOneLook(form) {
  const { draft, before, plates, answer } = form;
  const done = sentPlates(form).length;
  const row = rowOf(form, chosenOf(form).slot) ?? rowOf(form, before);
  const counted = html`<p class="counted">${done} of ${plates.length} measured</p>`;
  if (!row)
    return html`<div class="still">
      ${answer.bad ? refusal(form) : html`<p class="quiet">${firstStep(draft.same)}</p>`} ${counted}
    </div>`;
  return html`<div class="still">
    <p class="word">
      <b>${row.slot}</b> <span class="verdict">${VERDICTS[row.verdict]}</span>${icon(row.verdict)}
    </p>
    ${counted}
  </div>`;
}

/** @param {boolean | undefined} same */
const firstStep = (same) => (same ? "Type one figure of a plate." : "Type three points or more of a plate.");

/** The verdict on all plates, and why. @param {PlatesForm} form */
function explained(form) {
  const { result } = form.answer;
  const { length: all } = form.plates;
  const left = all - sentPlates(form).length;
  const stay = html`<p class="quiet">${left} of ${all} not measured yet; they keep what was measured before.</p>`;
  return html`<div class="card judged ${result?.verdict ?? ""}">
    ${
      result
        ? html`${verdictMark(result.verdict, true)}
            <p>${result.reason}</p>`
        : nothing
    }
    ${refusal(form)} ${left ? stay : nothing} ${worked("plates")}
  </div>`;
}

/** The verdict in a bar that stays in sight, with the key that saves, and below it why. @param {PlatesForm} form */
export function verdict(form) {
  const { ready, failed } = form.answer;
  const row = rowOf(form, chosenOf(form).slot) ?? rowOf(form, form.before);
  return html`<section class="judging" aria-live="polite" aria-label="Verdict">
    <div class="verdict-bar plates ${row?.verdict ?? ""}">
      ${question(form)} ${atOneLook(form)}
      <button class="main big" aria-disabled=${ready ? "false" : "true"} @click=${() => save(form)}>
        Save the plates
      </button>
      ${errorLine(failed)}
    </div>
    ${explained(form)}
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

/** What starts filled and is seldom changed. @param {PlatesForm} form */
export function rest(form) {
  return html`<section class="stage rest">
    <div class="pair uneven">${micrometerChoice(form)} ${unitChoice(form)}</div>
    ${form.sign.known ? form.sign.field("Measured by") : nothing}
    ${clearKey(Boolean(form.cleared), form.clear, form.putBack)}
  </section>`;
}
