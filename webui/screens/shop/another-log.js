// @ts-check
// What this phone holds of another log than the one that is shown: it crosses only when somebody says so.

import { deliver } from "../../log/delivery.js";
import { DEVICE } from "../../log/device.js";
import { nameOf } from "../../log/logs.js";
import { bringOver, forget } from "../../log/other-logs.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { focusOn } from "../form/focus.js";
import { counted } from "./came-back.js";

/** @typedef {import("../../log/other-logs.js").Elsewhere} Elsewhere */

/** Somebody decided. @param {HTMLElement} place @param {Promise<unknown>} done */
async function decide(place, done) {
  // The key that was pressed goes with what waited.
  focusOn(place, "button.main");
  await done;
  deliver();
}

/** What waits for it. @param {Elsewhere} held @param {string} here @param {HTMLElement} place */
function waits({ log, entries }, here, place) {
  const name = nameOf(log);
  const later = log.demo
    ? "It was a demonstration, which has ended."
    : `Delivered by itself when ${name} is at this address.`;
  const these = entries === 1 ? "this entry" : `these ${entries} entries`;
  return html`<section class="card judged measure_again" aria-label=${`For ${name}`}>
    <h2>${entries === 1 ? "1 entry waits" : `${entries} entries wait`} for another log, ${name}</h2>
    <p>${later}
    Nothing of it goes to ${here} unless you say so; once there, it stays there.</p>
    <div class="row">
      <button @click=${() => decide(place, bringOver(log, "outbox"))}>Send ${these} to ${here}</button>
      ${log.demo ? html`<button @click=${() => decide(place, forget(log))}>Forget ${these}</button>` : nothing}
    </div>
  </section>`;
}

/** What to do if it is gone for good. @param {Elsewhere} held @param {string} here @param {HTMLElement} place */
function rescue({ log, lacking, pictures }, here, place) {
  const name = nameOf(log);
  const much = [...counted(lacking, "entry", "entries"), ...counted(pictures, "photo", "photos")].join(" and ");
  return html`<section class="card" aria-label=${`Of ${name}`}>
    <h2>Of another log, ${name}</h2>
    <p>This ${DEVICE} has ${much} of it. When ${name} is at this address again, all goes on there.</p>
    <details>
      <summary>${name} is lost for good, with its backups</summary>
      <div class="inside">
        <p>
          Then put what is on this ${DEVICE} into ${here}: every entry, with the time at which it was made, and the
          photos that were taken with this ${DEVICE}. Do it on each phone. It cannot be taken out again.
        </p>
        <p>
          A phone that is paired for trackside sends only what trackside may write: have it paired for the bench first.
        </p>
        <div class="row">
          <button @click=${() => decide(place, bringOver(log, "entries"))}>Put ${much} of ${name} into ${here}</button>
        </div>
      </div>
    </details>
  </section>`;
}

/**
 * @param {Elsewhere} held
 * @param {string} here what people call the log that is shown
 * @param {HTMLElement} place of the screen
 */
export const ofAnotherLog = (held, here, place) =>
  html`${held.entries ? waits(held, here, place) : nothing}
  ${(held.lacking || held.pictures) && !held.log.demo ? rescue(held, here, place) : nothing}`;
