// @ts-check
// What the workshop's log had lost and has again: how much, from which device, when.

import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { when } from "../form/fields.js";

/** @typedef {import("../../log/store.js").Returned} Returned */

/** How many, in words; nothing if there is none. @param {number} number @param {string} single @param {string} many */
export const counted = (number, single, many) => (number ? [number === 1 ? `1 ${single}` : `${number} ${many}`] : []);

/** What one device brought. @param {Returned} brought */
const line = ({ source, entries, photos, at }) => {
  const much = [...counted(entries, "entry", "entries"), ...counted(photos, "photo", "photos")].join(" and ");
  return html`<li>${much} from <b>${source}</b>, ${when(at)}</li>`;
};

/** @param {Returned[]} returned within a month */
export const cameBack = (returned) =>
  returned.length
    ? html`<section class="card" aria-label="What came back">
        <h2>What came back to the workshop's log</h2>
        <p>
          It was put back from a backup, or a file of it was lost. These devices had what was missing, with its times
          and verdicts:
        </p>
        <ul class="steps">
          ${returned.map(line)}
        </ul>
        <p>A phone that was not here since may have more: open Slipbook on each.</p>
      </section>`
    : nothing;
