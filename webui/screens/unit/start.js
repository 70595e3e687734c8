// @ts-check
// A unit from next to nothing: a name and a torque that it may not fall below, and on to its first check.

import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { saveKey } from "../form/act-key.js";
import { backTo, choiceKeys, errorLine } from "../form/fields.js";
import { figureField, statedForKeys, wordsField } from "./define-fields.js";
import { defineForm, save, setValue } from "./define-form.js";

/** @typedef {import("./define-form.js").DefineForm} DefineForm */
/** @typedef {import("./define-fields.js").FigureField} FigureField */

/** @type {FigureField} */
const LOWEST = { path: "service.low_nm", si: "nm" };

/** @type {FigureField[]} */
const MORE = [
  { path: "service.high_nm", si: "nm" },
  { path: "order.torque_nm", si: "nm" },
  { path: "order.tolerance_nm", si: "nm" },
];

/** Where the spring sits tells what a wrench feels while the case is held. @param {DefineForm} form */
const layoutKeys = (form) =>
  choiceKeys({
    name: "layout",
    label: "Where does its spring sit?",
    short: true,
    value: form.draft.layout,
    error: form.answer.error("layout"),
    choose: (chosen) => setValue(form, "layout", chosen),
    options: [
      { value: "", words: "not known" },
      { value: "in_line", words: "in line" },
      { value: "two_springs", words: "one at each end" },
      { value: "between_rings", words: "between the rings" },
    ],
  });

const limitNeeded = html`<p class="quiet">
  Type the lowest torque, or the torque ordered: a check is judged by it.
</p>`;

/** Why there is nothing to check yet. @param {DefineForm} form */
function hindrance({ answer: { bad, failed }, soFar: { result } }) {
  const atField = bad && (bad.field === "name" || /^(service|order)\./.test(bad.field));
  const lack = result?.lacks.find(({ name }) => name === "check");
  return html`${bad && !atField ? errorLine(bad.reason) : nothing} ${errorLine(failed)}
  ${lack ? limitNeeded : nothing}`;
}

/** Whether a check could be judged by what is typed. @param {DefineForm} form */
const canCheck = ({ answer, soFar: { result } }) =>
  Boolean(answer.ready && result && !result.lacks.some(({ name }) => name === "check"));

/** What was typed last is known first; where that is too little, nothing is saved. @param {DefineForm} form */
async function goOn(form) {
  await form.soFar.ask();
  if (canCheck(form)) return save(form, (unit) => `#/unit/${unit}/check`);
  form.touched = true;
  await form.answer.judge();
  return false;
}

/** @param {DefineForm} form */
function fields(form) {
  const more = MORE.some(({ path }) => form.answer.error(path));
  return html`<section class="card">
    ${wordsField(form, "name", "Name of the unit")} ${figureField(form, LOWEST)} ${statedForKeys(form)}
    <details ?open=${more}>
      <summary>Ordered, highest, where its spring sits</summary>
      <div class="inside">
        <div class="fields">${MORE.map((field) => figureField(form, field))}</div>
        ${layoutKeys(form)}
      </div>
    </details>
    ${form.sign.fieldIfUnknown("Your name") ?? nothing} ${hindrance(form)}
    ${saveKey({
      answer: form.answer,
      words: "Go on to the check",
      ready: canCheck(form),
      save: () => goOn(form),
    })}
    <p class="quiet"><a class="back" href="#/unit/new">More is known: add the whole unit</a></p>
  </section>`;
}

/** @type {import("../../app.js").Show} */
export async function show(place) {
  const form = await defineForm(place, undefined, undefined, () => draw());
  if (!form) return;
  const draw = () =>
    render(
      html`${backTo("#/", "Units")}
        <h1>Check a torque now</h1>
        <p class="quiet">
          A name and a torque are enough. What else is known of the unit can be filled in whenever it is: each figure
          makes one thing more possible.
        </p>
        ${fields(form)}`,
      place,
    );
  draw();
  await Promise.all([form.answer.judge(), form.soFar.ask()]);
}
