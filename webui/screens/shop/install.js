// @ts-check
// Slipbook on the home screen: offered once where the browser can do it, and how to do it by hand where it cannot.

import { DEVICE } from "../../log/device.js";
import { fact, remember } from "../../log/store.js";
import { html } from "../../vendor/lit-html/lit-html.js";

/** What some browsers say beforehand. @typedef {Event & {prompt?: () => Promise<unknown>}} Installing */

const LIKE_ANY = "It then opens like any app";
const KEEPS = `the ${DEVICE} keeps what is stored.`;

const WORDS =
  DEVICE === "PC"
    ? {
        title: "As an app",
        offer:
          "Slipbook can be installed as an app. It then has a window of its own, and the browser keeps what is stored.",
        key: "Install it",
        keyHere: "Install Slipbook",
        use: "It then has a window of its own, and the browser keeps what is stored.",
        menu: "Open the browser's menu and choose “Install”, where it has that.",
      }
    : {
        title: "On the home screen",
        offer: `Slipbook can be put on the home screen. ${LIKE_ANY}, and ${KEEPS}`,
        key: "Put it there",
        keyHere: "Put Slipbook there",
        use: `${LIKE_ANY}, takes photos that are shared with it, and ${KEEPS}`,
        menu: "Open the browser's menu, or its share key, and choose “Add to home screen” or “Install”.",
      };

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
  offer(WORDS.offer, WORDS.key, () => {
    close();
    ask();
  });
}

/** What Settings says of it. @param {() => void} draw */
export function installCard(draw) {
  redraw = draw;
  addEventListener("appinstalled", draw, { once: true });
  return () =>
    html`<section class="card" aria-label=${WORDS.title}>
      <h2>${WORDS.title}</h2>
      ${
        installed()
          ? html`<p>Slipbook is installed on this device.</p>`
          : prompt
            ? html`<p>${WORDS.use}</p>
                <button class="main" @click=${ask}>${WORDS.keyHere}</button>`
            : html`<p>${WORDS.menu} ${WORDS.use}</p>`
      }
    </section>`;
}
