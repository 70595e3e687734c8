// @ts-check
// A wrench, scale or micrometer as it is typed: on the kit's screen, and where one is missing.

import { draft as kept } from "../../log/drafts.js";
import { known } from "../../log/known.js";
import { write } from "../../log/outbox.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
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

const blank = () => ({
  id: "",
  tool: "wrench",
  name: "",
  kind: "beam",
  unit: "nm",
  low: "",
  high: "",
  division: "",
  deviation: "",
  certificate: "",
  due: "",
  /** What was typed for the other kinds of tool. @type {Record<string, any>} */ others: {},
});

/** The SI unit of what a kind of tool measures. @param {string} tool @returns {"nm" | "n" | "mm"} */
function siOf(tool) {
  return tool === "micrometer" ? "mm" : tool === "scale" ? "n" : "nm";
}

/** @param {ReturnType<typeof blank>} typed */
function body(typed) {
  const si = siOf(typed.tool);
  const figures =
    typed.tool === "micrometer"
      ? {
          name: typed.name,
          division_mm: quantity(typed.division, typed.unit),
          deviation_mm: quantity(typed.deviation, typed.unit),
          certificate_mm: quantity(typed.certificate, typed.unit),
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

/** What was typed when a tool was last changed. @param {any} tool @returns {ReturnType<typeof blank>} */
function typedAgain(tool) {
  const of = tool.body[tool.tool];
  const si = siOf(tool.tool);
  const text = (/** @type {string} */ name) => typedOf(of[name]);
  return {
    id: tool.id,
    tool: tool.tool,
    name: of.name,
    kind: of.kind ?? "beam",
    unit: unitOf(of[`division_${si}`], si),
    low: text(`low_${si}`),
    high: text(`high_${si}`),
    division: text(`division_${si}`),
    deviation: text(tool.tool === "micrometer" ? "deviation_mm" : "deviation_percent"),
    certificate: text(tool.tool === "micrometer" ? "certificate_mm" : "certificate_percent"),
    due: of.calibration_due ?? "",
    others: {},
  };
}

const WORDS = { wrench: "wrench", scale: "pull scale, weight", micrometer: "micrometer" };

/**
 * @param {object} of
 * @param {string} of.key of the draft
 * @param {("wrench" | "scale" | "micrometer")[]} of.tools that may be typed here
 * @param {Awaited<ReturnType<typeof import("./fields.js").reading>>} of.read
 * @param {Awaited<ReturnType<typeof import("./signing.js").signing>>} of.sign
 * @param {boolean} [of.signed] whether the screen asks for the name elsewhere
 * @param {string} [of.replaces] the entry that this one corrects
 * @param {() => void} of.draw
 * @param {(id: string, body: any) => void} of.done with the tool's id
 */
export async function toolForm({ key, tools, read, sign, signed = false, replaces, draw, done }) {
  const about = await known("about");
  const unitFor = (/** @type {string} */ tool) =>
    tool === "wrench" ? read.torqueUnit : tool === "scale" ? "kgf" : read.lengthUnit;
  const fresh = () => ({ ...blank(), tool: tools[0], kind: KINDS[tools[0]]?.[0][0] ?? "", unit: unitFor(tools[0]) });
  /** @type {ReturnType<typeof blank>} */
  let typed = { ...fresh(), ...(await kept(key)) };

  const form = judging({
    key,
    calculation: "kit",
    request: () => (begun() ? body(typed) : undefined),
    draft: () => typed,
    draw,
  });
  const switching = unitSwitch(draw);
  /** @param {Partial<typeof typed>} change */
  const set = (change) => {
    typed = { ...typed, ...change };
    form.changed();
  };

  /** Another kind of tool keeps the figures that were typed for it before, and none that mean something else. @param {any} tool */
  const anotherTool = (tool) => {
    const { low, high, division, deviation, certificate, unit, kind } = typed;
    const others = { ...typed.others, [typed.tool]: { low, high, division, deviation, certificate, unit, kind } };
    const figures = others[tool] ?? {
      low: "",
      high: "",
      division: "",
      deviation: "",
      certificate: "",
      unit: unitFor(tool),
      kind: KINDS[tool]?.[0][0] ?? "",
    };
    return { tool, ...figures, others };
  };

  const save = () =>
    form.save(async (body, shown) => {
      sign.check();
      const entry = await write({ unit: "", kind: "kit", body, shown, replaces, draft: key });
      const id = typed.id || replaces || entry;
      typed = fresh();
      await form.judge();
      done(id, body);
    });

  const fields = () => {
    const si = siOf(typed.tool);
    const unit = read.units[si].some((one) => one.unit === typed.unit) ? typed.unit : read.units[si][0].unit;
    const at = (/** @type {string} */ field) => form.error(`${typed.tool}.${field}`);
    const amount = (
      /** @type {"low" | "high" | "division"} */ name,
      /** @type {string} */ label,
      /** @type {string} */ hint,
    ) =>
      numberField({
        name: `tool.${name}`,
        label,
        hint,
        value: typed[name],
        units: read.units[si],
        unit,
        choose: (chosen) => switching.choose("unit", amounts(), unit, chosen, (to) => set({ unit: to })),
        error: at(`${name}_${si}`),
        type: (value) => set({ [name]: value, unit }),
      });
    const gauge = typed.tool === "micrometer";
    const amounts = () => [
      typed.low,
      typed.high,
      typed.division,
      ...(gauge ? [typed.deviation, typed.certificate] : []),
    ];
    const usual = about.permitted_percent[typed.kind];
    return html` ${
      tools.length > 1
        ? choiceKeys({
            name: `${key}.tool`,
            label: "What is it?",
            short: true,
            value: typed.tool,
            options: tools.map((value) => ({ value, words: WORDS[value] })),
            choose: (tool) => set(anotherTool(tool)),
          })
        : nothing
    }
      <div class="fields">
        ${textField({ name: "tool.name", label: "Name", value: typed.name, error: at("name"), type: (name) => set({ name }) })}
        ${gauge ? nothing : choiceField({ name: "tool.kind", label: "Kind", value: typed.kind, options: KINDS[typed.tool], choose: (kind) => set({ kind }) })}
        ${gauge ? nothing : amount("low", "Scale starts at", "0 if left empty")}
        ${gauge ? nothing : amount("high", "Scale ends at", "")}
        ${amount("division", "One division", gauge ? "0.01 mm if left empty" : "the smallest step you read")}
        ${switching.question("unit", read.units[si])}
      </div>
      <details ?open=${!signed || Boolean(typed.deviation || typed.certificate || typed.due)}>
        <summary>How good it is</summary>
        <div class="inside fields">
          ${numberField({ name: "tool.deviation", label: gauge ? "Largest permitted error" : "Permitted deviation, %", hint: gauge ? "0.004 mm if left empty (ISO 3611)" : `${usual} % if left empty (${si === "nm" ? "ISO 6789-1" : "common practice, no source"})`, value: typed.deviation, error: at(gauge ? "deviation_mm" : "deviation_percent"), type: (deviation) => set({ deviation }) })}
          ${numberField({ name: "tool.certificate", label: gauge ? "From its certificate, U" : "From its certificate, U in %", hint: "expanded, k = 2; takes the place of the above", value: typed.certificate, error: at(gauge ? "certificate_mm" : "certificate_percent"), type: (certificate) => set({ certificate }) })}
          ${textField({ name: "tool.due", label: "Calibrated until", kind: "date", value: typed.due, error: at("calibration_due"), type: (due) => set({ due }) })}
        </div>
      </details>
      ${form.bad && !form.bad.field.includes(".") ? errorLine(form.bad.reason) : nothing}${errorLine(form.failed)}
      ${form.result || form.bad ? nothing : html`<p class="quiet">Type its name${typed.tool === "micrometer" ? "" : ", where the scale ends and one division"}; then it can be saved.</p>`}
      ${signed ? nothing : sign.fieldIfUnknown()}
      <button class="main" ?disabled=${!form.result} @click=${save}>Save the tool</button>
      ${typed.id && !replaces ? html`<button class="plain" @click=${() => set(fresh())}>Leave it as it was</button>` : nothing}`;
  };

  const begun = () => Boolean(typed.name || typed.high || typed.division);
  if (begun()) form.judge();
  return {
    fields,
    /** Name of the tool that is being changed; empty for a new one. */
    changing: () => (typed.id ? typed.name : ""),
    /** Whether something was begun and not saved. */
    begun,
    /** @param {any} tool of the kit */
    change: (tool) => set(typedAgain(tool)),
  };
}
