// @ts-check
// The kit: wrenches, scales and gauges, with what is known of how good they are.

import { onChange } from "../../log/changes.js";
import { DEVICE } from "../../log/device.js";
import { known } from "../../log/known.js";
import { kit } from "../../log/stands.js";
import { entry } from "../../log/store.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { backTo, reading, typedOf, unitOf } from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { signing } from "../form/signing.js";
import { style } from "../form/style.js";
import { toolForm } from "../form/tool.js";
import { worked } from "../form/worked.js";
import { bench } from "../frame/places.js";
import { foot, grid } from "./kit-grid.js";
import { FAMILIES, refresh, setGone, takeUp, toolsOf } from "./kit-rows.js";
import { watchPaste } from "./paste-save.js";

/** @typedef {import("../../log/stands.js").Tool} Tool */
/** @typedef {import("./kit-rows.js").State} State */

/** @param {HTMLElement} place @param {string[]} params @returns {Promise<State>} */
async function opened(place, [corrected]) {
  const redraw = () => draw(state);
  const [read, tools, sign, { permitted_percent: permitted }] = await Promise.all([
    reading(),
    kit(),
    signing(redraw),
    known("about"),
  ]);
  const units = Object.values(read.units).flat();
  const unitLabels = Object.fromEntries(units.map(({ unit, label }) => [unit, label]));
  const state = /** @type {State} */ ({ place, corrected, unitLabels, read, permitted, tools, sign, redraw });
  Object.assign(state, { message: "", begun: new Map(), next: {}, inHand: "", fresh: "", busy: "" });
  state.form = await toolForm({
    key: corrected ? `kit/${corrected}` : "kit",
    tools: FAMILIES.flatMap((family) => family.tools),
    read,
    sign,
    draw: redraw,
    replaces: corrected,
    done: (_, body) => saved(state, body),
  });
  return state;
}

/** @param {State} state @param {import("../../engine/calculations.js").BodyOf<"kit">} body of the entry */
function saved(state, body) {
  if (state.corrected) return "#/outbox";
  state.message = `${body[body.tool]?.name} is in the kit.`;
  draw(state);
  // The form is longer than a screen: the message would be out of sight.
  state.place.querySelector("[role=status]")?.scrollIntoView({ block: "center" });
}

/** @param {State} state @param {Tool} tool */
function change(state, tool) {
  state.message = "";
  state.form.change(tool);
  state.place.querySelector("#tool")?.scrollIntoView();
  focusOn(state.place, "#tool input");
}

/** What was typed of a tool, whatever its kind; `si` is what a figure without a unit is in. @param {Tool} tool */
function typedOfTool({ tool, body: { wrench, scale, ...gauges } }) {
  if (wrench) return { ...wrench, high: wrench.high_nm, division: wrench.division_nm, si: "nm" };
  if (scale) return { ...scale, high: scale.high_n, division: scale.division_n, si: "n" };
  const gauge = tool === "wrench" || tool === "scale" ? undefined : gauges[tool];
  return { ...gauge, kind: tool, high: undefined, division: gauge?.division_mm, si: "mm" };
}

/** What is known of a tool, in words. @param {State} state @param {Tool} tool */
function facts({ unitLabels }, tool) {
  const { kind, high, division, si, calibration_due } = typedOfTool(tool);
  /** @param {string} words @param {import("../form/fields.js").Typed} value */
  const figure = (words, value) => typedOf(value) && `${words} ${typedOf(value)} ${unitLabels[unitOf(value, si)]}`;
  return [
    kind.replace("_", " "),
    figure("to", high),
    figure("division", division),
    calibration_due ? `calibrated until ${calibration_due}` : "no calibration date",
  ];
}

/** @param {State} state @param {Tool} tool */
function toolCard(state, tool) {
  return html`<li class="card">
    <div class="row apart">
      <div class="about">
        <strong>${tool.name}</strong>
        <p class="quiet">${facts(state, tool).filter(Boolean).join(", ")}</p>
      </div>
      <span class="row"
        ><button data-tool=${tool.id} aria-label=${`Change ${tool.name}`} @click=${() => change(state, tool)}>
          Change
        </button>
        <button class="plain" aria-label=${`Remove ${tool.name}`} @click=${() => setGone(state, tool, "yes")}>
          Remove
        </button></span
      >
    </div>
    ${tool.overdue ? html`<p class="error">Its calibration has run out.</p>` : nothing}
  </li>`;
}

/** @param {State} state */
const correction = ({ form }) =>
  html`<div class="full">
      ${backTo("#/outbox", "Outbox")}
      <h1>Correct a tool</h1>
    </div>
    <section class="card">${form.fields()}</section>`;

/** What was typed in the tables and waits there while the window is too narrow for them. @param {State} state */
function waiting({ begun }) {
  if (!begun.size) return nothing;
  const names = [...begun.values()].map(({ cells, base }) => (cells.name ?? base.name).trim() || "a new tool");
  return html`<p class="finding note">
    ${toolsOf(begun.size)} that you typed in the wide tables ${begun.size === 1 ? "is" : "are"} not saved yet:
    ${names.join(", ")}. Widen the window, or turn the screen, to go on there.
  </p>`;
}

/** @param {State} state */
const heading = ({ tools }) =>
  html`<div class="full row apart">
      <h1>Kit</h1>
      <span class="row"
        ><a class="button" href="#/kit/paste">Paste a table</a>
        <a class="button" href="#/shelf">Plates on the shelf</a> <a class="button" href="#/marked">Marked parts</a>
        <a class="button" href="#/car">Cars</a></span
      >
    </div>
    <p class="full">${worked("pasting", "Tables and pasting: how it works")}</p>
    ${
      tools.length
        ? nothing
        : html`<p>The kit is empty. How good a reading is depends on the tool that it was read with.</p>`
    }`;

/** The form of one tool. @param {State} state */
const oneTool = ({ form }) =>
  html`<section class="card" id="tool">
    <h2>${form.changing() ? `Change ${form.changing()}` : "Add a tool"}</h2>
    ${form.fields()}
  </section>`;

/** @param {State} state */
function cards(state) {
  const { tools, message, removed } = state;
  return html`${heading(state)}
    <div class="screen">
      ${waiting(state)}
      ${
        tools.length
          ? html`<ul class="list">
              ${tools.map((tool) => toolCard(state, tool))}
            </ul>`
          : nothing
      }
      <p role="status">${message}</p>
      ${
        removed
          ? html`<button id="put-back" @click=${() => setGone(state, removed, "no")}>Put ${removed.name} back</button>`
          : nothing
      }
    </div>
    ${oneTool(state)}`;
}

/** What was begun in the form of a narrow window is shown until it is saved. @param {State} state */
const tables = (state) =>
  html`${heading(state)} ${grid(state)} ${state.form.begun() ? oneTool(state) : nothing} ${foot(state)}`;

/** @param {State} state */
function draw(state) {
  const wide = bench.matches && !state.corrected;
  state.place.classList.toggle("broad", wide);
  state.place.classList.toggle("wide", !wide);
  render(state.corrected ? correction(state) : wide ? tables(state) : cards(state), state.place);
}

/** Show a tool whose label was read. @param {State} state @param {string} id */
function point(state, id) {
  const tool = state.tools.find((known) => known.id === id);
  if (!tool)
    state.message = `This tool is not in the kit that this ${DEVICE} knows: it was removed, or has not come yet.`;
  draw(state);
  if (!tool) return;
  const found = /** @type {HTMLElement} */ (state.place.querySelector(`[data-tool="${id}"]`));
  const key = found.querySelector("input") ?? found;
  found.closest("li, tr")?.classList.add("pointed");
  key.scrollIntoView({ block: "center" });
  state.place.dataset.top = String(scrollY);
  key.focus({ preventScroll: true });
}

/** @type {import("../../app.js").Show} */
export async function show(place, [first, pointed]) {
  const styled = style("grid");
  const state = await opened(place, pointed ? [] : [first]);
  const corrected = state.corrected ? await entry(state.corrected) : undefined;
  const old = corrected?.kind === "kit" ? corrected.body : undefined;
  // An address of no entry shows the kit.
  if (!old) state.corrected = undefined;
  if (!state.corrected) await takeUp(state);
  await styled;
  // A correction that was begun goes on with what is typed.
  if (old && !state.form.begun()) state.form.change({ id: old.id ?? "", tool: old.tool, body: old });
  if (pointed) point(state, pointed);
  else draw(state);
  bench.addEventListener("change", state.redraw);
  const noPaste = state.corrected ? undefined : watchPaste("kit");
  const stop = onChange(async () => {
    // What is being saved is drawn when all of it is.
    if (state.busy) return;
    await refresh(state);
    draw(state);
  });
  return () => {
    bench.removeEventListener("change", state.redraw);
    noPaste?.();
    stop();
  };
}
