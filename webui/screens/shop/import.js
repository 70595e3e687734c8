// @ts-check
// Takes in a unit that another phone or workshop saved to a file: looked into first, taken in with a second tap.

import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { barred, lookInto, takeIn } from "../../log/unit-file.js";
import { backTo, errorLine } from "../form/fields.js";

// More than anybody reads.
const LISTED = 20;

/** @type {import("../../app.js").Show} */
export async function show(place) {
  let turn = 0;
  let fault = "";
  let far = { done: 0, all: 0 };
  let busy = "";
  /** @type {import("../../log/unit-file.js").Found | undefined} */
  let found;
  let done = false;

  /** @param {HTMLInputElement} input */
  const choose = async (input) => {
    const [file] = input.files ?? [];
    if (!file) return;
    const mine = ++turn;
    [fault, found, done, busy, far] = ["", undefined, false, `Looking into ${file.name}…`, { done: 0, all: 0 }];
    draw();
    try {
      const seen = await lookInto(file, (now, all) => {
        if (mine !== turn) return;
        far = { done: now, all };
        draw();
      });
      const bar = await barred(seen);
      if (mine !== turn) return;
      if (bar) fault = bar;
      else found = seen;
    } catch (error) {
      if (mine !== turn) return;
      fault = /** @type {Error} */ (error).message;
    }
    busy = "";
    input.value = "";
    draw();
  };

  const take = async () => {
    if (!found || busy) return;
    busy = "Taking it in…";
    draw();
    try {
      await takeIn(found);
      done = true;
    } catch {
      fault = "This phone cannot store all of it, and took nothing in: free some space, then tap again.";
    }
    busy = "";
    draw();
  };

  /** @param {import("../../log/unit-file.js").FoundUnit} one */
  const unit = (one) =>
    html`<section class="card" aria-label=${one.name || "A unit"}>
      <h2>${one.name || "A unit without a name"}</h2>
      <p>
        ${
          one.fresh.length
            ? `${one.fresh.length} ${one.fresh.length === 1 ? "entry" : "entries"} ${done ? (one.fresh.length === 1 ? "was taken in" : "were taken in") : "new here"}`
            : "Nothing new"
        };
        ${one.there} already here.
      </p>
      ${
        one.refused.length
          ? html`<p class="error">
                ${one.refused.length === 1 ? "1 entry cannot" : `${one.refused.length} entries cannot`} be taken in:
              </p>
              <ul class="steps">
                ${one.refused.slice(0, LISTED).map((row) => html`<li><b>${row.words}.</b> ${row.reason}</li>`)}
              </ul>
              ${one.refused.length > LISTED ? html`<p class="quiet">And ${one.refused.length - LISTED} more.</p>` : nothing}`
          : nothing
      }
      ${done || (!one.fresh.length && one.there) ? html`<a class="button" href="#/unit/${one.unit}">Open ${one.name || "it"}</a>` : nothing}
    </section>`;

  const draw = () => {
    const fresh = found?.units.reduce((sum, one) => sum + one.fresh.length, 0) ?? 0;
    render(
      html`${backTo("#/", "Units")}
        <h1>Take in a file</h1>
        <section class="card">
          <p>
            A unit that was saved to a file, on its own page in another Slipbook or with <code>slipbook export</code>.
            Both books are merged: what is here stays, and what is new comes in.
          </p>
          <label class="button photo ${found ? "" : "main"}"
            >${found || fault ? "Choose another file" : "Choose the file"}<input
              type="file"
              accept=".json,application/json"
              @change=${(/** @type {any} */ event) => choose(event.target)}
          /></label>
          ${
            busy
              ? html`<p role="status">${busy}${far.all ? ` ${far.done} of ${far.all}` : ""}</p>
                  <progress
                    aria-label="How far it is"
                    max=${far.all || nothing}
                    value=${far.all ? far.done : nothing}
                  ></progress>`
              : nothing
          }
          ${errorLine(fault)}
        </section>
        ${found?.units.map(unit) ?? nothing} ${found?.left.map((one) => html`<p class="quiet">${one}</p>`) ?? nothing}
        ${found?.photos.length ? html`<p class="quiet">${found.photos.length === 1 ? "1 photo comes" : `${found.photos.length} photos come`} with it.</p>` : nothing}
        ${
          done
            ? html`<p role="status">
                It is in the book, and goes home to the workshop through the <a href="#/outbox">outbox</a>.
              </p>`
            : fresh
              ? html`<button class="main big" ?disabled=${Boolean(busy)} @click=${take}>
                  Take ${fresh === 1 ? "1 entry" : `${fresh} entries`} in
                </button>`
              : nothing
        }`,
      place,
    );
  };
  draw();
  return () => void (turn += 1);
}
