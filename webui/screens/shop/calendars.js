// @ts-check
// What is due by day, and the calendars that read it: each by a secret address that can be withdrawn.

import { askJson } from "../../log/access.js";
import { anything, group, list, perhaps, text } from "../../log/shape.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { backTo, errorLine, textField, whenDay } from "../form/fields.js";
import { worked } from "../form/worked.js";

const areDues = group({ due: list(group({ day: text, title: text, text, unit: text })) });
const isFeed = group({ id: text, name: text, made: text, seen: perhaps(text) });
const areFeeds = group({ feeds: list(isFeed) });
const isNewFeed = group({ name: text, address: text });

/** @typedef {Awaited<ReturnType<typeof readDues>>[number]} Due */
/** @typedef {Awaited<ReturnType<typeof readFeeds>>[number]} Feed */

const readDues = async () => (await askJson("/api/calendar", areDues)).due;
const readFeeds = async () => (await askJson("/api/feeds", areFeeds)).feeds;

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {Due[]} [due]
 * @property {Feed[]} feeds
 * @property {string} name of the next calendar
 * @property {{name: string, address: string}} [made] that was just made, whose address is shown this once
 * @property {string} fault
 */

/** Do something, and read everything anew. @param {State} state @param {() => Promise<void>} act */
async function attempt(state, act) {
  state.fault = "";
  try {
    await act();
    state.due = await readDues();
    state.feeds = await readFeeds();
  } catch (error) {
    state.fault = /** @type {Error} */ (error).message;
  }
  draw(state);
}

/** @param {State} state */
const make = (state) =>
  attempt(state, async () => {
    state.made = await askJson("/api/feeds", isNewFeed, "POST", { name: state.name });
    state.name = "";
  });

/** @param {State} state @param {Feed} feed */
const withdraw = (state, feed) =>
  attempt(state, async () => {
    await askJson(`/api/feeds/${feed.id}`, anything, "DELETE");
    state.made = undefined;
  });

/** @param {State} state */
const dueSection = ({ due }) => html`<section class="card">
  <h2>What is due</h2>
  ${
    due?.length
      ? html`<ul class="steps">
          ${due.map(
            ({ day, title, text, unit }) =>
              html`<li>
                <b>${whenDay(day)}: ${unit ? html`<a class="back" href="#/unit/${unit}">${title}</a>` : title}.</b>
                ${text}
              </li>`,
          )}
        </ul>`
      : html`<p class="quiet">Nothing is due.</p>`
  }
</section>`;

/** @param {State} state */
const feedsSection = (state) => html`<section class="card">
  <h2>In your own calendar</h2>
  <p class="quiet">
    A calendar program reads what is due from an address of its own. Whoever has that address can read it, every unit
    and owner: give each of the workshop's devices one, and withdraw it when the device is gone. A customer gets the
    dates of the own units on the page under <a href="#/customers">Customers</a>.
    ${worked("papers", "What stands on which day")}
  </p>
  ${textField({
    name: "name",
    label: "Whose calendar",
    value: state.name,
    type: (name) => {
      state.name = name;
    },
  })}
  <button class="main" @click=${() => make(state)}>Make an address</button>
  ${
    state.made
      ? html`<p role="status">
          The address for ${state.made.name}, shown only this once; let the program subscribe to it:
        </p>
        <p><code class="address">${state.made.address}</code></p>`
      : nothing
  }
  ${
    state.feeds.length
      ? html`<ul class="list">
          ${state.feeds.map(
            (feed) =>
              html`<li class="row apart">
                <span
                  >${feed.name}<br /><span class="quiet"
                    >${feed.seen ? `read on ${whenDay(feed.seen)}` : `made on ${whenDay(feed.made)}, never read`}</span
                  ></span
                ><button aria-label=${`Withdraw the address of ${feed.name}`} @click=${() => withdraw(state, feed)}>
                  Withdraw
                </button>
              </li>`,
          )}
        </ul>`
      : nothing
  }
</section>`;

/** @param {State} state */
function draw(state) {
  render(
    html`${backTo("#/settings", "Settings")}
      <h1>Calendar</h1>
      ${errorLine(state.fault)} ${state.due ? html`${dueSection(state)} ${feedsSection(state)}` : nothing}`,
    state.place,
  );
}

/** @type {import("../../app.js").Show} */
export async function show(place) {
  /** @type {State} */
  const state = { place, feeds: [], name: "", fault: "" };
  await attempt(state, async () => {});
}
