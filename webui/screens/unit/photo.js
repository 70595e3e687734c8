// @ts-check
// A photo of a part, taken or chosen on the unit's own screen.

import { BadInput } from "../../engine/door.js";
import { addPhoto } from "../../log/photos.js";
import { reasonOf } from "../../log/storage-fault.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { errorLine, textField } from "../form/fields.js";
import { signing } from "../form/signing.js";

/**
 * A key that takes a photo and saves it.
 * @param {object} of
 * @param {string} of.unit
 * @param {() => {slot?: string, text?: string}} of.about what it shows, asked when it is taken
 * @param {import("../form/signing.js").Signing} of.sign
 * @param {() => void} of.draw
 * @param {(about: {slot?: string, text?: string}) => void} of.done
 */
export function camera({ unit, about, sign, draw, done }) {
  let fault = "";
  let busy = false;

  /** @param {HTMLInputElement} input */
  const take = async (input) => {
    const file = input.files?.[0];
    if (!file || busy) return;
    const shown = about();
    busy = true;
    fault = "";
    draw();
    try {
      sign.check();
      await addPhoto(file, { unit, ...shown });
      done(shown);
    } catch (failure) {
      // A name that is missing is said at its own field.
      const atName = failure instanceof BadInput && failure.field === "who";
      if (!atName) fault = reasonOf(failure);
    } finally {
      busy = false;
      input.value = "";
      draw();
    }
  };

  const takeChosen = (/** @type {{target: HTMLInputElement}} */ event) => take(event.target);

  /** The key, and what went wrong. @param {string} words on it */
  return (words) =>
    html`<label class="button photo"
        >${busy ? "Shrinking…" : words}
        <input type="file" accept="image/*" @change=${takeChosen}
      /></label>
      ${errorLine(fault)}`;
}

/** @param {{unit: string, draw: () => void, done: () => void}} of */
export async function photoForm({ unit, draw, done }) {
  const sign = await signing(draw, "photo.who");
  let text = "";
  const key = camera({
    unit,
    about: () => ({ text }),
    sign,
    draw,
    done: () => {
      text = "";
      done();
    },
  });

  const type = (/** @type {string} */ typed) => {
    text = typed;
    draw();
  };

  return () =>
    html`${textField({ name: "photo.text", label: "What the photo shows", value: text, type })}
      ${sign.fieldIfUnknown("Taken by")} ${key("Take or choose a photo")}`;
}

/** A photo, from the phone or the workshop. @param {string} address @param {string} words what it shows */
export function photoDrawing(address, words) {
  return html`<img class="photo" src=${address} alt=${words || "Photo of a part"} loading="lazy" />`;
}
