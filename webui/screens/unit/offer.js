// @ts-check
// What a pattern offers to a unit: each change with both values, to take or to leave. Nothing is taken by itself.

import { BadInput, calc } from "../../engine/door.js";
import { draft as keptDraft } from "../../log/drafts.js";
import { write } from "../../log/outbox.js";
import { offerRequest, writtenIn } from "../../log/pattern.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { choiceKeys, errorLine } from "../form/fields.js";
import { formState } from "../form/form-state.js";
import { worked } from "../form/worked.js";

/** @typedef {import("../../log/pattern.js").Definition} Definition */
/** What was chosen for each change, by its name. @typedef {Record<string, "take" | "keep">} Chosen */
/** @typedef {NonNullable<Awaited<ReturnType<typeof offerForm>>>} OfferForm */

/**
 * @param {object} of
 * @param {string} of.id of the unit
 * @param {Definition} of.unit its definition
 * @param {import("../../log/stands.js").Pattern} of.pattern
 * @param {import("../form/fields.js").Reading} of.read
 * @param {import("../form/signing.js").Signing} of.sign
 * @param {() => void} of.draw
 * @returns the form; nothing where what was decided on last has not arrived on this phone
 */
export async function offerForm({ id, unit, pattern, read, sign, draw }) {
  const question = await offerRequest(unit, pattern, writtenIn(read));
  if (!question) return undefined;
  // What was chosen is about this change of the pattern.
  const key = `offer/${id}/${pattern.entry}`;
  const kept = /** @type {Chosen | undefined} */ (await keptDraft(key));
  const state = formState({
    key,
    calculation: "pattern_offer",
    draft: /** @type {Chosen} */ ({ ...kept }),
    empty: () => /** @type {Chosen} */ ({}),
    request: (chosen) => ({ ...question, accepted: Object.keys(chosen).filter((name) => chosen[name] === "take") }),
    draw,
  });
  await state.answer.judge();
  return Object.assign(state, { id, sign, /** Why what was chosen cannot be saved. */ fault: "" });
}

/** @param {OfferForm} form @param {Chosen} chosen */
function choose(form, chosen) {
  form.fault = "";
  form.put(chosen);
}

/** @param {OfferForm} form @param {"take" | "keep"} which @param {HTMLElement} place */
function chooseAll(form, which, place) {
  choose(form, Object.fromEntries(offers(form).map(({ name }) => [name, which])));
  /** @type {HTMLElement | null} */ (place.querySelector("#decided"))?.focus();
}

/** @param {OfferForm} form */
const offers = ({ answer: { result } }) => result?.offers ?? [];

/** Changes that nobody has decided on. @param {OfferForm} form */
const undecided = (form) => offers(form).filter(({ name }) => !form.draft[name]);

/**
 * Save the unit with what was taken; what was left is not asked again until the pattern changes there.
 * @param {OfferForm} form
 * @param {HTMLElement} place
 * @param {(unit: Definition) => Promise<void>} done
 */
export function saveDecided(form, place, done) {
  const left = undecided(form);
  if (left.length) {
    /** @type {HTMLElement | null} */ (place.querySelector(`[name="${CSS.escape(left[0].name)}"]`))?.focus();
    form.fault = left.length === 1 ? "1 change is left to decide on." : `${left.length} changes are left to decide on.`;
    return form.draw();
  }
  return form.answer.save(async (_, { body }) => {
    form.sign.check();
    // What came out of it is the unit's definition.
    const unit = /** @type {Definition} */ (body);
    try {
      const shown = await calc("unit", unit);
      await write({ unit: form.id, kind: "unit", body: unit, shown, draft: form.key });
    } catch (error) {
      if (!(error instanceof BadInput)) throw error;
      form.fault = `With these choices the unit contradicts itself: ${error.reason}`;
      return form.draw();
    }
    await done(unit);
  });
}

/** @param {OfferForm} form @param {import("../../engine/door.js").ResultOf<"pattern_offer">["offers"][number]} offer */
const row = (form, { name, label, now, offered }) =>
  choiceKeys({
    name,
    label,
    short: true,
    value: form.draft[name],
    options: [
      { value: "take", words: html`<small>take</small> ${offered}` },
      { value: "keep", words: html`<small>keep</small> ${now}` },
    ],
    choose: (chosen) => choose(form, { [name]: chosen === "take" ? "take" : "keep" }),
  });

/**
 * @param {OfferForm} form
 * @param {HTMLElement} place
 * @param {string} words of the key that saves
 * @param {() => unknown} save
 */
export function offerRows(form, place, words, save) {
  const all = offers(form);
  return html`${worked("patterns", "What is offered, and when")}
  ${
    all.length > 1
      ? html`<div class="row">
          <button @click=${() => chooseAll(form, "take", place)}>Take all</button>
          <button @click=${() => chooseAll(form, "keep", place)}>Keep all as it is</button>
        </div>`
      : nothing
  }
  ${all.map((offer) => row(form, offer))} ${form.sign.fieldIfUnknown("Entered by") ?? nothing}
  ${errorLine(form.fault)} ${errorLine(form.answer.bad?.reason)} ${errorLine(form.answer.failed)}
  <button id="decided" class="main big" @click=${save}>${words}</button>`;
}
