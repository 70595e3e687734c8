// @ts-check
// Letting the browser have its turn in between, so that what is there already can be seen and used.

/** The next turn: whatever was tapped or typed meanwhile comes first. @returns {Promise<void>} */
export const nextTurn = () => new Promise((resolve) => setTimeout(resolve));

/**
 * The frame that shows what was drawn just now, and the turn after it; a page that nobody looks at has no frames.
 * @returns {Promise<void>}
 */
export const nextFrame = () =>
  document.hidden ? nextTurn() : new Promise((resolve) => requestAnimationFrame(() => setTimeout(resolve)));
