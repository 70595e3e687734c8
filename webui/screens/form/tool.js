// @ts-check
// A wrench, scale or gauge as it is typed: on the kit's screen, and where one is missing.

import { draft as kept } from "../../log/drafts.js";
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

/** @typedef {import("../../log/stands.js").Tool} Tool */
/** @typedef {Tool["tool"]} ToolKind */
/** @typedef {import("../../engine/door.js").RequestOf<"kit">} Body */

const KINDS = /** @type {Record<string, [string, string][]>} */ ({
  wrench: [
    ["beam", "beam"],
    ["dial", "dial"],
    ["electronic", "electronic"],
    ["click", "click"],
  ],
  scale: [
    ["pull_scale", "pull scale"],
    ["weight", "known weight"],
  ],
});

/**
 * A tool as it is typed.
 * @typedef {ReturnType<typeof blank>} Typed
 */

/**
 * Gauges of lengths: what is usual for one division and for the largest permitted error, and where that comes from.
 * @type {Record<string, {words: string, division: string, step: string, deviation: string, source: string}>}
 */
const GAUGES = {
  micrometer: { words: "micrometer", division: "0.01", step: "", deviation: "0.004", source: "ISO 3611, from memory" },
  dial_gauge: { words: "dial gauge", division: "0.01", step: "", deviation: "0.02", source: "ISO 463, from memory" },
  feeler: {
    words: "feeler gauge",
    division: "0.05",
    step: "Step from leaf to leaf",
    deviation: "0.005",
    source: "DIN 2275, from memory",
  },
  bore_gauge: {
    words: "bore gauge",
    division: "0.01",
    step: "",
    deviation: "0.015",
    source: "common practice, set with a micrometer",
  },
  depth_gauge: {
    words: "depth gauge",
    division: "0.01",
    step: "",
    deviation: "0.03",
    source: "ISO 13385-2, from memory",
  },
};

/** Whether a kind of tool measures lengths. @param {ToolKind} tool */
const isGauge = (tool) => tool in GAUGES;

/** @typedef {"low" | "high" | "division" | "deviation" | "certificate" | "zero" | "unit" | "kind"} Figure */
/** What means something else for another kind of tool. @typedef {Record<Figure, string>} Figures */

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
  /** What was typed for the other kinds of tool. @type {{[Kind in ToolKind]?: Figures}} */ others: {},
});

/** The SI unit of what a kind of tool measures. @param {ToolKind} tool @returns {"nm" | "n" | "mm"} */
function siOf(tool) {
  return isGauge(tool) ? "mm" : tool === "scale" ? "n" : "nm";
}

/** @param {Typed} typed @returns {import("../../engine/calculations.js").AsTyped<Body>} */
function bodyOf(typed) {
  const si = siOf(typed.tool);
  const figures = isGauge(typed.tool)
    ? {
        name: typed.name,
        division_mm: quantity(typed.division, typed.unit),
        deviation_mm: quantity(typed.deviation, typed.unit),
        certificate_mm: quantity(typed.certificate, typed.unit),
        zero_mm: quantity(typed.zero, typed.unit),
      }
    : {
        name: typed.name,
        kind: typed.kind,
        [`low_${si}`]: quantity(typed.low, typed.unit),
        [`high_${si}`]: quantity(typed.high, typed.unit),
        [`division_${si}`]: quantity(typed.division, typed.unit),
        deviation_percent: typed.deviation || undefined,
        certificate_percent: typed.certificate || undefined,
      };
  const due = typed.due ? { calibration_due: typed.due } : {};
  return JSON.parse(
    JSON.stringify({ tool: typed.tool, [typed.tool]: { ...figures, ...due }, ...(typed.id ? { id: typed.id } : {}) }),
  );
}

/** What was typed when a tool was last changed. @param {Pick<Tool, "id" | "tool" | "body">} changed */
function typedAgain({ id, tool, body }) {
  /** @type {Record<string, import("./fields.js").Typed>} */
  const figures = { ...body[tool] };
  const si = siOf(tool);
  const text = (/** @type {string} */ field) => typedOf(figures[field]);
  return {
    id,
    tool,
    name: text("name"),
    kind: text("kind") || "beam",
    unit: unitOf(figures[`division_${si}`], si),
    low: text(`low_${si}`),
    high: text(`high_${si}`),
    division: text(`division_${si}`),
    deviation: text(isGauge(tool) ? "deviation_mm" : "deviation_percent"),
    certificate: text(isGauge(tool) ? "certificate_mm" : "certificate_percent"),
    zero: text("zero_mm"),
    due: text("calibration_due"),
    others: {},
  };
}

/** What a kind of tool is called on its key. @param {ToolKind} tool */
const wordsOf = (tool) => GAUGES[tool]?.words ?? (tool === "wrench" ? "wrench" : "pull scale, weight");

/**
 * @typedef {object} Options
 * @property {string} key of the draft
 * @property {ToolKind[]} tools that may be typed here
 * @property {import("./fields.js").Reading} read
 * @property {import("./signing.js").Signing} sign
 * @property {boolean} [signed] whether the screen asks for the name elsewhere
 * @property {string} [replaces] the entry that this one corrects
 * @property {() => void} draw
 * @property {(id: string, body: Body) => void} done with the tool's id
 */

/**
 * @typedef {object} State
 * @property {Options} options
 * @property {Typed} typed
 * @property {Record<string, number>} permitted deviation in per cent, by kind of tool
 * @property {import("./judging.js").Judging<"kit">} form
 * @property {import("./fields.js").UnitSwitch} switching
 */

/** The unit that somebody most likely reads a kind of tool in. @param {Options} options @param {ToolKind} tool */
function usualUnit({ read }, tool) {
  return tool === "wrench" ? read.torqueUnit : tool === "scale" ? "kgf" : read.lengthUnit;
}

/** A tool of which nothing is typed. @param {Options} options @returns {Typed} */
function fresh(options) {
  const [tool] = options.tools;
  return { ...blank(), tool, kind: KINDS[tool]?.[0][0] ?? "", unit: usualUnit(options, tool) };
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
  const { low, high, division, deviation, certificate, zero, unit, kind, ...typed } = state.typed;
  const others = { ...typed.others, [typed.tool]: { low, high, division, deviation, certificate, zero, unit, kind } };
  const empty = { low: "", high: "", division: "", deviation: "", certificate: "", zero: "" };
  const figures = others[tool] ?? { ...empty, unit: usualUnit(state.options, tool), kind: KINDS[tool]?.[0][0] ?? "" };
  set(state, { tool, ...figures, others });
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
    done(id, body);
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
  const figures = [typed.deviation, typed.certificate, typed.zero];
  const inThisUnit = [typed.low, typed.high, typed.division, ...(gauge ? figures : [])];
  /** @param {"low" | "high" | "division"} name @param {string} label @param {string} hint */
  const amount = (name, label, hint) =>
    numberField({
      name: `tool.${name}`,
      label,
      hint,
      value: typed[name],
      units,
      unit,
      choose: (chosen) => switching.choose("unit", inThisUnit, unit, chosen, (to) => set(state, { unit: to })),
      error: errorOf(state, `${name}_${si}`),
      type: (value) => set(state, { [name]: value, unit }),
    });
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

/** What a tool may be off by where nothing is typed. @param {State} state */
function usualDeviation({ typed, permitted }) {
  const gauge = GAUGES[typed.tool];
  if (gauge) return `${gauge.deviation} mm if left empty (${gauge.source})`;
  const source = typed.tool === "wrench" ? "ISO 6789-1" : "common practice, no source";
  return `${permitted[typed.kind]} % if left empty (${source})`;
}

/** @param {State} state */
function accuracy(state) {
  const { typed, options } = state;
  const gauge = isGauge(typed.tool);
  const filled = Boolean(typed.deviation || typed.certificate || typed.zero || typed.due);
  return html`<details ?open=${!options.signed || filled}>
    <summary>How good it is</summary>
    <div class="inside fields">
      ${numberField({
        name: "tool.deviation",
        label: gauge ? "Largest permitted error" : "Permitted deviation, %",
        hint: usualDeviation(state),
        value: typed.deviation,
        error: errorOf(state, gauge ? "deviation_mm" : "deviation_percent"),
        type: (deviation) => set(state, { deviation }),
      })}
      ${numberField({
        name: "tool.certificate",
        label: gauge ? "From its certificate, U" : "From its certificate, U in %",
        hint: "expanded, k = 2; replaces the figure above",
        value: typed.certificate,
        error: errorOf(state, gauge ? "certificate_mm" : "certificate_percent"),
        type: (certificate) => set(state, { certificate }),
      })}
      ${
        gauge
          ? numberField({
              name: "tool.zero",
              label: "Off zero at its last check",
              hint: "0 if it came back to zero; empty if nobody looked",
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
  const { permitted_percent: permitted } = await known("about");
  const typed = { ...fresh(options), ...(await kept(key)) };
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
