// @ts-check
// A refit in a form: its state, and what can be done with it.

import { draft as keptDraft } from "../../log/drafts.js";
import { isOf } from "../../log/entries.js";
import { known } from "../../log/known.js";
import { write } from "../../log/outbox.js";
import { isHere, kit, standing } from "../../log/stands.js";
import { entry } from "../../log/store.js";
import { reading, unitSwitch } from "../form/fields.js";
import { formState } from "../form/form-state.js";
import { signing } from "../form/signing.js";
import { emptyRefit, figuresOf, refitDraft, refitRequest, unfinished, wrenchFor } from "./refit-draft.js";

/** @typedef {import("./refit-draft.js").Name} Name */
/** @typedef {import("./refit-draft.js").RefitDraft} RefitDraft */
/** @typedef {NonNullable<Awaited<ReturnType<typeof refitForm>>>} RefitForm */

/**
 * @param {string} id the unit
 * @param {string | undefined} corrected the entry to correct
 * @param {() => void} draw
 * @returns the form; nothing where the unit is not on this phone
 */
export async function refitForm(id, corrected, draw) {
  const key = corrected ? `refit/${id}/${corrected}` : `refit/${id}`;
  const [read, found, tools, about, kept, sign] = await Promise.all([
    reading(),
    standing(id),
    kit(),
    known("about"),
    keptDraft(key),
    signing(draw),
  ]);
  if (!isHere(found)) return undefined;
  const last = corrected ?? found.newest.refit;
  const entered = last ? await entry(last) : undefined;
  const before = isOf(entered, "refit") ? entered : undefined;
  const blank = emptyRefit(read.torqueUnit, read.lengthUnit);
  const empty = () => (before ? refitDraft(before.body, blank, Boolean(corrected)) : structuredClone(blank));
  /** @type {RefitDraft} */
  const draft = { ...blank, ...(kept ?? empty()) };
  const state = formState({ key, calculation: "refit", draft, empty, request: refitRequest, draw });
  const wrenches = tools.filter(({ tool }) => tool === "wrench");
  return Object.assign(state, {
    id,
    corrected,
    name: found.unit.name,
    /** Whether limits and tools came from the last refit. */ fromLast: Boolean(before) && !corrected,
    wrenches,
    /** Permitted deviation of a wrench, percent by kind. */ permitted: about.permitted_percent,
    read,
    sign,
    switching: unitSwitch(draw),
  });
}

/** @param {RefitForm} form @param {Name} name @param {Partial<import("./refit-draft.js").Part>} change */
export function putPart(form, name, change) {
  form.put({ [name]: { ...form.draft[name], ...change } });
}

/** @param {RefitForm} form @param {Name} name @param {string} toolId of the kit; empty for a wrench that is typed */
export function chooseWrench(form, name, toolId) {
  const wrench = form.wrenches.find(({ id }) => id === toolId);
  const figures = wrench?.body.wrench;
  const tool = figures ? wrenchFor(figures, form.permitted) : null;
  putPart(form, name, { toolId, tool, division: "" });
}

/** @param {RefitForm} form @param {"mm" | "nm"} si @param {"lengthUnit" | "torqueUnit"} field @param {string} chosen */
export function chooseUnit(form, si, field, chosen) {
  const { draft } = form;
  form.switching.choose(field, figuresOf(draft, si), draft[field], chosen, (unit) => form.put({ [field]: unit }));
}

/** @param {RefitForm} form */
export function save(form) {
  return form.answer.save(async (body, shown) => {
    if (unfinished(form.draft).length) return;
    form.sign.check();
    const { id, corrected, key } = form;
    await write({ unit: id, kind: "refit", body, shown, replaces: corrected, draft: key });
    location.hash = `#/unit/${id}`;
  });
}
