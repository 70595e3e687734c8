// @ts-check
// What every form holds: what is typed, what was cleared last, and what the engine answers.

import { dropDraft } from "../../log/drafts.js";
import { judging } from "./judging.js";

/** @typedef {import("../../engine/door.js").Calculations} Calculations */

/**
 * @template Draft
 * @template {keyof Calculations} Name
 * @typedef {object} FormState
 * @property {string} key under which the draft is kept
 * @property {Draft} draft what is typed
 * @property {Draft} [cleared] what was just cleared, to be put back
 * @property {boolean} touched whether anything was typed or chosen since the form was empty
 * @property {() => void} draw
 * @property {import("./judging.js").Judging<Name>} answer what the engine says to it
 * @property {(change: Partial<Draft>) => void} put keeps and judges what was typed or chosen
 * @property {(change: Partial<Draft>) => void} turnTo the same where nothing is lost: a clearing can still be undone
 * @property {() => Promise<void>} clear
 * @property {() => void} putBack what was cleared
 */

/**
 * @template Draft
 * @template {keyof Calculations} Name
 * @param {object} of
 * @param {string} of.key under which the draft is kept
 * @param {Name} of.calculation that judges it
 * @param {Draft} of.draft what is typed so far
 * @param {(draft: Draft) => Draft | Promise<Draft>} of.empty what is left of a draft when the form is cleared
 * @param {(draft: Draft, touched: boolean) =>
 *   import("../../engine/calculations.js").AsTyped<Calculations[Name]["request"]> | undefined} of.request
 *   nothing while there is too little to judge
 * @param {() => void} of.draw
 * @returns {FormState<Draft, Name>}
 */
export function formState({ key, calculation, draft, empty, request, draw }) {
  /** @type {FormState<Draft, Name>} */
  const form = {
    key,
    draft,
    cleared: undefined,
    touched: false,
    draw,
    answer: judging({
      key,
      calculation,
      request: () => request(form.draft, form.touched),
      draft: () => form.draft,
      draw,
    }),

    put(change) {
      form.cleared = undefined;
      form.turnTo(change);
    },

    turnTo(change) {
      form.draft = { ...form.draft, ...change };
      form.touched = true;
      form.answer.changed();
    },

    async clear() {
      form.cleared = form.draft;
      form.draft = await empty(form.draft);
      form.touched = false;
      await dropDraft(key);
      form.answer.judge();
    },

    putBack() {
      if (form.cleared) form.put(form.cleared);
    },
  };
  const { save } = form.answer;
  // Whoever saves means what stands there: what is missing is asked for.
  form.answer.save = (written) => {
    form.touched = true;
    return save(written);
  };
  return form;
}
