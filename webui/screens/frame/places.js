// @ts-check
// Where one can go from anywhere: one list, of which a phone has the tabs at its foot and a bench all at its side.

import { icon } from "../../draw/icons.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";

/**
 * @typedef {object} Place
 * @property {string} path
 * @property {string} name
 * @property {string} picture
 * @property {string} [key] after G, at a keyboard
 * @property {string[]} [also] first parts of other addresses that belong to it
 * @property {string} [of] the tab of a phone that leads there; without it the place is a tab itself
 */

/** In groups, as they stand at the side. @type {Place[][]} */
const PLACES = [
  [
    { path: "/", name: "Units", key: "u", picture: "units", also: ["unit", "check", "shared"] },
    { path: "/customers", name: "Customers", key: "m", picture: "customers", also: ["customer"], of: "/" },
    { path: "/patterns", name: "Patterns", key: "a", picture: "patterns", also: ["pattern"], of: "/" },
    { path: "/history", name: "History", key: "y", picture: "history", of: "/" },
    { path: "/kit", name: "Kit", key: "k", picture: "kit" },
    { path: "/shelf", name: "Shelf", key: "s", picture: "shelf", of: "/kit" },
    { path: "/marked", name: "Marked parts", key: "p", picture: "marked", of: "/kit" },
    { path: "/car", name: "Cars", key: "c", picture: "car", of: "/kit" },
  ],
  [
    { path: "/costs", name: "Hours and parts", key: "r", picture: "costs", of: "/settings" },
    { path: "/calendar", name: "Calendar", key: "d", picture: "calendar", of: "/settings" },
    { path: "/import", name: "Import", key: "i", picture: "import", of: "/" },
    { path: "/backup", name: "Backup and export", key: "b", picture: "backup", of: "/settings" },
    { path: "/labels", name: "Labels", key: "q", picture: "labels", of: "/settings" },
    { path: "/letterhead", name: "Letterhead", key: "l", picture: "letterhead", of: "/settings" },
    { path: "/devices", name: "Devices", key: "v", picture: "devices", also: ["pair"], of: "/settings" },
  ],
  [
    { path: "/outbox", name: "Outbox", key: "o", picture: "outbox" },
    { path: "/help", name: "Help", key: "h", picture: "help" },
    { path: "/settings", name: "Settings", key: "e", picture: "settings" },
  ],
];

/** Every place, in its order. */
export const ALL = PLACES.flat();

/** As wide as a bench: places stand at the side. */
export const bench = matchMedia("(min-width: 1000px)");

/** As wide as a tablet that is held upright: two columns. */
export const tablet = matchMedia("(min-width: 760px)");

/** The place that an address belongs to. @param {string} path */
function placeOf(path) {
  const first = path.split("/")[1] ?? "";
  return ALL.find((place) => first === place.path.slice(1) || place.also?.includes(first));
}

/** @param {Place} place @param {Place | undefined} here @param {number} count of what waits in the outbox */
function link({ path, name, picture }, here, count) {
  const waiting = path === "/outbox" ? count : 0;
  // At the side each place stands for itself; a tab also for what it leads to.
  const current = path === here?.path || (!bench.matches && path === here?.of);
  return html`<a
    href="#${path}"
    aria-current=${current ? "page" : nothing}
    aria-label=${waiting ? `${name}, ${waiting} waiting` : name}
  >
    ${icon(picture)}<span>${name}</span>${waiting ? html`<b class="count" data-count=${waiting}></b>` : nothing}
  </a>`;
}

/**
 * Links to the places: tabs, or all of them in groups.
 * @param {string} path where one is @param {number} count @param {() => void} showKeys shows what the keys do
 */
export function links(path, count, showKeys) {
  const here = placeOf(path);
  if (!bench.matches) return ALL.filter(({ of }) => !of).map((place) => link(place, here, count));
  return html`${PLACES.map((group) => html`<div>${group.map((place) => link(place, here, count))}</div>`)}
    <button class="plain" @click=${showKeys}><kbd>?</kbd> Keys</button>`;
}

/**
 * Keeps the places where they are seen: above the page's content for who goes through it with a keyboard at a bench,
 * and below it on a phone.
 * @param {HTMLElement} nav @param {HTMLElement} main @param {() => void} draw draws the links anew
 */
export function keepPlaces(nav, main, draw) {
  const last = nav.nextElementSibling;
  const put = () => {
    if (bench.matches) main.before(nav);
    else last?.before(nav);
    draw();
  };
  bench.addEventListener("change", put);
  put();
}
