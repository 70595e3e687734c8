// @ts-check
// Measured plates in a form: its state, and what can be done with it.

import { draft as keptDraft } from "../../log/drafts.js";
import { isOf } from "../../log/entries.js";
import { write } from "../../log/outbox.js";
import { isBuilt, kit, standing } from "../../log/stands.js";
import { entry, fact, remember } from "../../log/store.js";
import { reading, unitSwitch } from "../form/fields.js";
import { formState } from "../form/form-state.js";
import { signing } from "../form/signing.js";
import { measured, platesAgain, platesRequest, typedPlate, unitAgain } from "./plates-draft.js";

/** @typedef {import("./plates-draft.js").PlatesDraft} PlatesDraft */
/** @typedef {import("./plates-draft.js").Part} Part */
/** @typedef {import("./plates-draft.js").TypedPlate} TypedPlate */
/** @typedef {NonNullable<Awaited<ReturnType<typeof platesForm>>>} PlatesForm */

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
    chosen: plates[0].slot,
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
    plates,
    micrometers,
    read,
    sign,
    switching,
  });
}

/** Plates that can be judged, in the order in which they are sent. @param {PlatesForm} form */
export const sentPlates = (form) => measured(form.draft, form.plates);

/** Change what is typed of the chosen plate. @param {PlatesForm} form @param {Partial<TypedPlate>} change */
export function putPlate(form, change) {
  const { chosen, plates } = form.draft;
  form.put({ plates: { ...plates, [chosen]: { ...typedPlate(form.draft, chosen), ...change } } });
}

/** @param {PlatesForm} form @param {string} slot */
export function choosePlate(form, slot) {
  form.turnTo({ chosen: slot });
  const { place } = form;
  place.querySelector("#points")?.scrollIntoView({ block: "nearest" });
  /** @type {HTMLInputElement | null} */ (place.querySelector("#points input"))?.focus({ preventScroll: true });
}

/** @param {PlatesForm} form @param {string} chosen */
export function chooseUnit(form, chosen) {
  const typed = Object.values(form.draft.plates).flatMap(({ points, gap }) => [...points, gap]);
  form.switching.choose("lengthUnit", typed, form.draft.lengthUnit, chosen, (lengthUnit) =>
    form.turnTo({ lengthUnit }),
  );
}

/** @param {PlatesForm} form */
export function save(form) {
  return form.answer.save(async (body, shown) => {
    form.sign.check();
    await remember("micrometer", form.draft.toolId);
    const { id, corrected, key } = form;
    await write({ unit: id, kind: "plate_check", body, shown, replaces: corrected, draft: key });
    location.hash = `#/unit/${id}`;
  });
}
