// @ts-check
// The kit: wrenches, scales and gauges, with what is known of how good they are.

import { BadInput, calc } from "../../engine/door.js";
import { DEVICE } from "../../log/device.js";
import { write } from "../../log/outbox.js";
import { kit } from "../../log/stands.js";
import { reasonOf } from "../../log/storage-fault.js";
import { entry, onChange } from "../../log/store.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { backTo, reading, typedOf, unitOf } from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { signing } from "../form/signing.js";
import { toolForm } from "../form/tool.js";

/** @typedef {import("../../log/stands.js").Tool} Tool */

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {string} [corrected] the entry that is corrected
 * @property {Record<string, string>} unitLabels
 * @property {Tool[]} tools
 * @property {string} message what came of the last tap
 * @property {Tool} [removed] the tool that was removed last, for a thumb that slipped
 * @property {import("../form/signing.js").Signing} sign
 * @property {Awaited<ReturnType<typeof toolForm>>} form
 */

/** @param {HTMLElement} place @param {string[]} params @returns {Promise<State>} */
async function opened(place, [corrected]) {
  const [read, tools, sign] = await Promise.all([reading(), kit(), signing(() => draw(state))]);
  const units = Object.values(read.units).flat();
  const unitLabels = Object.fromEntries(units.map(({ unit, label }) => [unit, label]));
  const state = /** @type {State} */ ({ place, corrected, unitLabels, tools, sign, message: "" });
  state.form = await toolForm({
    key: corrected ? `kit/${corrected}` : "kit",
    tools: ["wrench", "scale", "micrometer", "dial_gauge", "feeler", "bore_gauge", "depth_gauge"],
    read,
    sign,
    draw: () => draw(state),
    replaces: corrected,
    done: (_, body) => saved(state, body),
  });
  return state;
}

/** @param {State} state @param {import("../../engine/calculations.js").BodyOf<"kit">} body of the entry */
function saved(state, body) {
  if (state.corrected) {
    location.hash = "#/outbox";
    return;
  }
  state.message = `${body[body.tool]?.name} is in the kit.`;
  draw(state);
  // The form is longer than a screen: the message would be out of sight.
  state.place.querySelector("[role=status]")?.scrollIntoView({ block: "center" });
}

/** Remove a tool from the kit, or put it back. @param {State} state @param {Tool} tool @param {"yes" | "no"} gone */
async function setGone(state, tool, gone) {
  try {
    state.sign.check();
    const body = { ...tool.body, id: tool.id, gone };
    await write({ unit: "", kind: "kit", body, shown: await calc("kit", body) });
    state.removed = gone === "yes" ? tool : undefined;
    state.message = state.removed
      ? `${tool.name} is no longer in use; its checks stay in the log.`
      : `${tool.name} is in use again.`;
  } catch (error) {
    if (error instanceof BadInput) return draw(state);
    state.message = `This could not be saved: ${reasonOf(error)}`;
  }
  state.tools = await kit();
  draw(state);
  focusOn(state.place, "#put-back", `[data-tool="${tool.id}"]`);
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

/** @param {State} state */
function wholeKit(state) {
  const { tools, message, removed, form } = state;
  return html`<div class="full row apart">
      <h1>Kit</h1>
      <span class="row"
        ><a class="button" href="#/shelf">Plates on the shelf</a> <a class="button" href="#/car">Cars</a></span
      >
    </div>
    <div class="screen">
      ${
        tools.length
          ? html`<ul class="list">
              ${tools.map((tool) => toolCard(state, tool))}
            </ul>`
          : html`<p>The kit is empty. How good a reading is depends on the tool that it was read with.</p>`
      }
      <p role="status">${message}</p>
      ${
        removed
          ? html`<button id="put-back" @click=${() => setGone(state, removed, "no")}>Put ${removed.name} back</button>`
          : nothing
      }
    </div>
    <section class="card" id="tool">
      <h2>${form.changing() ? `Change ${form.changing()}` : "Add a tool"}</h2>
      ${form.fields()}
    </section>`;
}

/** @param {State} state */
function draw(state) {
  render(state.corrected ? correction(state) : wholeKit(state), state.place);
}

/** Show a tool whose label was read. @param {State} state @param {string} id */
function point(state, id) {
  const tool = state.tools.find((known) => known.id === id);
  if (!tool)
    state.message = `This tool is not in the kit that this ${DEVICE} knows: it was removed, or has not come yet.`;
  draw(state);
  if (!tool) return;
  const key = /** @type {HTMLElement} */ (state.place.querySelector(`[data-tool="${id}"]`));
  key.closest("li")?.classList.add("pointed");
  key.scrollIntoView({ block: "center" });
  state.place.dataset.top = String(scrollY);
  key.focus({ preventScroll: true });
}

/** @type {import("../../app.js").Show} */
export async function show(place, [first, pointed]) {
  const state = await opened(place, pointed ? [] : [first]);
  const corrected = state.corrected ? await entry(state.corrected) : undefined;
  const old = corrected?.kind === "kit" ? corrected.body : undefined;
  // An address of no entry shows the kit.
  if (!old) state.corrected = undefined;
  place.classList.add("wide");
  // A correction that was begun goes on with what is typed.
  if (old && !state.form.begun()) state.form.change({ id: old.id ?? "", tool: old.tool, body: old });
  if (pointed) point(state, pointed);
  else draw(state);
  return onChange(async () => {
    state.tools = await kit();
    draw(state);
  });
}
