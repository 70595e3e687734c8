// @ts-check
// One customer: how to reach, units with what stands for them and what is due, sheets that were sent, hours and parts.

import { askJson, request } from "../../log/access.js";
import { onChange } from "../../log/changes.js";
import { owners, saveCustomer } from "../../log/customers.js";
import { DEVICE } from "../../log/device.js";
import { isOf } from "../../log/entries.js";
import { group, list, number, text } from "../../log/shape.js";
import { reasonOf } from "../../log/storage-fault.js";
import { entriesOf } from "../../log/store.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { backTo, choiceField, errorLine, verdictMark, when, whenDay } from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { download } from "../form/share.js";
import { HOW } from "../unit/entry-views.js";
import { customerForm } from "./customer-form.js";

/** @typedef {import("../../log/customers.js").Owners["customers"][number]} Customer */
/** @typedef {import("../../log/entries.js").EntryOf<"sheet_sent">} Sent */

const isAccount = group({
  rebuilds: number,
  hours: text,
  parts_cost: text,
  without_hours: number,
  without_cost: number,
  dates: list(group({ day: text, title: text, unit: text })),
});

/** @typedef {Awaited<ReturnType<typeof accountOf>>} Account */

/** @param {string} id of a customer */
const accountOf = (id) => askJson(`/api/customers/${id}`, isAccount);

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {string} id
 * @property {Customer} [customer]
 * @property {Customer[]} all
 * @property {{unit: string, entry: Sent}[]} sent
 * @property {Account} [account] as the workshop's PC adds it up
 * @property {Promise<Account>} [asked] of it last
 * @property {string} absent why there is none
 * @property {boolean} changing whether the form is open
 * @property {string} joined the record that may be the same customer
 * @property {string} message
 * @property {string} fault
 * @property {boolean} [busy]
 * @property {import("./customer-form.js").CustomerForm} form
 */

/** @param {State} state */
async function load(state) {
  state.all = (await owners()).customers;
  state.customer = state.all.find(({ ids }) => ids.includes(state.id));
  const sent = await Promise.all(
    (state.customer?.units ?? []).map(async ({ unit_id, unit }) =>
      (await entriesOf(unit_id ?? ""))
        .filter((entry) => isOf(entry, "sheet_sent"))
        .map((entry) => ({ unit: unit.name, entry })),
    ),
  );
  state.sent = sent.flat();
}

/**
 * Hours and parts of rebuilds, and days on which something is due, from the workshop's PC: it knows of what was written
 * here once that is delivered, and is asked again then.
 * @param {State} state
 */
async function askAccount(state) {
  const asked = accountOf(state.id);
  state.asked = asked;
  try {
    const account = await asked;
    // Only the last answer counts.
    if (state.asked !== asked) return;
    [state.account, state.absent] = [account, ""];
  } catch {
    if (state.asked !== asked) return;
    state.absent = "Hours, parts and dates are added up at the workshop, which does not answer now.";
  }
  draw(state);
}

/** Write the customer anew. @param {State} state @param {Partial<Customer["body"]>} change @param {string} message */
async function change(state, change, message) {
  if (state.busy || !state.customer) return;
  state.busy = true;
  state.message = state.fault = "";
  try {
    state.form.sign.check();
    await saveCustomer({ ...state.customer.body, ...change, id: state.customer.id });
    state.message = message;
    state.joined = "";
    await load(state);
  } catch (error) {
    state.fault = `This could not be saved: ${reasonOf(error)}`;
  }
  state.busy = false;
  draw(state);
  if (!state.place.contains(document.activeElement)) focusOn(state.place, "#actions > *");
}

/** Join another record: what either says is kept. @param {State} state @param {Customer} other */
function join(state, other) {
  const { body } = /** @type {Customer} */ (state.customer);
  const filled = Object.fromEntries(
    /** @type {const} */ (["phone", "mail", "address", "note"]).map((name) => [
      name,
      body[name] || other.body[name] || "",
    ]),
  );
  const takes_in = [...new Set([...(body.takes_in ?? []), other.id])];
  return change(state, { ...filled, takes_in }, `${other.name} is the same customer now.`);
}

/** What a record says. @param {Customer["body"]} body */
const reach = ({ phone, mail, address, note }) => html`
  ${phone ? html`<p>Telephone <a href="tel:${phone.replace(/[^\d+]/g, "")}">${phone}</a></p>` : nothing}
  ${mail ? html`<p>Mail <a href="mailto:${encodeURI(mail)}">${mail}</a></p>` : nothing}
  ${address ? html`<p class="lines">${address}</p>` : nothing}
  ${note ? html`<p class="quiet lines">${note}</p>` : nothing}
`;

/** @param {State} state @param {Customer} other */
const sameCustomer = (state, other) =>
  html`<section class="card">
    <h2>Is ${other.name} the same customer?</h2>
    ${reach(other.body)}
    <p class="quiet">
      Joined, both are one: units of either are this one's, what is empty here comes from there, and all else that was
      said there is still shown below.
    </p>
    <div class="row">
      <button @click=${() => join(state, other)}>Join them</button>
    </div>
  </section>`;

/** @param {Customer} customer */
function unitRows({ units }) {
  if (!units.length) return html`<p class="quiet">No unit on this ${DEVICE} is this customer's.</p>`;
  return html`<ul class="list cards units">
    ${units.map(
      ({ unit_id, unit, verdict, due, looked_at }) =>
        html`<li>
          <a href="#/unit/${unit_id}"
            ><span class="about"
              ><strong>${unit.name}</strong
              ><span class="quiet"
                >${looked_at ? `last checked ${whenDay(looked_at)}` : "not checked yet"}${due.map(
                  ({ text: words }) => html`<br />Due: ${words}`,
                )}</span
              ></span
            >${verdictMark(verdict)}</a
          >
        </li>`,
    )}
  </ul>`;
}

/** @param {State} state */
function sheets({ sent }) {
  return html`<section class="card">
    <h2>Sheets sent</h2>
    ${
      sent.length
        ? html`<ul class="steps">
            ${sent.map(
              ({ unit, entry: { id, unit: of, who, body } }) =>
                html`<li>
                  <a href="#/unit/${of}/entry/${id}">${unit}, ${whenDay(body.day)}</a> ${HOW[body.how]}, by ${who}
                </li>`,
            )}
          </ul>`
        : html`<p class="quiet">None yet. A unit's sheet has the key that logs it.</p>`
    }
  </section>`;
}

/** A sum, and how many rebuilds are missing in it. @param {string} sum @param {number} without */
const sumOf = (sum, without) => `${sum || "–"}${sum && without ? ` (${without} without)` : ""}`;

/** @param {Account["dates"][number]} due */
const dateRow = ({ day, title, unit }) => html`<li><a href="#/unit/${unit}">${title}</a>, ${whenDay(day)}</li>`;

/** The dates as a file that the customer's own calendar reads: it names nobody else's units. @param {State} state */
async function saveDates(state) {
  state.fault = "";
  try {
    const blob = await (await request(`/api/customers/${state.id}/calendar`)).blob();
    const type = "text/calendar";
    const whose = (state.customer?.name ?? "").replace(/[^\p{L}\p{N}]+/gu, "-");
    download(new File([blob], `${whose}-dates.ics`, { type }));
  } catch (error) {
    state.fault = `The PC writes this file. ${reasonOf(error)}`;
  }
  draw(state);
}

/** @param {State} state */
function account(state) {
  const { account: found, absent } = state;
  if (!found)
    return html`<section class="card"><h2>Hours and parts</h2><p class="quiet">${absent || "…"}</p></section>`;
  return html`<section class="card">
      <h2>Hours and parts</h2>
      <p>
        Rebuilds: ${found.rebuilds}. Hours: ${sumOf(found.hours, found.without_hours)}. Parts:
        ${sumOf(found.parts_cost, found.without_cost)}.
      </p>
    </section>
    <section class="card">
      <h2>Dates</h2>
      ${
        found.dates.length
          ? html`<ul class="steps">
                ${found.dates.map(dateRow)}
              </ul>
              <button @click=${() => saveDates(state)}>Save these dates for a calendar</button>`
          : html`<p class="quiet">Nothing is due.</p>`
      }
    </section>`;
}

/** @param {State} state @param {Customer} customer */
function moreOf(state, customer) {
  const others = state.all.filter(({ id, gone }) => id !== customer.id && !gone);
  const other = others.find(({ id }) => id === state.joined);
  return html`<details>
    <summary>Entries${others.length ? ", and another record of the same customer" : ""}</summary>
    <div class="inside">
      ${
        others.length
          ? choiceField({
              name: "joined",
              label: "The same customer as",
              value: state.joined,
              options: [
                ["", "nobody else"],
                ...others.map(({ id, name }) => /** @type {[string, string]} */ ([id, name])),
              ],
              choose: (id) => {
                state.joined = id;
                draw(state);
              },
            })
          : nothing
      }
      ${other ? sameCustomer(state, other) : nothing}
      <ul class="list">
        ${customer.history.map(
          ({ entry, who, at }) =>
            html`<li><a href="#/customers/entry/${entry}">${when(at)}${who ? `, ${who}` : ""}</a></li>`,
        )}
      </ul>
    </div>
  </details>`;
}

/** @param {State} state @param {Customer} customer */
function record(state, customer) {
  const { changing, form } = state;
  if (changing)
    return html`<section class="card">
      <h2>Change ${customer.name}</h2>
      ${form.fields("Save the customer")}
      <button class="plain" @click=${() => open(state, false)}>Leave it as it is</button>
    </section>`;
  if (customer.erased)
    return html`<section class="card"><p>The personal data of this customer were erased.</p></section>`;
  return html`<section class="card">
    ${reach(customer.body)}
    ${customer.others.map(
      ({ body }) => html`<div class="finding"><p class="quiet">Also kept, as ${body.name}:</p>${reach(body)}</div>`,
    )}
    ${customer.overwritten.map(
      (id) =>
        html`<p class="finding doubt">
          <a href="#/customers/entry/${id}">Another device changed this at the same time</a>, without having seen the
          change that counts. Look at it, and change what is missing here.
        </p>`,
    )}
    <div class="row" id="actions">
      <button @click=${() => open(state, true)}>Change</button>
      <a class="button" href="#/customers/${customer.id}/data">Hand out or erase the data</a>
      ${
        customer.gone
          ? html`<button @click=${() => change(state, { gone: "no" }, `${customer.name} is a customer again.`)}>
              A customer again
            </button>`
          : html`<button
              class="plain"
              @click=${() => change(state, { gone: "yes" }, `${customer.name} is no longer offered for new units.`)}
            >
              No longer a customer
            </button>`
      }
    </div>
    ${form.sign.fieldIfUnknown("Your name") ?? nothing}
  </section>`;
}

/** @param {State} state @param {boolean} changing */
async function open(state, changing) {
  if (!changing) await state.form.clear();
  state.changing = changing;
  if (changing) state.form = await formOf(state);
  draw(state);
  focusOn(state.place, changing ? '[data-field="customer.name"]' : "#actions > *");
}

/** @param {State} state */
const formOf = (state) =>
  customerForm({
    key: `customer/${state.id}`,
    body: state.customer?.body,
    id: state.customer?.id,
    draw: () => state.form && draw(state),
    saved: async (name) => {
      state.message = `${name} is saved.`;
      state.changing = false;
      await load(state);
      draw(state);
      focusOn(state.place, "#actions > *");
    },
  });

/** @param {State} state */
function draw(state) {
  const { customer, message, fault, all } = state;
  if (!customer) return;
  render(
    html`${backTo("#/customers", "Customers")}
      <h1>${customer.name}${customer.gone && !customer.erased ? " (no longer a customer)" : ""}</h1>
      <p role="status">${message}</p>
      ${errorLine(fault)} ${record(state, customer)}
      ${all.filter(({ id }) => customer.alike.includes(id)).map((other) => sameCustomer(state, other))}
      <h2>Units</h2>
      ${unitRows(customer)}
      ${sheets(state)} ${account(state)} ${moreOf(state, customer)}`,
    state.place,
  );
}

/** @type {import("../../app.js").Show} */
export async function show(place, [id]) {
  const state = /** @type {State} */ ({
    place,
    id,
    .../** @type {Pick<State, "all" | "sent">} */ ({ all: [], sent: [] }),
    changing: false,
    joined: "",
    message: "",
    fault: "",
    absent: "",
  });
  await load(state);
  if (!state.customer) {
    location.hash = "#/customers";
    return;
  }
  state.form = await formOf(state);
  draw(state);
  askAccount(state);
  return onChange(async () => {
    await load(state);
    draw(state);
    askAccount(state);
  });
}
