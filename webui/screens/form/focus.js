// @ts-check
// Where the focus goes when the key that had it is gone: nobody at a keyboard starts at the top again.

/**
 * Put the focus on the first of these that is there.
 * @param {HTMLElement} place
 * @param {...string} selectors
 */
export function focusOn(place, ...selectors) {
  for (const selector of selectors) {
    /** @type {HTMLElement | null} */
    const found = place.querySelector(selector);
    if (!found || found.matches(":disabled")) continue;
    found.focus();
    return;
  }
}
