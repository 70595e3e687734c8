// @ts-check
// The shop's customers; and owners of whom there is no more than a name that was typed, to make customers of.

import { BadInput } from "../../engine/door.js";
import { onChange } from "../../log/changes.js";
import { linkUnits, owners, saveCustomer } from "../../log/customers.js";
import { finder } from "../../log/find.js";
import { reasonOf } from "../../log/storage-fault.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { backTo, errorLine, textField } from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { worked } from "../form/worked.js";
import { customerForm } from "./customer-form.js";

/** @typedef {import("../../log/customers.js").Owners} Owners */
/** @typedef {Owners["texts"][number]} Typed */

// So few are found by eye.
const FEW = 8;

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {Owners} owners
 * @property {string} sought
 * @property {string} looked the typed name whose change is shown before it is made
 * @property {string} message what came of the last tap
 * @property {string} fault
 * @property {boolean} [busy] whether something is being saved
 * @property {import("./customer-form.js").CustomerForm} form
 */

/** @param {number} count */
const units = (count) => (count === 1 ? "1 unit" : `${count} units`);

/** @param {Owners["customers"][number]} customer */
function customerRow({ id, name, gone, erased, alike, body, units: own }) {
  const about = [gone && !erased ? "no longer a customer" : "", units(own.length), body.phone || body.mail].filter(
    Boolean,
  );
  return html`<li>
    <a href="#/customers/${id}"
      ><span class="about"
        ><strong>${name}</strong
        ><span class="quiet"
          >${about.join(" · ")}</span
        >${alike.length ? html`<span class="typed">There is another customer of this name</span>` : nothing}</span
      ></a
    >
  </li>`;
}

/**
 * Make a customer of a name that was typed, or say that its units are one's whom there is.
 * @param {State} state @param {Typed} text
 */
async function link(state, text) {
  // A thumb that taps twice saves once.
  if (state.busy) return;
  state.busy = true;
  state.message = state.fault = "";
  try {
    state.form.sign.check();
    const known = state.owners.customers.find(({ id }) => id === text.customer);
    const name = known?.name ?? text.text;
    const id = known?.id ?? (await saveCustomer({ name }));
    await linkUnits(text.units, id, name);
    state.message = `${units(text.units.length)} of ${name} ${text.units.length === 1 ? "says" : "say"} so now.`;
    state.looked = "";
    state.owners = await owners();
  } catch (error) {
    if (!(error instanceof BadInput)) state.fault = `This could not be saved: ${reasonOf(error)}`;
    else if (error.field !== "who") state.fault = error.reason;
  }
  state.busy = false;
  draw(state);
  state.place.querySelector("[role=status]")?.scrollIntoView({ block: "nearest" });
  if (!state.place.contains(document.activeElement)) focusOn(state.place, ".texts button", "input");
}

/** @param {State} state @param {string} text */
function look(state, text) {
  state.looked = text;
  draw(state);
  focusOn(state.place, "#make", ".texts button");
}

/** What will be written, before it is. @param {State} state @param {Typed} text */
const preview = (state, text) =>
  html`<div class="finding">
    <p>
      ${
        text.customer
          ? html`These units will be ${text.text}'s, who is a customer already:`
          : html`${text.text} becomes a customer, with these units:`
      }
    </p>
    <ul class="steps">
      ${text.units.map(({ unit }) => html`<li>${unit.name}, owner so far: ${unit.owner}</li>`)}
    </ul>
    <p class="quiet">Each unit gets an entry that says so. What was typed stays in its history.</p>
    <div class="row">
      <button id="make" class="main" @click=${() => link(state, text)}>
        ${text.customer ? `Link ${units(text.units.length)}` : `Make the customer, link ${units(text.units.length)}`}
      </button>
      <button @click=${() => look(state, "")}>Leave it</button>
    </div>
  </div>`;

/** @param {Typed} text */
function offerOf({ customer, text, units: own }) {
  if (customer) return `Link to ${text}`;
  return `Make a customer of ${own.length === 1 ? "this unit" : `these ${units(own.length)}`}`;
}

/** @param {State} state @param {Typed} text */
const textCard = (state, text) =>
  html`<li class="card">
    <p class="row apart"><strong>${text.text}</strong><span class="quiet">${units(text.units.length)}</span></p>
    ${text.spellings.length > 1 ? html`<p class="quiet">Typed as ${text.spellings.join("; ")}</p>` : nothing}
    ${
      state.looked === text.text
        ? preview(state, text)
        : html`<button @click=${() => look(state, text.text)}>
            ${offerOf(text)}
          </button>`
    }
  </li>`;

/** @param {State} state */
function typedNames(state) {
  const { texts } = state.owners;
  if (!texts.length) return nothing;
  return html`<h2>Owners that are a name alone</h2>
    <ul class="list texts">
      ${texts.map((text) => textCard(state, text))}
    </ul>`;
}

/** @param {State} state */
function draw(state) {
  const { owners: all, sought, message, fault, form } = state;
  const fits = finder(sought);
  const found = all.customers.filter(({ name, body }) => fits(`${name} ${body.phone ?? ""} ${body.mail ?? ""}`));
  render(
    html`${backTo("#/", "Units")}
      <h1>Customers</h1>
      <p>${worked("papers", "What customers, sheets, labels and calendar have to do with each other")}</p>
      ${
        all.customers.length > FEW
          ? textField({
              name: "sought",
              label: "Find a customer",
              value: sought,
              type: (typed) => {
                state.sought = typed;
                draw(state);
              },
            })
          : nothing
      }
      ${
        found.length
          ? html`<ul class="list cards">
              ${found.map(customerRow)}
            </ul>`
          : html`<p>
              ${all.customers.length ? `No customer has “${sought}” in the name.` : "No customer is kept yet."}
            </p>`
      }
      <p role="status">${message}</p>
      ${errorLine(fault)} ${typedNames(state)}
      <section class="card">
        <h2>Add a customer</h2>
        <p class="quiet">Only a name is needed.</p>
        ${form.fields("Save the customer")}
      </section>`,
    state.place,
  );
}

/** @type {import("../../app.js").Show} */
export async function show(place) {
  const state = /** @type {State} */ ({ place, sought: "", looked: "", message: "", fault: "" });
  let ready = false;
  const redraw = () => {
    if (ready) draw(state);
  };
  state.form = await customerForm({
    key: "customer",
    draw: redraw,
    saved: async (name) => {
      state.message = `${name} is saved.`;
      state.owners = await owners();
      draw(state);
      place.querySelector("[role=status]")?.scrollIntoView({ block: "center" });
    },
  });
  state.owners = await owners();
  ready = true;
  draw(state);
  const follow = async () => {
    state.owners = await owners();
    draw(state);
  };
  const stop = onChange(follow);
  // What came while this screen was opened told nobody.
  follow();
  return stop;
}
