// @ts-check
// Lets this phone into the workshop, with a code that was made at the workshop's PC.

import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { deliver } from "../../log/delivery.js";
import { NotPaired, Offline, Refused, forgetPairing, pair } from "../../log/access.js";
import { keptFrom } from "../../log/kinds.js";
import { known } from "../../log/known.js";
import { fact } from "../../log/store.js";
import { focusOn } from "../form/focus.js";
import { backTo, textField } from "../form/fields.js";

/**
 * What each role may do.
 * @param {Record<string, import("../../log/kinds.js").Kind>} kinds
 * @returns {Record<string, string>}
 */
export const rolesInWords = (kinds) => ({
  trackside: `trackside: reads all, writes all but ${keptFrom(kinds, "trackside")}`,
  bench: "bench: may do all, also let devices in",
});

/** @type {import("../../app.js").Show} */
export async function show(place, [code = ""]) {
  const who = await fact("who", "");
  let before = await fact("paired");
  const typed = { code, name: before?.name ?? (who ? `${who}'s phone` : "") };
  /** @type {Record<string, string>} */
  let errors = {};
  let told = "";
  let busy = false;
  /** @type {{name: string, role: string} | undefined} */
  let device;
  let may = "";

  const forget = async () => {
    await forgetPairing();
    before = undefined;
    told = "The pairing is forgotten on this phone.";
    draw();
    deliver();
  };

  const send = async () => {
    if (busy) return;
    busy = true;
    errors = {};
    told = "";
    draw();
    try {
      const paired = await pair(typed.code, typed.name);
      may = rolesInWords((await known("about")).kinds)[paired.role] ?? paired.role;
      device = paired;
      // The code is used up: it shall not be in the phone's history.
      history.replaceState(null, "", "#/pair");
      deliver();
    } catch (error) {
      if (error instanceof Refused && error.status === 404)
        told = "Slipbook serves the workshop's PC only: start it there with slipbook serve --lan.";
      else if (error instanceof Refused && error.errors.length)
        errors = Object.fromEntries(error.errors.map((one) => [one.field, one.reason]));
      else if (error instanceof Refused || error instanceof Offline || error instanceof NotPaired) told = error.message;
      else throw error;
    } finally {
      busy = false;
      draw();
      focusOn(place, device ? "a.button" : "[aria-invalid=true]");
    }
  };

  const draw = () =>
    render(
      device
        ? html`<h1>Paired</h1>
            <section class="card" role="status">
              <p>The workshop knows this phone as <strong>${device.name}</strong>, ${may}.</p>
              <p>What waited in the outbox goes home now.</p>
              <a class="button main" href="#/">To the units</a>
            </section>`
        : html`${backTo("#/settings", "Settings")}
            <h1>Pair this phone</h1>
            <section class="card">
              <p>
                Have a code made at the workshop's PC, under Settings, Devices. It is good for ten minutes and one
                phone.
              </p>
              ${
                before
                  ? html`<p class="quiet">
                        This phone was paired as ${before.name}. A new code takes the place of that. At the workshop's
                        own PC no pairing is needed.
                      </p>
                      <button class="plain" @click=${forget}>Forget that pairing</button>`
                  : nothing
              }
              ${textField({ name: "code", label: "Code", value: typed.code, error: errors.code, type: (value) => (typed.code = value) })}
              ${textField({ name: "name", label: "What the workshop calls this phone", value: typed.name, error: errors.name, type: (value) => (typed.name = value) })}
              <p class="error" role="alert" ?hidden=${!told}>${told}</p>
              <button class="main" aria-disabled=${busy ? "true" : "false"} @click=${send}>Pair</button>
              <p class="quiet">
                Entries that wait in the outbox stay there and go home afterwards. Where Slipbook is on the home screen,
                pair it there: some phones keep that apart from the browser.
              </p>
            </section>`,
      place,
    );
  draw();
}
