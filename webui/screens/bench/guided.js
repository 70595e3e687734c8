// @ts-check
// Strip and close, step by step, with the force that the vice must hold; a step is one tap, and nothing is skipped.

import { calc } from "../../engine/door.js";
import { draft as kept } from "../../log/drafts.js";
import { isOf } from "../../log/entries.js";
import { write } from "../../log/outbox.js";
import { isBuilt, standing } from "../../log/stands.js";
import { entry } from "../../log/store.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { saveKey } from "../form/act-key.js";
import { keepAwake } from "../form/awake.js";
import { backTo, errorLine, reading, textField } from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { judging } from "../form/judging.js";
import { signing } from "../form/signing.js";
import { askBeforeLeaving } from "../form/stay.js";
import { style } from "../form/style.js";
import { answersGiven, answersSection, partsToAnswer, unanswered } from "./found-answers.js";
import { FINISH, stepCard, viceSection } from "./guided-steps.js";
import { openOfUnit } from "./of-unit.js";

/** @typedef {import("../../engine/door.js").ResultOf<"steps">[Procedure][number]} Step */
/** @typedef {import("../../engine/door.js").ResultOf<"closing">} Force */
/** @typedef {"strip" | "close"} Procedure */

/**
 * What is kept of it. While a vice alone holds the spring, also since when, who did it and whether the screws are out,
 * for the pages that say so.
 * @typedef {{done: string[], note: string, answers?: import("./found-answers.js").Answer[], heldSince?: string,
 *   heldBy?: string, screwsOut?: boolean}} Draft
 */

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {string} id of the unit
 * @property {string} unitName
 * @property {Procedure} procedure
 * @property {string} [corrected] the entry that is corrected
 * @property {string} key of the draft
 * @property {number} guide the list of steps that is followed
 * @property {Step[]} steps
 * @property {string[]} screws what to know of screws that are used up
 * @property {Force} force what the vice has to hold, as far as it is known
 * @property {boolean} stepsLeftOut whether the entry that is corrected names steps twice, or such as there are none of
 * @property {import("./found-answers.js").Part[]} parts that the strip found bad, to be answered before it is closed
 * @property {Draft} draft
 * @property {import("../form/signing.js").Signing} sign
 * @property {import("../form/judging.js").Judging<Procedure>} form
 */

const LEAVING = {
  question: `A vice alone holds the spring. ${FINISH}`,
  stay: "Stay and finish",
  leave: "Leave it held",
};

const TITLES = /** @type {Record<string, [string, string]>} */ ({
  strip: ["Strip it safely", "Correct a strip"],
  close: ["Close it up", "Correct a closing"],
});

/**
 * @param {HTMLElement} place
 * @param {string[]} params
 * @returns {Promise<State | undefined>} nothing where the unit is not on this phone
 */
async function opened(place, [id, which, corrected]) {
  const procedure = which === "close" ? "close" : "strip";
  const [found, procedures, sign, read] = await Promise.all([
    standing(id),
    calc("steps", {}),
    signing(() => draw(state)),
    reading(),
    style("guided"),
  ]);
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
  const force = await calc("closing", {
    unit: found.built.strongest,
    write_in: read.torqueUnit,
    write_lengths_in: read.lengthUnit,
  });
  const answers = replaced && isOf(replaced, "close") ? (replaced.body.answers ?? []) : [];
  const draft = { done: before, note: old?.note ?? "", answers, ...(await kept(key)) };
  const parts = procedure === "close" ? await partsToAnswer(id) : [];
  const stepsLeftOut = before.length < noted.length;
  const state = /** @type {State} */ ({
    place,
    id,
    procedure,
    corrected,
    key,
    guide: procedures.guide,
    steps,
    force,
    screws: found.features.map(({ at_closing }) => at_closing).filter(Boolean),
    stepsLeftOut,
    parts,
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
function requestOf({ draft, sign, force, guide }) {
  return {
    done: draft.done,
    guide,
    signed: sign.name() || "no name yet",
    ...(force.known ? { vice_n: force.vice_most_n } : {}),
    ...(draft.note.trim() ? { note: draft.note } : {}),
    ...(draft.answers?.length ? { answers: answersGiven(draft.answers) } : {}),
  };
}

/** @param {State} state @param {Partial<Draft>} change */
function set(state, change) {
  state.draft = { ...state.draft, ...change };
  state.form.changed();
}

/**
 * Whether a vice alone holds the spring: the furthest step that was done says it.
 * @param {Pick<State, "steps" | "draft">} state
 */
const holding = ({ steps, draft }) => steps.filter(({ name }) => draft.done.includes(name)).at(-1)?.holds ?? false;

/** @param {State} state @param {string[]} done */
function setDone(state, done) {
  const draft = { ...state.draft, done };
  const held = holding({ steps: state.steps, draft });
  set(state, {
    done,
    heldSince: held ? (state.draft.heldSince ?? new Date().toISOString()) : undefined,
    heldBy: held ? state.sign.name() : undefined,
    screwsOut: held ? done.includes("screws") : undefined,
  });
  showNext(state);
}

// What was found bad and has no answer yet.
const OPEN_ANSWER = ".answers fieldset:not(:has(:checked)) input";

/**
 * The step that is next, from its name on where it has room, else down to what to heed and its key.
 * @param {State} state
 */
function showNext({ place, parts, draft }) {
  const key = /** @type {HTMLElement | null} */ (place.querySelector(".guided .now button.main"));
  if (!key) return focusOn(place, unanswered(parts, draft.answers ?? []).length ? OPEN_ANSWER : "button.main");
  key.focus({ preventScroll: true });
  key.closest(".now")?.scrollIntoView({ block: "start" });
  key.scrollIntoView({ block: "nearest" });
}

/** @param {State} state */
async function save(state) {
  const { form, sign, id, procedure, corrected, key, parts, steps, draft } = state;
  // The unit is not signed as closed on something bad that nobody answered for.
  const isWhole = steps.every(({ name }) => draft.done.includes(name));
  if (isWhole && unanswered(parts, draft.answers ?? []).length) return false;
  return form.save(async (body, shown) => {
    sign.check();
    await write({ unit: id, kind: procedure, body, shown, replaces: corrected, draft: key });
    // Signed for: the log says from here on that a vice holds it.
    state.draft = { done: [], note: "" };
    // A strip is an inspection: its page leads through what there is to look at.
    return procedure === "strip" && shown.complete ? `#/unit/${id}/found` : `#/unit/${id}`;
  });
}

/** Whether this is a place to stop. @param {State} state @param {number} left steps that are left */
const pause = (state, left) =>
  holding(state)
    ? html`<p class="finding bad"><b>A vice alone holds the spring.</b> ${FINISH}</p>`
    : html`<p class="quiet">
        ${left === 1 ? "1 step is" : `${left} steps are`} left. The spring is safe: you can stop here and go on later.
      </p>`;

/** @param {State} state @param {Step} [next] */
function signSection(state, next) {
  const { draft, form, sign, steps, procedure } = state;
  const left = steps.length - draft.done.length;
  const open = unanswered(state.parts, draft.answers ?? []);
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
    ${next && draft.done.length ? pause(state, left) : nothing}
    ${saveKey({
      answer: form,
      words: next ? "Sign what is done so far" : "Sign it off",
      ready: Boolean(draft.done.length) && !form.bad && (Boolean(next) || !open.length),
      save: () => save(state),
      first: next ? ".guided .now button.main" : OPEN_ANSWER,
    })}
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
      <p class="quiet">
        The maker's procedure and the local rules come first; a step that you are not sure of is for a qualified person.
      </p>
    </div>
    <div class="screen">
      ${
        state.stepsLeftOut
          ? html`<p class="finding doubt">
              A step was noted twice, or is none of these: it was left out. Check that each step below was done.
            </p>`
          : nothing
      }
      ${answersSection(
        state.id,
        state.parts,
        state.draft.answers ?? [],
        (path) => state.form.error(path),
        (answers) => set(state, { answers }),
      )}
      <ol class="list guided">
        ${state.steps.map((step, number) => stepCard(state, step, number, { next, held: holding(state), setDone }))}
      </ol>
      ${signSection(state, next)}
    </div>
    ${viceSection(state)}`;
}

/** @param {State} state */
function draw(state) {
  render(screen(state), state.place);
}

/** @type {import("../../app.js").Show} */
export async function show(place, params) {
  const state = await openOfUnit(place, params, opened, draw);
  if (!state) return;
  await state.form.judge();
  const letSleep = keepAwake();
  const letGo = askBeforeLeaving(() => (holding(state) ? LEAVING : undefined));
  return () => {
    letSleep();
    letGo();
  };
}
