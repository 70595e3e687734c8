// @ts-check
// What a table shows stands behind the ? of its address, so that it can be bookmarked, sent, and come back to.

import { readView, writeView } from "../../tables/arrange.js";

/** @typedef {import("../../tables/arrange.js").View} View */

// A browser refuses an address that changes with every key of somebody who types fast.
const PAUSE_MS = 250;

/** What the address of now shows. */
export const viewNow = () => readView(location.hash.split("?").slice(1).join("?"));

/** Whether the address of now chooses anything. */
export const isChosen = () => location.hash.includes("?");

/** Keeps what a table shows in the address of its screen. */
export function keepingView() {
  let mine = location.hash;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let soon;
  const write = (/** @type {string} */ query) => {
    // Somebody went on meanwhile; a field that is taken away says once more what was typed in it.
    if (location.hash !== mine) return;
    const [screen] = (mine || "#/").split("?");
    const address = query ? `${screen}?${query}` : screen;
    if (address !== (mine || "#/")) history.replaceState(history.state, "", address);
    mine = location.hash;
  };
  return {
    /** @param {View} view @param {boolean} [typing] whether more of it is on its way */
    keep(view, typing = false) {
      const query = writeView(view);
      clearTimeout(soon);
      if (typing) soon = setTimeout(write, PAUSE_MS, query);
      else write(query);
    },
    /** The screen is left. */
    stop: () => clearTimeout(soon),
  };
}
