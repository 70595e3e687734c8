// @ts-check
// A torque check in a form: its state, and what can be done with it.

import { draft as keptDraft } from "../../log/drafts.js";
import { isOf } from "../../log/entries.js";
import { write } from "../../log/outbox.js";
import { isBuilt, kit, standing } from "../../log/stands.js";
import { entry, fact, remember } from "../../log/store.js";
import { buzz } from "../form/buzz.js";
import { reading, unitSwitch } from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { formState } from "../form/form-state.js";
import { lackOf } from "../form/lack.js";
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
  withMorePlaces,
  withoutReadings,
  withWhatIsKnown,
} from "./check-draft.js";

/** Where a tool that is typed here is kept. */
const NEW_TOOL = "kit/quick";

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
  const [read, found, tools, kept, replaced, sign, lastTool, toolDraft] = await Promise.all([
    reading(),
    standing(id),
    kit(),
    keptDraft(key),
    corrected ? entry(corrected) : undefined,
    signing(draw),
    fact("checkTool", ""),
    keptDraft(NEW_TOOL),
  ]);
  if (!isBuilt(found)) return undefined;
  const blank = emptyCheck(read.torqueUnit);
  const last = found.start.last ? await entry(found.start.last) : undefined;
  const usual = (/** @type {typeof tools} */ now) =>
    withWhatIsKnown(blank, now, found, isOf(last, "torque_check") ? last.body : undefined, lastTool);
  const corrects = replaced?.kind === "torque_check" ? draftOf(replaced.body, blank) : undefined;
  // Drafts of older versions have their drag in N·m, whatever is read.
  const olderUnit = kept && !("partUnit" in kept) ? { partUnit: "nm" } : {};
  /** @type {CheckDraft} */
  const draft = { ...blank, ...(kept ?? corrects ?? usual(tools)), ...olderUnit };
  // A unit with one pair of limits leaves nothing to choose.
  if (!found.limits?.[draft.against]) draft.against = found.limits?.order ? "order" : "service";
  const state = formState({
    key,
    calculation: "breakaway",
    draft,
    empty: async () => usual(await kit()),
    request: (typed) => (enough(typed) && !lackOf(found, "check") ? checkRequest(typed, found) : undefined),
    draw,
  });
  return Object.assign(state, {
    id,
    corrected,
    name: found.unit.name,
    /** Where in the car it sits. */ sits: found.sits,
    /** The unit's definition in SI. */ unit: found.derived.checked,
    /** Whether the way of holding was chosen just now. */ heldChosen: false,
    /** Pairs that it may be judged against. */ limits: found.limits,
    /** Where its spring sits. */ layout: found.built.for_check.layout,
    /** What is missing where there is nothing to judge it by. */ lack: lackOf(found, "check"),
    /** The kit. */ tools,
    read,
    sign,
    switching: unitSwitch(draw),
    /** A tool that was begun and is not in the kit yet. */ toolDraft,
  });
}

/**
 * A tool that is not in the kit yet is typed here and used at once.
 * @param {CheckForm} form
 * @param {() => void} ready what comes next once it is chosen: its fields are gone, and the focus with them
 */
export function newToolForm(form, ready) {
  return toolForm({
    key: NEW_TOOL,
    kept: form.toolDraft,
    tools: ["wrench", "scale"],
    read: form.read,
    sign: form.sign,
    signed: true,
    draw: form.draw,
    done: async (id) => {
      await reloadKit(form);
      chooseTool(form, id);
      form.draw();
      ready();
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

/**
 * Three more places each way, with the first of them ready to be typed.
 * @param {CheckForm} form @param {HTMLElement} place
 */
export function measureMore(form, place) {
  const { length } = form.draft.steady.forward;
  form.turnTo({ steady: withMorePlaces(form.draft.steady) });
  focusOn(place, `[data-row="steady forward"] input:nth-of-type(${length + 1})`);
}

/** All of it is read again; what was typed can be put back. @param {CheckForm} form @param {HTMLElement} place */
export function measureAfresh(form, place) {
  const before = form.draft;
  form.put(withoutReadings());
  form.cleared = before;
  focusOn(place, '[data-row="steady forward"] input');
}

/** Somebody says in what the readings were read. @param {CheckForm} form @param {string} unit */
export function sayUnit(form, unit) {
  const { toolKind, partUnit } = form.draft;
  form.put({ [unitField(toolKind)]: unit, partUnit: toolKind === "wrench" ? unit : partUnit, sureOfUnit: true });
}

/**
 * What is still missing before there is a verdict: in words, and where it is typed.
 * @param {CheckForm} form
 * @returns {{words: string, at: string}}
 */
export function missing({ draft, answer }) {
  if (!draft.held) return { words: "Say how it is held.", at: "input[name=held]" };
  if (!draft.tool) return { words: "Choose the tool.", at: ".tool select, .tool input" };
  if (answer.bad) return { words: "Correct the marked reading.", at: "[aria-invalid=true]" };
  return { words: "Type two readings or more; three each way are better.", at: ".readings input" };
}

/** Where saving cannot be yet, it leads to what is missing. @param {CheckForm} form @param {HTMLElement} place */
export async function save(form, place) {
  await form.answer.save(async (body, shown) => {
    form.sign.check();
    if (form.draft.toolId) await remember("checkTool", form.draft.toolId);
    const { id, corrected, key } = form;
    await write({ unit: id, kind: "torque_check", body, shown, replaces: corrected, draft: key });
    buzz();
    return `#/unit/${id}`;
  });
  if (!form.answer.result) focusOn(place, missing(form).at);
}
