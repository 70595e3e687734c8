// @ts-check
// Service of a unit between rebuilds: oil changed, run in, washed out.

import { draft as kept } from "../../log/drafts.js";
import { isOf } from "../../log/entries.js";
import { LABELS } from "../../log/labels.js";
import { write } from "../../log/outbox.js";
import { isHere, standing } from "../../log/stands.js";
import { entry, today } from "../../log/store.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { backTo, clearKey, errorLine, numberField, textField, typedOf } from "../form/fields.js";
import { formState } from "../form/form-state.js";
import { signing } from "../form/signing.js";
import { style } from "../form/style.js";
import { worked } from "../form/worked.js";

/** @typedef {import("../../engine/calculations.js").BodyOf<"service">} ServiceBody */
/** @typedef {"oil_changed" | "run_in" | "washed"} Done */
/** @typedef {Record<"day" | "oil" | "litres" | "note", string> & Record<Done, boolean>} ServiceDraft */
/** @typedef {NonNullable<Awaited<ReturnType<typeof opened>>>} ServiceForm */

/** @returns {ServiceDraft} */
const emptyService = () => ({
  day: today(),
  oil_changed: false,
  oil: "",
  litres: "",
  run_in: false,
  washed: false,
  note: "",
});

/**
 * What was typed of a service that is in the log.
 * @param {ServiceBody} body @param {string} at @returns {ServiceDraft}
 */
const serviceAgain = (body, at) => ({
  day: body.day || at.split("T")[0],
  oil_changed: body.oil_changed === true,
  oil: body.oil ?? "",
  litres: typedOf(body.litres),
  run_in: body.run_in === true,
  washed: body.washed === true,
  note: body.note ?? "",
});

/**
 * The request: what was left empty is left out; the oil's name counts where the oil was changed.
 * @param {ServiceDraft} draft
 * @returns {import("../../engine/calculations.js").AsTyped<ServiceBody>}
 */
function serviceRequest({ oil, litres, ...typed }) {
  const given = typed.oil_changed ? { ...typed, oil, litres } : typed;
  return { ...Object.fromEntries(Object.entries(given).filter(([, value]) => value)), today: today() };
}

/**
 * @param {string} id the unit
 * @param {string | undefined} corrected the entry to correct
 * @param {() => void} draw
 * @returns the form; nothing where the unit is not on this phone
 */
async function opened(id, corrected, draw) {
  const key = corrected ? `service/${id}/${corrected}` : `service/${id}`;
  const [found, old, typed, sign] = await Promise.all([
    standing(id),
    corrected ? entry(corrected) : undefined,
    kept(key),
    signing(draw),
  ]);
  if (!isHere(found)) return undefined;
  const form = formState({
    key,
    calculation: "service",
    /** @type {ServiceDraft} */ draft: {
      ...(isOf(old, "service") ? serviceAgain(old.body, old.at) : emptyService()),
      ...typed,
    },
    empty: emptyService,
    request: (draft, touched) => (touched || corrected || typed ? serviceRequest(draft) : undefined),
    draw,
  });
  return Object.assign(form, { id, corrected, name: found.unit.name, upkeep: found.upkeep, sign });
}

/** @param {ServiceForm} form @param {Done} name */
const doneKey = (form, name) =>
  html`<button
    class="felt"
    aria-pressed=${form.draft[name] ? "true" : "false"}
    @click=${() => form.put({ [name]: !form.draft[name] })}
  >
    ${form.draft[name] ? "✓ " : ""}${LABELS.service[name]}
  </button>`;

/** @param {ServiceForm} form */
const oil = (form) =>
  form.draft.oil_changed
    ? html`<div class="pair">
        ${textField({
          name: "service.oil",
          label: LABELS.service.oil,
          value: form.draft.oil,
          error: form.answer.error("oil"),
          type: (typed) => form.put({ oil: typed }),
        })}
        ${numberField({
          name: "service.litres",
          label: LABELS.service.litres,
          value: form.draft.litres,
          error: form.answer.error("litres"),
          type: (litres) => form.put({ litres }),
        })}
      </div>`
    : nothing;

/** @param {ServiceForm} form */
const fields = (form) =>
  html`<section class="card">
    ${doneKey(form, "oil_changed")} ${oil(form)} ${doneKey(form, "run_in")}
    ${doneKey(form, "washed")} ${errorLine(form.answer.error("oil_changed"))}
    ${textField({
      name: "service.note",
      label: LABELS.service.note,
      kind: "long",
      value: form.draft.note,
      error: form.answer.error("note"),
      type: (note) => form.put({ note }),
    })}
    ${textField({
      name: "service.day",
      label: LABELS.service.day,
      kind: "date",
      value: form.draft.day,
      error: form.answer.error("day"),
      type: (day) => form.put({ day }),
    })}
    ${form.sign.fieldIfUnknown() ?? nothing} ${clearKey(Boolean(form.cleared), form.clear, form.putBack)}
  </section>`;

/** What is due, beside what is done about it. @param {ServiceForm} form */
const due = (form) =>
  html`<section class="card" aria-labelledby="due">
    <h2 id="due">What is due</h2>
    ${
      form.upkeep.length
        ? form.upkeep.map((row) => html`<p class=${row.due ? "finding doubt" : ""}>${row.text}</p>`)
        : html`<p class="quiet">
            This unit has no intervals yet. Give them under Torque and limits when you
            <a href="#/unit/${form.id}/change/at/service.oil_every_outings">change the unit</a>, by outings, hours or
            days.
          </p>`
    }
    ${worked("outings")}
  </section>`;

/** @param {ServiceForm} form */
function save(form) {
  return form.answer.save(async (body, shown) => {
    form.sign.check();
    const { id, corrected, key } = form;
    await write({ unit: id, kind: "service", body, shown, replaces: corrected, draft: key });
    location.hash = `#/unit/${id}`;
  });
}

/** @type {import("../../app.js").Show} */
export async function show(place, [id, corrected]) {
  const [form] = await Promise.all([opened(id, corrected, () => draw()), style("outing")]);
  if (!form) {
    location.hash = `#/unit/${id}`;
    return;
  }
  const draw = () =>
    render(
      html`<div class="full">
          ${backTo(`#/unit/${id}`, form.name)}
          <h1>${corrected ? "Correct a service" : "Log service"}</h1>
        </div>
        <div class="screen">
          ${fields(form)}
          <section class="keep-bar">
            <button class="main big" ?disabled=${!form.answer.ready} @click=${() => save(form)}>
              ${corrected ? "Save the correction" : "Save the service"}
            </button>
            ${errorLine(form.answer.failed)}
          </section>
        </div>
        ${due(form)}`,
      place,
    );
  place.classList.add("wide", "outing");
  draw();
  await form.answer.judge();
}
