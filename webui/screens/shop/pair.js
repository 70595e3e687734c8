// @ts-check
// Lets this phone into the workshop, with a code that was made at the workshop's PC.

import { forgetPairing, NotPaired, Offline, pair, Refused } from "../../log/access.js";
import { deliver } from "../../log/delivery.js";
import { DEVICE } from "../../log/device.js";
import { keptFrom } from "../../log/kinds.js";
import { known } from "../../log/known.js";
import { fact } from "../../log/store.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { actKey } from "../form/act-key.js";
import { backTo, textField } from "../form/fields.js";
import { focusOn } from "../form/focus.js";

/**
 * What each role may do.
 * @param {Record<string, import("../../log/kinds.js").Kind>} kinds
 * @returns {Record<string, string>}
 */
export const rolesInWords = (kinds) => ({
  trackside: `trackside: reads all, writes all but ${keptFrom(kinds, "trackside")}`,
  bench: "bench: may do all, also let devices in",
});

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {Record<string, string>} roles what each role may do
 * @property {{name: string} | undefined} before how this phone was paired until now
 * @property {{code: string, name: string}} typed
 * @property {Record<string, string>} errors by field
 * @property {string} fault
 * @property {boolean} busy
 * @property {{name: string, role: string}} [device] this phone, once it is paired
 */

/** @param {State} state */
async function forget(state) {
  await forgetPairing();
  state.before = undefined;
  state.fault = `The pairing is forgotten on this ${DEVICE}.`;
  draw(state);
  deliver();
}

/** What went wrong, at its field or in a sentence. @param {State} state @param {unknown} error */
function takeFault(state, error) {
  if (error instanceof Refused && error.status === 404)
    state.fault = "Slipbook serves the workshop's PC only: start it there with slipbook serve --lan.";
  else if (error instanceof Refused && error.errors.length)
    state.errors = Object.fromEntries(error.errors.map(({ field, reason }) => [field, reason]));
  else if (error instanceof Refused || error instanceof Offline || error instanceof NotPaired)
    state.fault = error.message;
  else throw error;
}

/** @param {State} state */
async function send(state) {
  if (state.busy) return;
  Object.assign(state, { busy: true, errors: {}, fault: "" });
  draw(state);
  try {
    state.device = await pair(state.typed.code, state.typed.name);
    // The code is used up: it shall not be in the phone's history.
    history.replaceState(null, "", "#/pair");
    deliver();
  } catch (error) {
    takeFault(state, error);
  } finally {
    state.busy = false;
    draw(state);
    focusOn(state.place, state.device ? "a.button" : "[aria-invalid=true]");
  }
}

/** @param {{name: string, role: string}} device @param {Record<string, string>} roles what each may do */
const pairedScreen = ({ name, role }, roles) =>
  html`<h1>Paired</h1>
    <section class="card" role="status">
      <p>The workshop knows this ${DEVICE} as <strong>${name}</strong>, ${roles[role] ?? role}.</p>
      <p>What waited in the outbox is delivered now.</p>
      <a class="button main" href="#/">To the units</a>
    </section>`;

/** @param {State} state */
const earlierPairing = (state) =>
  state.before
    ? html`<p class="quiet">
          This ${DEVICE} was paired as ${state.before.name}. A new code replaces that pairing. At the workshop's own PC
          no pairing is needed.
        </p>
        <button class="plain" @click=${() => forget(state)}>Forget the pairing</button>`
    : nothing;

/** @param {State} state */
function codeScreen(state) {
  const { typed, errors, fault, busy } = state;
  const field = (/** @type {"code" | "name"} */ name, /** @type {string} */ label) =>
    textField({
      name,
      label,
      value: typed[name],
      error: errors[name],
      type: (value) => {
        typed[name] = value;
      },
    });
  return html`${backTo("#/settings", "Settings")}
    <h1>Pair this ${DEVICE}</h1>
    <section class="card">
      <p>Have a code made at the workshop's PC, under Settings, Devices. It is good for ten minutes and one phone.</p>
      ${earlierPairing(state)} ${field("code", "Code")} ${field("name", `What the workshop calls this ${DEVICE}`)}
      <p class="error" role="alert" ?hidden=${!fault}>${fault}</p>
      ${actKey({ words: "Pair", ready: !busy, act: () => send(state), look: "main" })}
      <p class="quiet">
        Entries that wait in the outbox stay there and are delivered afterwards. Where Slipbook is on the home screen,
        pair it there: some phones keep the two apart.
      </p>
    </section>`;
}

/** @param {State} state */
function draw(state) {
  render(state.device ? pairedScreen(state.device, state.roles) : codeScreen(state), state.place);
}

/** @type {import("../../app.js").Show} */
export async function show(place, [code = ""]) {
  const [who, before, { kinds }] = await Promise.all([fact("who", ""), fact("paired"), known("about")]);
  const name = before?.name ?? (who ? `${who}'s phone` : "");
  draw({
    place,
    roles: rolesInWords(kinds),
    before: before ?? undefined,
    typed: { code, name },
    errors: {},
    fault: "",
    busy: false,
  });
}
