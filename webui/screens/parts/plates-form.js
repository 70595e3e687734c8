// @ts-check
// Measured plates in a form: its state, and what can be done with it.

import { calc } from "../../engine/door.js";
import { draft as keptDraft } from "../../log/drafts.js";
import { isOf } from "../../log/entries.js";
import { write } from "../../log/outbox.js";
import { isBuilt, kit, standing } from "../../log/stands.js";
import { entry, fact, remember } from "../../log/store.js";
import { buzz } from "../form/buzz.js";
import { afterMeasuring } from "../form/came-from.js";
import { reading, unitSwitch } from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { formState } from "../form/form-state.js";
import { lackOf } from "../form/lack.js";
import { signing } from "../form/signing.js";
import {
  countOf,
  isWhole,
  measured,
  placeOfAsked,
  platesAgain,
  platesRequest,
  typedPlate,
  unitAgain,
  whichPlate,
} from "./plates-draft.js";

/** @typedef {import("./plates-draft.js").PlatesDraft} PlatesDraft */
/** @typedef {import("./plates-draft.js").Part} Part */
/** @typedef {import("./plates-draft.js").TypedPlate} TypedPlate */
/** @typedef {NonNullable<Awaited<ReturnType<typeof platesForm>>>} PlatesForm */
/** @typedef {import("../../engine/calculations.js").WhichPlateResult["asked"][number]} Asked */
/** A question about a figure, with its place among its plate's points. @typedef {Asked & {place: number}} Question */

/**
 * @param {HTMLElement} place
 * @param {string} id the unit
 * @param {string | undefined} corrected the entry to correct
 * @param {() => void} draw
 * @returns the form; nothing where the unit is not on this phone
 */
export async function platesForm(place, id, corrected, draw) {
  const key = corrected ? `plates/${id}/${corrected}` : `plates/${id}`;
  const [read, found, tools, usualTool, kept, replaced, sign] = await Promise.all([
    reading(),
    standing(id),
    kit(),
    fact("micrometer", ""),
    keptDraft(key),
    corrected ? entry(corrected) : undefined,
    signing(draw),
  ]);
  if (!isBuilt(found)) return undefined;
  const unit = found.derived.checked;
  const plates = found.built.places.filter(({ part }) => part !== "ring");
  const micrometers = tools.filter(({ tool }) => tool === "micrometer");
  const body = isOf(replaced, "plate_check") ? replaced.body : undefined;
  /** @type {PlatesDraft} */
  const empty = {
    toolId: micrometers.find((tool) => tool.id === usualTool)?.id ?? micrometers[0]?.id ?? "",
    tool: body?.micrometer,
    lengthUnit: body ? unitAgain(body) : read.lengthUnit,
    chosen: plates[0]?.slot ?? "",
    plates: body ? platesAgain(body) : {},
  };
  /** @type {PlatesDraft} */
  const draft = { ...empty, ...kept };
  const micrometer = (/** @type {PlatesDraft} */ { toolId, tool }) =>
    micrometers.find((known) => known.id === toolId)?.body.micrometer ?? tool ?? {};
  const state = formState({
    key,
    calculation: "plates",
    draft,
    empty: (typed) => ({ ...typed, plates: {} }),
    request: (typed) => platesRequest(typed, { plates, limits: unit.limits, micrometer: micrometer(typed) }),
    draw,
  });
  const switching = unitSwitch(draw);
  return Object.assign(state, {
    place,
    id,
    corrected,
    name: found.unit.name,
    unit,
    lack: lackOf(found, "stack"),
    plates,
    /** What was measured of each plate last, by its place. */ lasts: found.by_slot,
    /** What became of plates since. @type {Record<string, import("./since-last.js").Change>} */ changes: {},
    /** The answer for which that was asked. @type {unknown} */ lookedBack: undefined,
    micrometers,
    read,
    sign,
    switching,
    /** The figure that is being typed. @type {import("./plates-draft.js").InHand | undefined} */ inHand: undefined,
    /** Figures that may be another plate's. @type {Question[]} */ questions: [],
    /** The plate that was typed before the chosen one. */ before: "",
  });
}

/** Plates that can be judged, in the order in which they are sent. @param {PlatesForm} form */
export const sentPlates = (form) => measured(form.draft, form.plates);

/** The plate that is typed now. @param {PlatesForm} form @returns {Part} */
export const chosenOf = ({ draft, plates }) => plates.find(({ slot }) => slot === draft.chosen) ?? plates[0];

/**
 * Change what is typed of a plate.
 * @param {PlatesForm} form @param {string} slot @param {Partial<TypedPlate>} change
 */
export function putAt(form, slot, change) {
  form.put({ plates: { ...form.draft.plates, [slot]: { ...typedPlate(form.draft, slot), ...change } } });
}

/** Change what is typed of the chosen plate. @param {PlatesForm} form @param {Partial<TypedPlate>} change */
export const putPlate = (form, change) => putAt(form, chosenOf(form).slot, change);

/** A point of a plate was typed. @param {PlatesForm} form @param {string} slot @param {string[]} points */
export function putPoints(form, slot, points) {
  const before = typedPlate(form.draft, slot).points;
  const place = points.findIndex((point, at) => point !== before[at]);
  form.inHand = { slot, place };
  // What is typed anew is asked about once it stands there.
  form.questions = form.questions.filter((row) => row.slot !== slot || row.place !== place);
  putAt(form, slot, { points });
}

/** One figure for all round, or point by point, for this plate and those that come. @param {PlatesForm} form */
export function turnSame(form) {
  const { slot } = chosenOf(form);
  const same = !typedPlate(form.draft, slot).same;
  form.turnTo({ same });
  putPlate(form, { same });
  askWhichPlate(form);
}

let turn = 0;

/** Ask the engine whether figures belong to another plate. @param {PlatesForm} form */
export async function askWhichPlate(form) {
  const thisTurn = ++turn;
  const { draft, plates, inHand } = form;
  const request = /** @type {import("../../engine/door.js").RequestOf<"which_plate">} */ (
    whichPlate(draft, plates, inHand)
  );
  // A figure that cannot be read is refused by the verdict, at its place.
  const { asked } = await calc("which_plate", request).catch(() => ({ asked: [] }));
  if (thisTurn !== turn) return;
  form.questions = asked.map((found) => ({ ...found, place: placeOfAsked(draft, inHand, found) }));
  form.draw();
}

/** The figure in hand is finished. @param {PlatesForm} form */
export function letGo(form) {
  if (!form.inHand) return;
  form.inHand = undefined;
  askWhichPlate(form);
}

/** Strange figures are this plate's own. @param {PlatesForm} form @param {Question} question */
export function sayIsOwn(form, { slot }) {
  putAt(form, slot, { sure: true });
  askWhichPlate(form);
}

/** The plate whose figures these are, if it has none yet. @param {PlatesForm} form @param {Question} question */
export const ownerOf = (form, question) => question.fits_whole.find((slot) => !countOf(form.draft, slot));

/** What was typed belongs to another plate. @param {PlatesForm} form @param {string} from @param {string} to */
export function moveTo(form, from, to) {
  const { plates } = form.draft;
  const { [from]: moved, ...others } = plates;
  form.put({ plates: { ...others, [to]: moved } });
  if (form.draft.chosen === from) choosePlate(form, to);
  askWhichPlate(form);
}

/** A figure that was asked about is measured again. @param {PlatesForm} form @param {Question} question */
export function measureAgain(form, { slot, place }) {
  const points = typedPlate(form.draft, slot).points.map((point, at) => (at === place ? "" : point));
  putAt(form, slot, { points });
  choosePlate(form, slot);
  askWhichPlate(form);
}

/** One more place to be measured. @param {PlatesForm} form */
export function measureMore(form) {
  const { points } = typedPlate(form.draft, chosenOf(form).slot);
  putPlate(form, { points: [...points, ""] });
  focusOn(form.place, `.in-hand .readings input:nth-of-type(${points.length + 1})`);
}

/** A plate is in hand from now on. @param {PlatesForm} form @param {string} slot */
export function takeInHand(form, slot) {
  if (form.draft.chosen !== slot) form.before = form.draft.chosen;
  form.turnTo({ chosen: slot });
}

/** Take a plate in hand and type its points. @param {PlatesForm} form @param {string} slot */
export function choosePlate(form, slot) {
  takeInHand(form, slot);
  form.place.querySelector(".plate-head, tr.in-hand")?.scrollIntoView({ block: "nearest" });
  beginTyping(form.place);
}

/**
 * Where the points of the plate in hand are typed: in the head of a phone's form, in its row at the bench.
 * @param {HTMLElement} place
 */
export const pointFields = (place) =>
  /** @type {HTMLInputElement[]} */ ([...place.querySelectorAll(".in-hand .readings input")]);

/** The first point that is still empty takes what is typed. @param {HTMLElement} place */
export function beginTyping(place) {
  const points = pointFields(place);
  const field = points.find(({ value }) => !value.trim()) ?? points[0];
  field?.focus({ preventScroll: true });
  field?.select();
}

/** The next plate that is not measured yet, from the chosen one on and round. @param {PlatesForm} form */
export function nextPlate(form) {
  const { plates, draft } = form;
  const place = plates.indexOf(chosenOf(form));
  return [...plates.slice(place + 1), ...plates.slice(0, place)].find(({ slot }) => !isWhole(draft, slot));
}

/**
 * Enter in a point goes on: to the next point, the next plate, at last to the key that saves.
 * @param {PlatesForm} form
 * @param {KeyboardEvent} event
 */
export function goOn(form, event) {
  const field = event.target;
  if (event.key !== "Enter" || event.isComposing || !(field instanceof HTMLInputElement)) return;
  event.preventDefault();
  letGo(form);
  const fields = pointFields(form.place);
  const next = fields[fields.indexOf(field) + 1];
  if (next && field.value.trim()) {
    next.focus();
    next.select();
    return;
  }
  const { plates } = form;
  const onward = nextPlate(form);
  // Whoever leaves a field empty passes this plate by, and after the last one is done.
  const wanted = field.value.trim() || (onward && plates.indexOf(onward) > plates.indexOf(chosenOf(form)));
  if (onward && wanted) choosePlate(form, onward.slot);
  else focusOn(form.place, form.sign.known ? "none" : '[data-field="who"]', ".verdict-bar button.main");
}

/** @param {PlatesForm} form @param {string} chosen */
export function chooseUnit(form, chosen) {
  const typed = Object.values(form.draft.plates).flatMap(({ points, gap }) => [...points, gap]);
  form.switching.choose("lengthUnit", typed, form.draft.lengthUnit, chosen, (lengthUnit) =>
    form.turnTo({ lengthUnit }),
  );
}

/** Where saving cannot be yet, it leads to what is missing. @param {PlatesForm} form */
export async function save(form) {
  await form.answer.save(async (body, shown) => {
    form.sign.check();
    await remember("micrometer", form.draft.toolId);
    const { id, corrected, key } = form;
    await write({ unit: id, kind: "plate_check", body, shown, replaces: corrected, draft: key });
    buzz();
    return afterMeasuring(id);
  });
  if (!form.answer.result) focusOn(form.place, ".in-hand [aria-invalid=true]", ".in-hand .readings input");
}
