// @ts-check
// The kit: wrenches, scales and micrometers, with what is known of how good they are.

import { html, nothing, render } from "../vendor/lit-html/lit-html.js";
import { draft as kept } from "../log/drafts.js";
import { BadInput, calc, engine } from "../engine/door.js";
import { write } from "../log/outbox.js";
import { kit } from "../log/stands.js";
import { onChange, today } from "../log/store.js";
import { judging } from "./judging.js";
import { choiceField, choiceKeys, errorLine, numberField, quantity, reading, textField, typedOf, unitOf } from "./parts.js";
import { signing } from "./signing.js";

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
  return JSON.parse(JSON.stringify({ tool: typed.tool, [typed.tool]: { ...figures, ...due }, ...(typed.id ? { id: typed.id } : {}) }));
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
  };
}

/** @type {import("../app.js").Show} */
export async function show(place) {
  const [read, about] = await Promise.all([reading(), engine()]);
  let typed = { ...blank(), unit: read.torqueUnit, ...(await kept("kit")) };
  let tools = await kit();
  let told = "";
  /** The tool that was taken out last, for a thumb that slipped. @type {any} */
  let taken;
  const sign = await signing(() => draw());

  const form = judging({
    key: "kit",
    calculation: "kit",
    request: () => (typed.name || typed.high || typed.division ? body(typed) : undefined),
    draft: () => typed,
    draw: () => draw(),
  });
  /** @param {Partial<typeof typed>} change */
  const set = (change) => {
    typed = { ...typed, ...change };
    told = "";
    form.changed();
  };

  const save = () =>
    form.save(async (body, shown) => {
      sign.check();
      await write({ unit: "", kind: "kit", body, shown, draft: "kit" });
      told = `${typed.name} is in the kit.`;
      typed = { ...blank(), unit: read.torqueUnit };
      form.judge();
    });
  /** @param {any} tool */
  const retire = async (tool, gone = "yes") => {
    try {
      sign.check();
      const body = { ...tool.body, id: tool.id, gone };
      await write({ unit: "", kind: "kit", body, shown: await calc("kit", body) });
      taken = gone === "yes" ? tool : undefined;
      told = taken ? `${tool.name} is no longer in use; its checks stay in the log.` : `${tool.name} is in use again.`;
    } catch (error) {
      if (!(error instanceof BadInput)) told = `This could not be saved: ${/** @type {Error} */ (error).message}`;
    }
    draw();
  };

  const draw = () => {
    const si = siOf(typed.tool);
    const unit = read.units[si].some((one) => one.unit === typed.unit) ? typed.unit : read.units[si][0].unit;
    const at = (/** @type {string} */ field) => form.error(`${typed.tool}.${field}`);
    const amount = (/** @type {"low" | "high" | "division"} */ name, /** @type {string} */ label, /** @type {string} */ hint) =>
      numberField({ name, label, hint, value: typed[name], units: read.units[si], unit, choose: (chosen) => set({ unit: chosen }), error: at(`${name}_${si}`), type: (value) => set({ [name]: value, unit }) });
    const gauge = typed.tool === "micrometer";
    const usual = about.permitted_percent[typed.kind];
    render(
      html`<div class="full"><h1>Kit</h1></div>
        <ul class="list">${tools.map((tool) => {
          const of = tool.body[tool.tool];
          const expired = of.calibration_due && of.calibration_due < today();
          return html`<li class="card"><div class="row apart"><strong>${tool.name}</strong>
            <span class="row"><button @click=${() => {
              typed = typedAgain(tool);
              told = "";
              form.changed();
              place.querySelector("#tool")?.scrollIntoView();
            }}>Change</button><button class="plain" aria-label=${`Take ${tool.name} out of use`} @click=${() => retire(tool)}>Take out</button></span></div>
            <p class="quiet">${tool.tool === "micrometer" ? "micrometer" : String(of.kind).replace("_", " ")}${
              of.calibration_due ? `, calibrated until ${of.calibration_due}` : ", no calibration date"
            }</p>${expired ? html`<p class="error">Its calibration has run out.</p>` : nothing}</li>`;
        })}</ul>
        <section class="card" id="tool"><h2>${typed.id ? `Change ${typed.name}` : "Add a tool"}</h2>
          ${choiceKeys({ name: "tool", label: "What is it?", short: true, value: typed.tool,
            options: [{ value: "wrench", words: "wrench" }, { value: "scale", words: "pull scale, weight" }, { value: "micrometer", words: "micrometer" }],
            choose: (tool) => set({ tool, kind: KINDS[tool]?.[0][0] ?? "", unit: tool === "wrench" ? read.torqueUnit : tool === "scale" ? "kgf" : read.lengthUnit }) })}
          <div class="fields">
            ${textField({ name: "name", label: "Name", value: typed.name, error: at("name"), type: (name) => set({ name }) })}
            ${gauge ? nothing : choiceField({ name: "kind", label: "Kind", value: typed.kind, options: KINDS[typed.tool], choose: (kind) => set({ kind }) })}
            ${gauge ? nothing : amount("low", "Scale starts at", "0 if left empty")}
            ${gauge ? nothing : amount("high", "Scale ends at", "")}
            ${amount("division", "One division", gauge ? "0.01 mm if left empty" : "the smallest step you read")}
            ${numberField({ name: "deviation", label: gauge ? "Largest permitted error" : "Permitted deviation, %", hint: gauge ? "0.004 mm if left empty (ISO 3611)" : `${usual} % if left empty (${si === "nm" ? "ISO 6789-1" : "common practice, no source"})`, value: typed.deviation, error: at(gauge ? "deviation_mm" : "deviation_percent"), type: (deviation) => set({ deviation }) })}
            ${numberField({ name: "certificate", label: gauge ? "From its certificate, U" : "From its certificate, U in %", hint: "expanded, k = 2; takes the place of the above", value: typed.certificate, error: at(gauge ? "certificate_mm" : "certificate_percent"), type: (certificate) => set({ certificate }) })}
            ${textField({ name: "due", label: "Calibrated until", kind: "date", value: typed.due, error: at("calibration_due"), type: (due) => set({ due }) })}
          </div>
          ${form.bad && !form.bad.field.includes(".") ? errorLine(form.bad.reason) : nothing}${errorLine(form.failed)}
          ${sign.fieldIfUnknown()}
          <button class="main" ?disabled=${!form.result} @click=${save}>Save the tool</button>
          ${typed.id ? html`<button class="plain" @click=${() => set({ ...blank(), unit: read.torqueUnit })}>Leave it as it was</button>` : nothing}
          <p role="status">${told}</p>
          ${taken ? html`<button @click=${() => retire(taken, "no")}>Put ${taken.name} back</button>` : nothing}
        </section>`,
      place,
    );
  };
  place.classList.add("wide");
  draw();
  form.judge();
  return onChange(async () => {
    tools = await kit();
    draw();
  });
}
