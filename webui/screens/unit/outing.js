// @ts-check
// An outing of a unit: where it ran, for how long, and what the driver felt. The next begins like the last.

import { LABELS } from "../../log/labels.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { choiceKeys, numberField, textField } from "../form/fields.js";
import { worked } from "../form/worked.js";
import { loggedForm, nameAndClear, showLogged } from "./logged.js";
import { emptyOuting, likeTheLast, outingAgain, outingRequest } from "./outing-draft.js";

/** @typedef {import("./outing-draft.js").OutingDraft} OutingDraft */
/** @typedef {import("./outing-draft.js").Felt} Felt */
/** @typedef {NonNullable<Awaited<ReturnType<typeof opened>>>} OutingForm */

/** Plain complaints, in the engine's words. @type {Record<Felt, string>} */
const FELT = {
  pushes: "Pushes wide at the front",
  loose: "Rear steps out",
  spins: "Inside wheel spins",
  snaps: "Lets go all at once",
  hops: "Clicks or hops in tight turns",
  judders: "Judders or chatters",
  bangs: "Bangs or clunks",
  whines: "Whines or rumbles",
  pulls: "Pulls to one side",
};

const WHEN = [
  { value: "", words: "any time" },
  { value: "power", words: "on power" },
  { value: "lift", words: "on lift-off" },
  { value: "braking", words: "braking" },
  { value: "entry", words: "turning in" },
  { value: "straight", words: "straight on" },
];

const CORNERS = [
  { value: "", words: "everywhere" },
  { value: "slow", words: "slow corners" },
  { value: "fast", words: "fast corners" },
];

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

/** When and where a complaint shows. @param {OutingForm} form @param {OutingDraft["felt"][number]} complaint */
function whenFelt(form, { what, when, corners }) {
  const put = (/** @type {Partial<OutingDraft["felt"][number]>} */ change) =>
    form.put({ felt: form.draft.felt.map((other) => (other.what === what ? { ...other, ...change } : other)) });
  return html`<div class="felt-when">
    ${choiceKeys({
      name: `outing.when.${what}`,
      label: `${FELT[what]}: when`,
      short: true,
      value: when,
      options: WHEN,
      choose: (chosen) => put({ when: chosen }),
    })}
    ${choiceKeys({
      name: `outing.corners.${what}`,
      label: `${FELT[what]}: where`,
      short: true,
      value: corners,
      options: CORNERS,
      choose: (chosen) => put({ corners: chosen }),
    })}
  </div>`;
}

/** @param {OutingForm} form */
function whatWasFelt(form) {
  const { draft } = form;
  const turn = (/** @type {Felt} */ what) => {
    const others = draft.felt.filter((complaint) => complaint.what !== what);
    const isOn = others.length < draft.felt.length;
    form.put({ nothing: false, felt: isOn ? others : [...draft.felt, { what, when: "", corners: "" }] });
  };
  const names = /** @type {Felt[]} */ (Object.keys(FELT));
  return html`<section class="card" aria-labelledby="felt">
    <h2 id="felt">${LABELS.outing.felt}</h2>
    <button
      class="felt"
      aria-pressed=${draft.nothing ? "true" : "false"}
      @click=${() => form.put({ nothing: !draft.nothing, felt: [] })}
    >
      ${draft.nothing ? "✓ " : ""}${LABELS.outing.nothing_felt}
    </button>
    ${names.map((what) => {
      const complaint = draft.felt.find((felt) => felt.what === what);
      return html`<button class="felt" aria-pressed=${complaint ? "true" : "false"} @click=${() => turn(what)}>
          ${complaint ? "✓ " : ""}${FELT[what]}
        </button>
        ${complaint ? whenFelt(form, complaint) : nothing}`;
    })}
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

const FRAME = { title: "Log an outing", correction: "Correct an outing", words: "Save the outing" };

/** @type {import("../../app.js").Show} */
export const show = (place, params) =>
  showLogged(place, params, FRAME, opened, (form) => ({
    typed: html`${whereItRan(form)} ${more(form)}
      <section class="card">${nameAndClear(form)} ${worked("outings")}</section>`,
    beside: whatWasFelt(form),
  }));
