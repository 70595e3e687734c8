// @ts-check
// Service of a unit between rebuilds: oil changed, run in, washed out.

import { LABELS } from "../../log/labels.js";
import { today } from "../../log/store.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { errorLine, numberField, textField, typedOf } from "../form/fields.js";
import { worked } from "../form/worked.js";
import { loggedForm, nameAndClear, showLogged } from "./logged.js";
import { canBeMade, madeSection } from "./trials.js";

/** @typedef {import("../../engine/calculations.js").BodyOf<"service">} ServiceBody */
/** @typedef {"oil_changed" | "run_in" | "washed"} Done */
/** @typedef {Record<"day" | "oil" | "litres" | "note", string>} Typed */
/** @typedef {Typed & Record<Done, boolean> & {trials: string[]}} ServiceDraft */
/** @typedef {NonNullable<Awaited<ReturnType<typeof opened>>>} ServiceForm */

/** @returns {ServiceDraft} */
const emptyService = () => ({
  day: today(),
  oil_changed: false,
  oil: "",
  litres: "",
  run_in: false,
  washed: false,
  note: "",
  trials: [],
});

/**
 * What was typed of a service that is in the log.
 * @param {ServiceBody} body @param {string} at @returns {ServiceDraft}
 */
const serviceAgain = (body, at) => ({
  day: body.day || at.split("T")[0],
  oil_changed: body.oil_changed === true,
  oil: body.oil ?? "",
  litres: typedOf(body.litres),
  run_in: body.run_in === true,
  washed: body.washed === true,
  note: body.note ?? "",
  trials: body.trials ?? [],
});

/**
 * The request: what was left empty is left out; the oil's name counts where the oil was changed.
 * @param {ServiceDraft} draft
 * @returns {import("../../engine/calculations.js").AsTyped<ServiceBody>}
 */
function serviceRequest({ oil, litres, trials, ...typed }) {
  const given = typed.oil_changed ? { ...typed, oil, litres } : typed;
  return {
    ...Object.fromEntries(Object.entries(given).filter(([, value]) => value)),
    ...(trials.length ? { trials } : {}),
    today: today(),
  };
}

/** @param {string} id the unit @param {string | undefined} corrected @param {() => void} draw */
const opened = (id, corrected, draw) =>
  loggedForm(id, corrected, draw, {
    kind: "service",
    start: (_found, old) => (old ? serviceAgain(old.body, old.at) : emptyService()),
    empty: emptyService,
    request: (draft, begun) => (begun ? serviceRequest(draft) : undefined),
  });

/** @param {ServiceForm} form @param {Done} name */
const doneKey = (form, name) =>
  html`<button
    class="felt"
    aria-pressed=${form.draft[name] ? "true" : "false"}
    @click=${() => form.put({ [name]: !form.draft[name] })}
  >
    ${form.draft[name] ? "✓ " : ""}${LABELS.service[name]}
  </button>`;

/** @param {ServiceForm} form */
const oil = (form) =>
  form.draft.oil_changed
    ? html`<div class="pair">
        ${textField({
          name: "service.oil",
          label: LABELS.service.oil,
          value: form.draft.oil,
          error: form.answer.error("oil"),
          type: (typed) => form.put({ oil: typed }),
        })}
        ${numberField({
          name: "service.litres",
          label: LABELS.service.litres,
          value: form.draft.litres,
          error: form.answer.error("litres"),
          type: (litres) => form.put({ litres }),
        })}
      </div>`
    : nothing;

/** @param {ServiceForm} form */
const fields = (form) =>
  html`<section class="card">
    ${doneKey(form, "oil_changed")} ${oil(form)} ${doneKey(form, "run_in")}
    ${doneKey(form, "washed")} ${errorLine(form.answer.error("oil_changed"))}
    ${textField({
      name: "service.note",
      label: LABELS.service.note,
      kind: "long",
      value: form.draft.note,
      error: form.answer.error("note"),
      type: (note) => form.put({ note }),
    })}
    ${textField({
      name: "service.day",
      label: LABELS.service.day,
      kind: "date",
      value: form.draft.day,
      error: form.answer.error("day"),
      type: (day) => form.put({ day }),
    })}
    ${nameAndClear(form)}
  </section>`;

/** What is due, beside what is done about it. @param {ServiceForm} form */
const due = (form) =>
  html`<section class="card" aria-labelledby="due">
    <h2 id="due">What is due</h2>
    ${
      form.found.upkeep.length
        ? form.found.upkeep.map((row) => html`<p class=${row.due ? "finding doubt" : ""}>${row.text}</p>`)
        : html`<p class="quiet">
            This unit has no intervals yet. Give them under Torque and limits when you
            <a href="#/unit/${form.id}/change/at/service.oil_every_outings">change the unit</a>, by outings, hours or
            days.
          </p>`
    }
    ${worked("outings")}
  </section>`;

/** Other oil or plates that were chosen to be tried: whether they are in. @param {ServiceForm} form */
const trialsMade = ({ found, draft, put }) =>
  madeSection(
    canBeMade(found, draft.trials, ({ lever }) => lever === "oil"),
    draft.trials,
    (trials) => put({ trials }),
  );

const FRAME = { title: "Log service", correction: "Correct a service", words: "Save the service" };

/** @type {import("../../app.js").Show} */
export const show = (place, params) =>
  showLogged(place, params, FRAME, opened, (form) => ({
    typed: html`${fields(form)} ${trialsMade(form)}`,
    beside: due(form),
  }));
