// @ts-check
// An inspection of other parts in a form: its state, and what can be done with it.

import { draft as keptDraft } from "../../log/drafts.js";
import { isOf } from "../../log/entries.js";
import { write } from "../../log/outbox.js";
import { isHere, kit, standing } from "../../log/stands.js";
import { entry } from "../../log/store.js";
import { afterMeasuring } from "../form/came-from.js";
import { reading, unitSwitch } from "../form/fields.js";
import { formState } from "../form/form-state.js";
import { signing } from "../form/signing.js";
import { featuresOf, inspectDraft, inspectRequest, kindsOf } from "./inspect-draft.js";

/** @typedef {import("./inspect-draft.js").InspectDraft} InspectDraft */
/** @typedef {import("./inspect-draft.js").Kind} Kind */
/** @typedef {NonNullable<Awaited<ReturnType<typeof inspectForm>>>} InspectForm */

/**
 * @param {string} id the unit
 * @param {string | undefined} corrected the entry to correct
 * @param {() => void} draw
 * @returns the form; nothing where the unit is not on this phone
 */
export async function inspectForm(id, corrected, draw) {
  const key = corrected ? `inspect/${id}/${corrected}` : `inspect/${id}`;
  const [read, found, tools, kept, replaced, sign] = await Promise.all([
    reading(),
    standing(id),
    kit(),
    keptDraft(key),
    corrected ? entry(corrected) : undefined,
    signing(draw),
  ]);
  if (!isHere(found)) return undefined;
  const body = isOf(replaced, "inspection") ? replaced.body : undefined;
  const features = featuresOf(found.unit.features ?? [], body);
  const kinds = kindsOf(features);
  const ofKit = (/** @type {Kind} */ kind) => tools.filter(({ tool }) => tool === kind);
  const empty = () => {
    const blank = inspectDraft(features, read.lengthUnit, body);
    // An entry that is corrected keeps the gauges that it was measured with.
    const usual = kinds.flatMap((kind) => (blank.tools[kind] ? [] : ofKit(kind).slice(0, 1)));
    return { ...blank, toolIds: Object.fromEntries(usual.map(({ id, tool }) => [tool, id])) };
  };
  const blank = empty();
  /** @type {InspectDraft} */
  const draft = { ...blank, ...kept };
  // A feature that the definition got since the draft was kept.
  draft.found = { ...blank.found, ...draft.found };
  const request = (/** @type {InspectDraft} */ typed) => inspectRequest(typed, features, tools);
  const state = formState({ key, calculation: "inspection", draft, empty, request, draw });
  return Object.assign(state, {
    id,
    corrected,
    name: found.unit.name,
    features,
    kinds,
    ofKit,
    read,
    sign,
    /** Whether gauges are unfolded. */ gauges: false,
    switching: unitSwitch(draw),
  });
}

/** @param {InspectForm} form @param {string} name @param {Partial<import("./inspect-draft.js").Found>} change */
export function putFound(form, name, change) {
  const { found } = form.draft;
  form.put({ found: { ...found, [name]: { ...found[name], ...change } } });
}

/** @param {InspectForm} form @param {Kind} kind @param {string} toolId */
export function chooseGauge(form, kind, toolId) {
  form.turnTo({ toolIds: { ...form.draft.toolIds, [kind]: toolId } });
}

/** @param {InspectForm} form @param {Kind} kind @param {string} zero */
export function putZero(form, kind, zero) {
  form.put({ zeros: { ...form.draft.zeros, [kind]: zero } });
}

/** @param {InspectForm} form @param {string} chosen */
export function chooseUnit(form, chosen) {
  const { found, zeros, unit } = form.draft;
  const typed = [...Object.values(found).flatMap(({ points }) => points), ...Object.values(zeros)];
  form.switching.choose("unit", typed, unit, chosen, (to) => form.put({ unit: to }));
}

/** @param {InspectForm} form */
export function save(form) {
  return form.answer.save(async (body, shown) => {
    form.sign.check();
    const { id, corrected, key } = form;
    await write({ unit: id, kind: "inspection", body, shown, replaces: corrected, draft: key });
    return afterMeasuring(id);
  });
}
