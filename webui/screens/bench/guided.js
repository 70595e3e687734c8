// @ts-check
// Strip and close, step by step, with the force that the vice must hold; a step is one tap, and nothing is skipped.

import { icon } from "../../draw/icons.js";
import { calc } from "../../engine/door.js";
import { draft as kept } from "../../log/drafts.js";
import { isOf } from "../../log/entries.js";
import { write } from "../../log/outbox.js";
import { isBuilt, standing } from "../../log/stands.js";
import { entry } from "../../log/store.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { keepAwake } from "../form/awake.js";
import { backTo, caution, errorLine, textField, warningLines } from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { judging } from "../form/judging.js";
import { signing } from "../form/signing.js";
import { worked } from "../form/worked.js";

/** @typedef {import("../../engine/door.js").ResultOf<"steps">[Procedure][number]} Step */
/** @typedef {import("../../engine/door.js").ResultOf<"closing">} Force */
/** @typedef {"strip" | "close"} Procedure */
/** @typedef {{done: string[], note: string}} Draft */

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {string} id of the unit
 * @property {string} unitName
 * @property {Procedure} procedure
 * @property {string} [corrected] the entry that is corrected
 * @property {string} key of the draft
 * @property {Step[]} steps
 * @property {Force} [force] what the vice has to hold, if the definition has cover screws
 * @property {boolean} stepsLeftOut whether the entry that is corrected names steps twice, or such as there are none of
 * @property {Draft} draft
 * @property {import("../form/signing.js").Signing} sign
 * @property {import("../form/judging.js").Judging<Procedure>} form
 */

const TITLES = /** @type {Record<string, [string, string]>} */ ({
  strip: ["Strip it safely", "Correct a strip"],
  close: ["Close it up", "Correct a closing"],
});

/**
 * @param {HTMLElement} place
 * @param {string[]} params
 * @returns {Promise<State | undefined>} nothing where the unit is not on this phone
 */
async function opened(place, [id, named, corrected]) {
  const procedure = named === "close" ? "close" : "strip";
  const [found, procedures, sign] = await Promise.all([standing(id), calc("steps", {}), signing(() => draw(state))]);
  if (!isBuilt(found)) return undefined;
  /** @type {Step[]} */
  const steps = procedures[procedure];
  const key = corrected ? `${procedure}/${id}/${corrected}` : `${procedure}/${id}`;
  const replaced = corrected ? await entry(corrected) : undefined;
  const old = isOf(replaced, procedure) ? replaced.body : undefined;
  /** @type {string[]} */
  const noted = old?.done ?? [];
  // Each step once, and none that there is no key for.
  const before = [...new Set(noted)].filter((name) => steps.some((step) => step.name === name));
  const force = found.derived.checked.cover ? await calc("closing", { unit: found.built.strongest }) : undefined;
  const draft = { done: before, note: old?.note ?? "", ...(await kept(key)) };
  const stepsLeftOut = before.length < noted.length;
  const state = /** @type {State} */ ({
    place,
    id,
    procedure,
    corrected,
    key,
    steps,
    force,
    stepsLeftOut,
    draft,
    sign,
  });
  state.unitName = found.unit.name;
  state.form = judging({
    key,
    calculation: procedure,
    request: () => (state.draft.done.length ? requestOf(state) : undefined),
    draft: () => state.draft,
    draw: () => draw(state),
  });
  return state;
}

/** @param {State} state */
function requestOf({ draft, sign, force }) {
  return {
    done: draft.done,
    signed: sign.name() || "no name yet",
    ...(force ? { vice_n: force.vice_most_n } : {}),
    ...(draft.note.trim() ? { note: draft.note } : {}),
  };
}

/** @param {State} state @param {Partial<Draft>} change */
function set(state, change) {
  state.draft = { ...state.draft, ...change };
  state.form.changed();
}

/** @param {State} state @param {string[]} done */
function setDone(state, done) {
  set(state, { done });
  focusOn(state.place, ".guided button.main", "button.main");
}

/** @param {State} state */
function save({ form, sign, id, procedure, corrected, key }) {
  return form.save(async (body, shown) => {
    sign.check();
    await write({ unit: id, kind: procedure, body, shown, replaces: corrected, draft: key });
    location.hash = `#/unit/${id}`;
  });
}

/** What the vice has to hold. @param {Force} force */
function forceToHold(force) {
  return html`<p>Vice or press must hold (cover closed, new plates):</p>
    <p class="figure">${Math.round(force.vice_most_n)} N <small>${Math.round(force.vice_most_kgf)} kgf</small></p>
    <p class="quiet">
      A new spring may be this strong and still within tolerance. By its table it pushes with
      ${Math.round(force.flush_n)} N, ${Math.round(force.per_screw_n)} N for each screw. Up to
      ${force.energy_most_j.toFixed(1)} J are released if it slips. ${force.start_text} The screws then clamp with
      ${force.clamp_left_kn.toFixed(0)} kN to spare (nut factor 0.2: common practice, no source).
    </p>
    ${warningLines(force.warnings)}`;
}

/** @param {State} state */
const viceSection = ({ force, id }) =>
  html`<section class="card beside">
    ${
      force
        ? forceToHold(force)
        : html`<p>
            This unit's definition has no cover screws, so the force cannot be worked out.
            <a href="#/unit/${id}/change">Add them</a>
          </p>`
    }
    ${worked("closing")}
    ${caution(
      html`<b>Hold the spring closed in a vice or press before you touch the screws</b>, face and hands out of line
        with the cover, safety glasses on. The screws never pull the cover down. The maker's procedure and the local
        rules come first.`,
    )}
  </section>`;

/** Only the step that was done last can be undone. @param {State} state @param {Step} step */
const doneLine = (state, step) =>
  html`<div class="row apart">
    <span class="verdict go">${icon("go")}done</span>${
      state.draft.done.at(-1) === step.name
        ? html`<button class="plain" @click=${() => setDone(state, state.draft.done.slice(0, -1))}>Undo</button>`
        : nothing
    }
  </div>`;

/** @param {State} state @param {Step} step @param {number} number @param {Step} [next] the first that is not done */
function stepCard(state, step, number, next) {
  const done = state.draft.done.includes(step.name);
  const key =
    step === next
      ? html`<button class="main big" @click=${() => setDone(state, [...state.draft.done, step.name])}>
          Done: step ${number + 1}
        </button>`
      : nothing;
  return html`<li class="card ${done ? "judged go" : ""}">
    <p><b>${number + 1}.</b> ${step.text}</p>
    ${done ? doneLine(state, step) : key}
  </li>`;
}

/** @param {State} state @param {Step} [next] */
function signSection(state, next) {
  const { draft, form, sign, steps, procedure } = state;
  const left = steps.length - draft.done.length;
  return html`<section class="card">
    ${textField({
      name: "note",
      kind: "long",
      label: "Anything you noticed",
      value: draft.note,
      error: form.error("note"),
      type: (note) => set(state, { note }),
    })}
    ${sign.field("Done and signed by")}
    ${form.bad && form.bad.field !== "note" ? errorLine(form.bad.reason) : nothing}${errorLine(form.failed)}
    ${
      next && draft.done.length
        ? html`<p class="quiet">
            ${left === 1 ? "1 step is" : `${left} steps are`} left; you can leave this page and go on later.
          </p>`
        : nothing
    }
    <button class="main big" ?disabled=${!draft.done.length || Boolean(form.bad)} @click=${() => save(state)}>
      ${next ? "Sign what is done so far" : "Sign it off"}
    </button>
    ${
      procedure === "close" && !next
        ? html`<p class="quiet">
            Now check the torque on the bench, and again after the first outing: a fresh pack drops while it beds in.
          </p>`
        : nothing
    }
  </section>`;
}

/** @param {State} state */
function screen(state) {
  const next = state.steps.find((step) => !state.draft.done.includes(step.name));
  return html`<div class="full">
      ${backTo(`#/unit/${state.id}`, state.unitName)}
      <h1>${TITLES[state.procedure][state.corrected ? 1 : 0]}</h1>
    </div>
    ${viceSection(state)}
    <div class="screen">
      ${
        state.stepsLeftOut
          ? html`<p class="finding doubt">
              A step was noted twice, or is none of these: it was left out. Check that each step below was done.
            </p>`
          : nothing
      }
      <ol class="list guided">
        ${state.steps.map((step, number) => stepCard(state, step, number, next))}
      </ol>
      ${signSection(state, next)}
    </div>`;
}

/** @param {State} state */
function draw(state) {
  render(screen(state), state.place);
}

/** @type {import("../../app.js").Show} */
export async function show(place, params) {
  const state = await opened(place, params);
  if (!state) {
    location.hash = `#/unit/${params[0]}`;
    return;
  }
  place.classList.add("wide");
  draw(state);
  await state.form.judge();
  return keepAwake();
}
