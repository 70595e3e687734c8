// @ts-check
// Ramps and drive: lock on drive and coast for each way of fitting the rings, and what it does for traction.

import { curvesDrawing } from "../../draw/curves.js";
import { wedgeDrawing } from "../../draw/wedge.js";
import { draft as kept } from "../../log/drafts.js";
import { isBuilt, standing } from "../../log/stands.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { backTo, errorLine, numberField, percent, quantity, reading, warningLines } from "../form/fields.js";
import { judging } from "../form/judging.js";
import { lackCard, lackOf } from "../form/lack.js";
import { worked } from "../form/worked.js";
import { openOfUnit } from "./of-unit.js";

/** @typedef {"left_load" | "right_load" | "left_grip" | "right_grip" | "tyre"} WheelField */
/** @typedef {Record<WheelField | "top", string>} Draft */

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {import("../form/lack.js").Lack} [lack] what the unit lacks for a lock
 * @property {import("../unit/sits.js").Sits} sits where in the car the unit sits
 * @property {string} id of the unit
 * @property {string} unitName
 * @property {import("../../log/stands.js").BuiltStanding["built"]} built the unit as it is built now
 * @property {import("../form/fields.js").Reading} read
 * @property {Draft} draft
 * @property {import("../form/judging.js").Judging<"ramps">} ramps the lock at the ramps
 * @property {import("../form/judging.js").Judging<"traction">} axle the traction of the axle with that lock
 */

/** @typedef {import("../../engine/door.js").ResultOf<"ramps">} Ramps */
/** @typedef {Ramps["fittings"][number]} Fitting */

const FITTINGS = /** @type {Record<string, string>} */ ({ as_is: "As fitted", turned_over: "Rings turned over" });
const WAYS = /** @type {const} */ (["drive", "coast"]);

const PRESS = "Coast ramps press on the way into a corner, off the throttle; drive ramps on the way out, under power.";
const REAR = "coast lock pushes the nose wide on the way in, drive lock on the way out.";
const FRONT = "under power the lock pulls the nose in, and at the steering.";
const NO_SOURCE = "Common practice, no source.";

/** What ramps do to a car, by where the unit sits; of both axles where nobody said. @type {Record<string, string>} */
const PUSHES = {
  "": `${PRESS} With rear-wheel drive ${REAR} With front-wheel drive it is otherwise: ${FRONT} ${NO_SOURCE}`,
  rear: `${PRESS} At the rear axle ${REAR} ${NO_SOURCE}`,
  front: `${PRESS} At the front axle ${FRONT} ${NO_SOURCE}`,
  centre: `Coast ramps press off the throttle, drive ramps under power: then the shafts to front and rear turn as one,
    the more the steeper the lock. That steadies the car and makes it turn in less willingly. ${NO_SOURCE}`,
};

// Enough for a smooth line.
const POINTS = 61;

/**
 * @param {HTMLElement} place
 * @param {string[]} params
 * @returns {Promise<State | undefined>} nothing where the unit is not on this phone
 */
async function opened(place, [id]) {
  const [read, found] = await Promise.all([reading(), standing(id)]);
  if (!isBuilt(found)) return undefined;
  const key = `ramps/${id}`;
  const empty = { top: "", left_load: "", right_load: "", left_grip: "", right_grip: "", tyre: "" };
  const draft = { ...empty, ...(await kept(key)) };
  const state = /** @type {State} */ ({ place, id, built: found.built, read, draft });
  state.unitName = found.unit.name;
  state.lack = lackOf(found, "lock");
  state.sits = found.sits;
  const alike = { key, draft: () => state.draft, draw: () => draw(state) };
  state.ramps = judging({ ...alike, calculation: "ramps", request: () => rampsRequest(state) });
  state.axle = judging({ ...alike, calculation: "traction", request: () => axleRequest(state) });
  return state;
}

/** @param {State} state */
function rampsRequest({ built, read, draft }) {
  if (!built.unit.ramps) return undefined;
  const most_nm = quantity(draft.top, read.torqueUnit);
  return { built, points: POINTS, write_in: read.torqueUnit, ...(most_nm ? { most_nm } : {}) };
}

/** @param {State} state */
function axleRequest({ built, read, draft }) {
  if (!draft.left_load || !draft.right_load || !draft.tyre) return undefined;
  return {
    left: { load_kg: draft.left_load, grip: draft.left_grip },
    right: { load_kg: draft.right_load, grip: draft.right_grip },
    tyre_radius_mm: draft.tyre,
    built,
    write_in: read.torqueUnit,
  };
}

/** @param {State} state @param {Partial<Draft>} change */
function set(state, change) {
  state.draft = { ...state.draft, ...change };
  state.ramps.changed();
  state.axle.judge();
}

/** @typedef {Fitting["drive"]} Side */

/** What a table says of each way. @type {[string, (side: Side) => import("../form/fields.js").Words][]} */
const ROWS = [
  ["Lock", (side) => html`<b>${side.locking}</b> <small>${side.locking_range}</small>`],
  ["Bias ratio", (side) => html`<b>${side.bias}</b> <small>${side.bias_range}</small>`],
  ["Ramps beat preload from", (side) => side.takes_over],
];

/** @param {Fitting} fitting */
const lockTable = (fitting) =>
  html`<table>
    <thead>
      <tr>
        <td></td>
        ${WAYS.map((way) => html`<th scope="col">${way}</th>`)}
      </tr>
    </thead>
    <tbody>
      ${ROWS.map(
        ([title, cell]) =>
          html`<tr>
            <th scope="row">${title}</th>
            ${WAYS.map((way) => html`<td class="whole">${cell(fitting[way])}</td>`)}
          </tr>`,
      )}
    </tbody>
  </table>`;

/** @param {State} state @param {Fitting} fitting */
const lockCurves = ({ read }, fitting) =>
  curvesDrawing({
    series: WAYS.map((way) => ({
      name: way,
      dashed: way === "coast",
      points: fitting[way].curve.map((point) => ({
        x: read.torqueIn(point.torque_nm),
        y: read.torqueIn(point.lock_nm),
        low: read.torqueIn(point.low_nm),
        high: read.torqueIn(point.high_nm),
      })),
    })),
    xName: `input torque at the case, ${read.torqueLabel}`,
    yName: `lock, ${read.torqueLabel}`,
    words: "Torque held between the outputs against input torque, on drive and on coast, each with its range.",
  });

/** What the range of the lock rests on. @param {Fitting} fitting */
const madeOf = ({ drive }) =>
  html`<details>
    <summary>What the range is made of</summary>
    <table class="inside">
      <thead>
        <tr>
          <th scope="col">On drive</th>
          <th scope="col" class="number">Share</th>
        </tr>
      </thead>
      <tbody>
        ${drive.doubt.map(
          ({ meaning, share }) =>
            html`<tr>
              <th scope="row">${meaning}</th>
              <td class="number">${percent(share)}</td>
            </tr>`,
        )}
      </tbody>
    </table>
  </details>`;

/** What presses beside the ramps, where that was given. @param {Fitting} fitting */
const pressedBy = (fitting) =>
  WAYS.map((way) =>
    fitting[way].pressed_by ? html`<p class="quiet">On ${way}: ${fitting[way].pressed_by}.</p>` : nothing,
  );

/** @param {State} state @param {Fitting} fitting */
const fittingCard = (state, fitting) =>
  html`<section class="card">
    <h2>${FITTINGS[fitting.fitted] ?? fitting.fitted}</h2>
    <div class="pair">
      ${WAYS.map((way) => wedgeDrawing({ angle: fitting[way].angle_deg, name: way }))}
    </div>
    ${lockTable(fitting)} ${pressedBy(fitting)} ${lockCurves(state, fitting)} ${madeOf(fitting)}
  </section>`;

/** What the unit's other pairs of ramps would do in its place. @param {Ramps} result */
const otherPairs = ({ others }) =>
  others.length
    ? html`<section class="card">
        <h2>Other ramps of this unit</h2>
        <table>
          <thead>
            <tr>
              <td></td>
              ${WAYS.map((way) => html`<th scope="col">${way}</th>`)}
            </tr>
          </thead>
          <tbody>
            ${others.map(
              (pair) =>
                html`<tr>
                  <th scope="row">${pair.name}</th>
                  ${WAYS.map(
                    (way) =>
                      html`<td>
                        ${pair[way].angle_deg}°: <b>${pair[way].locking}</b> <small>${pair[way].locking_range}</small>
                      </td>`,
                  )}
                </tr>`,
            )}
          </tbody>
        </table>
      </section>`
    : nothing;

/** @param {State} state @param {Ramps} result */
const lockSections = (state, result) =>
  html`<section class="card full">
      <p>${result.text}</p>
      ${warningLines(result.warnings)}
      <p class="quiet">
        ${result.basis} The lock is the difference of the two output torques over their
        sum; a shallower ramp locks harder, and a ramp of 90° adds none. Friction is never known exactly: the range
        beside each figure holds 19 times in 20.
      </p>
      <p class="quiet">${PUSHES[state.sits.where ?? ""]}</p>
      ${
        result.warm
          ? html`<p class="quiet">
              Warm, by expansion alone, preload holds ${state.read.torque(result.warm.preload_lock_nm)}.
            </p>`
          : nothing
      }
      ${worked("ramps")}
    </section>
    ${result.fittings.map((fitting) => fittingCard(state, fitting))} ${otherPairs(result)}`;

/** @param {State} state @param {import("../../engine/door.js").ResultOf<"traction">} result */
function tractionTable({ read }, result) {
  const rows = /** @type {[string, number][]} */ ([
    ["open axle", result.open_nm],
    ["this unit, likely", result.unit_nm],
    ["locked axle", result.solid_nm],
  ]);
  return html`<p>${result.text}</p>
    <table>
      <tbody>
        ${rows.map(
          ([words, value]) =>
            html`<tr>
              <th scope="row">${words}</th>
              <td class="number">${read.torque(value)}</td>
            </tr>`,
        )}
      </tbody>
    </table>`;
}

/** @param {State} state */
function tractionSection(state) {
  const { axle, draft } = state;
  const field = (/** @type {WheelField} */ name, /** @type {string} */ label, /** @type {string} */ path) =>
    numberField({
      name,
      label,
      value: draft[name],
      error: axle.error(path),
      type: (typed) => set(state, { [name]: typed }),
    });
  return html`<section class="card">
    <h2>What it does for traction</h2>
    <div class="pair">
      ${field("left_load", "Left wheel load, kg", "left.load_kg")}
      ${field("right_load", "Right wheel load, kg", "right.load_kg")}
      ${field("left_grip", "Left grip", "left.grip")}${field("right_grip", "Right grip", "right.grip")}
    </div>
    ${field("tyre", "Tyre radius, mm", "tyre_radius_mm")}
    ${
      axle.result
        ? tractionTable(state, axle.result)
        : html`<p class="quiet">Type loads, grip (1 is dry tarmac, 0.3 wet grass) and tyre radius.</p>`
    }
    ${axle.bad ? errorLine(axle.bad.reason) : nothing} ${worked("traction")}
  </section>`;
}

/** @param {State} state */
const withRamps = (state) =>
  html`${state.ramps.result ? lockSections(state, state.ramps.result) : nothing}
    ${state.ramps.bad ? html`<section class="card">${errorLine(state.ramps.bad.reason)}</section>` : nothing}
    ${errorLine(state.ramps.failed)}
    ${state.sits.corner ? html`<section class="card"><p>${state.sits.corner}</p></section>` : tractionSection(state)}`;

/** @param {State} state */
const screen = (state) =>
  html`<div class="full">
      ${backTo(`#/unit/${state.id}`, state.unitName)}
      <h1>Ramps and drive</h1>
      ${
        state.lack || state.sits.corner
          ? nothing
          : html`<p><a class="button" href="#/unit/${state.id}/corner">In a corner</a></p>`
      }
    </div>
    ${state.lack ? lackCard(state.id, state.lack) : withRamps(state)}`;

/** @param {State} state */
function draw(state) {
  render(screen(state), state.place);
}

/** @type {import("../../app.js").Show} */
export async function show(place, params) {
  const state = await openOfUnit(place, params, opened, draw);
  if (!state) return;
  await state.ramps.judge();
  await state.axle.judge();
}
