// @ts-check
// Shortcuts at the bench: single letters, none while something is typed, none with a key that a browser or a screen
// reader takes, and all of them off where somebody says so in the settings (WCAG 2.2, 2.1.4).

import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { ALL, bench } from "./places.js";

/** Keys and what they do. @typedef {[string[], string]} Line */

// So long the second key of two is waited for.
const TOGETHER_MS = 2000;

const OF_UNIT = /^#\/unit\/([\w-]{36})/;

/** The units in the order in which they were listed last. @type {string[]} */
let listed = [];

/** Whether this is where letters are typed, or chosen by. @param {EventTarget | null} target */
const isTyping = (target) =>
  target instanceof HTMLElement &&
  (target.isContentEditable || target.matches("textarea, select, input:not([type=radio], [type=checkbox])"));

/** @param {HTMLElement} main */
const mainKey = (main) =>
  /** @type {HTMLElement[]} */ ([...main.querySelectorAll("button.main, .button.main")]).find((key) =>
    key.checkVisibility(),
  );

/** @param {HTMLElement} main */
const searchField = (main) => /** @type {HTMLInputElement | null} */ (main.querySelector("input[type=search]"));

/** What a key says, without what it adds in small. @param {HTMLElement} key */
const wordsOf = (key) => (key.textContent ?? "").replace(/\s+/g, " ").trim();

/** Remember in which order units are listed here, before the screen goes. @param {HTMLElement} main */
export function noteOrder(main) {
  const links = /** @type {HTMLAnchorElement[]} */ ([...main.querySelectorAll("a[href^='#/unit/']")]);
  const units = links.flatMap(({ hash }) => (hash.split("/").length === 3 ? (OF_UNIT.exec(hash)?.[1] ?? []) : []));
  // A screen of one unit lists none.
  if (new Set(units).size > 1) listed = [...new Set(units)];
}

/** The unit before or after the one that is shown. @param {number} by */
function neighbour(by) {
  const place = listed.indexOf(OF_UNIT.exec(location.hash)?.[1] ?? "");
  return place < 0 ? undefined : listed[place + by];
}

/** What the keys do on this screen. @param {HTMLElement} main @returns {{title: string, lines: Line[]}[]} */
function ofHere(main) {
  const key = mainKey(main);
  /** @type {Line[]} */
  const lines = [
    ...(key ? [/** @type {Line} */ ([["S"], wordsOf(key)])] : []),
    ...(searchField(main) ? [/** @type {Line} */ ([["F"], "Find"])] : []),
    ...(neighbour(1) ? [/** @type {Line} */ ([["N"], "Next unit of the list"])] : []),
    ...(neighbour(-1) ? [/** @type {Line} */ ([["P"], "Previous unit of the list"])] : []),
    [["Enter"], "In a field: on to the next one, and at last to the key that saves"],
    ...(main.querySelector("textarea")
      ? [/** @type {Line} */ ([["Enter", "Enter"], "In a long text: on to the next field"])]
      : []),
    ...(main.querySelector("table input")
      ? [/** @type {Line} */ ([["↑", "↓", "←", "→"], "In a table: to the cell beside"])]
      : []),
    [["?"], "This list"],
  ];
  /** @type {Line[]} */
  const places = ALL.flatMap(({ key: letter, name }) => (letter ? [[["G", letter.toUpperCase()], name]] : []));
  return [
    { title: "On this screen", lines },
    { title: "Go to", lines: places },
  ];
}

/** @param {Line} line */
const row = ([keys, words]) =>
  html`<div>
    <dt>${keys.map((key) => html`<kbd>${key}</kbd> `)}</dt>
    <dd>${words}</dd>
  </div>`;

/** Shows the keys of this screen. @param {HTMLElement} main */
export function showKeys(main) {
  if (document.querySelector("dialog[open]")) return;
  const dialog = document.createElement("dialog");
  dialog.className = "card shortcuts";
  dialog.setAttribute("aria-labelledby", "shortcuts");
  const before = document.activeElement;
  render(
    html`<h2 id="shortcuts">Keys</h2>
      <div class="columns">
        ${ofHere(main).map(({ title, lines }) => html`<section><h3>${title}</h3><dl>${lines.map(row)}</dl></section>`)}
      </div>
      ${areOn() ? nothing : html`<p>Letters do nothing: they are off in the <a href="#/settings">settings</a>.</p>`}
      <button autofocus @click=${() => dialog.close()}>Close</button>`,
    dialog,
  );
  dialog.addEventListener("close", () => {
    dialog.remove();
    if (before instanceof HTMLElement) before.focus();
  });
  dialog.addEventListener("click", ({ target }) => target instanceof HTMLAnchorElement && dialog.close());
  document.body.append(dialog);
  dialog.showModal();
}

/** Whether somebody wants them. */
const areOn = () => localStorage.getItem("shortcuts") !== "off";

/** @param {string | undefined} unit */
const toUnit = (unit) => {
  if (unit) location.hash = `#/unit/${unit}`;
  return Boolean(unit);
};

/** @type {Record<string, (main: HTMLElement) => boolean>} */
const DOES = {
  s: (main) => {
    const key = mainKey(main);
    key?.focus();
    key?.click();
    return Boolean(key);
  },
  f: (main) => {
    searchField(main)?.focus();
    return Boolean(searchField(main));
  },
  n: () => toUnit(neighbour(1)),
  p: () => toUnit(neighbour(-1)),
};

/** Does what keys say from now on. @param {HTMLElement} main */
export function watchKeys(main) {
  let waitsUntil = 0;
  addEventListener("keydown", (event) => {
    const { key, target, ctrlKey, altKey, metaKey, isComposing, repeat, defaultPrevented, timeStamp } = event;
    const other = ctrlKey || altKey || metaKey || isComposing || repeat || defaultPrevented;
    if (!bench.matches || other || isTyping(target) || document.querySelector("dialog[open]")) return;
    if (key === "?") {
      event.preventDefault();
      return showKeys(main);
    }
    if (!areOn() || event.shiftKey) return;
    const together = timeStamp < waitsUntil;
    waitsUntil = 0;
    const place = together ? ALL.find((known) => known.key === key) : undefined;
    if (place) location.hash = `#${place.path}`;
    else if (!together && key === "g") waitsUntil = timeStamp + TOGETHER_MS;
    if (place || (!together && DOES[key]?.(main))) event.preventDefault();
  });
}
