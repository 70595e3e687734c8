// @ts-check
// The pictures of a corner, one a way to build the unit, with the dot's figures in a table and all in words.

import { cornerDrawing, pointOf, zonePatterns, zoneSample } from "../../draw/corner.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { choiceField, choiceKeys, errorLine, newtons, numberField } from "../form/fields.js";
import { worked } from "../form/worked.js";
import { otherAxle } from "../unit/sits.js";

/** @typedef {import("./corner.js").State} State */
/** @typedef {import("./corner.js").Draft} Draft */
/** @typedef {import("./corner.js").CornerMap} CornerMap */
/** @typedef {(change: Partial<Draft>) => void} Set */
/** @typedef {(spot: import("../../draw/corner.js").Spot) => void} SetSpot */

/** Zones in the order of the throttle, as the legend names them. @type {[string, string][]} */
const ZONES = [
  ["nose_out", "nose out: pushes straight on"],
  ["even", "even: too little to feel"],
  ["tail_out", "tail out: helps round"],
  ["inner_spins", "inner wheel spins, line still held"],
  ["both_go", "both wheels let go together"],
  ["slides", "axle slides"],
  ["inner_drags", "inner wheel dragged by the engine"],
];

/** @param {State} state @param {Set} set */
function cornerFields({ cars, draft, map, sits }, set) {
  const radius = draft.corner;
  return html`${choiceField({
    name: "corner.car",
    label: "Car",
    value: draft.car,
    options: [
      ["", "a usual car, nothing measured"],
      ...cars.map(({ id, name }) => /** @type {[string, string]} */ ([id, name])),
    ],
    choose: (car) => set({ car }),
  })}
  ${otherAxle(cars.find(({ id }) => id === draft.car)?.body, sits)}
  <p class="quiet"><a href="#/car">Cars</a>: what is known of one makes the picture surer.</p>
  <div class="pair">
    ${choiceKeys({
      name: "corner.which",
      label: "Corner",
      short: true,
      value: radius,
      options: [
        { value: "slow", words: "slow" },
        { value: "fast", words: "fast" },
      ],
      choose: (corner) => set({ corner: corner === "fast" ? "fast" : "slow" }),
    })}
    ${numberField({
      name: "corner.radius",
      label: "Its radius, m",
      value: draft[radius],
      error: map.error("radius_m"),
      type: (typed) => set({ [radius]: typed }),
    })}
  </div>`;
}

/** @param {State} state @param {CornerMap} shown @param {SetSpot} setSpot */
function sliders({ draft, read }, shown, setSpot) {
  const { lateral_ms2, torque_nm } = pointOf(shown, draft.spot);
  const slider = (
    /** @type {"across" | "up"} */ name,
    /** @type {string} */ label,
    /** @type {string} */ value,
  ) => html`<label class="field"
    >${label}: ${value}<input
      type="range"
      data-field=${`corner.${name}`}
      .value=${String(draft.spot[name])}
      aria-valuetext=${value}
      @input=${(/** @type {{target: HTMLInputElement}} */ { target }) =>
        setSpot({ ...draft.spot, [name]: target.valueAsNumber })}
  /></label>`;
  return html`<div class="pair corner-sliders">
    ${slider("across", "Lateral acceleration", `${lateral_ms2.toFixed(1)} m/s²`)}
    ${slider("up", "Torque at the axle", read.torque(torque_nm))}
  </div>`;
}

/** @param {State} state @param {CornerMap} shown */
const pointTable = ({ points, read }, shown) =>
  html`<table>
    <caption>
      At the dot
    </caption>
    <thead>
      <tr>
        <th scope="col">Way to build it</th>
        <th scope="col" class="number">Inner</th>
        <th scope="col" class="number">Outer</th>
        <th scope="col">What happens</th>
      </tr>
    </thead>
    <tbody>
      ${shown.panels.map((panel, place) => {
        const point = points[place];
        return html`<tr>
          <th scope="row">${panel.name}</th>
          ${
            point
              ? html`<td class="number">${read.torqueFigure(point.inner_nm)}</td>
                  <td class="number">${read.torqueFigure(point.outer_nm)}</td>
                  <td>
                    ${point.text}
                    <div class="quiet">${point.zone_text}; yaw as ${newtons(point.yaw_side_n)} at the other axle</div>
                  </td>`
              : html`<td></td>
                  <td></td>
                  <td></td>`
          }
        </tr>`;
      })}
    </tbody>
  </table>`;

/** @param {CornerMap} shown */
const inWords = (shown) =>
  html`<details>
    <summary>The pictures in words</summary>
    <table class="inside">
      <thead>
        <tr>
          <th scope="col">Way to build it</th>
          <th scope="col" class="number">m/s²</th>
          <th scope="col">From no throttle up</th>
        </tr>
      </thead>
      <tbody>
        ${shown.panels.map((panel) =>
          panel.rows.map(
            (row) =>
              html`<tr>
                <th scope="row">${panel.name}</th>
                <td class="number">${row.lateral_ms2.toFixed(1)}</td>
                <td>${row.text}</td>
              </tr>`,
          ),
        )}
      </tbody>
    </table>
  </details>`;

/** @param {State} state @param {Set} set @param {SetSpot} setSpot */
export function pictures(state, set, setSpot) {
  const { shown, map, draft, points, read } = state;
  return html`<section class="card full">
    ${cornerFields(state, set)} ${errorLine(map.bad?.reason)}${errorLine(map.failed)}
    ${
      shown
        ? html`${zonePatterns()}
            <ul class="zone-legend">
              ${ZONES.map(([zone, words]) => html`<li>${zoneSample(zone)}<span>${words}</span></li>`)}
            </ul>
            <p class="quiet">
              Across: lateral acceleration, from none to a little beyond ${shown.limit_ms2.toFixed(1)} m/s², where the
              axle slides. Up: torque at the axle, from ${read.torque(shown.foot_nm)} of engine braking to
              ${read.torque(shown.top_nm)}; the line is no throttle. Dashed: how far the limit of the inner wheel may be
              off; dotted: where it turns from nose to tail. Drag the dot, or use the sliders; its arrows are the
              torques of the inner wheel, left, and of the outer one.
            </p>
            ${sliders(state, shown, setSpot)}
            <div class="corner-panels">
              ${shown.panels.map(
                (panel, place) =>
                  html`<figure>
                    ${cornerDrawing({
                      ground: shown,
                      zones: panel.zones,
                      most: panel.most,
                      spot: draft.spot,
                      point: points[place] ?? null,
                      choose: setSpot,
                      words: `Zones of ${panel.name}; the same stands in words below.`,
                    })}
                    <figcaption>${panel.name}</figcaption>
                  </figure>`,
              )}
            </div>
            ${pointTable(state, shown)} ${inWords(shown)}
            <p class="quiet">${shown.text}</p>
            ${worked("corner")}`
        : nothing
    }
  </section>`;
}
