// @ts-check
// A photo of a part, taken or chosen on the unit's own screen.

import { BadInput } from "../../engine/door.js";
import { addPhoto } from "../../log/photos.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { errorLine, textField } from "../form/fields.js";
import { signing } from "../form/signing.js";

/** @param {{unit: string, draw: () => void, done: () => void}} of */
export async function photoForm({ unit, draw, done }) {
  const sign = await signing(draw, "photo.who");
  let text = "";
  let fault = "";
  let busy = false;

  /** @param {HTMLInputElement} input */
  const take = async (input) => {
    const file = input.files?.[0];
    if (!file || busy) return;
    busy = true;
    fault = "";
    draw();
    try {
      sign.check();
      await addPhoto(file, { unit, text });
      text = "";
      done();
    } catch (failure) {
      // A name that is missing is said at its own field.
      const atName = failure instanceof BadInput && failure.field === "who";
      if (!atName) fault = /** @type {Error} */ (failure).message;
    } finally {
      busy = false;
      input.value = "";
      draw();
    }
  };

  const takeChosen = (/** @type {{target: HTMLInputElement}} */ event) => take(event.target);

  const type = (/** @type {string} */ typed) => {
    text = typed;
    draw();
  };

  return () =>
    html`${textField({ name: "photo.text", label: "What the photo shows", value: text, type })}
      ${sign.fieldIfUnknown("Taken by")}
      <label class="button photo"
        >${busy ? "Shrinking…" : "Take or choose a photo"}
        <input type="file" accept="image/*" @change=${takeChosen}
      /></label>
      ${errorLine(fault)}`;
}

/** A photo, from the phone or the workshop. @param {string} address @param {string} words what it shows */
export function photoDrawing(address, words) {
  return html`<img class="photo" src=${address} alt=${words || "Photo of a part"} loading="lazy" />`;
}
