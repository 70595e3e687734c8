// @ts-check
// The sections of a torque check: how it is held, with what, what was read, and under what circumstances.

import { heldDrawing } from "../../draw/held.js";
import { READINGS } from "../../log/limits.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { caution, choiceField, choiceKeys, clearKey, errorLine, numberField, textField } from "../form/fields.js";
import { placeOf, readingRow } from "../form/readings.js";
import { worked } from "../form/worked.js";
import { torqueTools, turnsBothWheels, unitField } from "./check-draft.js";
import { chooseTool, chooseUnit, save } from "./check-form.js";
import { heldCautions, WEIGHT } from "./held-cautions.js";

/** @typedef {import("./check-form.js").CheckForm} CheckForm */
/** @typedef {Awaited<ReturnType<typeof import("../form/tool.js").toolForm>>} ToolForm */
/** @typedef {{group: "adapter" | "bar" | "drag", field: string, label: string, hint?: string}} FigureField */

const HELD = [
  { value: "bench_output_held", words: "Bench: one output held, case free" },
  { value: "bench_case_held", words: "Bench: case in the vice, other output free" },
  { value: "car_one_wheel_down", words: "Car: one wheel down, neutral" },
  { value: "car_both_wheels_up", words: "Car: both wheels up, in gear" },
].map((way) => ({ ...way, drawing: heldDrawing(way.value) }));

const DIRECTIONS = /** @type {const} */ (["forward", "reverse"]);

/** @type {Record<"adapter" | "bar" | "drag", FigureField[]>} */
const FIELDS = {
  adapter: [
    { group: "adapter", field: "wrench_mm", label: "Grip to drive, mm" },
    { group: "adapter", field: "adapter_mm", label: "Drive to shaft, mm" },
    { group: "adapter", field: "angle_deg", label: "Angle, degrees", hint: "0 straight on, 90 square" },
    { group: "adapter", field: "doubt_mm", label: "Lengths may be off by, mm" },
    { group: "adapter", field: "doubt_deg", label: "Angle may be off by, degrees", hint: "3 if left empty" },
  ],
  bar: [
    { group: "bar", field: "length_mm", label: "Shaft to pull, mm", hint: "square to the bar" },
    { group: "bar", field: "moment_nm", label: "The bar's own torque", hint: "its weight, if it helps the pull" },
    { group: "bar", field: "doubt_mm", label: "Length may be off by, mm" },
  ],
  drag: [
    { group: "drag", field: "case_nm", label: "On the case", hint: "crown wheel, pinion, shaft" },
    { group: "drag", field: "wheel_nm", label: "On the turned wheel", hint: "bearing, brake, seal" },
    {
      group: "drag",
      field: "other_wheel_nm",
      label: "On the other wheel",
      hint: "as the turned one if left empty",
    },
    { group: "drag", field: "doubt_nm", label: "May be off by", hint: "a quarter if left empty" },
  ],
};

/** The unit of torques beside the readings. @param {CheckForm} form */
const torqueLabel = ({ draft, read }) => read.units.nm.find(({ unit }) => unit === draft.partUnit)?.label ?? "N·m";

/** @param {CheckForm} form @param {FigureField} figure */
function figureField(form, { group, field, label, hint }) {
  const typed = /** @type {Record<string, string>} */ (form.draft[group]);
  return numberField({
    name: `${group}.${field}`,
    label: field.endsWith("_nm") ? `${label}, ${torqueLabel(form)}` : label,
    // A draft of an older version may know less.
    value: typed[field] ?? "",
    hint,
    error: form.answer.error(`${group}.${field}`),
    type: (value) => form.put({ [group]: { ...typed, [field]: value } }),
  });
}

/** @param {CheckForm} form @param {keyof typeof FIELDS} group */
const figureFields = (form, group) =>
  FIELDS[group]
    .filter(({ field }) => field !== "other_wheel_nm" || turnsBothWheels(form.draft.held))
    .map((figure) => figureField(form, figure));

/** Whether anything was typed of a group. @param {Record<string, string>} group */
const begun = (group) => Object.values(group).some(Boolean);

/** @param {CheckForm} form */
export function howHeld(form) {
  const { held } = form.draft;
  const keys = choiceKeys({
    name: "held",
    label: "How is it held?",
    value: held,
    options: HELD,
    choose: (chosen) => form.put({ held: chosen }),
    error: form.answer.error("held"),
  });
  return html`<section class="card">
    ${keys} ${held ? caution(heldCautions(held, form.unit.layout)) : nothing}
    ${worked("held", "Why it matters how it is held")}
  </section>`;
}

/** @param {CheckForm} form */
function toolChoice(form) {
  const { draft, answer } = form;
  const tools = torqueTools(form.tools);
  if (!tools.length) return html`<p>No wrench is in the kit yet.</p>`;
  return choiceField({
    name: "tool",
    label: "With what?",
    value: draft.toolId,
    options: [
      ["", draft.tool && !draft.toolId ? `as before: ${draft.tool.name}` : "choose the tool"],
      ...tools.map(({ id, name }) => /** @type {[string, string]} */ ([id, name])),
    ],
    choose: (chosen) => chooseTool(form, chosen),
    error: answer.bad && /^(wrench|scale)(\.|$)/.test(answer.bad.field) ? answer.bad.reason : undefined,
  });
}

/** What lies between a wrench and the shaft. @param {CheckForm} form */
const adapter = (form) =>
  html`<details ?open=${begun(form.draft.adapter)}>
    <summary>Adapter on the wrench</summary>
    <div class="inside fields">${figureFields(form, "adapter")}</div>
    ${worked("adapter")}
  </details>`;

/** The bar that a scale pulls on. @param {CheckForm} form */
const bar = (form) =>
  html`${worked("bar")}
    <div class="fields">${figureFields(form, "bar")}</div>
    ${errorLine(form.answer.error("bar"))}`;

/** @param {CheckForm} form @param {ToolForm} newTool */
export function tool(form, newTool) {
  const { read, switching } = form;
  const none = !torqueTools(form.tools).length;
  return html`<section class="card">
    ${toolChoice(form)} ${switching.question("tool", [...read.units.nm, ...read.units.n])}
    <details ?open=${newTool.begun() || none}>
      <summary>${none ? "Your wrench or scale" : "Another wrench or scale"}</summary>
      <div class="inside">${newTool.fields()}</div>
    </details>
    ${form.draft.toolKind === "wrench" ? adapter(form) : bar(form)}
    ${form.draft.tool?.kind === "weight" ? caution(WEIGHT) : nothing}
  </section>`;
}

/** @param {CheckForm} form @param {"steady" | "first"} which @param {"forward" | "reverse"} direction */
function series(form, which, direction) {
  const { draft, answer } = form;
  const field = `${which}_${draft.toolKind === "wrench" ? "nm" : "n"}.${direction}`;
  const readings = draft[which][direction];
  const bad = answer.bad?.field.startsWith(`${field}.`) ? answer.bad : undefined;
  const marked = bad ? [bad.field] : (answer.result?.marked ?? []).filter((path) => path.startsWith(`${field}.`));
  const at = marked.map((path) => placeOf(readings, Number(path.split(".")[2])));
  const row = readingRow({
    readings,
    limits: READINGS,
    label: (number) => `${which === "first" ? "First move, " : ""}${direction} reading ${number}`,
    wrong: (place) => at.includes(place),
    error: answer.error(field) ?? bad?.reason,
    type: (typed) => form.put({ [which]: { ...form.draft[which], [direction]: typed } }),
  });
  return html`<fieldset>
    <legend>${which === "first" ? "Peak at the first move, " : ""}${direction}</legend>
    ${row}
  </fieldset>`;
}

/** @param {CheckForm} form */
export function readings(form) {
  const { draft, unit, read, switching } = form;
  const units = read.units[draft.toolKind === "wrench" ? "nm" : "n"];
  const unitChoice = choiceField({
    name: "unit",
    label: "Unit",
    value: draft[unitField(draft.toolKind)],
    options: units.map((choice) => /** @type {[string, string]} */ ([choice.unit, choice.label])),
    choose: (chosen) => chooseUnit(form, chosen),
  });
  return html`<section class="card">
    <div class="row apart">
      <h2>Readings, ${unit.judged_on === "steady" ? "steady turning" : "both kinds"}</h2>
      ${unitChoice}
    </div>
    ${switching.question("unit", units)} ${DIRECTIONS.map((direction) => series(form, "steady", direction))}
    <details ?open=${unit.judged_on === "first_move" || draft.first.forward.some(Boolean)}>
      <summary>Peak at the first move</summary>
      <div class="inside">${DIRECTIONS.map((direction) => series(form, "first", direction))}</div>
    </details>
  </section>`;
}

/** @param {CheckForm} form */
function warmthOutingsOil(form) {
  const { draft, answer } = form;
  const temperature = choiceKeys({
    name: "temperature",
    label: "How warm is the unit?",
    short: true,
    value: draft.temperature,
    choose: (chosen) => form.put({ temperature: chosen }),
    options: ["cold", "warm", "hot"].map((value) => ({ value, words: value })),
  });
  const outings = numberField({
    name: "circumstances.outings",
    label: "Outings since rebuild",
    value: draft.outings,
    whole: true,
    error: answer.error("circumstances.outings"),
    type: (typed) => form.put({ outings: typed }),
  });
  const oil = textField({
    name: "circumstances.oil",
    label: "Oil",
    value: draft.oil,
    type: (typed) => form.put({ oil: typed }),
  });
  return html`${temperature}
    <div class="fields">${outings} ${oil}</div>`;
}

/** @param {CheckForm} form */
export function circumstances(form) {
  const { draft, answer } = form;
  const against = choiceKeys({
    name: "against",
    label: "Judge it against",
    short: true,
    value: draft.against,
    choose: (chosen) => form.put({ against: chosen === "order" ? "order" : "service" }),
    options: [
      { value: "service", words: "limits for running" },
      { value: "order", words: "the torque ordered" },
    ],
  });
  return html`<section class="card">
    ${warmthOutingsOil(form)} ${against}
    ${errorLine(answer.error("limits.low_nm") ?? answer.error("limits.high_nm"))}
    <details ?open=${begun(draft.drag)}>
      <summary>Drag of other parts</summary>
      <div class="inside fields">${figureFields(form, "drag")} ${errorLine(answer.error("drag"))}</div>
    </details>
  </section>`;
}

/** @param {CheckForm} form */
export function saving(form) {
  return html`<section class="card">
    ${form.sign.field("Checked by")}
    <button class="main big" ?disabled=${!form.answer.result} @click=${() => save(form)}>Save the check</button>
    ${errorLine(form.answer.failed)} ${clearKey(Boolean(form.cleared), form.clear, form.putBack)}
  </section>`;
}
