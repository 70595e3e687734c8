// @ts-check
// A torque check in a form: its state, and what can be done with it.

import { draft as keptDraft } from "../../log/drafts.js";
import { write } from "../../log/outbox.js";
import { isBuilt, kit, standing } from "../../log/stands.js";
import { entry, fact, remember } from "../../log/store.js";
import { reading, unitSwitch } from "../form/fields.js";
import { formState } from "../form/form-state.js";
import { signing } from "../form/signing.js";
import { toolForm } from "../form/tool.js";
import {
  checkRequest,
  draftOf,
  emptyCheck,
  enough,
  kindOf,
  readingsOf,
  scaleUnit,
  unitField,
  withUsualTool,
} from "./check-draft.js";

/** @typedef {import("./check-draft.js").CheckDraft} CheckDraft */
/** @typedef {NonNullable<Awaited<ReturnType<typeof checkForm>>>} CheckForm */

/**
 * @param {string} id the unit that is checked
 * @param {string | undefined} corrected the entry to correct
 * @param {() => void} draw
 * @returns the form; nothing where the unit is not on this phone
 */
export async function checkForm(id, corrected, draw) {
  const key = corrected ? `check/${id}/${corrected}` : `check/${id}`;
  // All at once: a phone takes its time over each.
  const [read, found, tools, kept, replaced, sign] = await Promise.all([
    reading(),
    standing(id),
    kit(),
    keptDraft(key),
    corrected ? entry(corrected) : undefined,
    signing(draw),
  ]);
  if (!isBuilt(found)) return undefined;
  const blank = emptyCheck(read.torqueUnit);
  const lastTool = () => fact("checkTool", "");
  const corrects = replaced?.kind === "torque_check" ? draftOf(replaced.body, blank) : undefined;
  // Drafts of older versions have their drag in N·m, whatever is read.
  const olderUnit = kept && !("partUnit" in kept) ? { partUnit: "nm" } : {};
  /** @type {CheckDraft} */
  const draft = { ...blank, ...(kept ?? corrects ?? withUsualTool(blank, tools, await lastTool())), ...olderUnit };
  const state = formState({
    key,
    calculation: "breakaway",
    draft,
    empty: async () => withUsualTool(blank, await kit(), await lastTool()),
    request: (typed) => (enough(typed) ? checkRequest(typed, found) : undefined),
    draw,
  });
  return Object.assign(state, {
    id,
    corrected,
    name: found.unit.name,
    /** The unit's definition in SI. */ unit: found.derived.checked,
    /** The kit. */ tools,
    read,
    sign,
    switching: unitSwitch(draw),
  });
}

/** A tool that is not in the kit yet is typed here and used at once. @param {CheckForm} form */
export function newToolForm(form) {
  return toolForm({
    key: "kit/quick",
    tools: ["wrench", "scale"],
    read: form.read,
    sign: form.sign,
    signed: true,
    draw: form.draw,
    done: async (id) => {
      await reloadKit(form);
      chooseTool(form, id);
    },
  });
}

/** @param {CheckForm} form */
export async function reloadKit(form) {
  form.tools = await kit();
}

/**
 * A scale reads what no wrench does: readings that are typed are asked about before they change their kind.
 * @param {CheckForm} form
 * @param {string} toolId of the kit; empty for none
 */
export function chooseTool(form, toolId) {
  const tool = form.tools.find(({ id }) => id === toolId);
  const kind = kindOf(tool);
  const figures = tool?.body[kind];
  const { [unitField(form.draft.toolKind)]: unitBefore, [unitField(kind)]: unitAfter } = form.draft;
  form.switching.choose("tool", readingsOf(form.draft), unitBefore, unitAfter, () => {
    form.put({ toolId, tool: figures ?? null, toolKind: kind });
    // Its own scale is read; figures that are typed already are asked about.
    const unit = scaleUnit(figures)[unitField(kind)];
    if (unit) chooseUnit(form, unit);
  });
}

/** Another unit for the readings. @param {CheckForm} form @param {string} chosen */
export function chooseUnit(form, chosen) {
  const { draft } = form;
  const field = unitField(draft.toolKind);
  const parts = (/** @type {string} */ unit) => (field === "torqueUnit" ? { partUnit: unit } : {});
  form.switching.choose("unit", readingsOf(draft), draft[field], chosen, (unit) =>
    form.put({ [field]: unit, ...parts(unit) }),
  );
}

/** @param {CheckForm} form */
export function save(form) {
  return form.answer.save(async (body, shown) => {
    form.sign.check();
    if (form.draft.toolId) await remember("checkTool", form.draft.toolId);
    const { id, corrected, key } = form;
    await write({ unit: id, kind: "torque_check", body, shown, replaces: corrected, draft: key });
    location.hash = `#/unit/${id}`;
  });
}
