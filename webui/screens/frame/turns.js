// @ts-check
// Letting the browser have its turn in between, so that what is there already can be seen and used.

/** The next turn: whatever was tapped or typed meanwhile comes first. @returns {Promise<void>} */
export const nextTurn = () => new Promise((resolve) => setTimeout(resolve));

// A page that nobody looks at has no frames.
const NO_FRAME_MS = 100;

/** The frame that shows what was drawn just now, and the turn after it. @returns {Promise<void>} */
export const nextFrame = () =>
  new Promise((resolve) => {
    requestAnimationFrame(() => setTimeout(resolve));
    setTimeout(resolve, NO_FRAME_MS);
  });
