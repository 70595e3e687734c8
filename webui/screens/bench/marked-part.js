// @ts-check
// A marked part: where it is, what stands of it, what it ran, and what was found of it in each unit.

import { onChange } from "../../log/changes.js";
import { DEVICE } from "../../log/device.js";
import { markedParts } from "../../log/stands.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { backTo, verdictMark, whenDay } from "../form/fields.js";
import { partWords } from "../form/marked.js";
import { worked } from "../form/worked.js";

/** @typedef {import("../../log/stands.js").MarkedPart} Part */

/** @param {Part} part */
const nowCard = (part) =>
  html`<section class="card judged ${part.verdict ?? ""}">
    <div class="row apart">
      <h1>${partWords(part.part)} ${part.mark}</h1>
      ${part.verdict ? verdictMark(part.verdict, true) : nothing}
    </div>
    <p>${part.text}${part.unit ? html` <a href="#/unit/${part.unit}">To the unit</a>` : nothing}</p>
    ${part.says.map((sentence) => html`<p class="finding doubt">${sentence}</p>`)}
    ${
      part.verdict
        ? html`<p>
            ${part.reason}
            <small>Found in ${part.found_in}${part.found_at ? `, ${whenDay(part.found_at)}` : ""}.</small>
          </p>`
        : html`<p class="quiet">Nothing was found of it yet that is judged.</p>`
    }
    <p><b>In all: ${part.used}</b> ${worked("marked")}</p>
    ${
      part.exact
        ? nothing
        : html`<p class="quiet">Not all of that is logged: outings or their hours are missing, so count on more.</p>`
    }
  </section>`;

/** @param {Part["stays"][number]} stay */
const stayItem = (stay) =>
  html`<li>
    <p><a class="back" href="#/unit/${stay.unit}">${stay.text}</a></p>
    <p class="quiet">${stay.used}</p>
    ${
      stay.found.length
        ? html`<ul class="list">
            ${stay.found.map(
              ({ id, at, verdict, reason }) =>
                html`<li>
                  <div class="row apart">
                    <a class="back" href="#/unit/${stay.unit}/entry/${id}">${whenDay(at)}</a>
                    ${verdict ? verdictMark(verdict) : nothing}
                  </div>
                  <p>${reason}</p>
                </li>`,
            )}
          </ul>`
        : nothing
    }
  </li>`;

/** @param {Part} part */
const known = (part) =>
  html`${nowCard(part)}
    <section class="card" aria-labelledby="was">
      <h2 id="was">Where it was, and what was found</h2>
      <ul class="list">
        ${part.stays.map(stayItem)}
      </ul>
      <p class="quiet">
        A wrong mark is put right by correcting the entry that has it: the rebuild, or the unit's definition.
      </p>
    </section>`;

/** @type {import("../../app.js").Show} */
export async function show(place, [kind, written]) {
  const key = decodeURIComponent(written);
  const draw = async () => {
    const { parts } = await markedParts();
    const part = parts.find((row) => row.part === kind && row.key === key);
    render(
      html`${backTo("#/marked", "Marked parts")}
        ${
          part
            ? known(part)
            : html`<section class="card">
                <h1>${partWords(kind)} ${key}</h1>
                <p>
                  No part of this mark is in the log that this ${DEVICE} has: its mark was corrected, or its unit has
                  not come to this ${DEVICE} yet.
                </p>
              </section>`
        }`,
      place,
    );
  };
  await draw();
  return onChange(draw);
}
