// @ts-check
// A part that a rebuild fitted: its place, its name on the shelf, its thickness and its limit.

import { LABELS } from "../../log/labels.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { choiceField, textField, typedOf } from "../form/fields.js";
import { limitHint, nameHint } from "./fitted-hints.js";

/** @typedef {import("./rebuild-draft.js").Fitted} Fitted */

/** Whether nothing is typed into a row yet: it lacks something, and nothing in it is wrong. @param {Fitted} part */
export const isNew = ({ mm, piece, minimum_mm, family }) =>
  ![typedOf(mm), piece, typedOf(minimum_mm), family].some(Boolean);

/**
 * @param {import("./rebuild.js").State} state
 * @param {Fitted} part
 * @param {number} number
 * @param {{put: (change: Partial<Fitted>) => void, remove: () => void}} keys
 */
export function fittedCard(state, part, number, { put, remove }) {
  const { form, slots, quantity } = state;
  const error = (/** @type {keyof Fitted} */ field) =>
    field === "mm" && isNew(part) ? undefined : form.error(`fitted.${number}.${field}`);
  return html`<li class="card">
    <div class="pair">
      ${choiceField({
        name: `${number}.slot`,
        label: LABELS.rebuild["fitted..slot"],
        value: part.slot,
        error: error("slot"),
        options: slots.map((slot) => [slot, slot]),
        choose: (slot) => put({ slot }),
      })}
      ${textField({
        name: `${number}.piece`,
        label: LABELS.rebuild["fitted..piece"],
        value: part.piece,
        hint: nameHint(state, part, number),
        error: error("piece"),
        type: (piece) => put({ piece }),
      })}
    </div>
    <div class="fields">
      ${quantity({
        name: `${number}.mm`,
        label: LABELS.rebuild["fitted..mm"],
        si: "mm",
        value: part.mm,
        error: error("mm"),
        put: (mm) => put({ mm }),
      })}
      ${quantity({
        name: `${number}.minimum_mm`,
        label: LABELS.rebuild["fitted..minimum_mm"],
        si: "mm",
        value: part.minimum_mm,
        error: error("minimum_mm"),
        hint: limitHint(state, number),
        put: (minimum_mm) => put({ minimum_mm }),
      })}
    </div>
    ${textField({
      name: `${number}.family`,
      label: LABELS.rebuild["fitted..family"],
      value: part.family ?? state.onShelf[number]?.family ?? "",
      hint: "by the shelf, if it knows; may stay empty",
      error: error("family"),
      type: (family) => put({ family }),
    })}
    <button
      class="small"
      aria-pressed=${Boolean(part.bought)}
      aria-label=${`${LABELS.rebuild["fitted..bought"]}: ${part.slot}`}
      @click=${() => put({ bought: !part.bought })}
    >
      ${part.bought ? "✓ " : ""}${LABELS.rebuild["fitted..bought"]}
    </button>
    <button class="plain" aria-label=${`Remove this line: ${part.slot}`} @click=${remove}>
      Remove this line
    </button>
  </li>`;
}
