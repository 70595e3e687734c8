// @ts-check
// What was saved just now: that it is safe on this phone, what still waits for the workshop, and a key to undo it.

import { icon } from "../../draw/icons.js";
import { isSamples } from "../../log/book.js";
import { DEVICE } from "../../log/device.js";
import { lastSaved, settle, undo } from "../../log/outbox.js";
import { outbox } from "../../log/store.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { errorLine } from "../form/fields.js";

/**
 * @param {string} unit
 * @param {Record<string, import("../../log/kinds.js").Kind>} kinds of entries
 * @param {() => void} draw
 * @param {() => Promise<void>} [putBack] forms on this screen read their drafts anew: what was undone is back in one
 */
export function receipt(unit, kinds, draw, putBack) {
  /** Kind of what was undone just now. */
  let undone = "";
  let typed = false;
  let fault = "";
  let waiting = 0;

  /** @param {NonNullable<ReturnType<typeof lastSaved>>} saved */
  const takeBack = async (saved) => {
    const meaning = kinds[saved.kind]?.meaning ?? saved.kind;
    try {
      await undo(saved, `Undone: ${meaning}, saved by mistake.`);
      [undone, typed, fault] = [saved.kind, Boolean(saved.draft), ""];
      await putBack?.();
    } catch (failure) {
      fault = `This could not be undone: ${/** @type {Error} */ (failure).message}`;
    }
    draw();
  };

  const home = () => {
    if (isSamples) return `Saved in the sample book, on this ${DEVICE} alone.`;
    if (!waiting) return "Saved, and in the workshop's log.";
    const words = waiting === 1 ? "1 waits for the workshop" : `${waiting} wait for the workshop`;
    return html`Saved on this ${DEVICE}; <a href="#/outbox">${words}</a>.`;
  };

  /** @param {NonNullable<ReturnType<typeof lastSaved>>} saved */
  const undoKey = (saved) =>
    kinds[saved.kind]?.can_undo ? html`<button class="small" @click=${() => takeBack(saved)}>Undo</button>` : nothing;

  return {
    /** How many entries wait, known anew at every load. */
    async load() {
      waiting = (await outbox()).length;
    },

    /** The receipt of some kinds of entry. @param {(kind: string) => boolean} isHere */
    view(isHere) {
      const saved = lastSaved(unit);
      if (undone && isHere(undone))
        return html`<section class="receipt full" role="status">
          ${icon("idle")}<span>Undone.${typed ? " What was typed is back in its form." : ""}</span>
        </section>`;
      if (!saved || !isHere(saved.kind)) return nothing;
      return html`<section class="receipt full" role="status">
        ${icon("idle")}<span>${home()}</span> ${undoKey(saved)} ${errorLine(fault)}
      </section>`;
    },

    /** Whoever leaves has read it. */
    leave: settle,
  };
}
