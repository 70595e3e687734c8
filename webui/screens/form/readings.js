// @ts-check
// A row of readings to type: it grows as it is filled, and marks the reading that the engine refused.

import { html, nothing } from "../../vendor/lit-html/lit-html.js";
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
 * @param {object} row
 * @param {string[]} row.readings as typed
 * @param {{most: number}} row.limits so many are taken
 * @param {(number: number) => string} row.label of a reading, counted from 1
 * @param {(place: number) => boolean} row.wrong whether the reading at this place was refused
 * @param {string} [row.error] the engine's sentence
 * @param {(readings: string[]) => void} row.type
 * @param {string} [row.name] tells rows of one screen apart
 * @param {number} [row.turn] after so many places Enter goes on to the next row, and the row does not grow by itself
 */
export function readingRow({ readings, limits, label, wrong, error, type, name, turn }) {
  const replaced = (/** @type {number} */ at, /** @type {string} */ typed) => {
    const now = readings.map((reading, place) => (place === at ? typed : reading));
    return turn ? now : grown(now, limits);
  };
  const turns = (/** @type {number} */ place) => Boolean(turn && (place + 1) % turn === 0);
  return html`<div class="readings" data-row=${name ?? nothing}>
    ${readings.map(
      (reading, place) =>
        html`<input
          type="text"
          inputmode="decimal"
          autocomplete="off"
          spellcheck="false"
          enterkeyhint=${turns(place) ? "go" : "next"}
          ?data-turn=${turns(place)}
          .value=${reading}
          aria-label=${label(place + 1)}
          aria-invalid=${wrong(place) ? "true" : "false"}
          @input=${(/** @type {{target: HTMLInputElement}} */ event) => type(replaced(place, event.target.value))}
        />`,
    )}
    ${errorLine(error)}
  </div>`;
}
