// @ts-check
// What to call what Slipbook runs on here: nobody at a PC looks for a phone.

// Narrower than this, held either way, it is called a phone.
const TABLET_PX = 700;

const touched = globalThis.matchMedia?.("(pointer: coarse)").matches ?? false;
const { width, height } = globalThis.screen ?? { width: 0, height: 0 };

/** "phone", "tablet" or "PC". */
export const DEVICE = touched ? (Math.min(width, height) < TABLET_PX ? "phone" : "tablet") : "PC";
