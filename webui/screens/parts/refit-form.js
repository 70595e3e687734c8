// @ts-check
// A refit in a form: its state, and what can be done with it.

import { draft as keptDraft } from "../../log/drafts.js";
import { isOf } from "../../log/entries.js";
import { known } from "../../log/known.js";
import { write } from "../../log/outbox.js";
import { isHere, kit, standing } from "../../log/stands.js";
import { entry } from "../../log/store.js";
import { figureIn, reading, unitSwitch } from "../form/fields.js";
import { formState } from "../form/form-state.js";
import { filled } from "../form/readings.js";
import { signing } from "../form/signing.js";
import { emptyRefit, figuresOf, refitDraft, refitRequest, unfinished, wrenchFor } from "./refit-draft.js";
import { emptyTry } from "./setting-draft.js";

/** Places after the point of a mean of turning torques, which are small. */
const FINER = 2;

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
    /** Where in the car it sits. */ sits: found.sits,
    /** Whether limits and tools came from the last refit. */ fromLast: Boolean(before) && !corrected,
    wrenches,
    /** Folds that were opened for a reason, and stay open when it is gone. @type {Set<string>} */ opened: new Set(),
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

/**
 * Whether a fold is open for a reason, now or since then: nobody's field is folded away while it is typed in.
 * @param {RefitForm} form @param {string} name of the fold @param {boolean} reason
 */
export function isOpen({ opened }, name, reason) {
  if (reason) opened.add(name);
  return opened.has(name);
}

/** @param {RefitForm} form @param {Partial<import("./setting-draft.js").Shims>} change */
export const putShims = (form, change) => form.put({ shims: { ...form.draft.shims, ...change } });

/** @param {RefitForm} form @param {Partial<import("./setting-draft.js").Gears>} change */
export const putGears = (form, change) => form.put({ gears: { ...form.draft.gears, ...change } });

/** @param {RefitForm} form @param {number} place @param {Partial<import("./setting-draft.js").Try>} change */
export function putTry(form, place, change) {
  form.put({ tries: form.draft.tries.map((tried, number) => (number === place ? { ...tried, ...change } : tried)) });
}

/** @param {RefitForm} form */
export const addTry = (form) => form.put({ tries: [...form.draft.tries, emptyTry()] });

/** @param {RefitForm} form @param {number} place */
export function dropTry(form, place) {
  const before = form.draft;
  form.put({ tries: before.tries.filter((_, number) => number !== place) });
  form.cleared = before;
  form.draw();
}

/**
 * What was read becomes a try, the shims become those that the engine proposes, and the places to read are empty again.
 * @param {RefitForm} form
 */
export function keepTry(form) {
  const { draft: before, read, answer } = form;
  const setting = answer.result?.setting;
  if (!setting) return;
  const { lengthUnit, torqueUnit, shims, contact } = before;
  const mm = (/** @type {number | null} */ value, /** @type {string} */ typed) =>
    value === null ? typed : figureIn(read.units, "mm", lengthUnit, value);
  const torque = setting.tries.at(-1)?.torque_nm ?? null;
  const { behind, tooth, pinion } = shims;
  const points = filled(before.backlash.readings);
  /** @type {import("./setting-draft.js").Try} */
  const tried = {
    behind,
    tooth,
    pinion,
    points: points.length ? points : [""],
    torque: torque === null ? "" : figureIn(read.units, "nm", torqueUnit, torque, FINER),
    contact,
  };
  const emptied = (/** @type {import("./refit-draft.js").Part} */ part) => ({
    ...part,
    readings: part.readings.map(() => ""),
  });
  form.put({
    tries: [...before.tries, tried],
    shims: {
      ...shims,
      behind: mm(setting.behind_mm, behind),
      tooth: mm(setting.tooth_mm, tooth),
      pinion: mm(setting.pinion_mm, pinion),
    },
    backlash: emptied(before.backlash),
    bearings: emptied(before.bearings),
    contact: "",
  });
  form.cleared = before;
  form.draw();
}

/** @param {RefitForm} form */
export function save(form) {
  return form.answer.save(async (body, shown) => {
    if (unfinished(form.draft).length) return;
    form.sign.check();
    const { id, corrected, key } = form;
    await write({ unit: id, kind: "refit", body, shown, replaces: corrected, draft: key });
    return `#/unit/${id}`;
  });
}
