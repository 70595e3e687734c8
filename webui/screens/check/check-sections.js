// @ts-check
// The sections of a torque check: how it is held, with what, what was read, and under what circumstances.

import { heldDrawing } from "../../draw/held.js";
import { LABELS } from "../../log/labels.js";
import { READINGS } from "../../log/limits.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import {
  caution,
  choiceField,
  choiceKeys,
  clearKey,
  errorLine,
  numberField,
  sayIn,
  textField,
} from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { toField } from "../form/lack.js";
import { placeOf, readingRow } from "../form/readings.js";
import { whenOpen } from "../form/when-open.js";
import { worked } from "../form/worked.js";
import { OFFERED, torqueTools, turnsBothWheels, unitField } from "./check-draft.js";
import { chooseTool, chooseUnit, measureAfresh, measureMore, sayUnit } from "./check-form.js";
import { heldCautions, WEIGHT } from "./held-cautions.js";

/** @typedef {import("./check-form.js").CheckForm} CheckForm */
/** @typedef {Awaited<ReturnType<typeof import("../form/tool.js").toolForm>>} ToolForm */
/** @typedef {"adapter" | "bar" | "drag"} Group */
/** @typedef {{group: Group, field: string, hint?: string}} FigureField */

const HELD = [
  { value: "bench_output_held", short: "output held", full: "Bench: one output held, case free" },
  { value: "bench_case_held", short: "case held", full: "Bench: case in the vice, other output free" },
  { value: "car_one_wheel_down", short: "one wheel down", full: "Car: one wheel down, neutral" },
  { value: "car_both_wheels_up", short: "both wheels up", full: "Car: both wheels up, in gear" },
].map(({ value, short, full }) => ({
  value,
  full,
  words: html`<span class="unseen">${full}</span><span aria-hidden="true">${short}</span>`,
  drawing: heldDrawing(value),
}));

const AGAINST = { service: "limits for running", order: "the torque ordered" };

const DIRECTIONS = /** @type {const} */ (["forward", "reverse"]);

/** @type {Record<"adapter" | "bar" | "drag", FigureField[]>} */
const FIELDS = {
  adapter: [
    { group: "adapter", field: "wrench_mm" },
    { group: "adapter", field: "adapter_mm" },
    { group: "adapter", field: "angle_deg", hint: "0 straight on, 90 square" },
    { group: "adapter", field: "doubt_mm" },
    { group: "adapter", field: "doubt_deg", hint: "3 if left empty" },
  ],
  bar: [
    { group: "bar", field: "length_mm", hint: "square to the bar" },
    { group: "bar", field: "moment_nm", hint: "its weight, if it helps the pull" },
    { group: "bar", field: "doubt_mm" },
  ],
  drag: [
    { group: "drag", field: "case_nm", hint: "crown wheel, pinion, shaft" },
    { group: "drag", field: "wheel_nm", hint: "bearing, brake, seal" },
    {
      group: "drag",
      field: "other_wheel_nm",
      hint: "as the turned one if left empty",
    },
    { group: "drag", field: "doubt_nm", hint: "a quarter if left empty" },
  ],
};

/** Its unit behind the label of a figure; angles have theirs in it. @param {CheckForm} form @param {string} field */
function inUnit({ draft, read }, field) {
  if (field.endsWith("_mm")) return ", mm";
  return field.endsWith("_nm") ? `, ${read.units.nm.find(({ unit }) => unit === draft.partUnit)?.label ?? "N·m"}` : "";
}

/** Of a unit between the axles a shaft is turned, no wheel. @param {CheckForm} form @param {string} path */
const labelOf = ({ sits }, path) =>
  sits.car && path === "drag.wheel_nm"
    ? "On the turned shaft"
    : /** @type {Record<string, string>} */ (LABELS.breakaway)[path];

/** @param {CheckForm} form @param {FigureField} figure */
function figureField(form, { group, field, hint }) {
  const typed = /** @type {Record<string, string>} */ (form.draft[group]);
  return numberField({
    name: `${group}.${field}`,
    label: `${labelOf(form, `${group}.${field}`)}${inUnit(form, field)}`,
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
  const way = HELD.find(({ value }) => value === held);
  // A unit between the axles is checked on the bench; what was read on the car before stays readable.
  const onBench = form.sits.car && !held.startsWith("car");
  const keys = choiceKeys({
    name: "held",
    label: html`<span class=${held ? "unseen" : ""}>${LABELS.breakaway.held}</span> ${way?.full ?? nothing}`,
    value: held,
    options: onBench ? HELD.filter(({ value }) => !value.startsWith("car")) : HELD,
    choose: (chosen) => {
      form.heldChosen = true;
      form.put({ held: chosen });
    },
    error: form.answer.error("held"),
  });
  return html`<section class="stage way">
    ${keys} ${form.sits.car ? html`<p class="quiet">${form.sits.car}</p>` : nothing}
    ${
      form.answer.error("held") && form.layout === "not_known"
        ? html`<a href=${toField(form.id, "layout")}>Say where it sits</a>`
        : nothing
    }
    ${
      way
        ? caution(heldCautions(held, form.layout, form.heldChosen, form.sits.where))
        : worked("held", "Why it matters how it is held")
    }
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

/** Whether something is said at a field of these groups. @param {CheckForm} form @param {...string} groups */
const isSaidAt = ({ answer }, ...groups) => groups.includes(answer.bad?.field.split(".")[0] ?? "");

/** What lies between a wrench and the shaft. @param {CheckForm} form */
const adapter = (form) =>
  html`<details ?open=${begun(form.draft.adapter)}>
    <summary>${LABELS.breakaway.adapter}</summary>
    ${whenOpen(
      () => html`<div class="inside fields">${figureFields(form, "adapter")}</div>
      ${worked("adapter")}`,
      isSaidAt(form, "adapter"),
    )}
  </details>`;

/** The bar that a scale pulls on. @param {CheckForm} form */
const bar = (form) =>
  html`${worked("bar")}
    <div class="fields">${figureFields(form, "bar")}</div>
    ${errorLine(form.answer.error("bar"))}`;

/** @param {CheckForm} form */
function unitChoice(form) {
  const { draft, read } = form;
  const units = read.units[draft.toolKind === "wrench" ? "nm" : "n"];
  return choiceField({
    name: "unit",
    label: "Unit",
    value: draft[unitField(draft.toolKind)],
    options: units.map((choice) => /** @type {[string, string]} */ ([choice.unit, choice.label])),
    choose: (chosen) => chooseUnit(form, chosen),
  });
}

/** @param {CheckForm} form @param {ToolForm} newTool */
export function tool(form, newTool) {
  const { draft, read, switching } = form;
  const none = !torqueTools(form.tools).length;
  return html`<section class="stage tool">
    <div class="pair uneven">${toolChoice(form)} ${unitChoice(form)}</div>
    ${switching.question("tool", [...read.units.nm, ...read.units.n])}
    ${switching.question("unit", read.units[draft.toolKind === "wrench" ? "nm" : "n"])}
    ${draft.toolKind === "wrench" ? nothing : bar(form)} ${draft.tool?.kind === "weight" ? caution(WEIGHT) : nothing}
    ${none ? newToolFold(newTool, none) : nothing}
  </section>`;
}

/** @param {ToolForm} newTool @param {boolean} none whether the kit has none */
const newToolFold = (newTool, none) =>
  html`<details ?open=${newTool.begun() || none}>
    <summary>${none ? "Your wrench or scale" : "Another wrench or scale"}</summary>
    ${whenOpen(() => html`<div class="inside">${newTool.fields()}</div>`)}
  </details>`;

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
    name: `${which} ${direction}`,
    turn: which === "steady" ? OFFERED : undefined,
    label: (number) => `${which === "first" ? "First move, " : ""}${direction} reading ${number}`,
    wrong: (place) => at.includes(place),
    error: answer.error(field) ?? bad?.reason,
    type: (typed) => form.put({ [which]: { ...form.draft[which], [direction]: typed } }),
  });
  return html`<fieldset>
    <legend>${LABELS.breakaway[`${which}_nm.${direction}`]}</legend>
    ${row}
  </fieldset>`;
}

/** The unit that the figures were perhaps read in, with a key for either answer. @param {CheckForm} form */
function otherScale(form) {
  const { draft, answer, read } = form;
  const question = answer.result?.findings.find(({ name }) => name === "unit");
  const other = answer.result?.perhaps_in;
  if (!question || !other) return nothing;
  const units = read.units[draft.toolKind === "wrench" ? "nm" : "n"];
  const label = (/** @type {string} */ unit) => units.find((choice) => choice.unit === unit)?.label ?? unit;
  const now = draft[unitField(draft.toolKind)];
  return html`<div class="asked" role="group" aria-label="Unit that was read">
    <p role="alert">${question.text}</p>
    <button class="small" @click=${() => sayUnit(form, now)}>It was ${label(now)}</button>
    <button class="small" @click=${() => sayUnit(form, other)}>It was ${label(other)}</button>
  </div>`;
}

/** The key that the verdict leads to while it is taken. @param {CheckForm} form @param {HTMLElement} place */
function goOnMeasuring(form, place) {
  const next = form.answer.result?.next;
  const more = () => measureMore(form, place);
  if (next?.name === "correct")
    return html`<button @click=${() => focusOn(place, "[aria-invalid=true]")}>${next.text}</button>`;
  if (next?.name === "afresh") return html`<button @click=${() => measureAfresh(form, place)}>${next.text}</button>`;
  if (next?.name === "more") return html`<button @click=${more}>${next.text}</button>`;
  return html`<button class="plain" @click=${more}>Three more each way</button>`;
}

/** @param {CheckForm} form @param {HTMLElement} place */
export function readings(form, place) {
  const { draft, unit } = form;
  return html`<section class="stage">
    <div class="both-ways">${DIRECTIONS.map((direction) => series(form, "steady", direction))}</div>
    ${otherScale(form)} ${form.sign.known ? nothing : form.sign.field("Checked by")} ${goOnMeasuring(form, place)}
    <details ?open=${unit.judged_on === "first_move" || draft.first.forward.some(Boolean)}>
      <summary>Peak at the first move</summary>
      ${whenOpen(
        () => html`<div class="inside">${DIRECTIONS.map((direction) => series(form, "first", direction))}</div>`,
        isSaidAt(form, "first_nm", "first_n"),
      )}
    </details>
  </section>`;
}

/** @param {CheckForm} form */
function warmthOutingsOil(form) {
  const { draft, answer } = form;
  const temperature = choiceKeys({
    name: "temperature",
    label: LABELS.breakaway["circumstances.temperature"],
    short: true,
    value: draft.temperature,
    choose: (chosen) => form.put({ temperature: chosen }),
    options: ["cold", "warm", "hot"].map((value) => ({ value, words: value })),
  });
  const outings = numberField({
    name: "circumstances.outings",
    label: LABELS.breakaway["circumstances.outings"],
    value: draft.outings,
    whole: true,
    error: answer.error("circumstances.outings"),
    type: (typed) => form.put({ outings: typed }),
  });
  const oil = textField({
    name: "circumstances.oil",
    label: LABELS.breakaway["circumstances.oil"],
    value: draft.oil,
    type: (typed) => form.put({ oil: typed }),
  });
  return html`${temperature}
    <div class="fields">${outings} ${oil}</div>`;
}

/** The limits that it is judged against, in the unit that is read. @param {CheckForm} form */
function limitsInWords({ draft, limits, read }) {
  const { low_nm, high_nm } = limits?.[draft.against] ?? {};
  const say = (/** @type {number} */ nm) => sayIn(read.units, "nm", draft.torqueUnit, nm);
  const band = [low_nm ? `from ${say(low_nm)}` : "", high_nm ? `to ${say(high_nm)}` : ""].filter(Boolean).join(" ");
  return `${AGAINST[draft.against]}${band ? ` ${band}` : ""}`;
}

/** What is known without asking, in one line. @param {CheckForm} form */
function inShort(form) {
  const { temperature, outings, oil } = form.draft;
  const run = outings.trim() ? `${outings.trim()} outings` : "";
  return [temperature, run, oil.trim(), limitsInWords(form), form.sign.known ? form.sign.name() : ""]
    .filter(Boolean)
    .join(" · ");
}

/** Which of a unit's limits count; nothing to choose where it has one pair alone. @param {CheckForm} form */
function judgedAgainst(form) {
  if (!form.limits?.order || !form.limits.service) return nothing;
  return choiceKeys({
    name: "against",
    label: "Judge it against",
    short: true,
    value: form.draft.against,
    choose: (chosen) => form.put({ against: chosen === "order" ? "order" : "service" }),
    options: [
      { value: "service", words: AGAINST.service },
      { value: "order", words: AGAINST.order },
    ],
  });
}

/** What starts filled and is seldom changed. @param {CheckForm} form @param {ToolForm} newTool */
export function circumstances(form, newTool) {
  const { draft, answer } = form;
  return html`<section class="stage rest">
    <details>
      <summary><span>Warmth, outings, oil, limits <small>${inShort(form)}</small></span></summary>
      ${whenOpen(
        () =>
          html`<div class="inside">${warmthOutingsOil(form)} ${judgedAgainst(form)}
            ${form.sign.known ? form.sign.field("Checked by") : nothing}</div>`,
        isSaidAt(form, "circumstances", "limits"),
      )}
    </details>
    ${errorLine(answer.error("limits.low_nm") ?? answer.error("limits.high_nm"))}
    ${draft.toolKind === "wrench" ? adapter(form) : nothing}
    <details ?open=${begun(draft.drag)}>
      <summary>${LABELS.breakaway.drag}</summary>
      ${whenOpen(
        () => html`<div class="inside fields">${figureFields(form, "drag")} ${errorLine(answer.error("drag"))}</div>`,
        isSaidAt(form, "drag"),
      )}
    </details>
    ${torqueTools(form.tools).length ? newToolFold(newTool, false) : nothing}
    ${clearKey(Boolean(form.cleared), form.clear, form.putBack)}
  </section>`;
}
