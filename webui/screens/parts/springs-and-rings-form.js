// @ts-check
// Measured springs or ramp rings in a form: its state, and what can be done with it.

import { draft as keptDraft } from "../../log/drafts.js";
import { isOf } from "../../log/entries.js";
import { write } from "../../log/outbox.js";
import { isBuilt, standing } from "../../log/stands.js";
import { entry } from "../../log/store.js";
import { afterMeasuring } from "../form/came-from.js";
import { reading, unitSwitch } from "../form/fields.js";
import { formState } from "../form/form-state.js";
import { lackOf } from "../form/lack.js";
import { signing } from "../form/signing.js";
import { MEASURED, measured, partsDraft, partsRequest } from "./springs-and-rings-draft.js";

/** @typedef {import("./springs-and-rings-draft.js").What} What */
/** @typedef {import("./springs-and-rings-draft.js").PartsDraft} PartsDraft */
/** @typedef {NonNullable<Awaited<ReturnType<typeof partsForm>>>} PartsForm */

/** @type {Record<What, string[]>} */
const USUAL_SLOTS = { springs: ["S1"], rings: ["R1", "R2"] };

/**
 * @param {string} id the unit
 * @param {What} what
 * @param {string | undefined} corrected the entry to correct
 * @param {() => void} draw
 * @returns the form; nothing where the unit is not on this phone
 */
export async function partsForm(id, what, corrected, draw) {
  const key = corrected ? `${what}/${id}/${corrected}` : `${what}/${id}`;
  const [read, found, kept, replaced, sign] = await Promise.all([
    reading(),
    standing(id),
    keptDraft(key),
    corrected ? entry(corrected) : undefined,
    signing(draw),
  ]);
  if (!isBuilt(found)) return undefined;
  const { chain, spring } = found.derived.checked;
  const { part, kind } = MEASURED[what];
  const inStack = (chain ?? []).filter((item) => item.part === part).map((item) => item.slot);
  // Without a stack a part has the name that most stacks give it.
  const slots = inStack.length ? inStack : USUAL_SLOTS[what];
  const body = isOf(replaced, kind) ? replaced.body : undefined;
  const empty = () => partsDraft(slots, read.lengthUnit, body);
  /** @type {PartsDraft} */
  const draft = { ...empty(), ...kept };
  const request = (/** @type {PartsDraft} */ typed) => partsRequest(typed, what, slots, spring);
  const state = formState({ key, calculation: kind, draft, empty, request, draw });
  return Object.assign(state, {
    id,
    what,
    corrected,
    name: found.unit.name,
    lack: what === "springs" ? lackOf(found, "spring") : undefined,
    slots,
    read,
    sign,
    switching: unitSwitch(draw),
  });
}

/** Parts that can be judged, in the order in which they are sent. @param {PartsForm} form */
export const sentParts = (form) => measured(form.draft, form.what, form.slots);

/**
 * @param {PartsForm} form
 * @param {string} slot
 * @param {Partial<import("./springs-and-rings-draft.js").TypedPart>} change
 */
export function putPart(form, slot, change) {
  const { typed } = form.draft;
  form.put({ typed: { ...typed, [slot]: { ...typed[slot], ...change } } });
}

/** @param {PartsForm} form @param {string} chosen */
export function chooseUnit(form, chosen) {
  const typed = Object.values(form.draft.typed).flatMap(({ points }) => points);
  form.switching.choose("unit", typed, form.draft.unit, chosen, (unit) => form.put({ unit }));
}

/** @param {PartsForm} form */
export function save(form) {
  return form.answer.save(async (body, shown) => {
    form.sign.check();
    const { id, what, corrected, key } = form;
    await write({ unit: id, kind: MEASURED[what].kind, body, shown, replaces: corrected, draft: key });
    return afterMeasuring(id);
  });
}
