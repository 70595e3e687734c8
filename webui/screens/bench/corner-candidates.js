// @ts-check
// Ways to build a unit, side by side, and the form for what is to be tried.

import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { choiceField, choiceKeys, errorLine, numberField, warningLines } from "../form/fields.js";

/** @typedef {import("./corner.js").State} State */
/** @typedef {import("./corner.js").Tried} Tried */
/** @typedef {import("../../engine/door.js").ResultOf<"candidates">} Candidates */
/** @typedef {Candidates["candidates"][number]} Candidate */
/** @typedef {Candidate["drive"]} Way */

/** @type {[string, (way: Way) => import("../form/fields.js").Words][]} */
const ROWS = [
  ["Lock", (way) => html`<b>${way.locking}</b> <small>${way.locking_range}</small>`],
  ["Bias ratio", (way) => html`<b>${way.bias}</b> <small>${way.bias_range}</small>`],
  ["Ramps beat preload from", (way) => way.takes_over],
  ["Holds", (way) => way.held],
];

/** @param {Candidate} candidate */
const candidateCard = (candidate) =>
  html`<li>
    <h3>${candidate.name}</h3>
    <table>
      <thead>
        <tr>
          <td></td>
          <th scope="col">drive ${candidate.drive.angle_deg}°</th>
          <th scope="col">coast ${candidate.coast.angle_deg}°</th>
        </tr>
      </thead>
      <tbody>
        ${ROWS.map(
          ([title, cell]) =>
            html`<tr>
              <th scope="row">${title}</th>
              <td>${cell(candidate.drive)}</td>
              <td>${cell(candidate.coast)}</td>
            </tr>`,
        )}
      </tbody>
    </table>
    <p>${candidate.trade_text}.</p>
    ${warningLines(candidate.warnings)}
  </li>`;

/** @param {Candidates} result */
export const candidateList = (result) =>
  html`<ul class="list candidates">
      ${result.candidates.map(candidateCard)}
    </ul>
    <p class="quiet">
      ${result.text} What the trade calls them is common practice, no source. Shims and thickness change preload alone;
      another order of the plates changes faces, and with them preload and lock.
    </p>`;

/**
 * @param {State} state
 * @param {(change: Partial<import("./corner.js").Draft>) => void} set
 * @param {() => Tried} nothingTried
 */
export function tryForm({ draft, read, built, bench }, set, nothingTried) {
  const { typed, tries } = draft;
  const put = (/** @type {Partial<Tried>} */ change) => set({ typed: { ...typed, ...change } });
  const field = (/** @type {"drive" | "coast" | "faces" | "torque"} */ name, /** @type {string} */ label) =>
    numberField({ name: `try.${name}`, label, value: typed[name], type: (value) => put({ [name]: value }) });
  const pairs = built.unit.other_ramps ?? [];
  return html`<section class="card">
    <h2>Try something</h2>
    <p class="quiet">What is left empty stays as it is built. Nothing is written into the log.</p>
    ${
      pairs.length
        ? choiceField({
            name: "try.pair",
            label: "Pair of ramps",
            value: typed.pair,
            options: [["", "those in use"], ...pairs.map(({ name }) => /** @type {[string, string]} */ ([name, name]))],
            choose: (pair) => put({ pair }),
          })
        : nothing
    }
    <div class="pair">
      ${field("drive", "Drive ramp, °")} ${field("coast", "Coast ramp, °")}
      ${field("faces", "Sliding faces, both packs")} ${field("torque", `Breakaway torque, ${read.torqueLabel}`)}
    </div>
    ${choiceKeys({
      name: "try.turned",
      label: "Rings",
      short: true,
      value: typed.turned ? "turned" : "as_is",
      options: [
        { value: "as_is", words: "as they are" },
        { value: "turned", words: "turned over" },
      ],
      choose: (chosen) => put({ turned: chosen === "turned" }),
    })}
    <button class="main" @click=${() => set({ tries: [...tries, typed], typed: nothingTried() })}>Add it</button>
    ${
      tries.length
        ? html`<ul class="list">
            ${tries.map(
              (tried, place) =>
                html`<li class="row apart">
                  <span>${wordsOf(tried, read.torqueLabel)} ${errorLine(reasonOf(bench, place))}</span>
                  <button class="plain" @click=${() => set({ tries: tries.filter((other) => other !== tried) })}>
                    Remove
                  </button>
                </li>`,
            )}
          </ul>`
        : nothing
    }
  </section>`;
}

/** What is wrong with something that is tried. @param {State["bench"]} bench @param {number} place */
function reasonOf({ bad }, place) {
  return bad?.field.startsWith(`tries.${place}.`) ? bad.reason : undefined;
}

/** @param {Tried} tried @param {string} torqueLabel */
function wordsOf({ pair, turned, drive, coast, faces, torque }, torqueLabel) {
  const parts = [
    pair,
    drive && `drive ${drive}°`,
    coast && `coast ${coast}°`,
    faces && `${faces} faces`,
    torque && `${torque} ${torqueLabel}`,
    turned && "rings turned over",
  ];
  return parts.filter(Boolean).join(", ") || "as it is built";
}
