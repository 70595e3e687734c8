// @ts-check
// Letting the browser have its turn in between, so that what is there already can be seen and used.

import { nothing } from "../../vendor/lit-html/lit-html.js";

/** The next turn: whatever was tapped or typed meanwhile comes first. @returns {Promise<void>} */
export const nextTurn = () => new Promise((resolve) => setTimeout(resolve));

/**
 * The frame that shows what was drawn just now, and the turn after it; a page that nobody looks at has no frames.
 * @returns {Promise<void>}
 */
export const nextFrame = () =>
  document.hidden ? nextTurn() : new Promise((resolve) => requestAnimationFrame(() => setTimeout(resolve)));

/**
 * A screen whose sections are drawn in so many turns, a frame with each, so that nobody waits for the last of them to
 * use the first.
 * @param {number} count
 */
export function inTurns(count) {
  let turn = 1;
  return {
    /** Sections that come with a turn, and stay. @param {number} first @param {() => unknown} sections */
    from: (first, sections) => (turn < first ? nothing : sections()),

    /** Draw in the turns that are left. @param {() => void} draw */
    async drawRest(draw) {
      while (turn < count) {
        await nextFrame();
        turn += 1;
        draw();
      }
    },
  };
}
