// @ts-check
// The kit: wrenches, scales and micrometers, with what is known of how good they are.

import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { BadInput, calc } from "../../engine/door.js";
import { write } from "../../log/outbox.js";
import { kit } from "../../log/stands.js";
import { entry, onChange, today } from "../../log/store.js";
import { focusOn } from "../form/focus.js";
import { backTo, reading, typedOf, unitOf } from "../form/fields.js";
import { signing } from "../form/signing.js";
import { toolForm } from "../form/tool.js";

/** @type {import("../../app.js").Show} */
export async function show(place, [corrected]) {
  const read = await reading();
  let tools = await kit();
  let told = "";
  const labels = Object.fromEntries(
    Object.values(read.units)
      .flat()
      .map((one) => [one.unit, one.label]),
  );
  /** The tool that was taken out last, for a thumb that slipped. @type {any} */
  let taken;
  const sign = await signing(() => draw());
  const form = await toolForm({
    key: corrected ? `kit/${corrected}` : "kit",
    tools: ["wrench", "scale", "micrometer"],
    read,
    sign,
    draw: () => draw(),
    replaces: corrected,
    done: (_, body) => {
      if (corrected) return void (location.hash = "#/outbox");
      told = `${body[body.tool].name} is in the kit.`;
      draw();
      // The form is longer than a screen: what it came to would be out of sight.
      place.querySelector("[role=status]")?.scrollIntoView({ block: "center" });
    },
  });

  const old = corrected ? await entry(corrected) : undefined;
  /** @param {any} tool */
  const retire = async (tool, gone = "yes") => {
    try {
      sign.check();
      const body = { ...tool.body, id: tool.id, gone };
      await write({ unit: "", kind: "kit", body, shown: await calc("kit", body) });
      taken = gone === "yes" ? tool : undefined;
      told = taken ? `${tool.name} is no longer in use; its checks stay in the log.` : `${tool.name} is in use again.`;
    } catch (error) {
      if (error instanceof BadInput) return draw();
      told = `This could not be saved: ${/** @type {Error} */ (error).message}`;
    }
    tools = await kit();
    draw();
    focusOn(place, "#put-back", `[data-tool="${tool.id}"]`);
  };

  /** @param {any} tool */
  const row = (tool) => {
    const of = tool.body[tool.tool];
    const due = of.calibration_due;
    // What was typed without a unit is in the one that the field's name ends in.
    const figure = (/** @type {string} */ field) => {
      const si = ["nm", "n", "mm"].find((unit) => typedOf(of[`${field}_${unit}`]));
      return si && `${typedOf(of[`${field}_${si}`])} ${labels[unitOf(of[`${field}_${si}`], si)]}`;
    };
    const [ends, step] = [figure("high"), figure("division")];
    const facts = [
      tool.tool === "micrometer" ? "micrometer" : String(of.kind).replace("_", " "),
      ends && `to ${ends}`,
      step && `division ${step}`,
      due ? `calibrated until ${due}` : "no calibration date",
    ];
    const change = () => {
      told = "";
      form.change(tool);
      place.querySelector("#tool")?.scrollIntoView();
      focusOn(place, "#tool input");
    };
    return html`<li class="card">
      <div class="row apart">
        <strong>${tool.name}</strong>
        <span class="row"
          ><button data-tool=${tool.id} aria-label=${`Change ${tool.name}`} @click=${change}>Change</button>
          <button class="plain" aria-label=${`Take out ${tool.name}`} @click=${() => retire(tool)}>
            Take out
          </button></span
        >
      </div>
      <p class="quiet">${facts.filter(Boolean).join(", ")}</p>
      ${due && due < today() ? html`<p class="error">Its calibration has run out.</p>` : nothing}
    </li>`;
  };

  const draw = () =>
    render(
      old
        ? html`<div class="full">
              ${backTo("#/outbox", "Outbox")}
              <h1>Correct a tool</h1>
            </div>
            <section class="card">${form.fields()}</section>`
        : html`<div class="full row apart">
              <h1>Kit</h1>
              <a class="button" href="#/shelf">Plates on the shelf</a>
            </div>
            <div class="screen">
              ${
                tools.length
                  ? html`<ul class="list">
                      ${tools.map(row)}
                    </ul>`
                  : html`<p>Nothing is in the kit yet. How good a reading is depends on what it was read with.</p>`
              }
              <p role="status">${told}</p>
              ${taken ? html`<button id="put-back" @click=${() => retire(taken, "no")}>Put ${taken.name} back</button>` : nothing}
            </div>
            <section class="card" id="tool">
              <h2>${form.changing() ? `Change ${form.changing()}` : "Add a tool"}</h2>
              ${form.fields()}
            </section>`,
      place,
    );
  place.classList.add("wide");
  // What was typed to correct it already is gone on with.
  if (old && !form.begun()) form.change({ id: old.body.id ?? "", tool: old.body.tool, body: old.body });
  draw();
  return onChange(async () => {
    tools = await kit();
    draw();
  });
}
