// @ts-check
// Marked parts on a unit's page: which are in it, each with the way to its own page.

import { markedParts } from "../../log/stands.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { verdictMark, whenDay } from "../form/fields.js";
import { partWords, toMarked } from "../form/marked.js";

/** @typedef {import("./page.js").UnitPage} UnitPage */
/** @typedef {UnitPage["found"]["marked_parts"]["stays"][number]} Stay */

/**
 * What all units say of the parts that are in one; nothing where it has none.
 * @param {UnitPage["found"]} found
 * @returns {Promise<import("../../log/stands.js").MarkedPart[]>}
 */
export async function lifeOfMarked({ marked_parts: { stays } }) {
  if (!stays.length) return [];
  const { parts } = await markedParts();
  return parts;
}

/** @param {UnitPage} page */
const stayRow =
  ({ lives }) =>
  (/** @type {Stay} */ stay) => {
    const { part, mark, place, key, from_at } = stay;
    const life = lives.find((row) => row.part === part && row.key === key);
    return html`<li>
      <div class="row apart">
        <a class="back" href=${toMarked(stay)}>${partWords(part)} ${mark}${place ? ` (${place})` : ""}</a>
        ${life?.verdict ? verdictMark(life.verdict) : nothing}
      </div>
      <p class="quiet">
        ${from_at ? `In it since ${whenDay(from_at)}.` : "In it since it was added."}
        ${life ? `In all: ${life.used}` : ""}
      </p>
      ${life?.verdict && life.verdict !== "go" ? html`<p>${life.reason}</p>` : nothing}
      ${(life?.says ?? []).map((sentence) => html`<p class="finding doubt">${sentence}</p>`)}
    </li>`;
  };

/** Which marked parts are in it; nothing for a unit that never had any. @param {UnitPage} page */
export function markedNow(page) {
  const { stays } = page.found.marked_parts;
  if (!stays.length) return nothing;
  const inUnit = stays.filter(({ to_at }) => to_at === null);
  return html`<section class="card" aria-labelledby="marked-parts">
    <h2 id="marked-parts">Marked parts</h2>
    ${
      inUnit.length
        ? html`<ul class="list">
            ${inUnit.map(stayRow(page))}
          </ul>`
        : html`<p class="quiet">None is in it now.</p>`
    }
    <a class="button" href="#/marked">All marked parts</a>
  </section>`;
}
