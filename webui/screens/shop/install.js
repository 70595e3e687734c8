// @ts-check
// Slipbook on the home screen: offered once where the browser can do it, and how to do it by hand where it cannot.

import { fact, remember } from "../../log/store.js";
import { html } from "../../vendor/lit-html/lit-html.js";

/** What some browsers say beforehand. @typedef {Event & {prompt?: () => Promise<unknown>}} Installing */

/** What the browser offers to install with, until it was used. @type {Installing | undefined} */
let prompt;
/** @type {() => void} */
let redraw = () => {};

const installed = () =>
  matchMedia("(display-mode: standalone)").matches || ("standalone" in navigator && navigator.standalone === true);

async function ask() {
  const offer = prompt;
  prompt = undefined;
  await offer?.prompt?.();
  redraw();
}

/**
 * The browser would put Slipbook on the home screen. It is offered once, to somebody who has used it; Settings keeps
 * the key.
 * @param {Installing} event
 * @param {(words: string, key: string, act: () => void) => void} offer
 * @param {() => void} close takes the offer away
 */
export async function offered(event, offer, close) {
  prompt = event;
  redraw();
  const [offeredBefore, who] = await Promise.all([fact("installTold", false), fact("who", "")]);
  if (offeredBefore || !who || installed()) return;
  await remember("installTold", true);
  offer(
    "Slipbook can be put on the home screen. It then opens like any app, and the phone keeps what is stored.",
    "Put it there",
    () => {
      close();
      ask();
    },
  );
}

/** What Settings says of it. @param {() => void} draw */
export function installCard(draw) {
  redraw = draw;
  addEventListener("appinstalled", draw, { once: true });
  return () =>
    html`<section class="card" aria-label="On the home screen">
      <h2>On the home screen</h2>
      ${
        installed()
          ? html`<p>Slipbook is installed on this device.</p>`
          : prompt
            ? html`<p>
                  It then opens like any app, takes photos that are shared with it, and the phone keeps what is stored.
                </p>
                <button class="main" @click=${ask}>Put Slipbook there</button>`
            : html`<p>
                Open the browser's menu, or its share key, and choose “Add to home screen” or “Install”. It then opens
                like any app, and the phone keeps what is stored.
              </p>`
      }
    </section>`;
}
