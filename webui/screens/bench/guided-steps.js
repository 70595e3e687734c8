// @ts-check
// What a guided strip or close shows: the force to hold, and each step with how it is done and what can hurt.

import { icon } from "../../draw/icons.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { caution, warningLines } from "../form/fields.js";
import { lackLine } from "../form/lack.js";
import { worked } from "../form/worked.js";

/** @typedef {import("./guided.js").State} State */
/** @typedef {import("./guided.js").Step} Step */
/** @typedef {Extract<import("./guided.js").Force, {known: true}>} KnownForce */

/** Between "held" and the step that ends it. */
export const FINISH = "Don't walk away: finish this now, or put the screws back.";

/** What the screws hold, as far as they are known. @param {KnownForce} force */
const screwsHold = ({ per_screw_n: each, start_text: start }) =>
  each === null ? "" : `On each screw that is ${Math.round(each)} N. ${start}`;

/** What the vice has to hold. @param {KnownForce} force @param {string} id the unit */
function forceToHold(force, id) {
  return html`<p>Vice or press must hold (cover closed, new plates):</p>
    <p class="figure">${Math.round(force.vice_most_n)} N <small>${Math.round(force.vice_most_kgf)} kgf</small></p>
    <p class="quiet">
      A new spring may be this strong and still within tolerance. By its table it pushes with
      ${Math.round(force.flush_n)} N. ${force.friction_text} ${screwsHold(force)}
    </p>
    ${force.clamp_text ? html`<p class="quiet">${force.clamp_text}</p>` : nothing}
    ${warningLines(force.warnings)} ${lackLine(id, force.lack)}`;
}

/** @param {State} state */
export const viceSection = ({ force, id }) =>
  html`<section class="card beside">
    ${
      force.known
        ? forceToHold(force, id)
        : html`${force.cautions.map((sentence, number) => html`<p>${number ? sentence : html`<b>${sentence}</b>`}</p>`)}
          ${lackLine(id, force.lack)}`
    }
    ${worked("closing")}
  </section>`;

/** Only the step that was done last can be undone. @param {State} state @param {Step} step @param {SetDone} setDone */
const doneLine = (state, step, setDone) =>
  html`<div class="row apart">
    <span class="verdict go">${icon("go")}done</span>${
      state.draft.done.at(-1) === step.name
        ? html`<button class="plain" @click=${() => setDone(state, state.draft.done.slice(0, -1))}>Undo</button>`
        : nothing
    }
  </div>`;

/** Where screws come out in a strip, and where they go in in a close. */
const SCREWS_AT = ["strip screws", "close started"];

/** The unit's own figures at a step, and screws that are used up. @param {State} state @param {Step} step */
const figuresAt = ({ force, procedure, screws }, step) => [
  ...force.at_steps[procedure].filter((row) => row.step === step.name).map(({ text }) => text),
  ...(SCREWS_AT.includes(`${procedure} ${step.name}`) ? screws : []),
];

/** @param {string[]} sentences */
const sentenceList = (sentences) =>
  sentences.length
    ? html`<ul class="steps">
        ${sentences.map((sentence) => html`<li>${sentence}</li>`)}
      </ul>`
    : nothing;

/** How a step is done, and what can hurt somebody at it. @param {State} state @param {Step} step */
const howTo = (state, step) =>
  html`${figuresAt(state, step).map((sentence) => html`<p><b>${sentence}</b></p>`)} ${sentenceList(step.how)}
  ${step.cautions.length ? caution(html`${step.cautions.map((sentence) => html`<p>${sentence}</p>`)}`) : nothing}`;

/** Whether there is anything to read at a step but its name. @param {State} state @param {Step} step */
const saysMore = (state, step) => [...figuresAt(state, step), ...step.how, ...step.cautions].length > 0;

/** @typedef {(state: State, done: string[]) => void} SetDone */

/**
 * One step: to be done now, done, or still to come.
 * @param {State} state
 * @param {Step} step
 * @param {number} number
 * @param {{next: Step | undefined, held: boolean, setDone: SetDone}} guide the step that is next, whether a vice alone
 *   holds the spring, and what a key does
 */
export function stepCard(state, step, number, { next, held, setDone }) {
  const heading = html`<p><b>${number + 1}.</b> ${step.text}</p>`;
  if (step === next)
    return html`<li class="card now">
      ${held ? html`<p class="finding bad"><b>A vice alone holds the spring.</b> ${FINISH}</p>` : nothing}
      <h2>${number + 1}. ${step.text}</h2>
      ${howTo(state, step)}
      <button class="main big" @click=${() => setDone(state, [...state.draft.done, step.name])}>
        Done: step ${number + 1}
      </button>
    </li>`;
  const more = saysMore(state, step)
    ? html`<details>
        <summary>How, and what to heed</summary>
        <div class="inside">${howTo(state, step)}</div>
      </details>`
    : nothing;
  if (state.draft.done.includes(step.name))
    return html`<li class="card judged go">${heading} ${doneLine(state, step, setDone)}</li>`;
  return html`<li class="card">${heading} ${more}</li>`;
}
