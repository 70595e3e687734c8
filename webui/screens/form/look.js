// @ts-check
// How the page looks to whoever uses it: light or dark, how large its keys are, and how strong its contrast is.

/** What each is before somebody chooses. */
export const LOOK = { theme: "auto", keys: "usual", contrast: "auto" };

const dark = matchMedia("(prefers-color-scheme: dark)");
const more = matchMedia("(prefers-contrast: more)");

/** @param {keyof typeof LOOK} name */
const chosen = (name) => localStorage.getItem(name) ?? LOOK[name];

/** Show the page as it was chosen, and where nothing was, as the phone asks for. */
export function look() {
  const { dataset } = document.documentElement;
  dataset.theme = chosen("theme");
  dataset.keys = chosen("keys");
  const isDark = dataset.theme === "dark" || (dataset.theme === "auto" && dark.matches);
  if (chosen("contrast") === "high" || more.matches) dataset.contrast = isDark ? "dark" : "light";
  else delete dataset.contrast;
}

/** The same from now on, whenever the phone asks for something else. */
export function keepLook() {
  look();
  for (const wish of [dark, more]) wish.addEventListener("change", look);
}
