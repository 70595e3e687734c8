// @ts-check
// A customer's data: handed out as one file, and erased for good, with the other places where the name still stands.

import { BadInput, calc } from "../../engine/door.js";
import { askJson } from "../../log/access.js";
import { owners } from "../../log/customers.js";
import { known } from "../../log/known.js";
import { write } from "../../log/outbox.js";
import { anything, group, list, number, text } from "../../log/shape.js";
import { reasonOf } from "../../log/storage-fault.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { actKey } from "../form/act-key.js";
import { backTo, caution, errorLine, whenDay } from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { download } from "../form/share.js";
import { signing } from "../form/signing.js";
import { stillHere } from "../form/still-here.js";

const isCut = group({ entry: text, field: text, start: number, length: number, of: number });
const isHeld = group({
  customer: text,
  in_words: list(text),
  places: list(
    group({ entry: text, unit: text, name: text, kind: text, at: text, texts: list(text), cuts: list(isCut) }),
  ),
  entries: list(anything),
});

/** @typedef {import("../../log/customers.js").Owners["customers"][number]} Customer */
/** @typedef {Awaited<ReturnType<typeof heldOf>>} Held */

/** @param {string} id of a customer */
const heldOf = (id) => askJson(`/api/customers/${id}/held`, isHeld);

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {Customer} customer
 * @property {Held} [held] what the workshop's log holds
 * @property {string} absent why that is not known
 * @property {Set<string>} kept entries whose text stays as it is
 * @property {boolean} asked whether it was tapped once
 * @property {string} fault
 * @property {boolean} [busy]
 * @property {Record<string, {meaning: string}>} kinds
 * @property {import("../form/signing.js").Signing} sign
 */

/** @param {State} state */
async function look(state) {
  try {
    state.held = await heldOf(state.customer.id);
    state.absent = "";
  } catch {
    state.absent =
      "The workshop does not answer now: what else it holds, and where else the name stands, it alone knows.";
  }
  draw(state);
}

/** @param {Held} held */
function save({ customer, ...rest }) {
  const name = `${customer.replace(/[^\p{L}\p{N}]+/gu, "-")}.json`;
  download(new File([`${JSON.stringify({ customer, ...rest }, null, 1)}\n`], name, { type: "application/json" }));
}

/** @param {State} state */
async function erase(state) {
  if (state.busy) return;
  state.busy = true;
  state.fault = "";
  const { customer, held, kept } = state;
  const isStill = stillHere();
  try {
    state.sign.check();
    const cuts = (held?.places ?? []).filter(({ entry }) => !kept.has(entry)).flatMap((place) => place.cuts);
    const body = { ids: customer.ids, ...(cuts.length ? { cuts } : {}) };
    await write({ unit: "", kind: "erasure", body, shown: await calc("erasure", body) });
    if (isStill()) location.hash = "#/customers";
  } catch (error) {
    if (!(error instanceof BadInput)) state.fault = `This could not be saved: ${reasonOf(error)}`;
    else if (error.field !== "who") state.fault = error.reason;
    state.asked = false;
    draw(state);
  }
  state.busy = false;
}

/** @param {State} state @param {Held["places"][number]} place */
const placeRow = (state, { entry, name, kind, at, texts }) =>
  html`<li>
    <label
      ><input
        type="checkbox"
        .checked=${!state.kept.has(entry)}
        @change=${() => {
          if (!state.kept.delete(entry)) state.kept.add(entry);
          draw(state);
        }}
      /><span
        >${name || "The shop"}, ${state.kinds[kind]?.meaning ?? kind}, ${whenDay(at)}:
        <span class="quiet">${texts.join(" · ")}</span></span
      ></label
    >
  </li>`;

/** @param {State} state */
function places(state) {
  const { held, absent } = state;
  if (!held) return html`<p class="quiet">${absent || "Looking…"}</p>`;
  if (!held.places.length) return html`<p>Nowhere else in the log.</p>`;
  return html`<p class="quiet">
      In these only the name, number or address itself goes; the rest of the text stays. Leave out what is about
      somebody else.
    </p>
    <ul class="steps ticks">
      ${held.places.map((place) => placeRow(state, place))}
    </ul>`;
}

/** @param {State} state */
function keys(state) {
  const { asked, sign } = state;
  return html`${sign.fieldIfUnknown("Erased by") ?? nothing}
    <div class="row" id="keys">
      ${
        asked
          ? html`<button class="main" @click=${() => erase(state)}>Erase for good</button>
              <button @click=${() => ask(state, false)}>Leave it</button>`
          : actKey({
              words: `Erase ${state.customer.name}`,
              ready: Boolean(state.held || state.absent),
              act: () => ask(state, true),
            })
      }
    </div>`;
}

/** @param {State} state @param {boolean} asked */
function ask(state, asked) {
  state.asked = asked;
  draw(state);
  focusOn(state.place, asked ? "#keys > :last-child" : "#keys > button");
}

/** @param {State} state */
function draw(state) {
  const { customer, held, fault } = state;
  render(
    html`${backTo(`#/customers/${customer.id}`, customer.name)}
      <h1>The data of ${customer.name}</h1>
      <section class="card">
        <h2>Hand them out</h2>
        <p>Everything that the workshop's log holds about this customer: lines to read, and every entry.</p>
        ${held ? html`<button @click=${() => save(held)}>Save as a file</button>` : nothing}
      </section>
      <section class="card">
        <h2>Erase them</h2>
        <p>
          Name, telephone, mail, address and note go from every entry of this customer, and the name as the owner from
          its units. Units, checks and rebuilds stay, with their numbers, and say [erased] in its place.
        </p>
        <h3>Where the name still stands</h3>
        ${places(state)}
        ${caution(
          "This cannot be undone. Each phone drops the data when it next delivers. What it does not reach: backups " +
            "that were made before, damaged files that were set aside, sheets and files that were handed out, " +
            "calendars elsewhere, photos, and names in another spelling. A backup from before that is put back holds " +
            "the data until a phone that knows the erasure delivers: delete old backups, or erase again then.",
        )}
        ${errorLine(fault)} ${keys(state)}
      </section>`,
    state.place,
  );
}

/** @type {import("../../app.js").Show} */
export async function show(place, [id]) {
  const [{ customers }, { kinds }] = await Promise.all([owners(), known("about")]);
  const customer = customers.find(({ ids }) => ids.includes(id));
  if (!customer || customer.erased) {
    location.hash = "#/customers";
    return;
  }
  const sign = await signing(() => draw(state));
  /** @type {State} */
  const state = { place, customer, absent: "", kept: new Set(), asked: false, fault: "", kinds, sign };
  draw(state);
  look(state);
}
