// @ts-check
// Imports a unit that another phone or workshop saved to a file: looked into first, imported with a second tap.

import { DEVICE } from "../../log/device.js";
import { reasonOf } from "../../log/storage-fault.js";
import { barred, lookInto, takeIn } from "../../log/unit-file.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { actKey } from "../form/act-key.js";
import { backTo, errorLine } from "../form/fields.js";

// More than anybody reads.
const LISTED = 20;

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {number} turn counts the files that were chosen: only the newest is shown
 * @property {string} fault
 * @property {string} busy what is being done
 * @property {{done: number, all: number}} progress
 * @property {import("../../log/unit-file.js").Found} [found] what is in the file
 * @property {boolean} imported
 */

/** @param {State} state @param {HTMLInputElement} input */
async function choose(state, input) {
  const [file] = input.files ?? [];
  if (!file) return;
  const turn = ++state.turn;
  const busy = `Reading ${file.name}…`;
  Object.assign(state, { fault: "", found: undefined, imported: false, busy, progress: { done: 0, all: 0 } });
  draw(state);
  try {
    const found = await lookInto(file, (done, all) => {
      if (turn !== state.turn) return;
      state.progress = { done, all };
      draw(state);
    });
    const bar = await barred(found);
    if (turn !== state.turn) return;
    if (bar) state.fault = bar;
    else state.found = found;
  } catch (error) {
    if (turn !== state.turn) return;
    state.fault = reasonOf(error);
  }
  state.busy = "";
  input.value = "";
  draw(state);
}

/** @param {State} state */
async function importFound(state) {
  if (!state.found || state.busy) return;
  state.busy = "Importing…";
  draw(state);
  try {
    await takeIn(state.found);
    state.imported = true;
  } catch {
    state.fault = `This ${DEVICE} cannot store all of it, and nothing was imported: free some space, then tap again.`;
  }
  state.busy = "";
  draw(state);
}

/** @param {number} number @param {string} singular @param {string} plural */
const counted = (number, singular, plural) => (number === 1 ? `1 ${singular}` : `${number} ${plural}`);

/** @param {import("../../log/unit-file.js").FoundUnit} unit */
function refusals({ refused }) {
  if (!refused.length) return nothing;
  const more = refused.length - LISTED;
  return html`<p class="error">${counted(refused.length, "entry", "entries")} cannot be imported:</p>
    <ul class="steps">
      ${refused.slice(0, LISTED).map(({ words, reason }) => html`<li><b>${words}.</b> ${reason}</li>`)}
    </ul>
    ${more > 0 ? html`<p class="quiet">And ${more} more.</p>` : nothing}`;
}

/** @param {import("../../log/unit-file.js").FoundUnit} unit @param {boolean} imported */
function unitCard(unit, imported) {
  const { fresh, there, name } = unit;
  const address = unit.unit ? `#/unit/${unit.unit}` : "#/patterns";
  const entries = counted(fresh.length, "entry", "entries");
  const came = imported ? `${entries} ${fresh.length === 1 ? "was" : "were"} imported` : `${entries} new here`;
  const toOpen = imported || (!fresh.length && there);
  return html`<section class="card" aria-label=${name || "A unit"}>
    <h2>${name || "A unit without a name"}</h2>
    <p>${fresh.length ? came : "Nothing new"}; ${there} already here.</p>
    ${refusals(unit)}
    ${toOpen ? html`<a class="button" href=${address}>Open ${name || "it"}</a>` : nothing}
  </section>`;
}

/** @param {State} state */
function progressLines({ busy, progress: { done, all } }) {
  if (!busy) return nothing;
  return html`<p role="status">${busy}${all ? ` ${done} of ${all}` : ""}</p>
    <progress aria-label="How far it is" max=${all || nothing} value=${all ? done : nothing}></progress>`;
}

/** @param {State} state */
const fileSection = (state) =>
  html`<section class="card">
    <p>
      A unit that was saved to a file, on its own page in another Slipbook or with <code>slipbook export</code>. Both
      books are merged: what is here stays, and what is new is added.
    </p>
    <label class="button photo ${state.found ? "" : "main"}"
      >${state.found || state.fault ? "Choose another file" : "Choose the file"}<input
        type="file"
        accept=".json,application/json"
        @change=${(/** @type {{target: HTMLInputElement}} */ event) => choose(state, event.target)}
    /></label>
    ${progressLines(state)} ${errorLine(state.fault)}
  </section>`;

/** @param {State} state */
function importKey(state) {
  const fresh = state.found?.units.reduce((sum, unit) => sum + unit.fresh.length, 0) ?? 0;
  if (state.imported)
    return html`<p role="status">
      It is in the book, and is delivered to the workshop through the <a href="#/outbox">outbox</a>.
    </p>`;
  if (!fresh) return nothing;
  return html`${actKey({
    words: `Import ${counted(fresh, "entry", "entries")}`,
    ready: !state.busy,
    act: () => importFound(state),
    look: "main big",
  })}`;
}

/** @param {State} state */
function screen(state) {
  const { units = [], left = [], photos = [] } = state.found ?? {};
  return html`${backTo("#/", "Units")}
    <h1>Import a unit from a file</h1>
    ${fileSection(state)} ${units.map((unit) => unitCard(unit, state.imported))}
    ${left.map((reason) => html`<p class="quiet">${reason}</p>`)}
    ${
      photos.length
        ? html`<p class="quiet">${counted(photos.length, "photo comes", "photos come")} with it.</p>`
        : nothing
    }
    ${importKey(state)}
    <p><a class="back" href="#/import/history">A history that was kept in a spreadsheet</a></p>`;
}

/** @param {State} state */
function draw(state) {
  render(screen(state), state.place);
}

/** @type {import("../../app.js").Show} */
export async function show(place) {
  /** @type {State} */
  const state = { place, turn: 0, fault: "", busy: "", progress: { done: 0, all: 0 }, imported: false };
  draw(state);
  return () => {
    state.turn += 1;
  };
}
