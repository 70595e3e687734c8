// @ts-check
// News for the list of units: what waits, how far the list is pulled down, and what came of a delivery that was asked
// for there.

import { icon } from "../../draw/icons.js";
import { deliver } from "../../log/delivery.js";
import { DEVICE } from "../../log/device.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";

/**
 * @typedef {object} News
 * @property {() => void} draw
 * @property {number} waiting entries that were not delivered yet
 * @property {"" | "some" | "enough"} pulled how far the list is pulled down
 * @property {boolean} asked whether somebody asked for a delivery here
 * @property {string} delivery its state
 */

/** What a delivery that was asked for here comes to. @type {Record<string, string>} */
const CAME = {
  busy: "Delivering…",
  idle: "All is delivered, and what others wrote is here.",
  offline: "No connection to the workshop: it is delivered by itself later.",
  failed: "It was not delivered: the Outbox says why.",
  unpaired: `This ${DEVICE} is not paired with the workshop.`,
  elsewhere: "Another log answers at this address.",
};

/** @param {News} list */
export function deliverHere(list) {
  list.asked = true;
  deliver();
  list.draw();
}

/** How far the list is pulled, or what came of it; and a key for whoever does not pull. @param {News} list */
export function pulledLine(list) {
  const { pulled, asked, waiting, delivery } = list;
  const wait = waiting === 1 ? "1 entry waits" : `${waiting} entries wait`;
  const words =
    pulled === "enough" ? "Let go to deliver" : pulled ? "Pull down to deliver" : asked ? CAME[delivery] : "";
  if (!words && !waiting) return nothing;
  return html`<div class="pulled ${pulled}">
    <p role="status">${pulled ? icon("outbox") : nothing}${words || wait}</p>
    ${waiting ? html`<button class="small" @click=${() => deliverHere(list)}>Deliver now</button>` : nothing}
  </div>`;
}
