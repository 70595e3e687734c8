// @ts-check
// The patterns with their units: a unit is added by one, and a pattern is changed or withdrawn.

import { BadInput, calc } from "../../engine/door.js";
import { onChange } from "../../log/changes.js";
import { DEVICE } from "../../log/device.js";
import { isOf } from "../../log/entries.js";
import { write } from "../../log/outbox.js";
import { offerToListed, patternIdOf, writtenIn } from "../../log/pattern.js";
import { listing, patterns } from "../../log/stands.js";
import { reasonOf } from "../../log/storage-fault.js";
import { entry } from "../../log/store.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { backTo, errorLine, reading, verdictMark, when, whenDay } from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { signing } from "../form/signing.js";
import { worked } from "../form/worked.js";

/** @typedef {import("../../log/stands.js").Pattern} Pattern */
/** @typedef {import("../../engine/door.js").ResultOf<"pattern_offer">} Offer */
/**
 * A change that a later one did not know, and what it would still change.
 * @typedef {Pattern["overwritten"][number] & {asked: import("../../log/pattern.js").OfferRequest, offer: Offer}} Lost
 */
/**
 * A unit, and what is to be decided on there.
 * @typedef {import("../../log/stands.js").Listed & {open?: Offer}} Built
 */

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {(Pattern & {units: Built[], lost: Lost[]})[]} patterns
 * @property {import("../form/fields.js").Reading} read
 * @property {import("../form/signing.js").Signing} sign
 * @property {string} message what came of the last tap
 * @property {boolean} [busy] whether something is being saved
 * @property {string} fault
 */

/** Changes overwritten unseen that would still change something. @param {State} state @param {Pattern} pattern */
async function lostOf({ read }, { body, overwritten }) {
  const lost = await Promise.all(
    overwritten.map(async (row) => {
      const [own, base] = await Promise.all([entry(row.entry), entry(row.base ?? "")]);
      if (!isOf(own, "pattern")) return [];
      const seen = isOf(base, "pattern") ? { seen: base.body } : {};
      const question = { own: body, wanted: own.body, ...seen, ...writtenIn(read) };
      return [{ ...row, asked: question, offer: await calc("pattern_offer", question) }];
    }),
  );
  return lost.flat().filter(({ offer }) => offer.offers.length);
}

/** Take what was overwritten unseen as well. @param {State} state @param {Pattern} pattern @param {Lost} lost */
async function takeBoth(state, pattern, { asked, offer }) {
  const accepted = offer.offers.map(({ name }) => name);
  const { body } = await calc("pattern_offer", { ...asked, accepted });
  await change(state, pattern, body, "Both changes count now.");
}

/** @param {State} state */
async function load(state) {
  const [all, units] = await Promise.all([patterns(), listing()]);
  state.patterns = await Promise.all(
    all.map(async (pattern) => {
      const built = units.filter(({ unit }) => patternIdOf(unit) === pattern.id);
      const open = await Promise.all(built.map((unit) => offerToListed(unit, pattern, writtenIn(state.read))));
      return {
        ...pattern,
        units: built.map((unit, number) => ({ ...unit, open: open[number] })),
        lost: await lostOf(state, pattern),
      };
    }),
  );
}

/**
 * Write a pattern anew.
 * @param {State} state
 * @param {Pattern} pattern
 * @param {object} change of its body
 * @param {string} message
 */
async function change(state, { id, body }, change, message) {
  // A thumb that taps twice saves once.
  if (state.busy) return;
  state.busy = true;
  state.message = state.fault = "";
  try {
    state.sign.check();
    const next = /** @type {Pattern["body"]} */ ({ ...body, ...change, id });
    await write({ unit: "", kind: "pattern", body: next, shown: await calc("pattern", next) });
    state.message = message;
    await load(state);
  } catch (error) {
    if (!(error instanceof BadInput)) state.fault = `This could not be saved: ${reasonOf(error)}`;
    else if (error.field !== "who") state.fault = error.reason;
  }
  state.busy = false;
  draw(state);
  state.place.querySelector("[role=status]")?.scrollIntoView({ block: "nearest" });
  // The key that was pressed may be gone.
  if (!state.place.contains(document.activeElement)) focusOn(state.place, `[data-pattern="${id}"] .actions > *`);
}

/** @param {State} state @param {Pattern} pattern */
const withdraw = (state, pattern) =>
  change(state, pattern, { gone: "yes" }, `${pattern.name} is withdrawn; its units keep what they have.`);

/** @param {Built} unit */
const unitRow = ({ unit_id, unit, verdict, open }) =>
  html`<li>
    <a href=${open ? `#/unit/${unit_id}/pattern` : `#/unit/${unit_id}`}
      ><span class="about"
        ><strong>${unit.name}</strong><span class="quiet">${unit.owner}</span> ${
          open ? html`<span class="typed">${open.text}</span>` : nothing
        }</span
      >
      ${verdictMark(verdict)}</a
    >
  </li>`;

/** @param {State} state @param {State["patterns"][number]} pattern @param {Lost} lost */
const lostChange = (state, pattern, lost) =>
  html`<div class="finding doubt">
    <p>
      ${lost.who || "Somebody"} changed it on another device, ${when(lost.at)}, without having seen the change that
      counts:
    </p>
    <ul class="steps">
      ${lost.offer.offers.map(({ label, now, offered }) => html`<li>${label}: ${offered}, instead of ${now}</li>`)}
    </ul>
    <div class="row">
      <button @click=${() => takeBoth(state, pattern, lost)}>Let both count</button>
      <button @click=${() => change(state, pattern, {}, "It stays as it is.")}>Leave it as it is</button>
    </div>
  </div>`;

/** Who wrote it when, each entry a tap away. @param {Pattern} pattern */
const pastOf = ({ history }) =>
  html`<details>
    <summary>Changed ${whenDay(history[0].at)}${history[0].who ? ` by ${history[0].who}` : ""}</summary>
    <ul class="list inside">
      ${history.map(
        ({ entry: id, who, at }) =>
          html`<li><a href="#/patterns/entry/${id}">${when(at)}${who ? `, ${who}` : ""}</a></li>`,
      )}
    </ul>
  </details>`;

/** @param {State} state @param {State["patterns"][number]} pattern */
function patternCard(state, pattern) {
  const { id, name, gone, units, lost } = pattern;
  return html`<section class="card" aria-label=${name} data-pattern=${id}>
    <h2>${name}${gone ? " (withdrawn)" : ""}</h2>
    ${lost.map((row) => lostChange(state, pattern, row))}
    ${
      units.length
        ? html`<ul class="list cards units">
            ${units.map(unitRow)}
          </ul>`
        : html`<p class="quiet">No unit on this ${DEVICE} is built to it.</p>`
    }
    <div class="actions">
      ${
        gone
          ? html`<button @click=${() => change(state, pattern, { gone: "no" }, `${name} is in use again.`)}>
              Use it again
            </button>`
          : html`<a class="button" href="#/patterns/${id}/unit">Add a unit of it</a>
              <a class="button" href="#/patterns/${id}/change">Change it</a>
              <button class="plain" @click=${() => withdraw(state, pattern)}>Withdraw it</button>`
      }
    </div>
    ${pastOf(pattern)}
  </section>`;
}

/** @param {State} state */
function draw(state) {
  const { patterns: all, message, fault, sign } = state;
  render(
    html`${backTo("#/", "Units")}
      <h1>Patterns</h1>
      <p class="quiet">
        A pattern is a build that comes again and again: a new unit of it takes a name and an owner. Where a pattern
        changes, each of its units is offered that, and keeps what it has until somebody takes it.
        ${worked("patterns", "What is offered, and when")}
      </p>
      ${sign.fieldIfUnknown() ?? nothing}
      <p role="status">${message}</p>
      ${errorLine(fault)}
      ${
        all.length
          ? all.map((pattern) => patternCard(state, pattern))
          : html`<section class="card">
              <p>There are none yet. Make the first on a unit's page: At the bench, Pattern.</p>
            </section>`
      }`,
    state.place,
  );
}

/** @type {import("../../app.js").Show} */
export async function show(place) {
  const state = /** @type {State} */ ({ place, message: "", fault: "" });
  [state.read, state.sign] = await Promise.all([reading(), signing(() => draw(state))]);
  await load(state);
  draw(state);
  return onChange(async () => {
    await load(state);
    draw(state);
  });
}
