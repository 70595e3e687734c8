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
    if (!found || found.matches('[aria-disabled="true"]')) continue;
    found.focus();
    return;
  }
}

/**
 * Go to a field by its path, with what is folded over it opened; the first field of its group where it has none itself.
 * @param {HTMLElement} place
 * @param {string} path such as "spring.de_mm" or "chain"
 */
export function goToField(place, path) {
  /** @type {HTMLElement | null} */
  const field =
    place.querySelector(`[data-field="${path}"]`) ?? place.querySelector(`[data-field^="${path.split(".")[0]}."]`);
  for (let fold = field?.closest("details"); fold; fold = fold.parentElement?.closest("details")) fold.open = true;
  field?.scrollIntoView({ block: "center" });
  field?.focus();
}
