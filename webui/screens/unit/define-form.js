// @ts-check
// A unit's definition in a form: its state, and what can be done with it.

import { calc } from "../../engine/door.js";
import { draft as keptDraft } from "../../log/drafts.js";
import { isOf } from "../../log/entries.js";
import { write } from "../../log/outbox.js";
import { cars, standing } from "../../log/stands.js";
import { entry, fact, newId, remember } from "../../log/store.js";
import { reading, typedOf, unitOf, unitSwitch } from "../form/fields.js";
import { formState } from "../form/form-state.js";
import { judging } from "../form/judging.js";
import { quantityFields } from "../form/quantity.js";
import { signing } from "../form/signing.js";
import { ownerChoice } from "../shop/owner-choice.js";
import { chainFor, withAlike } from "./define-chain.js";
import { draftAgain, featureDraft, hasIntervals, newUnit, unitDraft, unitRequest, withValue } from "./define-draft.js";
import { withoutMark, workingOut } from "./work-out-draft.js";

/** @typedef {import("./define-draft.js").UnitDraft} UnitDraft */
/** @typedef {import("./define-chain.js").Part} Part */
/** @typedef {import("../../engine/door.js").ResultOf<"so_far">} SoFar */
/** @typedef {NonNullable<Awaited<ReturnType<typeof defineForm>>>} DefineForm */

/**
 * The units in which somebody typed figures of a unit last, as long as the settings are what they were then.
 * @param {import("../form/fields.js").Reading} read
 */
async function unitsOfFigures({ torqueUnit, lengthUnit }) {
  const usual = { nm: torqueUnit, mm: lengthUnit };
  /** @type {import("../../log/store.js").Facts["definedIn"]} */
  const kept = (await fact("definedIn")) ?? {};
  return {
    /** The unit to begin with; what makers state is in mm whatever a reader's own unit is. @param {"nm" | "mm"} si */
    preferred: (si) => (kept[si]?.usual === usual[si] ? kept[si].chosen : si === "mm" ? "mm" : torqueUnit),
    /** @param {"nm" | "mm"} si @param {string} chosen */
    choose(si, chosen) {
      kept[si] = { chosen, usual: usual[si] };
      remember("definedIn", kept).catch(() => {});
    },
  };
}

/** A definition, without what a pattern has besides. @param {UnitDraft & {id?: string, gone?: string}} draft */
function asUnit({ id: _id, gone: _gone, ...draft }) {
  return unitRequest(draft);
}

/**
 * What is known so far of what is typed, and the last of it while something typed makes no sense.
 * @param {string} key @param {() => UnitDraft} draft @param {import("../form/fields.js").Reading} read
 * @param {() => void} draw
 */
function knownSoFar(key, draft, read, draw) {
  const judged = judging({
    key,
    calculation: "so_far",
    request: () => ({ unit: asUnit(draft()), write_in: read.torqueUnit, write_lengths_in: read.lengthUnit }),
    draft,
    draw,
  });
  /** @type {SoFar | undefined} */
  let last;
  return {
    ask: () => judged.judge(),
    /** @returns {SoFar | undefined} */
    get result() {
      last = judged.result ?? last;
      return last;
    },
  };
}

/** What is usually inspected, by part. @returns {Promise<import("./define-draft.js").FeatureList[]>} */
async function usualFeatures() {
  const { parts } = await calc("usual_features", {});
  return parts.map(({ title, features }) => ({ title, features: features.map(featureDraft) }));
}

/**
 * @param {HTMLElement} place
 * @param {string | undefined} id the unit to change; none for a new unit
 * @param {string | undefined} corrected the entry to correct
 * @param {() => void} draw
 * @param {import("./define-pattern.js").Subject} [pattern] to change or correct instead of a unit
 * @returns the form; nothing where what is to be changed is not on this phone
 */
export async function defineForm(place, id, corrected, draw, pattern) {
  const read = await reading();
  const known = id ? await standing(id) : undefined;
  const replaced = corrected ? await entry(corrected) : undefined;
  const stored = pattern ? pattern.body : corrected ? isOf(replaced, "unit") && replaced.body : known?.unit;
  if (id && !stored) return undefined;
  const key = pattern ? pattern.key : corrected ? `unit/${id}/${corrected}` : id ? `unit/${id}` : "unit/new";
  const empty = () => (stored ? unitDraft(stored) : newUnit());
  const kept = await keptDraft(key);
  const draft = kept ? draftAgain(kept) : empty();
  const switching = unitSwitch(draw);
  const state = formState({
    key,
    calculation: /** @type {"unit" | "pattern"} */ (pattern ? "pattern" : "unit"),
    draft,
    empty,
    // Or every field of a new unit would be red before anything is typed.
    request: (typed, touched) => (id || pattern || touched ? unitRequest(typed) : undefined),
    draw,
  });
  state.touched = JSON.stringify(draft) !== JSON.stringify(newUnit());
  const soFar = knownSoFar(key, () => state.draft, read, draw);
  const working = workingOut(key, () => state.draft, read, draw);
  const askAll = () => Promise.all([soFar.ask(), working.judge()]);
  const { turnTo, clear } = state;
  state.turnTo = (change) => {
    turnTo(change);
    askAll();
  };
  state.clear = async () => {
    await clear();
    askAll();
  };
  const thicknessUnit = draft.chain.map((item) => item.new_mm).find((value) => unitOf(value, ""));
  const sign = await signing(draw);
  return Object.assign(state, {
    place,
    id,
    corrected,
    pattern,
    soFar,
    /** What comes of what is being worked out. */ working,
    askAll,
    /** Name of the unit that is changed. */ name: known?.unit?.name,
    units: await unitsOfFigures(read),
    /** Sections that are unfolded. @type {Set<string>} */ unfolded: new Set(),
    /** The field that has the focus. */ focused: "",
    /** Whether there was a note or a family of plates: only then they are unfolded. */
    noted: Boolean(draft.note || draft.plate_family || draft.car_id),
    /** The same for intervals of service. */ scheduled: hasIntervals(draft),
    /** The cars that the shop keeps, of which it may be fitted to one. */ cars: await cars(),
    read,
    switching,
    sign,
    /** Whose it is: one of the customers, or a name that is typed. */
    owner: await ownerChoice({ form: () => state, sign, draw }),
    quantityField: quantityFields(read, switching, draw),
    usualFeatures: await usualFeatures(),
    /** The unit that thicknesses of the stack are typed in. */
    lengthUnit: unitOf(thicknessUnit, known ? "mm" : read.lengthUnit),
    /** The part whose place, kind and keys a phone shows; a bench screen shows them all. */ open: -1,
  });
}

/**
 * Put a value at a path of the draft.
 * @param {DefineForm} form
 * @param {string} path
 * @param {import("./define-chain.js").Figure | boolean} value
 */
export function setValue(form, path, value) {
  form.put(withoutMark(withValue(form.draft, path, value), path));
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
    const inUnit = (/** @type {import("./define-chain.js").Figure} */ value) =>
      typedOf(value).trim() ? { typed: typedOf(value), unit } : "";
    restack(form, (chain) =>
      chain.map((item) => ({ ...item, new_mm: inUnit(item.new_mm), minimum_mm: inUnit(item.minimum_mm) })),
    );
  });
}

/** The same for all parts that are alike. @param {DefineForm} form @param {Part} like @param {Partial<Part>} change */
export function setAlike(form, { part, alike }, change) {
  restack(form, (chain) =>
    chain.map((item) => (item.part === part && item.alike === alike ? { ...item, ...change } : item)),
  );
}

/** A part by itself, which may be like others then or no more. @param {DefineForm} form @param {number} number */
export function setThickness(form, number, /** @type {Partial<Part>} */ change) {
  restack(form, (chain) => {
    const { part } = chain[number];
    const anew = chain.map((item, at) => ({ ...item, ...(at === number ? change : {}) }));
    return withAlike(anew.map(({ alike, ...item }) => (item.part === part ? item : { ...item, alike })));
  });
}

/**
 * @param {DefineForm} form
 * @param {(unit: string) => string} next the screen that comes then
 */
export function save(form, next = (unit) => `#/unit/${unit}`) {
  return form.answer.save(async (body, shown) => {
    form.sign.check();
    if (form.pattern) return form.pattern.save(body, shown);
    const unit = form.id ?? (await newId());
    await write({ unit, kind: "unit", body, shown, replaces: form.corrected, draft: form.key });
    return next(unit);
  });
}
