// @ts-check
// The pattern that a unit is built to: what it offers, the other units of it; or a pattern to be made of the unit.

import { BadInput, calc } from "../../engine/door.js";
import { onChange } from "../../log/changes.js";
import { DEVICE } from "../../log/device.js";
import { draftText, keepDraft } from "../../log/drafts.js";
import { write } from "../../log/outbox.js";
import { patternIdOf, unitsOf } from "../../log/pattern.js";
import { patterns, standing } from "../../log/stands.js";
import { reasonOf } from "../../log/storage-fault.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { actKey, toWhatIsMissing } from "../form/act-key.js";
import { backTo, choiceField, errorLine, reading, textField, verdictMark } from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { signing } from "../form/signing.js";
import { offerForm, offerRows, saveDecided } from "./offer.js";

/** @typedef {import("../../log/pattern.js").Definition} Definition */

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {string} id of the unit
 * @property {Definition} unit
 * @property {import("../../log/stands.js").Pattern[]} patterns that stand
 * @property {import("../../log/stands.js").Pattern} [pattern] of the unit, where it is on this phone
 * @property {import("../../log/stands.js").Listed[]} others units of it
 * @property {import("./offer.js").OfferForm} [offer]
 * @property {string} joining id of the pattern that it is to be built to
 * @property {string} name of the pattern to be made
 * @property {string} fault
 * @property {string} message what came of the last tap
 * @property {boolean} [busy] whether something is being saved
 * @property {import("../form/fields.js").Reading} read
 * @property {import("../form/signing.js").Signing} sign
 */

/** What is known of the unit and its pattern now. @param {State} state */
async function load(state) {
  const [{ unit }, all] = await Promise.all([standing(state.id), patterns()]);
  if (!unit) return;
  state.unit = unit;
  state.patterns = all;
  const own = patternIdOf(unit);
  state.pattern = all.find(({ id }) => id === own);
  state.others = own ? (await unitsOf(own)).filter(({ unit_id }) => unit_id !== state.id) : [];
  if (own) state.joining = "";
  const wanted = own ? state.pattern : all.find(({ id }) => id === state.joining);
  const { id, read, sign } = state;
  const decided = wanted && own && unit.pattern?.seen === wanted.entry;
  state.offer =
    wanted && !wanted.gone && !decided
      ? await offerForm({ id, unit, pattern: wanted, read, sign, draw: () => draw(state) })
      : undefined;
}

/** Say what came of a tap, or why nothing did. @param {State} state @param {() => Promise<string>} act */
async function doing(state, act) {
  // A thumb that taps twice saves once.
  if (state.busy) return;
  state.busy = true;
  state.fault = state.message = "";
  try {
    state.sign.check();
    state.message = await act();
    await load(state);
  } catch (error) {
    if (!(error instanceof BadInput)) state.fault = `This could not be saved: ${reasonOf(error)}`;
    else if (error.field !== "who") state.fault = error.reason;
  }
  state.busy = false;
  goOnFrom(state);
}

/** The key that was pressed may be gone: whoever pressed it goes on from the heading. @param {State} state */
function goOnFrom(state) {
  draw(state);
  if (!state.place.contains(document.activeElement)) focusOn(state.place, "h1");
}

/** Under which the name of a pattern to be made is kept. @param {string} id of the unit */
const keyOf = (id) => `pattern-of/${id}`;

/** @param {State} state @param {string} typed */
function typeName(state, typed) {
  state.name = typed;
  keepDraft(keyOf(state.id), typed).catch(() => {
    state.fault = `This ${DEVICE} cannot store what you type: free some space before you go on.`;
    draw(state);
  });
  draw(state);
}

/** Make a pattern of the unit, which is its first. @param {State} state */
const make = (state) =>
  doing(state, async () => {
    const { id, unit, name } = state;
    // Nothing is saved of a unit that the engine refuses today.
    await calc("unit", unit);
    const body = { ...(await calc("another", { unit })).for_pattern, name };
    const shown = await calc("pattern", body);
    const pattern = await write({ unit: "", kind: "pattern", body, shown, draft: keyOf(id) });
    const link = { id: pattern, name, seen: pattern };
    const linked = { ...unit, pattern: link };
    await write({ unit: id, kind: "unit", body: linked, shown: await calc("unit", linked) });
    return `${name} is a pattern now, and this unit is built to it.`;
  });

/** @param {State} state */
const leave = (state) =>
  doing(state, async () => {
    const { pattern: left, ...rest } = state.unit;
    await write({ unit: state.id, kind: "unit", body: rest, shown: await calc("unit", rest) });
    return `This unit is no longer of the pattern ${left?.name}; it keeps all that it has.`;
  });

/** @param {State} state @param {string} id */
async function join(state, id) {
  state.joining = id;
  await load(state);
  draw(state);
}

/** @param {State} state */
function unitWithout(state) {
  const { unit, sign, patterns: all } = state;
  const inUse = all.filter(({ gone }) => !gone);
  return html`<section class="card">
      <h2>Make a pattern of this unit</h2>
      <p class="quiet">
        All that is known of it but its name, its owner and what was measured. Further units of the pattern then take a
        name and an owner.
      </p>
      ${textField({
        name: "pattern",
        label: "Name of the pattern",
        value: state.name,
        type: (typed) => typeName(state, typed),
      })}
      ${sign.fieldIfUnknown("Entered by") ?? nothing} ${errorLine(state.fault)}
      ${actKey({
        words: "Make the pattern",
        ready: Boolean(state.name.trim()),
        act: () => make(state),
        instead: ({ currentTarget }) => toWhatIsMissing(/** @type {Element} */ (currentTarget)),
        look: "main big",
      })}
    </section>
    <section class="card">
      <h2>Another like ${unit.name}</h2>
      <a class="button" href="#/unit/${state.id}/another">Add another like this one</a>
    </section>
    ${inUse.length ? joinSection(state, inUse) : nothing}`;
}

/** @param {State} state @param {State["patterns"]} inUse */
function joinSection(state, inUse) {
  const { offer, joining } = state;
  const name = inUse.find(({ id }) => id === joining)?.name;
  return html`<section class="card">
    <h2>Is it built to a pattern?</h2>
    ${choiceField({
      name: "join",
      label: "Pattern",
      value: joining,
      options: [["", "none"], ...inUse.map((row) => /** @type {[string, string]} */ ([row.id, row.name]))],
      choose: (chosen) => join(state, chosen),
    })}
    ${offer ? decide(state, offer, `Build it to ${name}`, `This unit is built to ${name} now.`) : nothing}
  </section>`;
}

/** @param {State} state @param {import("./offer.js").OfferForm} offer @param {string} words @param {string} message */
const decide = (state, offer, words, message) =>
  offerRows(offer, state.place, words, () =>
    saveDecided(offer, state.place, async () => {
      state.message = message;
      await load(state);
      goOnFrom(state);
    }),
  );

/** @param {State} state */
function changes(state) {
  const { unit, pattern, offer } = state;
  if (!pattern)
    return html`<p class="quiet">
      The pattern itself is not on this ${DEVICE}: its name is as it was when this unit was written.
    </p>`;
  if (pattern.gone)
    return html`<p class="quiet">This pattern is withdrawn: its units keep what they have, and none are added.</p>`;
  if (unit.pattern?.seen === pattern.entry)
    return html`<p class="quiet">Nothing of it has changed since it was decided on here.</p>`;
  if (!offer)
    return html`<p class="quiet">
      What was decided on last has not arrived on this ${DEVICE}; nothing is offered until then.
    </p>`;
  if (!offer.answer.result?.offers.length)
    return html`<p class="quiet">It changed, and this unit has all of that already.</p>`;
  return html`<h2>${offer.answer.result.text}</h2>
    <p class="quiet">
      The pattern changed. What is kept is not asked again until the pattern changes there once more.
    </p>
    ${decide(state, offer, "Save what was decided", "Saved. Nothing else of this unit has changed.")}`;
}

/** @param {State} state */
function others({ others: alike }) {
  if (!alike.length) return html`<p>No other unit is built to it yet.</p>`;
  return html`<ul class="list cards units">
    ${alike.map(
      ({ unit_id, unit, verdict }) =>
        html`<li>
          <a href="#/unit/${unit_id}"
            ><span class="about"><strong>${unit.name}</strong><span class="quiet">${unit.owner}</span></span>
            ${verdictMark(verdict)}</a
          >
        </li>`,
    )}
  </ul>`;
}

/** @param {State} state */
const unitOf = (state) =>
  html`<section class="card">${changes(state)}</section>
    <section class="card">
      <h2>Other units of it</h2>
      ${others(state)}
      <div class="actions">
        <a class="button" href="#/unit/${state.id}/another">Add another like this one</a>
        <a class="button" href="#/patterns">All patterns</a>
        <button class="plain" @click=${() => leave(state)}>Take this unit out of the pattern</button>
      </div>
      ${errorLine(state.fault)}
    </section>`;

/** @param {State} state */
function draw(state) {
  const { unit, pattern } = state;
  const name = pattern?.name ?? unit.pattern?.name;
  render(
    html`${backTo(`#/unit/${state.id}`, unit.name)}
      <h1 tabindex="-1">${name ? `Pattern: ${name}` : "Pattern"}</h1>
      <p role="status">${state.message}</p>
      ${unit.pattern ? unitOf(state) : unitWithout(state)}`,
    state.place,
  );
}

/** @type {import("../../app.js").Show} */
export async function show(place, [id]) {
  const state = /** @type {State} */ ({ place, id, joining: "", name: "", fault: "", message: "" });
  const [read, sign, kept] = await Promise.all([reading(), signing(() => draw(state)), draftText(keyOf(id))]);
  Object.assign(state, { read, sign, name: kept ?? "" });
  await load(state);
  draw(state);
  return onChange(async () => {
    await load(state);
    draw(state);
  });
}
