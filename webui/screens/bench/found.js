// @ts-check
// What a strip found: every part in the order in which it comes out, the way to measure it, and what is to be ordered.

import { calc } from "../../engine/door.js";
import { onChange } from "../../log/changes.js";
import { known } from "../../log/known.js";
import { isBuilt, standing } from "../../log/stands.js";
import { entriesOf } from "../../log/store.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { goesToMeasure } from "../form/came-from.js";
import { backTo, reading, verdictMark, whenDay } from "../form/fields.js";
import { lackLine } from "../form/lack.js";
import { signing } from "../form/signing.js";
import { style } from "../form/style.js";
import { worked } from "../form/worked.js";
import { camera } from "../unit/photo.js";
import { receipt } from "../unit/receipt.js";
import { verdictOf } from "./found-answers.js";
import { openOfUnit } from "./of-unit.js";

/** @typedef {import("../../engine/door.js").ResultOf<"strip_found">} Found */
/** @typedef {Found["parts"][number]} Part */

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {string} id of the unit
 * @property {string} unitName
 * @property {import("../../log/stands.js").BuiltStanding} stands
 * @property {Found} found
 * @property {import("../form/signing.js").Signing} sign
 * @property {ReturnType<typeof receipt>} saved what was saved just now
 * @property {Map<string, (words: string) => unknown>} cameras by part
 * @property {string} taken the part of which a photo was just taken
 */

// What measures a part, in words; the screens are named by the step.
const MEASURE = /** @type {Record<string, string>} */ ({
  plates: "Measure the plates",
  springs: "Measure the spring",
  rings: "Measure the rings",
  inspect: "Inspect the other parts",
});

/** @param {string} id */
async function foundIn(id) {
  const [read, entries] = await Promise.all([reading(), entriesOf(id)]);
  return calc("strip_found", { entries, write_lengths_in: read.lengthUnit });
}

/**
 * @param {HTMLElement} place
 * @param {string[]} params
 * @returns {Promise<State | undefined>} nothing where the unit is not on this phone
 */
async function opened(place, [id]) {
  const redraw = () => draw(state);
  const [stands, found, sign, { kinds }] = await Promise.all([
    standing(id),
    foundIn(id),
    signing(redraw, "photo.who"),
    known("about"),
    style("guided"),
  ]);
  if (!isBuilt(stands)) return undefined;
  const saved = receipt(id, kinds, redraw);
  await saved.load();
  /** @type {State} */
  const state = { place, id, unitName: stands.unit.name, stands, found, sign, saved, cameras: new Map(), taken: "" };
  return state;
}

/** Takes a photo of one part. @param {State} state @param {Part} part */
function cameraOf(state, { name, step }) {
  const known = state.cameras.get(name);
  if (known) return known;
  const fresh = camera({
    unit: state.id,
    about: () => (step === "inspect" ? { text: name } : { slot: name, text: name }),
    sign: state.sign,
    draw: () => draw(state),
    done: () => {
      state.taken = name;
    },
  });
  state.cameras.set(name, fresh);
  return fresh;
}

/** What a part is, and how it was found. @param {Part} part */
const nameOf = (part) =>
  html`<p>
    <b>${part.name}</b>${part.what === part.name ? nothing : html`, ${part.what}`}${
      part.state === "unseen" ? html`: <span class="quiet">not looked at</span>` : nothing
    }
  </p>`;

/** @param {State} state @param {Part} part */
const partRow = (state, part) =>
  html`<li>
    <div class="row apart found-part">
      ${nameOf(part)}
      <span class="row"
        >${part.state === "unseen" ? nothing : verdictMark(verdictOf(part))}
        ${cameraOf(state, part)(state.taken === part.name ? "Photo ✓" : "Photo")}</span
      >
    </div>
    ${part.state === "go" || part.state === "unseen" ? nothing : html`<p class="quiet">${part.text}</p>`}
    ${part.answer ? html`<p class="finding note">${part.answer}</p>` : nothing}
  </li>`;

/** Parts that come out one after another and are measured on one screen. @param {Part[]} parts */
function inRuns(parts) {
  /** @type {Part[][]} */
  const runs = [];
  for (const part of parts)
    if (runs.at(-1)?.[0].step === part.step) runs.at(-1)?.push(part);
    else runs.push([part]);
  return runs;
}

/**
 * Some parts, and the way to where they are measured as long as any is to be.
 * @param {State} state @param {Part[]} run
 */
const runOf = (state, run) =>
  html`<ul class="list">
      ${run.map((part) => partRow(state, part))}
    </ul>
    ${
      run.some(isToMeasure)
        ? html`<p>${wayTo(state.id, run[0].step, MEASURE[run[0].step], "button small")}</p>`
        : nothing
    }`;

/** The way to a screen, which leads back here once something is saved. */
const wayTo = (
  /** @type {string} */ id,
  /** @type {string} */ step,
  /** @type {string} */ words,
  /** @type {string} */ look,
) => html`<a class=${look} href="#/unit/${id}/${step}" @click=${() => goesToMeasure(id)}>${words}</a>`;

/** @param {Part} part */
const isToMeasure = ({ state }) => state === "unseen" || state === "measure_again";

/** What is to be ordered. @param {State} state */
function orderSection({ id, found }) {
  if (!found.order.length) return nothing;
  return html`<section class="card" aria-labelledby="order">
    <h2 id="order">To order</h2>
    <ul class="steps">
      ${found.order.map(({ what, count, names }) => html`<li><b>${count} ×</b> ${what}: ${names.join(", ")}</li>`)}
    </ul>
    <p class="quiet">
      A plan may take other thicknesses than those when new. <a href="#/unit/${id}/plan">Plan the rebuild</a> before you
      order plates.
    </p>
  </section>`;
}

/** What comes next: what was not looked at, else what was found bad, else closing it. @param {Found} found */
function nextOf({ parts, stripped, open }) {
  if (!stripped) return ["strip", "Strip it"];
  const unseen = parts.find(isToMeasure);
  if (unseen && open) return [unseen.step, MEASURE[unseen.step]];
  const bad = parts.find(({ asks }) => asks);
  if (bad) return ["plan", "Plan the rebuild"];
  return open ? ["close", "Close it"] : ["check", "Check torque"];
}

/** @param {State} state */
const whoTakesPhotos = ({ sign }) =>
  sign.name() ? nothing : html`<section class="card">${sign.fieldIfUnknown("Photos taken by")}</section>`;

/** @param {State} state */
function screen(state) {
  const { id, found, stands } = state;
  const [step, words] = nextOf(found);
  return html`<div class="full">
      ${backTo(`#/unit/${id}`, state.unitName)}
      <h1>What the strip found</h1>
      ${
        found.stripped
          ? html`<p>Stripped on ${whenDay(found.stripped)}. Only what was looked at since then counts here.</p>`
          : html`<p>It was not stripped yet, so nothing counts here: what was measured before stands on its page.</p>`
      }
    </div>
    ${state.saved.view(() => true)}
    <div class="screen">
      <section class="card" aria-label="Verdict">
        ${found.verdict ? verdictMark(found.verdict, true) : nothing}
        <p>${found.text}</p>
        ${lackLine(
          id,
          stands.lacks.find(({ name }) => name === "chain"),
        )}
        ${wayTo(id, step, words, "button main")} ${worked("found")}
      </section>
      ${orderSection(state)}
      ${whoTakesPhotos(state)}
    </div>
    <div class="screen">
      ${
        found.parts.length
          ? html`<section class="card" aria-labelledby="out">
              <h2 id="out">In the order in which they come out</h2>
              ${inRuns(found.parts).map((run) => runOf(state, run))}
            </section>`
          : nothing
      }
    </div>`;
}

/** @param {State} state */
function draw(state) {
  render(screen(state), state.place);
}

/** @type {import("../../app.js").Show} */
export async function show(place, params) {
  const state = await openOfUnit(place, params, opened, draw);
  if (!state) return undefined;
  const stop = onChange(async () => {
    [state.found] = await Promise.all([foundIn(state.id), state.saved.load()]);
    draw(state);
  });
  return () => {
    stop();
    state.saved.leave();
  };
}
