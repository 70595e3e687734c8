// @ts-check
// How each person reads and works on this phone.

import { onChange } from "../../log/changes.js";
import { DEVICE } from "../../log/device.js";
import { known } from "../../log/known.js";
import { deviceId, fact, remember } from "../../log/store.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { allUnits, choiceKeys, textField } from "../form/fields.js";
import { LOOK, look } from "../form/look.js";
import { bench } from "../frame/places.js";
import { installCard } from "./install.js";
import { problemsBanner } from "./problems.js";

/** What a person chooses. @typedef {"torqueUnit" | "lengthUnit" | keyof typeof LOOK | "buzz" | "shortcuts"} Choice */

/** What each choice is before somebody chooses. @type {Record<Choice, string>} */
const USUAL = { torqueUnit: "nm", lengthUnit: "mm", ...LOOK, buzz: "on", shortcuts: "on" };
const CHOICES = /** @type {Choice[]} */ (Object.keys(USUAL));

/**
 * These are read before anything is drawn, from where that needs no waiting.
 * @param {Choice} choice
 * @returns {choice is keyof typeof LOOK | "buzz" | "shortcuts"}
 */
const isAtOnce = (choice) => choice in LOOK || choice === "buzz" || choice === "shortcuts";

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {Record<string, import("../form/fields.js").Unit[]>} units
 * @property {string} version of the engine
 * @property {string} device number of this phone
 * @property {{name: string, role: string}} [paired]
 * @property {string} who uses the phone
 * @property {Record<Choice, string>} chosen
 * @property {Record<string, Record<Choice, string>>} people what each person chose on this phone, by name
 * @property {unknown} problems the banner of what the workshop's PC found in its log
 * @property {() => unknown} install the card about the home screen
 */

/** @param {HTMLElement} place @returns {Promise<State>} */
async function opened(place) {
  const [units, { version }, device, paired] = await Promise.all([
    allUnits(),
    known("about"),
    deviceId(),
    fact("paired"),
  ]);
  const [problems, people, who] = await Promise.all([problemsBanner(), fact("people", {}), fact("who", "")]);
  const chosen = { ...USUAL };
  for (const choice of CHOICES)
    chosen[choice] = isAtOnce(choice)
      ? (localStorage.getItem(choice) ?? USUAL[choice])
      : ((await fact(choice)) ?? USUAL[choice]);
  const state = /** @type {State} */ ({ place, units, version, device, paired, who, chosen, people, problems });
  state.install = installCard(() => draw(state));
  return state;
}

/** @param {State} state @param {Choice} choice @param {string} value */
async function use(state, choice, value) {
  state.chosen[choice] = value;
  if (isAtOnce(choice)) {
    localStorage.setItem(choice, value);
    look();
  } else await remember(choice, /** @type {import("../../log/store.js").Facts[typeof choice]} */ (value));
}

/** What this person chose is kept under the name. @param {State} state */
async function keep(state) {
  const name = state.who.trim();
  if (!name) return;
  state.people = { ...state.people, [name]: { ...state.chosen } };
  await remember("people", state.people);
}

/** @param {State} state @param {Choice} choice @param {string} value */
async function set(state, choice, value) {
  await use(state, choice, value);
  await keep(state);
  draw(state);
}

/** Somebody else takes the phone: it is set as that person reads. @param {State} state @param {string} name */
async function turnTo(state, name) {
  await keep(state);
  state.who = name;
  await remember("who", name);
  for (const choice of CHOICES) await use(state, choice, state.people[name][choice] ?? USUAL[choice]);
  draw(state);
}

/** @param {State} state */
const nameField = (state) =>
  textField({
    name: "who",
    label: "Your name, as the log will show it",
    value: state.who,
    type: (typed) => {
      state.who = typed;
      remember("who", typed.trim()).catch(() => {});
    },
  });

/** @param {State} state */
function otherPeople(state) {
  const others = Object.keys(state.people)
    .filter((name) => name !== state.who.trim())
    .sort();
  if (!others.length) return nothing;
  return html`<fieldset>
    <legend>Somebody else takes the ${DEVICE}</legend>
    <div class="row">
      ${others.map((name) => html`<button @click=${() => turnTo(state, name)}>${name}</button>`)}
    </div>
  </fieldset>`;
}

/**
 * @param {State} state
 * @param {Choice} name
 * @param {string} label
 * @param {[string, string][]} options value and words
 */
const keysFor = (state, name, label, options) =>
  choiceKeys({
    name,
    label,
    short: true,
    value: state.chosen[name],
    options: options.map(([value, words]) => ({ value, words })),
    choose: (value) => set(state, name, value),
  });

/** @param {State} state */
function personSection(state) {
  const unitsOf = (/** @type {string} */ si) =>
    state.units[si].map(({ unit, label }) => /** @type {[string, string]} */ ([unit, label]));
  return html`<section class="card">
    ${nameField(state)} ${otherPeople(state)} ${keysFor(state, "torqueUnit", "Torque in", unitsOf("nm"))}
    ${keysFor(state, "lengthUnit", "Length in", unitsOf("mm"))}
    <p class="quiet">A form that was begun keeps the unit that it was begun in.</p>
    ${keysFor(state, "theme", "Light or dark", [
      ["auto", `as the ${DEVICE}`],
      ["light", "light"],
      ["dark", "dark"],
    ])}
    ${keysFor(state, "contrast", "Contrast", [
      ["auto", `as the ${DEVICE}`],
      ["high", "high, for sun"],
    ])}
    ${keysFor(state, "keys", "Keys and figures", [
      ["usual", "usual"],
      ["big", "big, for gloves"],
    ])}
    ${
      "vibrate" in navigator
        ? keysFor(state, "buzz", "Vibrate when a check is saved", [
            ["on", "yes"],
            ["off", "no"],
          ])
        : nothing
    }
    ${
      bench.matches
        ? keysFor(state, "shortcuts", "Letters as shortcuts", [
            ["on", "yes; ? lists them"],
            ["off", "no"],
          ])
        : nothing
    }
    <p class="quiet">These are kept for ${state.who.trim() || `whoever uses this ${DEVICE}`}.</p>
  </section>`;
}

/** @param {State} state */
const workshopSection = ({ paired }) =>
  html`<section class="card">
    <h2>The workshop</h2>
    <p class="quiet">
      ${
        paired
          ? `Paired as ${paired.name}, ${paired.role}.`
          : "Not paired; at the workshop's own PC that is not needed."
      }
    </p>
    <div class="row">
      <a class="button" href="#/pair">Pair this ${DEVICE}</a><a class="button" href="#/devices">Devices</a
      ><a class="button" href="#/letterhead">Letterhead</a><a class="button" href="#/calendar">Calendar</a
      ><a class="button" href="#/costs">Hours and parts</a><a class="button" href="#/labels">Labels</a
      ><a class="button" href="#/backup">Backup and export</a>
    </div>
  </section>`;

/** @param {State} state */
const screen = (state) =>
  html`<h1>Settings</h1>
    ${state.problems} ${personSection(state)} ${state.install()}
    <section class="card">
      <h2>This ${DEVICE}</h2>
      <p class="quiet">Engine ${state.version}. Device ${state.device}.</p>
    </section>
    ${workshopSection(state)}`;

/** @param {State} state */
function draw(state) {
  render(screen(state), state.place);
}

/** @type {import("../../app.js").Show} */
export async function show(place) {
  const state = await opened(place);
  draw(state);
  const stop = onChange(async () => {
    state.problems = await problemsBanner();
    draw(state);
  });
  return () => {
    stop();
    keep(state);
  };
}
