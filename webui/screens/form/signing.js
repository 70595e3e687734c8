// @ts-check
// Who writes: every entry needs a name. Asked for where it is not known, and known the next time.

import { BadInput } from "../../engine/door.js";
import { LONGEST_NAME } from "../../log/limits.js";
import { fact, remember } from "../../log/store.js";
import { textField } from "./fields.js";

/** @typedef {Awaited<ReturnType<typeof signing>>} Signing */

/**
 * @param {() => void} draw
 * @param {string} [place] tells two fields on one screen apart
 */
export async function signing(draw, place = "who") {
  /** @type {string} */
  let name = await fact("who", "");
  let reason = "";
  const known = Boolean(name.trim());

  const field = (label = "Your name") =>
    textField({
      name: place,
      label,
      value: name,
      error: reason,
      type: (typed) => {
        name = typed;
        reason = "";
        // Where nothing can be stored, the form itself says so.
        remember("who", typed.trim()).catch(() => {});
        draw();
      },
    });

  return {
    field,
    /** Whether the name was known when the screen opened. */ known,
    /** The field on screens that do without it where the name is known. @param {string} [label] */
    fieldIfUnknown: (label) => (known ? undefined : field(label)),
    /** The name as the log will show it. */
    name: () => name.trim(),
    /** Refuses to go on without a name. */
    check() {
      if (!name.trim()) reason = "Type your name: every entry needs one.";
      else if (name.trim().length > LONGEST_NAME) reason = `Shorten it to ${LONGEST_NAME} characters.`;
      if (!reason) return;
      draw();
      /** @type {HTMLElement | null} */ (document.querySelector("[aria-invalid=true]"))?.focus();
      throw new BadInput("who", reason);
    },
  };
}
