// @ts-check
// A bar at the foot and a head that stay in sight: both clear of a keyboard that covers the page, and what is scrolled
// to clear of both.

// With a keyboard over half a phone, or a phone on its side: heads and bars make do with less.
const LOW_PX = 480;

let bars = 0;

/**
 * Room on the page for a bar at its foot, from before one is drawn. The root of the page has a mark for it: where its
 * style asked what is somewhere inside, every change there would have the whole page styled anew.
 * @returns {() => void} takes the room back
 */
export function makeRoom() {
  const count = (/** @type {number} */ change) => {
    bars += change;
    document.documentElement.toggleAttribute("data-bar", bars > 0);
  };
  count(1);
  return () => count(-1);
}

/**
 * @param {HTMLElement} place with a `.verdict-bar`, and perhaps a `.plate-head` that stays at the top
 * @returns {() => void} ends it
 */
export function keepBarClear(place) {
  const root = document.documentElement;
  const { style } = root;
  /** What was set last: the whole page is styled anew when one of these changes. @type {Map<string, number>} */
  const lengths = new Map([
    ["--covered", 0],
    ["--above", 0],
  ]);
  const set = (/** @type {string} */ name, /** @type {number} */ px) => {
    if (lengths.get(name) === px) return;
    lengths.set(name, px);
    style.setProperty(name, `${px}px`);
  };
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
    const [foot, top] = [bar.offsetHeight, head?.offsetHeight];
    // A bar that was higher may be so again with the next key: its room stays, and nothing moves.
    set("--bar", Math.max(foot, lengths.get("--bar") ?? 0));
    if (top !== undefined) set("--head", top);
    keepInSight();
  });
  measure.observe(bar);
  if (head) measure.observe(head);
  const view = window.visualViewport;
  const put = () => {
    if (!view) return;
    set("--covered", Math.max(0, innerHeight - view.height - view.offsetTop));
    // Where the keyboard moves the page up behind the glass, the head comes down by as much.
    set("--above", Math.max(0, view.offsetTop));
    root.toggleAttribute("data-low", view.height < LOW_PX);
  };
  const lift = () => {
    put();
    // In a window of another size it has another height.
    set("--bar", bar.offsetHeight);
    keepInSight();
  };
  view?.addEventListener("resize", lift);
  view?.addEventListener("scroll", lift);
  // What is to be in sight is brought there once bar and head were measured.
  put();
  return () => {
    measure.disconnect();
    view?.removeEventListener("resize", lift);
    view?.removeEventListener("scroll", lift);
    root.removeAttribute("data-low");
    for (const name of ["--bar", "--head", "--covered", "--above"]) style.removeProperty(name);
  };
}
