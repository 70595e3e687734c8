// @ts-check
// A note on a unit, typed on the unit's own screen; corrected on one of its own.

import { BadInput, calc } from "../../engine/door.js";
import { draftText, dropDraft, keepDraft } from "../../log/drafts.js";
import { isOf } from "../../log/entries.js";
import { write } from "../../log/outbox.js";
import { standing } from "../../log/stands.js";
import { reasonOf } from "../../log/storage-fault.js";
import { entry } from "../../log/store.js";
import { html, render } from "../../vendor/lit-html/lit-html.js";
import { backTo, textField } from "../form/fields.js";
import { signing } from "../form/signing.js";
import { stillHere } from "../form/still-here.js";

/**
 * @param {object} of
 * @param {string} of.unit
 * @param {() => void} of.draw
 * @param {() => void} of.done
 * @param {import("../../log/entries.js").EntryOf<"note">} [of.corrected]
 */
export async function noteForm({ unit, draw, done, corrected }) {
  const key = corrected ? `note/${unit}/${corrected.id}` : `note/${unit}`;
  const sign = await signing(draw);
  /** @type {string} */
  let text = (await draftText(key)) ?? corrected?.body.text ?? "";
  let error = "";
  let busy = false;

  const save = async () => {
    if (busy) return;
    busy = true;
    try {
      const body = { text };
      const shown = await calc("note", body);
      sign.check();
      await write({ unit, kind: "note", body, shown, replaces: corrected?.id, draft: key });
      text = "";
      done();
    } catch (failure) {
      if (!(failure instanceof BadInput))
        error = `This could not be saved, and what you typed is kept: ${reasonOf(failure)}`;
      else if (failure.field !== "who") error = failure.reason;
    } finally {
      busy = false;
      draw();
    }
  };

  return () =>
    html`${textField({
      name: "note.text",
      label: "Note",
      kind: "long",
      value: text,
      error,
      type: (typed) => {
        text = typed;
        error = "";
        const kept = text.trim() ? keepDraft(key, text) : dropDraft(key);
        kept.catch((failure) => {
          error = reasonOf(failure);
          draw();
        });
        draw();
      },
    })}
      ${sign.fieldIfUnknown("Written by")} <button data-saves @click=${save}>Save the note</button>`;
}

/** @type {import("../../app.js").Show} */
export async function show(place, [unit, id]) {
  const isStill = stillHere();
  const [found, old] = await Promise.all([standing(unit), entry(id)]);
  const corrected = isOf(old, "note") ? old : undefined;
  const done = () => {
    if (isStill()) location.hash = `#/unit/${unit}`;
  };
  const form = await noteForm({ unit, corrected, draw: () => draw(), done });
  const draw = () =>
    render(
      html`${backTo(`#/unit/${unit}`, found.unit?.name ?? "The unit")}
        <h1>Correct a note</h1>
        <section class="card">
          <p class="quiet">The note as it was stays in the history, marked as corrected.</p>
          ${form()}
        </section>`,
      place,
    );
  draw();
}
