// @ts-check
// A short vibration where something was saved, for a phone in a gloved hand.

/** Kept where it can be read without waiting: see Settings. */
const CHOICE = "buzz";
const SHORT_MS = 60;

/** Vibrate once, where the phone can and nobody turned it off. */
export function buzz() {
  if (localStorage.getItem(CHOICE) !== "off") navigator.vibrate?.(SHORT_MS);
}
