// @ts-check
// What is typed to work a figure out, the question that comes of it, and the marks that a definition keeps.

import { typedOf } from "../form/fields.js";
import { judging } from "../form/judging.js";
import { unitRequest } from "./define-draft.js";
import { WAYS } from "./work-out-ways.js";

/** @typedef {import("./define-draft.js").UnitDraft} UnitDraft */
/** @typedef {import("./define-chain.js").Figure} Figure */
/** @typedef {import("../../engine/calculations.js").WorkOutRequest} WorkOutRequest */
/** @typedef {import("../../engine/calculations.js").AsTyped<WorkOutRequest>} Asked */

/** The mark of each figure in the definition, by the figure's path. @type {Record<string, string>} */
export const MARKS = { cavity_mm: "cavity_mm", "spring.l0_mm": "l0_mm", "friction.mu": "mu" };

/** The way that is open, if any. @param {UnitDraft} draft */
const wayOf = ({ working: { from } }) =>
  Object.values(WAYS)
    .flat()
    .find(({ name }) => name === from);

/** Whether anything was typed in a field. @param {Figure} value */
const isTyped = (value) => Boolean(typedOf(value).trim());

/**
 * What is asked; nothing while no way is open, or nothing typed of it.
 * @param {UnitDraft} draft
 * @param {import("../form/fields.js").Reading} read
 * @param {import("./work-out-log.js").FromLog[]} inLog what the log says of the unit
 * @returns {Asked | undefined}
 */
function workingOf(draft, read, inLog) {
  const way = wayOf(draft);
  const typed = (way?.fields ?? []).filter(({ path }) => isTyped(draft.working.typed[path]));
  if (!way || !typed.length) return undefined;
  /** @type {Record<string, Record<string, Figure>>} */
  const groups = {};
  for (const { path } of typed) {
    const [group, field] = path.split(".");
    groups[group] = { ...groups[group], [field]: draft.working.typed[path] };
  }
  const unit = unitRequest(draft);
  const written = { write_in: read.torqueUnit, write_lengths_in: read.lengthUnit };
  const question = inLog.find(({ from }) => from === draft.working.fromLog && from === way.name)?.request;
  // What the log says holds for the plates as they were then.
  if (question?.built) {
    const built = { ...question.built, unit: { ...unit, chain: question.built.unit.chain } };
    return /** @type {Asked} */ ({ ...question, ...groups, built, ...written });
  }
  const { l0_mm: _unknown, ...sizes } = unit.spring ?? {};
  const about = way.name === "height_from_load" ? { spring: sizes } : { unit };
  return /** @type {Asked} */ ({ from: way.name, ...about, ...groups, ...written });
}

/**
 * What is worked out of what is typed, asked anew at every change of the form.
 * @param {string} key @param {() => UnitDraft} draft @param {import("../form/fields.js").Reading} read
 * @param {() => void} draw
 */
export function workingOut(key, draft, read, draw) {
  /** @returns {Asked | undefined} */
  const request = () => workingOf(draft(), read, working.inLog);
  const working = Object.assign(judging({ key, calculation: "work_out", request, draft, draw }), {
    /** What the log says of the unit, once somebody asked. @type {import("./work-out-log.js").FromLog[]} */ inLog: [],
  });
  return working;
}

/** A figure that somebody typed is measured: its mark goes. @param {UnitDraft} draft @param {string} path */
export function withoutMark(draft, path) {
  const { [MARKS[path] ?? ""]: _gone, ...marks } = draft.worked_out;
  return { ...draft, worked_out: marks };
}
