// @ts-check
// A form that is judged while it is typed: keeps its draft, asks the engine at every change, and never answers late.

import { BadInput, calc } from "../../engine/door.js";
import { keepDraft } from "../../log/drafts.js";

/** @typedef {ReturnType<typeof judging>} Judging */

/**
 * @param {object} form
 * @param {string} form.key of the draft
 * @param {string} form.calculation
 * @param {() => any} form.request the request as it stands; nothing while there is too little to judge
 * @param {() => any} form.draft what to keep
 * @param {() => void} form.draw
 */
export function judging({ key, calculation, request, draft, draw }) {
  let turn = 0;
  let saving = false;
  // Two things can go wrong apart from what was typed, and one must not paper over the other.
  let unkept = "";
  let fault = "";
  const state = {
    /** @type {any} */ result: undefined,
    /** The request that `result` answers. @type {any} */ judged: undefined,
    /** @type {BadInput | undefined} */ bad: undefined,

    /** Whether an answer is still to come. */
    asking: false,

    /** What went wrong apart from what was typed; empty where nothing did. */
    get failed() {
      return fault || unkept;
    },

    /**
     * Something was typed: judge it, keep it, draw it. The engine is asked first, since its worker can think
     * meanwhile.
     */
    changed() {
      state.judge();
      if (state.asking) draw();
      keepDraft(key, draft()).then(
        () => {
          unkept = "";
        },
        () => {
          unkept = "This phone cannot store what you type: free some space before you go on.";
          draw();
        },
      );
    },

    async judge() {
      const asked = request();
      const mine = ++turn;
      if (!asked) {
        state.asking = false;
        state.result = state.judged = state.bad = undefined;
        return draw();
      }
      state.asking = true;
      try {
        const result = await calc(calculation, asked);
        if (mine !== turn) return;
        [state.result, state.judged, state.bad, fault] = [result, asked, undefined, ""];
      } catch (error) {
        if (mine !== turn) return;
        state.result = state.judged = undefined;
        if (error instanceof BadInput) [state.bad, fault] = [error, ""];
        else [state.bad, fault] = [undefined, String(error)];
      }
      state.asking = false;
      draw();
    },

    /**
     * Save, once however often it is tapped; what was typed last is judged first.
     * @param {(body: any, shown: any) => Promise<void>} save
     */
    async save(save) {
      if (saving) return;
      saving = true;
      try {
        await state.judge();
        if (state.result) await save(state.judged, state.result);
      } catch (error) {
        if (error instanceof BadInput) return;
        fault = `This could not be saved, and what you typed is kept: ${/** @type {Error} */ (error).message}`;
        draw();
      } finally {
        saving = false;
      }
    },

    /** The engine's sentence for a field, if it is the one at fault. @param {string} field */
    error(field) {
      return state.bad?.field === field ? state.bad.reason : undefined;
    },
  };
  return state;
}
