// @ts-check
// A list that is pulled down at its top, as people do to have news: how far, and what happens when it is let go.

// So far a thumb goes on purpose.
const FAR_PX = 80;

/**
 * @param {object} of
 * @param {(far: "" | "some" | "enough") => void} of.pulled tells how far the list is pulled
 * @param {() => void} of.act what is done when it is let go after enough
 * @returns {() => void} ends it
 */
export function pullDown({ pulled, act }) {
  const { style } = document.documentElement;
  /** @type {number | undefined} */
  let start;
  /** @type {"" | "some" | "enough"} */
  let far = "";
  const tell = (/** @type {typeof far} */ now) => {
    if (now === far) return;
    far = now;
    pulled(far);
  };
  /** @param {TouchEvent} event */
  const begin = ({ touches }) => {
    start = scrollY <= 0 && touches.length === 1 ? touches[0].clientY : undefined;
  };
  /** @param {TouchEvent} event */
  const move = ({ touches }) => {
    if (start === undefined) return;
    const way = touches[0].clientY - start;
    tell(way >= FAR_PX ? "enough" : way > FAR_PX / 4 ? "some" : "");
  };
  const end = () => {
    if (far === "enough") act();
    start = undefined;
    tell("");
  };
  const cancel = () => {
    start = undefined;
    tell("");
  };
  // The browser's own answer to it would load the page anew.
  style.overscrollBehaviorY = "contain";
  const listeners = /** @type {const} */ ([
    ["touchstart", begin],
    ["touchmove", move],
    ["touchend", end],
    ["touchcancel", cancel],
  ]);
  for (const [name, listener] of listeners)
    addEventListener(name, /** @type {EventListener} */ (listener), { passive: true });
  return () => {
    style.removeProperty("overscroll-behavior-y");
    for (const [name, listener] of listeners) removeEventListener(name, /** @type {EventListener} */ (listener));
  };
}
