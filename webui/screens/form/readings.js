// @ts-check
// A row of readings to type: it grows as it is filled, and marks the reading that the engine refused.

import { html } from "../../vendor/lit-html/lit-html.js";
import { errorLine } from "./fields.js";

/** The readings that were typed. @param {string[]} [readings] */
export const filled = (readings = []) => readings.filter((typed) => typed.trim());

/** Always one more empty place, up to what is taken. @param {string[]} readings @param {{most: number}} limits */
export function grown(readings, { most }) {
  return readings.length < most && readings.every((typed) => typed.trim()) ? [...readings, ""] : readings;
}

/**
 * The engine counts the readings that were sent; the screen has gaps. Which place on the screen is meant?
 * @param {string[]} readings
 * @param {number} sent
 * @returns {number | undefined}
 */
export function placeOf(readings, sent) {
  return [...readings.keys()].filter((place) => readings[place].trim())[sent];
}

/**
 * Enter goes on, as on a phone's keyboard and for a gauge that types: to the next reading; from one that is left empty
 * to the next row, and after the last row to the key that saves.
 * @param {KeyboardEvent} event
 */
function goOn(event) {
  const field = event.currentTarget;
  if (event.key !== "Enter" || event.isComposing || !(field instanceof HTMLInputElement)) return;
  event.preventDefault();
  const next = field.nextElementSibling;
  if (field.value.trim() && next instanceof HTMLInputElement) return next.focus();
  const rows = [...document.querySelectorAll(".readings")].filter((row) => row.checkVisibility());
  const row = rows[rows.indexOf(field.parentElement ?? field) + 1];
  /** @type {HTMLElement | null} */ (
    row?.querySelector("input") ?? document.querySelector("main button.main.big")
  )?.focus();
}

/**
 * @param {object} row
 * @param {string[]} row.readings as typed
 * @param {{most: number}} row.limits so many are taken
 * @param {(number: number) => string} row.label of a reading, counted from 1
 * @param {(place: number) => boolean} row.wrong whether the reading at this place was refused
 * @param {string} [row.error] the engine's sentence
 * @param {(readings: string[]) => void} row.type
 */
export function readingRow({ readings, limits, label, wrong, error, type }) {
  const replaced = (/** @type {number} */ at, /** @type {string} */ typed) =>
    grown(
      readings.map((reading, place) => (place === at ? typed : reading)),
      limits,
    );
  return html`<div class="readings">
    ${readings.map(
      (reading, place) =>
        html`<input
          type="text"
          inputmode="decimal"
          autocomplete="off"
          spellcheck="false"
          enterkeyhint="next"
          .value=${reading}
          aria-label=${label(place + 1)}
          aria-invalid=${wrong(place) ? "true" : "false"}
          @keydown=${goOn}
          @input=${(/** @type {{target: HTMLInputElement}} */ event) => type(replaced(place, event.target.value))}
        />`,
    )}
    ${errorLine(error)}
  </div>`;
}
