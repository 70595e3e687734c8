// @ts-check
// A wrench, scale or gauge as it is typed: on the kit's screen, and where one is missing.

import { draft as keptDraft } from "../../log/drafts.js";
import { known } from "../../log/known.js";
import { write } from "../../log/outbox.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { saveKey } from "./act-key.js";
import {
  choiceField,
  choiceKeys,
  errorLine,
  numberField,
  quantity,
  textField,
  typedOf,
  unitOf,
  unitSwitch,
} from "./fields.js";
import { judging } from "./judging.js";
import {
  bodyOf as bodyOfTool,
  FIGURES,
  fieldOf,
  GAUGES,
  isGauge,
  KINDS,
  siOf,
  typedTool,
  usualDeviation,
  usualUnit,
} from "./tool-typed.js";

/** @typedef {import("../../log/stands.js").Tool} Tool */
/** @typedef {Tool["tool"]} ToolKind */
/** @typedef {import("./tool-typed.js").Figure} Figure */
/** @typedef {import("../../engine/door.js").RequestOf<"kit">} Body */

/**
 * A tool as it is typed.
 * @typedef {ReturnType<typeof blank>} Typed
 */

/** Figures that have another unit than the tool's. @typedef {Partial<Record<Figure, string>>} Own */
/**
 * What means something else for another kind of tool.
 * @typedef {Record<Figure | "unit" | "kind", string> & {own?: Own}} Figures
 */

const blank = () => ({
  id: "",
  tool: /** @type {ToolKind} */ ("wrench"),
  name: "",
  kind: "beam",
  unit: "nm",
  low: "",
  high: "",
  division: "",
  deviation: "",
  certificate: "",
  zero: "",
  due: "",
  own: /** @type {Own} */ ({}),
  /** What was typed for the other kinds of tool. @type {{[Kind in ToolKind]?: Figures}} */ others: {},
});

/** @param {Typed} typed */
function bodyOf(typed) {
  const { id, tool, name, kind, due, unit, own } = typed;
  const figures = FIGURES.map((figure) => {
    const isPercent = fieldOf(tool, figure)?.endsWith("_percent");
    return [figure, isPercent ? typed[figure] : quantity(typed[figure], own[figure] ?? unit)];
  });
  return bodyOfTool({ tool, name, kind, due, ...Object.fromEntries(figures) }, id);
}

/** What was typed when a tool was last changed. @param {Pick<Tool, "id" | "tool" | "body">} changed */
function typedAgain({ id, tool, body }) {
  const { name, kind, due, ...figures } = typedTool({ tool, body });
  const texts = FIGURES.map((figure) => [figure, typedOf(figures[figure])]);
  // Each is in the unit of the first, or says which it is in.
  const units = FIGURES.map((figure) => [figure, unitOf(figures[figure], "")]).filter(([, unit]) => unit);
  const unit = units[0]?.[1] ?? siOf(tool);
  return {
    id,
    tool,
    name,
    kind: kind || "beam",
    due,
    unit,
    .../** @type {Record<Figure, string>} */ (Object.fromEntries(texts)),
    own: /** @type {Own} */ (Object.fromEntries(units.filter(([, own]) => own !== unit))),
    others: {},
  };
}

/** What a kind of tool is called on its key. @param {ToolKind} tool */
const wordsOf = (tool) => GAUGES[tool]?.words ?? (tool === "wrench" ? "wrench" : "pull scale, weight");

/**
 * @typedef {object} Options
 * @property {string} key of the draft
 * @property {object} [kept] the draft, where it was read already
 * @property {ToolKind[]} tools that may be typed here
 * @property {import("./fields.js").Reading} read
 * @property {import("./signing.js").Signing} sign
 * @property {boolean} [signed] whether the screen asks for the name elsewhere
 * @property {string} [replaces] the entry that this one corrects
 * @property {() => void} draw
 * @property {(id: string, body: Body) => string | void | Promise<void>} done gets its id; may say what comes then
 */

/**
 * @typedef {object} State
 * @property {Options} options
 * @property {Typed} typed
 * @property {Record<string, number>} permitted deviation in per cent, by kind of tool
 * @property {import("./judging.js").Judging<"kit">} form
 * @property {import("./fields.js").UnitSwitch} switching
 */

/** A tool of which nothing is typed. @param {Options} options @returns {Typed} */
function fresh(options) {
  const [tool] = options.tools;
  return { ...blank(), tool, kind: KINDS[tool]?.[0][0] ?? "", unit: usualUnit(options.read, tool) };
}

/** Whether something was begun and not saved. @param {State} state */
const begun = ({ typed }) => Boolean(typed.name || typed.high || typed.division);

/** @param {State} state @param {Partial<Typed>} change */
function set(state, change) {
  state.typed = { ...state.typed, ...change };
  state.form.changed();
}

/**
 * Another kind of tool keeps the figures that were typed for it before, and none that mean something else.
 * @param {State} state @param {ToolKind} tool
 */
function changeTool(state, tool) {
  const { low, high, division, deviation, certificate, zero, unit, kind, own, ...typed } = state.typed;
  const figured = { low, high, division, deviation, certificate, zero, unit, kind, own };
  const others = { ...typed.others, [typed.tool]: figured };
  const empty = { low: "", high: "", division: "", deviation: "", certificate: "", zero: "" };
  const figures = others[tool] ?? {
    ...empty,
    unit: usualUnit(state.options.read, tool),
    kind: KINDS[tool]?.[0][0] ?? "",
  };
  set(state, { tool, own: {}, ...figures, others });
}

/** @param {State} state */
function save(state) {
  const { sign, replaces, key, done } = state.options;
  return state.form.save(async (body, shown) => {
    sign.check();
    const entry = await write({ unit: "", kind: "kit", body, shown, replaces, draft: key });
    const id = state.typed.id || replaces || entry;
    state.typed = fresh(state.options);
    await state.form.judge();
    return done(id, body);
  });
}

/** The engine's sentence for a field of the tool. @param {State} state @param {string} field */
const errorOf = ({ form, typed }, field) => form.error(`${typed.tool}.${field}`);

/** @param {State} state */
function toolKeys(state) {
  const { tools, key } = state.options;
  if (tools.length <= 1) return nothing;
  return choiceKeys({
    name: `${key}.tool`,
    label: "What is it?",
    short: true,
    value: state.typed.tool,
    options: tools.map((value) => ({ value, words: wordsOf(value) })),
    choose: (chosen) => {
      const tool = tools.find((value) => value === chosen);
      if (tool) changeTool(state, tool);
    },
  });
}

/** @param {State} state */
function scaleFields(state) {
  const { typed, switching, options } = state;
  const si = siOf(typed.tool);
  const units = options.read.units[si];
  const unit = units.some((choice) => choice.unit === typed.unit) ? typed.unit : units[0].unit;
  const gauge = GAUGES[typed.tool];
  const figures = gauge ? FIGURES : /** @type {const} */ (["low", "high", "division"]);
  const inThisUnit = figures.filter((name) => !typed.own[name]).map((name) => typed[name]);
  /** @param {"low" | "high" | "division"} name @param {string} label @param {string} hint */
  const amount = (name, label, hint) => {
    const own = typed.own[name];
    return html`${numberField({
      name: `tool.${name}`,
      label,
      hint,
      value: typed[name],
      units,
      unit: own ?? unit,
      choose: (chosen) =>
        own
          ? switching.choose(name, [typed[name]], own, chosen, (to) =>
              set(state, { own: { ...typed.own, [name]: to } }),
            )
          : switching.choose("unit", inThisUnit, unit, chosen, (to) => set(state, { unit: to })),
      error: errorOf(state, `${name}_${si}`),
      type: (value) => set(state, { [name]: value, unit }),
    })}${switching.question(name, units)}`;
  };
  const range = () => html`${kindField(state)} ${amount("low", "Scale starts at", "0 if left empty")}
    ${amount("high", "Scale ends at", "")}`;
  return html`${gauge ? nothing : range()}
    ${amount(
      "division",
      gauge?.step || "One division",
      gauge ? `${gauge.division} mm if left empty` : "the smallest step you read",
    )}
    ${switching.question("unit", units)}`;
}

/** @param {State} state */
const kindField = (state) =>
  choiceField({
    name: "tool.kind",
    label: "Kind",
    value: state.typed.kind,
    options: KINDS[state.typed.tool],
    choose: (kind) => set(state, { kind }),
  });

/** @param {State} state */
function accuracy(state) {
  const { typed, options } = state;
  const gauge = isGauge(typed.tool);
  // These have no unit of their own beside them.
  const inUnit = (/** @type {Figure} */ name, /** @type {string} */ hint) => {
    const own = options.read.units.mm.find(({ unit }) => unit === typed.own[name]);
    return own ? `in ${own.label}; ${hint}` : hint;
  };
  const filled = Boolean(typed.deviation || typed.certificate || typed.zero || typed.due);
  return html`<details ?open=${!options.signed || filled}>
    <summary>How good it is</summary>
    <div class="inside fields">
      ${numberField({
        name: "tool.deviation",
        label: gauge ? "Largest permitted error" : "Permitted deviation, %",
        hint: inUnit("deviation", usualDeviation(typed, state.permitted)),
        value: typed.deviation,
        error: errorOf(state, gauge ? "deviation_mm" : "deviation_percent"),
        type: (deviation) => set(state, { deviation }),
      })}
      ${numberField({
        name: "tool.certificate",
        label: gauge ? "From its certificate, U" : "From its certificate, U in %",
        hint: inUnit("certificate", "expanded, k = 2; replaces the figure above"),
        value: typed.certificate,
        error: errorOf(state, gauge ? "certificate_mm" : "certificate_percent"),
        type: (certificate) => set(state, { certificate }),
      })}
      ${
        gauge
          ? numberField({
              name: "tool.zero",
              label: "Off zero at its last check",
              hint: inUnit("zero", "0 if it came back to zero; empty if nobody looked"),
              value: typed.zero,
              error: errorOf(state, "zero_mm"),
              type: (zero) => set(state, { zero }),
            })
          : nothing
      }
      ${textField({
        name: "tool.due",
        label: "Calibrated until",
        kind: "date",
        value: typed.due,
        error: errorOf(state, "calibration_due"),
        type: (due) => set(state, { due }),
      })}
    </div>
  </details>`;
}

/** What keeps the tool from being saved. @param {State} state */
function hindrance({ form, typed }) {
  const { bad, result, failed } = form;
  const needed = isGauge(typed.tool) ? "its name" : "its name, where the scale ends and one division";
  return html`${bad && !bad.field.includes(".") ? errorLine(bad.reason) : nothing}${errorLine(failed)}
    ${result || bad ? nothing : html`<p class="quiet">Type ${needed}; then it can be saved.</p>`}`;
}

/** @param {State} state */
function fields(state) {
  const { typed, form, options } = state;
  const cancel = () => set(state, fresh(options));
  return html`${toolKeys(state)}
    <div class="fields">
      ${textField({
        name: "tool.name",
        label: "Name",
        value: typed.name,
        error: errorOf(state, "name"),
        type: (name) => set(state, { name }),
      })}
      ${scaleFields(state)}
    </div>
    ${accuracy(state)} ${hindrance(state)} ${options.signed ? nothing : options.sign.fieldIfUnknown()}
    ${saveKey({ answer: form, words: "Save the tool", save: () => save(state), look: "main" })}
    ${
      typed.id && !options.replaces ? html`<button class="plain" @click=${cancel}>Cancel the change</button>` : nothing
    }`;
}

/** @param {Options} options */
export async function toolForm(options) {
  const { key, draw } = options;
  const [{ permitted_percent: permitted }, kept] = await Promise.all([
    known("about"),
    "kept" in options ? options.kept : keptDraft(key),
  ]);
  const typed = { ...fresh(options), ...kept };
  const state = /** @type {State} */ ({ options, typed, permitted, switching: unitSwitch(draw) });
  state.form = judging({
    key,
    calculation: "kit",
    request: () => (begun(state) ? bodyOf(state.typed) : undefined),
    draft: () => state.typed,
    draw,
  });
  if (begun(state)) state.form.judge();
  return {
    fields: () => fields(state),
    /** Name of the tool that is being changed; empty for a new one. */
    changing: () => (state.typed.id ? state.typed.name : ""),
    /** Whether something was begun and not saved. */
    begun: () => begun(state),
    /** @param {Parameters<typeof typedAgain>[0]} tool of the kit */
    change: (tool) => set(state, typedAgain(tool)),
  };
}
