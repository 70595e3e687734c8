// @ts-check
// Enter goes on, as on a phone's keyboard and for a gauge that types: to the next field, at last to the key that saves.

const LINES = "input:not([type=radio], [type=checkbox], [type=file], [type=search])";
/** What Enter goes through; the unit of a figure is left as it is. */
const STOPS = `${LINES}, select:not(.with-unit *), textarea, button:is(.main, [data-saves])`;
/** Where Enter goes on from. */
const FROM = `${LINES}, select, input:is([type=radio], [type=checkbox]), textarea`;

/** WebKit takes a card in a closed fold for one that can be seen. @param {Element} field */
const canBeReached = (field) =>
  !field.matches(":disabled") && field.checkVisibility() && !field.closest("details:not([open])");

/** Whether a reading stands there already. @param {HTMLElement} stop */
const isRead = (stop) =>
  stop instanceof HTMLInputElement && stop.matches(".readings input") && Boolean(stop.value.trim());

/** All stops of a part of the page that can be reached, in their order. @param {Element} part */
export const stopsIn = (part) => /** @type {HTMLElement[]} */ ([...part.querySelectorAll(STOPS)].filter(canBeReached));

/** Whether a stop is what one sees at its middle. @param {HTMLElement} stop */
function isInSight(stop) {
  const { left, top, width, height } = stop.getBoundingClientRect();
  return stop.contains(document.elementFromPoint(left + width / 2, top + height / 2));
}

/** Go to a stop, with what stands there chosen. @param {HTMLElement | undefined} stop */
export function goTo(stop) {
  stop?.focus();
  if (stop instanceof HTMLInputElement) stop.select();
  // WebKit may leave a field that gets the focus below the screen's edge.
  if (stop && !isInSight(stop)) stop.scrollIntoView({ block: "nearest" });
}

/**
 * Whether Enter begins a line where it is pressed: in a long text, until it is pressed twice at the end, or where there
 * is nothing yet.
 * @param {HTMLElement} target
 */
function beginsLine(target) {
  if (!(target instanceof HTMLTextAreaElement) || !target.value) return false;
  return !target.value.endsWith("\n") || target.selectionEnd < target.value.length;
}

/** What Enter does to a field that it leaves. @param {HTMLElement} field */
function leave(field) {
  if (field instanceof HTMLTextAreaElement && field.value.endsWith("\n")) {
    field.value = field.value.trimEnd();
    field.dispatchEvent(new Event("input", { bubbles: true }));
  }
  // Of choices of which none is made, it takes the one that has the focus.
  if (field instanceof HTMLInputElement && field.type === "radio" && !field.checked) field.click();
}

/** Whether a key means to go on from where it was pressed. @param {KeyboardEvent} event */
export const goesOn = ({ key, isComposing, defaultPrevented, target }) =>
  key === "Enter" &&
  !isComposing &&
  !defaultPrevented &&
  target instanceof HTMLElement &&
  target.matches(FROM) &&
  !beginsLine(target);

/**
 * The stop that follows: after a reading that was left empty, or that ends a turn, what is still to be read in the
 * next row, or what comes after the rows.
 * @param {HTMLInputElement | HTMLSelectElement} field
 * @param {HTMLElement[]} stops all that can be reached, in their order
 */
function following(field, stops) {
  const row = field.closest(".readings");
  const ends = row && (!field.value.trim() || field.hasAttribute("data-turn"));
  const isLater = (/** @type {Element} */ stop) =>
    Boolean(field.compareDocumentPosition(stop) & Node.DOCUMENT_POSITION_FOLLOWING);
  const rest = stops.filter(isLater);
  return ends ? rest.find((other) => !row.contains(other) && !isRead(other)) : rest[0];
}

/** @param {KeyboardEvent} event within the screens */
export function goOn(event) {
  if (!goesOn(event)) return;
  const field = /** @type {HTMLInputElement | HTMLSelectElement} */ (event.target);
  leave(field);
  const next = following(field, stopsIn(field.closest("main") ?? document.body));
  event.preventDefault();
  goTo(next);
}
