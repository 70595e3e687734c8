// @ts-check
// What this phone has not delivered yet, and every way to bring it home.

import { html, nothing, render } from "../vendor/lit-html/lit-html.js";
import { engine } from "../engine/door.js";
import { deliver, watch } from "../log/delivery.js";
import { askToPersist, outboxFile } from "../log/outbox.js";
import { entry, fact, onChange, outbox, today } from "../log/store.js";
import { standing } from "../log/stands.js";
import { verdictMark, when } from "./parts.js";

/** @type {Record<string, string>} */
const CORRECTED_ON = { torque_check: "check", plate_check: "plates", note: "note" };

/** @type {import("../app.js").Show} */
export async function show(place) {
  const { kinds } = await engine();
  let report = { state: "idle", reason: "", at: 0 };
  let stays = (await navigator.storage?.persisted?.()) ?? false;

  const saveFile = async () => {
    const url = URL.createObjectURL(new Blob([await outboxFile()], { type: "application/json" }));
    const link = Object.assign(document.createElement("a"), { href: url, download: `slipbook-outbox-${today()}.json` });
    link.click();
    setTimeout(() => URL.revokeObjectURL(url), 60000);
  };

  /** @param {any} waiting */
  const row = async (waiting) => {
    const one = await entry(waiting.id);
    if (!one) return nothing;
    const name = one.unit ? ((await standing(one.unit)).unit?.name ?? "a unit") : "the kit";
    const refused = waiting.refused?.length;
    return html`<li class="card judged ${refused ? "replace" : ""}">
      <div class="row apart"><strong>${name}: ${kinds[one.kind]?.meaning ?? one.kind}</strong>${one.shown.verdict ? verdictMark(one.shown.verdict) : nothing}</div>
      <p class="quiet">${when(one.at)} · ${one.who || "nobody named"}</p>
      ${
        refused
          ? html`<p class="error">The workshop refused this entry; it stays here.</p><ul class="steps">${waiting.refused.map(
              (/** @type {any} */ error) => html`<li>${error.field ? html`<b>${error.field}</b>: ` : nothing}${error.reason}</li>`,
            )}</ul>${CORRECTED_ON[one.kind] ? html`<a class="button" href="#/unit/${one.unit}/${CORRECTED_ON[one.kind]}/${one.id}">Correct it</a>` : nothing}`
          : nothing
      }
    </li>`;
  };

  const draw = async () => {
    const waiting = await outbox();
    const rows = await Promise.all(waiting.map(row));
    const after = await fact("after", 0);
    const told = {
      idle: waiting.length ? "Ready to deliver." : "All is delivered.",
      busy: "Delivering…",
      offline: "No connection to the workshop. All is kept here and goes home by itself.",
      failed: `The workshop did not take it: ${report.reason}`,
    }[report.state];
    render(
      html`<h1>Outbox</h1>
        <section class="card" aria-live="polite">
          <p class="figure">${waiting.length} <small>${waiting.length === 1 ? "entry waits" : "entries wait"}</small></p>
          <p>${told}</p>
          <p class="quiet">${after ? `The log is here up to number ${after}.` : "The log was not fetched yet."}</p>
          <div class="row">
            <button class="main" ?disabled=${report.state === "busy"} @click=${() => deliver()}>Deliver now</button>
            <button ?disabled=${!waiting.length} @click=${saveFile}>Save the outbox to a file</button>
          </div>
          <p class="quiet">${
            stays
              ? "The browser keeps what is stored, even when the phone runs full."
              : "The browser may clear what is stored when the phone runs full: deliver soon, or add Slipbook to the home screen."
          }</p>
          ${
            stays
              ? nothing
              : html`<button @click=${async () => {
                  stays = await askToPersist();
                  draw();
                }}>Ask the browser to keep it</button>`
          }
        </section>
        <ul class="list">${rows}</ul>`,
      place,
    );
  };
  await draw();
  const stop = [onChange(draw), watch((now) => ((report = now), draw()))];
  return () => stop.forEach((one) => one());
}
