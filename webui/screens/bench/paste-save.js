// @ts-check
// Pasted rows are written into the log; and a table that is pasted anywhere on the shelf's or the kit's screen.

import { BadInput } from "../../engine/door.js";
import { dropDraft, keepDraft } from "../../log/drafts.js";
import { reasonOf } from "../../log/storage-fault.js";
import { focusOn } from "../form/focus.js";
import { change } from "./paste-form.js";

/** @typedef {import("./paste-form.js").State} State */

/** @param {State} state */
export async function saveRows(state) {
  const { kind, draft, rows, sign } = state;
  if (state.busy) return;
  let progress = "";
  try {
    sign.check();
    state.busy = "Saving…";
    state.fault = "";
    state.redraw();
    const sentence = await kind.save(rows, draft.mode, (done, all) => {
      state.busy = `Saving ${done} of ${all}…`;
      progress = done ? `${done} of ${all} are saved. ` : "";
      state.redraw();
    });
    await dropDraft(kind.key);
    state.draft = {
      ...draft,
      text: "",
      read: false,
      heads: undefined,
      columns: undefined,
      units: {},
      mended: {},
      left: [],
    };
    state.rows = [];
    state.done = sentence;
  } catch (error) {
    // What was written before it broke off is there now.
    if (progress || (error instanceof BadInput && !error.field)) change(state, {});
    if (!(error instanceof BadInput)) state.fault = `${progress}This could not be saved: ${reasonOf(error)}`;
    else if (error.field !== "who") state.fault = error.reason;
  }
  state.busy = "";
  state.redraw();
  if (state.done) focusOn(state.place, "[role=status] a");
}

/**
 * A table that is pasted onto a screen is shown as one; anything else goes where the caret is.
 * @param {"shelf" | "kit"} where
 * @returns {() => void} ends it
 */
export function watchPaste(where) {
  /** @param {ClipboardEvent} event */
  const onPaste = async (event) => {
    const text = event.clipboardData?.getData("text/plain") ?? "";
    // A spreadsheet copies a cell with a line's end behind it.
    if (!/[\t\n]/.test(text.trimEnd())) return;
    if (event.target instanceof HTMLTextAreaElement) return;
    event.preventDefault();
    await keepDraft(`${where}/paste`, { text, read: true });
    location.hash = `#/${where}/paste`;
  };
  document.addEventListener("paste", onPaste);
  return () => document.removeEventListener("paste", onPaste);
}
