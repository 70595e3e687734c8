// @ts-check
// A unit with two fields: of a pattern, or like one that is here. All else is taken over.

import { calc } from "../../engine/door.js";
import { draft as keptDraft } from "../../log/drafts.js";
import { write } from "../../log/outbox.js";
import { patternOf } from "../../log/pattern.js";
import { standing } from "../../log/stands.js";
import { newId } from "../../log/store.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { saveKey } from "../form/act-key.js";
import { backTo, clearKey, errorLine, reading, textField } from "../form/fields.js";
import { formState } from "../form/form-state.js";
import { signing } from "../form/signing.js";
import { ownerChoice } from "../shop/owner-choice.js";
import { limitsInWords } from "./limits-in-words.js";

/** @typedef {import("../../engine/calculations.js").NewUnit} NewUnit */
/** What it is like. @typedef {{name: string, start: NewUnit, back: string}} Model */
/** @typedef {{name: string, owner: string, customer_id: string}} Draft */

const EMPTY = { name: "", owner: "", customer_id: "" };

/** What a unit of a pattern starts with. @param {string} id @returns {Promise<Model | undefined>} */
async function byPattern(id) {
  const pattern = await patternOf(id);
  // One that is withdrawn takes no more units.
  return pattern && !pattern.gone ? { name: pattern.name, start: pattern.unit, back: "#/patterns" } : undefined;
}

/** What another unit like this one starts with. @param {string} id @returns {Promise<Model | undefined>} */
async function byUnit(id) {
  const { unit } = await standing(id);
  return unit
    ? { name: unit.name, start: (await calc("another", { unit })).for_unit, back: `#/unit/${id}` }
    : undefined;
}

/**
 * @param {string} id of the pattern or the unit
 * @param {Model} model
 * @param {() => void} draw
 */
async function opened(id, model, draw) {
  const key = `another/${id}`;
  const [read, sign, kept, lacks] = await Promise.all([
    reading(),
    signing(draw),
    keptDraft(key),
    // What contradicts itself is said by what is judged.
    calc("so_far", { unit: model.start }).then(
      (known) => known.lacks,
      () => [],
    ),
  ]);
  const state = formState({
    key,
    calculation: "unit",
    /** @type {Draft} */ draft: { ...EMPTY, ...kept },
    empty: () => EMPTY,
    // What it takes over is shown before anything is typed; a name of its own comes with the first key.
    request: ({ name, owner, customer_id }, touched) => ({
      ...model.start,
      name: touched ? name : model.name,
      owner,
      ...(customer_id ? { customer_id } : {}),
    }),
    draw,
  });
  state.touched = Boolean(kept);
  const owner = await ownerChoice({ form: () => state, sign, draw, hint: "may stay empty" });
  return Object.assign(state, { read, sign, model, lacks, owner });
}

/** @typedef {Awaited<ReturnType<typeof opened>>} Form */

/** @param {Form} form */
function save(form) {
  return form.answer.save(async (body, shown) => {
    form.sign.check();
    const unit = await newId();
    await write({ unit, kind: "unit", body, shown, draft: form.key });
    return `#/unit/${unit}`;
  });
}

/** @param {Form} form */
const nameField = (form) =>
  textField({
    name: "name",
    label: "Name of the unit",
    value: form.draft.name,
    error: form.answer.error("name"),
    type: (name) => form.put({ name }),
  });

/** What it takes over. @param {Form} form */
function takenOver({ answer: { result }, read, lacks }) {
  if (!result) return nothing;
  const { checked, breakaway_nm } = result;
  const asNew = breakaway_nm === null ? "" : `With every part new it gives ${read.torque(breakaway_nm)}.`;
  return html`<p class="quiet">${limitsInWords(checked, read)} ${asNew}</p>
    ${lacks.length ? html`<p class="quiet">${lacks[0].text}</p>` : nothing}`;
}

/** @param {Form} form */
function view(form) {
  const { model, answer, sign } = form;
  const { bad } = answer;
  const elsewhere = bad && !(bad.field in EMPTY);
  return html`${backTo(model.back, model.back === "#/patterns" ? "Patterns" : model.name)}
    <h1>Add a unit like ${model.name}</h1>
    <section class="card">
      <p>It takes over all but the name and the owner, and nothing that was measured.</p>
      ${takenOver(form)} ${nameField(form)} ${form.owner.field()}
      ${sign.fieldIfUnknown("Entered by") ?? nothing}
      ${elsewhere ? errorLine(bad.reason) : nothing} ${errorLine(answer.failed)}
      ${saveKey({ answer, words: "Add the unit", save: () => save(form) })}
      ${clearKey(Boolean(form.cleared), form.clear, form.putBack)}
    </section>`;
}

/** @type {import("../../app.js").Show} */
export async function show(place, [id, like]) {
  const model = await (like ? byUnit(id) : byPattern(id));
  if (!model) {
    location.hash = like ? `#/unit/${id}` : "#/patterns";
    return;
  }
  const form = await opened(id, model, () => draw());
  const draw = () => render(view(form), place);
  draw();
  await form.answer.judge();
}
