// @ts-check
// A form that is judged while it is typed: keeps its draft, asks the engine at every change, and never answers late.

import { BadInput, judge, warm } from "../../engine/door.js";
import { DEVICE } from "../../log/device.js";
import { keepDraft } from "../../log/drafts.js";
import { reasonOf } from "../../log/storage-fault.js";
import { nextFrame } from "../frame/turns.js";
import { stillHere } from "./still-here.js";

/** @typedef {import("../../engine/door.js").Calculations} Calculations */

/**
 * @template {keyof Calculations} Name
 * @typedef {ReturnType<typeof judging<Name>>} Judging
 */

/**
 * Keeps a draft, and says so where the phone cannot.
 * @param {string} key of the draft
 * @param {() => unknown} draft what to keep
 * @param {() => void} draw
 */
function keeping(key, draft, draw) {
  const keeper = {
    /** Why the draft is not kept; empty where it is. */
    fault: "",

    keep() {
      keepDraft(key, draft()).then(
        () => {
          keeper.fault = "";
        },
        () => {
          keeper.fault = `This ${DEVICE} cannot store what you type: free some space before you go on.`;
          draw();
        },
      );
    },
  };
  return keeper;
}

/**
 * @template {keyof Calculations} Name
 * @param {object} form
 * @param {string} form.key of the draft
 * @param {Name} form.calculation
 * @param {() => import("../../engine/calculations.js").AsTyped<Calculations[Name]["request"]> | undefined} form.request
 *   the request as it stands; nothing while there is too little to judge
 * @param {() => unknown} form.draft what to keep
 * @param {() => void} form.draw
 */
export function judging({ key, calculation, request, draft, draw }) {
  // The form is drawn first: on a phone with few processors the engine's start would hold it up.
  nextFrame().then(() => warm(calculation));
  let turn = 0;
  let saving = false;
  // What was saved led to another screen: until that is there, this one takes no more taps.
  let left = false;
  // Two things can go wrong apart from what was typed, and one must not hide the other.
  const keeper = keeping(key, draft, draw);
  let fault = "";
  const state = {
    /** @type {Calculations[Name]["result"] | undefined} */ result: undefined,
    /** The request that `result` answers. @type {Calculations[Name]["request"] | undefined} */ judged: undefined,
    /** @type {BadInput | undefined} */ bad: undefined,

    /** Whether an answer is still to come. */
    asking: false,

    /** Keep the draft, where what changed is not for the engine to judge. */
    keep: () => keeper.keep(),

    /** Whether there is an answer, or one is on its way: a key that saves waits for it. */
    get ready() {
      return Boolean(state.result) || state.asking;
    },

    /** What went wrong apart from what was typed; empty where nothing did. */
    get failed() {
      return fault || keeper.fault;
    },

    /**
     * Something was typed: judge it, keep it, draw it. The engine is asked first, since its worker can think
     * meanwhile.
     */
    changed() {
      state.judge();
      if (state.asking) draw();
      keeper.keep();
    },

    async judge() {
      const typed = request();
      const thisTurn = ++turn;
      if (!typed) {
        state.asking = false;
        state.result = state.judged = state.bad = undefined;
        return draw();
      }
      state.asking = true;
      try {
        const { request: judged, result } = await judge(calculation, typed);
        if (thisTurn !== turn) return;
        [state.result, state.judged, state.bad, fault] = [result, judged, undefined, ""];
      } catch (error) {
        if (thisTurn !== turn) return;
        state.result = state.judged = undefined;
        if (error instanceof BadInput) [state.bad, fault] = [error, ""];
        else [state.bad, fault] = [undefined, String(error)];
      }
      state.asking = false;
      draw();
    },

    /**
     * Save, once however often it is tapped; what was typed last is judged first, and what is typed meanwhile too.
     * @param {(
     *   body: Calculations[Name]["request"], shown: Calculations[Name]["result"],
     * ) => Promise<string | void>} save says which screen comes then; whoever went on to another is left there
     * @returns {Promise<boolean>} whether there was something to save
     */
    async save(save) {
      if (saving || left) return true;
      saving = true;
      const isStill = stillHere();
      try {
        do await state.judge();
        while (state.asking);
        if (!state.judged || !state.result) return Boolean(fault);
        const next = await save(state.judged, state.result);
        if (next && isStill()) location.hash = next;
        left = !isStill();
      } catch (error) {
        if (error instanceof BadInput) return true;
        fault = `This could not be saved, and what you typed is kept: ${reasonOf(error)}`;
        draw();
      } finally {
        saving = false;
      }
      return true;
    },

    /** The engine's sentence for a field, if it is the one at fault. @param {string} field */
    error(field) {
      return state.bad?.field === field ? state.bad.reason : undefined;
    },
  };
  return state;
}
