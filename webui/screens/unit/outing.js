// @ts-check
// An outing of a unit: where it ran, for how long, and what the driver felt. The next begins like the last.

import { LABELS } from "../../log/labels.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { choiceKeys, numberField, textField } from "../form/fields.js";
import { worked } from "../form/worked.js";
import { feltKeys } from "./felt.js";
import { loggedForm, nameAndClear, showLogged } from "./logged.js";
import { emptyOuting, likeTheLast, outingAgain, outingRequest } from "./outing-draft.js";
import { helpedSection } from "./trials.js";

/** @typedef {import("./outing-draft.js").OutingDraft} OutingDraft */
/** @typedef {NonNullable<Awaited<ReturnType<typeof opened>>>} OutingForm */

const CONDITIONS = [
  { value: "dry", words: "dry" },
  { value: "damp", words: "damp" },
  { value: "wet", words: "wet" },
  { value: "loose", words: "loose" },
  { value: "snow", words: "snow" },
];

/** @param {string} id the unit @param {string | undefined} corrected @param {() => void} draw */
const opened = (id, corrected, draw) =>
  loggedForm(id, corrected, draw, {
    kind: "outing",
    /** @returns {OutingDraft} */
    start: ({ last_outing: last }, old) =>
      old ? outingAgain(old.body, old.at) : last ? likeTheLast(last.like) : emptyOuting(),
    empty: emptyOuting,
    request: outingRequest,
  });

/** @typedef {keyof import("./outing-draft.js").Fields} Field */

/** @param {OutingForm} form @param {keyof typeof LABELS.outing} path @param {Field} name */
const figure = (form, path, name) =>
  numberField({
    name: `outing.${name}`,
    label: LABELS.outing[path],
    value: form.draft[name],
    error: form.answer.error(path),
    type: (typed) => form.put({ [name]: typed }),
  });

/**
 * @param {OutingForm} form @param {Field & keyof typeof LABELS.outing} name
 * @param {{kind?: string, hint?: string}} [more]
 */
const words = (form, name, more = {}) =>
  textField({
    name: `outing.${name}`,
    label: LABELS.outing[name],
    value: form.draft[name],
    error: form.answer.error(name),
    type: (typed) => form.put({ [name]: typed }),
    ...more,
  });

/** @param {OutingForm} form */
const whereItRan = (form) =>
  html`<section class="card">
    ${
      form.found.last_outing && !form.corrected
        ? html`<p class="quiet">Filled in like the last outing: change what was different.</p>`
        : nothing
    }
    ${words(form, "where")}
    <div class="pair">${figure(form, "minutes", "minutes")} ${figure(form, "km", "km")}</div>
    ${choiceKeys({
      name: "outing.conditions",
      label: LABELS.outing.conditions,
      short: true,
      value: form.draft.conditions,
      options: CONDITIONS,
      choose: (conditions) => form.put({ conditions }),
    })}
  </section>`;

/** @param {OutingForm} form */
function whatWasFelt(form) {
  const { draft } = form;
  return html`<section class="card" aria-labelledby="felt">
    <h2 id="felt">${LABELS.outing.felt}</h2>
    <button
      class="felt"
      aria-pressed=${draft.nothing ? "true" : "false"}
      @click=${() => form.put({ nothing: !draft.nothing, felt: [] })}
    >
      ${draft.nothing ? "✓ " : ""}${LABELS.outing.nothing_felt}
    </button>
    ${feltKeys(draft.felt, (felt) => form.put({ nothing: false, felt }))}
    ${words(form, "note", { kind: "long" })}
  </section>`;
}

/** @param {OutingForm} form */
const more = (form) =>
  html`<details class="card" ?open=${Boolean(form.corrected || form.answer.error("day"))}>
    <summary>Day, session, oil temperature</summary>
    <div class="inside">
      ${words(form, "day", { kind: "date" })}
      ${words(form, "session", { hint: "such as practice or race 2" })}
      ${figure(form, "oil_c", "oil")}
    </div>
  </details>`;

/**
 * Whether changes that were made helped: asked at the last outing, and where it was answered before; an outing of
 * before the change cannot tell.
 * @param {OutingForm} form
 */
function helped({ found, corrected, draft, put }) {
  const isLast = !corrected || corrected === found.last_outing?.id;
  const trials = found.trials.filter(({ asks, id }) => (isLast && asks) || id in draft.helped);
  return helpedSection(trials, draft.helped, (answers) => put({ helped: answers }));
}

const FRAME = { title: "Log an outing", correction: "Correct an outing", words: "Save the outing" };

/** @type {import("../../app.js").Show} */
export const show = (place, params) =>
  showLogged(place, params, FRAME, opened, (form) => ({
    typed: html`${whereItRan(form)} ${helped(form)} ${more(form)}
      <section class="card">${nameAndClear(form)} ${worked("outings")}</section>`,
    beside: whatWasFelt(form),
  }));
