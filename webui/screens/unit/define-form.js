// @ts-check
// A unit's definition in a form: its state, and what can be done with it.

import { draft as keptDraft } from "../../log/drafts.js";
import { isOf } from "../../log/entries.js";
import { write } from "../../log/outbox.js";
import { standing } from "../../log/stands.js";
import { entry, newId } from "../../log/store.js";
import { reading, typedOf, unitOf, unitSwitch } from "../form/fields.js";
import { formState } from "../form/form-state.js";
import { quantityFields } from "../form/quantity.js";
import { signing } from "../form/signing.js";
import { chainFor, newUnit, unitDraft, unitRequest, withValue } from "./define-draft.js";

/** @typedef {import("./define-draft.js").UnitDraft} UnitDraft */
/** @typedef {import("./define-draft.js").Part} Part */
/** @typedef {NonNullable<Awaited<ReturnType<typeof defineForm>>>} DefineForm */

/**
 * @param {HTMLElement} place
 * @param {string | undefined} id the unit to change; none for a new unit
 * @param {string | undefined} corrected the entry to correct
 * @param {() => void} draw
 * @returns the form; nothing where what is to be changed is not on this phone
 */
export async function defineForm(place, id, corrected, draw) {
  const read = await reading();
  const known = id ? await standing(id) : undefined;
  const replaced = corrected ? await entry(corrected) : undefined;
  const stored = corrected ? isOf(replaced, "unit") && replaced.body : known?.unit;
  if (id && !stored) return undefined;
  const key = corrected ? `unit/${id}/${corrected}` : id ? `unit/${id}` : "unit/new";
  const empty = () => (stored ? unitDraft(stored) : newUnit());
  const kept = await keptDraft(key);
  const draft = kept ? unitDraft(kept) : empty();
  const switching = unitSwitch(draw);
  const state = formState({
    key,
    calculation: "unit",
    draft,
    empty,
    // Or every field of a new unit would be red before anything is typed.
    request: (typed, touched) => (id || touched ? unitRequest(typed) : undefined),
    draw,
  });
  state.touched = JSON.stringify(draft) !== JSON.stringify(newUnit());
  const thicknessUnit = draft.chain.map((item) => item.new_mm).find((value) => unitOf(value, ""));
  return Object.assign(state, {
    place,
    id,
    corrected,
    /** Name of the unit that is changed. */ name: known?.unit?.name,
    read,
    switching,
    sign: await signing(draw),
    quantityField: quantityFields(read, switching, draw),
    /** The unit that thicknesses of the stack are typed in. */
    lengthUnit: unitOf(thicknessUnit, known ? "mm" : read.lengthUnit),
    /** The part whose place, kind and keys a phone shows; a bench screen shows them all. */ open: -1,
  });
}

/**
 * Put a value at a path of the draft.
 * @param {DefineForm} form
 * @param {string} path
 * @param {import("./define-draft.js").Figure | boolean} value
 */
export function setValue(form, path, value) {
  form.put(withValue(form.draft, path, value));
}

/** Change the stack. @param {DefineForm} form @param {(chain: Part[]) => Part[]} change */
export function restack(form, change) {
  form.put({ chain: change(structuredClone(form.draft.chain)) });
}

/**
 * A stack of which nothing is measured yet takes the parts of its new layout.
 * @param {DefineForm} form
 * @param {string} layout
 */
export function chooseLayout(form, layout) {
  const unmeasured = form.draft.chain.every((item) => !typedOf(item.new_mm));
  form.put({ layout, ...(unmeasured ? { chain: chainFor(layout, 2) } : {}) });
}

/** One unit of length serves the whole stack. @param {DefineForm} form @param {string} chosen */
export function chooseLengthUnit(form, chosen) {
  const typed = form.draft.chain.flatMap((item) => [typedOf(item.new_mm), typedOf(item.minimum_mm)]);
  form.switching.choose("stackUnit", typed, form.lengthUnit, chosen, (unit) => {
    form.lengthUnit = unit;
    const inUnit = (/** @type {import("./define-draft.js").Figure} */ value) =>
      typedOf(value).trim() ? { typed: typedOf(value), unit } : "";
    restack(form, (chain) =>
      chain.map((item) => ({ ...item, new_mm: inUnit(item.new_mm), minimum_mm: inUnit(item.minimum_mm) })),
    );
  });
}

/** Plates of a kind mostly share a thickness: it is typed once. @param {DefineForm} form @param {Part} like */
export function sameForAll(form, { part, new_mm, minimum_mm }) {
  restack(form, (chain) => chain.map((item) => (item.part === part ? { ...item, new_mm, minimum_mm } : item)));
}

/** @param {DefineForm} form */
export function save(form) {
  return form.answer.save(async (body, shown) => {
    form.sign.check();
    const unit = form.id ?? (await newId());
    await write({ unit, kind: "unit", body, shown, replaces: form.corrected, draft: form.key });
    location.hash = `#/unit/${unit}`;
  });
}
