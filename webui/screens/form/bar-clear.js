// @ts-check
// A bar at the foot and a head that stay in sight: both clear of a keyboard that covers the page, and what is scrolled
// to clear of both.

// With a keyboard over half a phone, or a phone on its side: heads and bars make do with less.
const LOW_PX = 480;

/**
 * @param {HTMLElement} place with a `.verdict-bar`, and perhaps a `.plate-head` that stays at the top
 * @returns {() => void} ends it
 */
export function keepBarClear(place) {
  const root = document.documentElement;
  const { style } = root;
  const bar = /** @type {HTMLElement} */ (place.querySelector(".verdict-bar"));
  /** @type {HTMLElement | null} */
  const head = place.querySelector(".plate-head");
  const keepInSight = () => {
    const typed = document.activeElement?.matches(".readings input") ? document.activeElement : undefined;
    // Where little height is left, head and bar share it.
    if (head?.contains(typed ?? null) && root.hasAttribute("data-low")) return head.scrollIntoView({ block: "start" });
    // A verdict that needs more room leaves in sight what is asked, or the field that is typed into.
    (place.querySelector(".asked:not(.verdict-bar *)") ?? typed)?.scrollIntoView({ block: "nearest" });
  };
  const measure = new ResizeObserver(() => {
    style.setProperty("--bar", `${bar.offsetHeight}px`);
    if (head) style.setProperty("--head", `${head.offsetHeight}px`);
    keepInSight();
  });
  measure.observe(bar);
  if (head) measure.observe(head);
  const view = window.visualViewport;
  const lift = () => {
    if (!view) return;
    style.setProperty("--covered", `${Math.max(0, innerHeight - view.height - view.offsetTop)}px`);
    // Where the keyboard moves the page up behind the glass, the head comes down by as much.
    style.setProperty("--above", `${Math.max(0, view.offsetTop)}px`);
    root.toggleAttribute("data-low", view.height < LOW_PX);
    keepInSight();
  };
  view?.addEventListener("resize", lift);
  view?.addEventListener("scroll", lift);
  lift();
  return () => {
    measure.disconnect();
    view?.removeEventListener("resize", lift);
    view?.removeEventListener("scroll", lift);
    root.removeAttribute("data-low");
    for (const name of ["--bar", "--head", "--covered", "--above"]) style.removeProperty(name);
  };
}
