// @ts-check
// The way from a screen to the page of Help that says how its figures are worked out, and back into the same form.

import { html } from "../../vendor/lit-html/lit-html.js";

/** Under this name the browser's tab remembers the screen that help was asked from. */
export const CAME_FROM = "help came from";

/** @param {string} topic a page of Help @param {string} [words] */
export function worked(topic, words = "How this is worked out") {
  return html`<a class="back" href="#/help/${topic}" @click=${() => sessionStorage.setItem(CAME_FROM, location.hash)}
    >${words}</a
  >`;
}
