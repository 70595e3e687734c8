// @ts-check
// How much a plate has changed since it was measured last: the engine says so of every plate that is judged.

import { calc } from "../../engine/door.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { figureIn } from "../form/fields.js";

/** @typedef {import("./plates-form.js").PlatesForm} PlatesForm */
/** @typedef {import("../../engine/door.js").ResultOf<"since_last">["plates"][number]} Change */

/**
 * Plates that are judged and were measured before, as the engine asks for them. A plate that was exchanged since is
 * another piece and has no measurement of its own yet; a correction is no second measurement.
 * @param {PlatesForm} form
 */
function measuredTwice({ answer: { result }, lasts, corrected }) {
  if (!result || corrected) return [];
  return result.plates.flatMap(({ slot, lowest_mm, guard_mm }) => {
    const last = lasts[slot];
    return last?.lowest_mm == null
      ? []
      : [
          {
            slot,
            now_mm: lowest_mm,
            now_guard_mm: guard_mm ?? result.guard_mm,
            last_mm: last.lowest_mm,
            last_guard_mm: last.guard_mm,
          },
        ];
  });
}

/** Ask what became of the plates, once for each answer of the form. @param {PlatesForm} form */
export async function lookBack(form) {
  const { result } = form.answer;
  if (form.lookedBack === result) return;
  form.lookedBack = result;
  const plates = measuredTwice(form);
  const question = /** @type {import("../../engine/door.js").RequestOf<"since_last">} */ ({
    write_in: form.draft.lengthUnit,
    plates,
  });
  const answer = plates.length ? await calc("since_last", question) : undefined;
  if (form.lookedBack !== result) return;
  /** @type {Record<string, Change>} */
  const changes = {};
  for (const change of answer?.plates ?? []) changes[change.slot] = change;
  const differs = Object.keys(changes).length || Object.keys(form.changes).length;
  form.changes = changes;
  if (differs) form.draw();
}

/** The difference and its doubt in figures, where there is one. @param {PlatesForm} form @param {string} slot */
export function changeOf({ draft, read, changes }, slot) {
  const change = changes[slot];
  if (!change) return undefined;
  const say = (/** @type {number} */ mm) => figureIn(read.units, "mm", draft.lengthUnit, mm).replace("-", "−");
  return html`<span class="change ${change.found}">${say(change.change_mm)}</span> ± ${say(change.expanded_mm)}`;
}

/** The same in a sentence. @param {PlatesForm} form @param {string} slot */
export function changeLine(form, slot) {
  const change = form.changes[slot];
  return change ? html`<p class=${change.found === "thicker" ? "finding doubt" : "quiet"}>${change.text}</p>` : nothing;
}
