// @ts-check
// Marked parts in a unit's definition: those that were in it when it was added.

import { LABELS } from "../../log/labels.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { choiceField, textField } from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { MARKED, partWords } from "../form/marked.js";

/** @typedef {import("./define-form.js").DefineForm} DefineForm */
/** @typedef {import("./define-draft.js").MarkedPart} MarkedPart */

/** @param {DefineForm} form @param {MarkedPart} row @param {number} place */
function markedRow(form, row, place) {
  const rows = form.draft.marked_parts;
  const path = `marked_parts.${place}`;
  const put = (/** @type {Partial<MarkedPart>} */ change) =>
    form.put({ marked_parts: rows.map((other, at) => (at === place ? { ...other, ...change } : other)) });
  const takeOut = () => {
    form.put({ marked_parts: rows.filter((_, at) => at !== place) });
    focusOn(form.place, "#add-marked");
  };
  const labels = LABELS.unit;
  return html`<li>
    <div class="fields">
      ${choiceField({
        name: `${path}.part`,
        label: labels["marked_parts..part"],
        value: row.part,
        options: MARKED,
        error: form.answer.error(`${path}.part`),
        choose: (part) => put({ part }),
      })}
      ${textField({
        name: `${path}.place`,
        label: labels["marked_parts..place"],
        value: row.place,
        hint: "such as S1 or R2; may stay empty where it has one",
        error: form.answer.error(`${path}.place`),
        type: (typed) => put({ place: typed }),
      })}
      ${textField({
        name: `${path}.mark`,
        label: labels["marked_parts..mark"],
        value: row.mark,
        error: form.answer.error(`${path}.mark`),
        type: (mark) => put({ mark }),
      })}
    </div>
    <button class="small" @click=${takeOut}>Take ${partWords(row.part)} ${row.mark} out</button>
  </li>`;
}

/** @param {DefineForm} form */
export function markedParts(form) {
  const rows = form.draft.marked_parts;
  const add = () => {
    form.put({ marked_parts: [...rows, { part: "spring", place: "", mark: "" }] });
    focusOn(form.place, ".marked > li:last-child select");
  };
  return html`<p class="quiet">
      Those that were in it when it was added. What went in or came out since is said in its rebuilds.
    </p>
    ${
      rows.length
        ? html`<ol class="list marked" aria-label="Marked parts">
            ${rows.map((row, place) => markedRow(form, row, place))}
          </ol>`
        : nothing
    }
    <button class="small" id="add-marked" @click=${add}>Add a marked part</button>`;
}
