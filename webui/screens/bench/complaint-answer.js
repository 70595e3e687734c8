// @ts-check
// What the engine says to what was felt: the figure behind each complaint, and ways to change it with their cost.

import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { withCapital } from "../form/fields.js";

/** @typedef {import("./complaint.js").Answer} Answer */
/** @typedef {import("./complaint-choice.js").Chosen} Chosen */
/** @typedef {Answer["complaints"][number]} Complaint */
/** @typedef {Complaint["ways"][number]} Way */
/** @typedef {(chosen: Chosen) => void} Choose */

/** How well a complaint is answered, in a word or two. @type {Record<Complaint["match"], string>} */
const MATCH = {
  matches: "fits",
  may: "may fit",
  not: "does not fit",
  none: "not computed",
  unknown: "not known",
};

/** A way as it is chosen, with why. @param {Complaint} complaint @param {Way} way @returns {Chosen} */
const chosenOf = ({ what, when, corners, felt, text }, way) => ({
  lever: way.lever,
  pair: way.pair,
  torque: way.torque_nm,
  drive: way.drive_deg === null ? "" : String(way.drive_deg),
  coast: way.coast_deg === null ? "" : String(way.coast_deg),
  faces: way.faces === null ? "" : String(way.faces),
  complaint: { what, when: when ?? "", corners: corners ?? "" },
  reason: `${withCapital(felt)}: ${text}`,
});

/** What it costs elsewhere. @param {Way} way */
function cost(way) {
  const { elsewhere, together, others } = way;
  if (!elsewhere.length && !together.length && !others.length)
    return way.value === null ? nothing : html`<p class="quiet">Elsewhere it changes little.</p>`;
  return html`${others.map(
    ({ effect, text }) => html`<p class=${effect === "worsens" ? "finding doubt" : "quiet"}>It ${text}.</p>`,
  )}
    <details>
      <summary>What it changes elsewhere</summary>
      <ul class="inside">
        ${elsewhere.map(({ text, worse }) => html`<li>${text}${worse ? html` <b>worse</b>` : nothing}</li>`)}
        ${together.map((text) => html`<li>${text}</li>`)}
      </ul>
    </details>`;
}

/** @param {Complaint} complaint @param {Way} way @param {Choose} choose */
const wayItem = (complaint, way, choose) =>
  html`<li>
    <h4>${way.name}</h4>
    <p>${way.text}${way.value === null || way.reaches ? nothing : html`, less than was wanted`}</p>
    ${cost(way)} ${way.warnings.map((text) => html`<p class="finding doubt">${text}</p>`)}
    <button
      aria-label=${`Choose: ${way.name}, against ${complaint.felt}`}
      @click=${() => choose(chosenOf(complaint, way))}
    >
      Choose this
    </button>
  </li>`;

/** @param {Complaint} complaint @param {Choose} choose */
const complaintCard = (complaint, choose) =>
  html`<section class="card complaint" aria-label=${complaint.felt}>
    <div class="row apart">
      <h2>${complaint.felt}</h2>
      <span class="match ${complaint.match}">${MATCH[complaint.match]}</span>
    </div>
    <p>${complaint.text}</p>
    ${
      complaint.figures.length
        ? html`<details ?open=${complaint.best === null}>
            <summary>The figures behind it</summary>
            <ul class="inside">
              ${complaint.figures.map(({ text }) => html`<li>${text}</li>`)}
            </ul>
          </details>`
        : nothing
    }
    ${
      complaint.ways.length
        ? html`<h3>What to change, and what it costs</h3>
            <ul class="list">
              ${complaint.ways.map((way) => wayItem(complaint, way, choose))}
            </ul>`
        : nothing
    }
  </section>`;

/** @param {Answer} answer @param {Chosen | null} _ @param {Choose} choose */
export const answerSections = (answer, _, choose) =>
  html`${
    answer.conflicts.length
      ? html`<section class="card" aria-label="They contradict each other">
          ${answer.conflicts.map((text) => html`<p class="finding doubt">${text}</p>`)}
        </section>`
      : nothing
  }
  ${answer.complaints.map((complaint) => complaintCard(complaint, choose))}
  <section class="card">
    <p class="quiet">${answer.rests_on}</p>
    <p>${answer.caution}</p>
  </section>`;
