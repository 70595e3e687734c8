// @ts-check
// Keys that cannot always act. None is ever disabled: it keeps the focus that it has, and whoever presses it too early
// is led to what is missing.

import { html, nothing } from "../../vendor/lit-html/lit-html.js";

/** What a key does; whoever waits for it may. @typedef {(event: Event) => unknown} Act */

/**
 * @param {object} key
 * @param {unknown} key.words
 * @param {boolean} key.ready whether it can act now
 * @param {Act} key.act
 * @param {Act} [key.instead] where it cannot
 * @param {string} [key.look] its classes
 * @param {boolean} [key.saves] whether Enter goes on to it from the last field
 */
export const actKey = ({ words, ready, act, instead, look = "", saves = false }) =>
  html`<button
    class=${look || nothing}
    ?data-saves=${saves}
    aria-disabled=${ready ? "false" : "true"}
    @click=${(/** @type {Event} */ event) => (ready ? act(event) : instead?.(event))}
  >
    ${words}
  </button>`;

const TYPED = "input:not([type=checkbox], [type=file], [type=search]), select, textarea";

/** Whether nothing is typed or chosen here yet. @param {Element} field @param {Element} part */
function isEmpty(field, part) {
  if (!(field instanceof HTMLInputElement) || field.type !== "radio")
    return !(/** @type {HTMLInputElement} */ (field).value.trim());
  return !part.querySelector(`input[name="${CSS.escape(field.name)}"]:checked`);
}

/**
 * The field that keeps a key from acting: the one that is marked wrong, else the first empty one that can be seen, of
 * the part of the page that is nearest to the key.
 * @param {Element} key @param {string} [first] where to look first
 * @returns {HTMLElement | undefined}
 */
function missing(key, first) {
  const page = key.closest("main") ?? document.body;
  const lookedFor = first && page.querySelector(first);
  const wrong = page.querySelector("[aria-invalid=true]") ?? lookedFor;
  if (wrong) return /** @type {HTMLElement} */ (wrong);
  for (let part = key.parentElement; part && page.contains(part); part = part.parentElement) {
    const within = part;
    const empty = [...part.querySelectorAll(TYPED)].find(
      (field) => field.checkVisibility() && !field.closest("details:not([open])") && isEmpty(field, within),
    );
    if (empty) return /** @type {HTMLElement} */ (empty);
  }
  return undefined;
}

/** Go from a key that cannot act to what is missing. @param {Element} key @param {string} [first] looked at first */
export function toWhatIsMissing(key, first) {
  const field = missing(key, first);
  for (let fold = field?.closest("details"); fold; fold = fold.parentElement?.closest("details")) fold.open = true;
  field?.focus();
}

/**
 * The key that saves a form. Pressed while an answer is awaited, it saves as soon as that is there; where there is
 * nothing to save yet, it leads to what is missing.
 * @param {object} key
 * @param {{ready: boolean}} key.answer what the engine says to the form
 * @param {unknown} key.words
 * @param {() => Promise<boolean>} key.save whether there was something to save
 * @param {boolean} [key.ready] where more is needed than an answer
 * @param {string} [key.first] where what is missing is looked for first
 * @param {string} [key.look]
 */
export function saveKey({ answer, words, save, ready = answer.ready, first, look = "main big" }) {
  const press = async (/** @type {Event} */ { currentTarget }) => {
    const key = /** @type {Element} */ (currentTarget);
    if (!(await save()) && key.isConnected) toWhatIsMissing(key, first);
  };
  return actKey({ words, ready, act: press, instead: press, look, saves: true });
}
