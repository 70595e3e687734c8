// @ts-check
// In a corner: ways to build a unit side by side, and what each does to a car.

import { pointOf } from "../../draw/corner.js";
import { calc } from "../../engine/door.js";
import { draft as kept } from "../../log/drafts.js";
import { cars, isBuilt, standing } from "../../log/stands.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { backTo, errorLine, quantity, reading } from "../form/fields.js";
import { judging } from "../form/judging.js";
import { lackCard, lackOf } from "../form/lack.js";
import { style } from "../form/style.js";
import { carWith, notInACorner } from "../unit/sits.js";
import { candidateList, tryForm } from "./corner-candidates.js";
import { pictures } from "./corner-picture.js";
import { openOfUnit } from "./of-unit.js";

/** @typedef {import("../../engine/door.js").ResultOf<"corner_map">} CornerMap */
/** @typedef {CornerMap["panels"][number]} Panel */

/**
 * Something that is tried, as it is typed.
 * @typedef {{pair: string, turned: boolean, drive: string, coast: string, faces: string, torque: string}} Tried
 */

/**
 * @typedef {object} Draft
 * @property {string} car the car's id; blank for a usual one
 * @property {"slow" | "fast"} corner
 * @property {string} slow radius of the slow corner, m
 * @property {string} fast radius of the fast one, m
 * @property {import("../../draw/corner.js").Spot} spot
 * @property {Tried} typed what is typed to be tried
 * @property {Tried[]} tries
 */

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {import("../form/lack.js").Lack} [lack] what the unit lacks for a lock
 * @property {import("../unit/sits.js").Sits} sits where in the car the unit sits
 * @property {string} id of the unit
 * @property {string} unitName
 * @property {import("../../log/stands.js").BuiltStanding["built"]} built the unit as it is built now
 * @property {import("../../log/stands.js").Car[]} cars
 * @property {import("../form/fields.js").Reading} read
 * @property {Draft} draft
 * @property {import("../form/judging.js").Judging<"candidates">} bench
 * @property {import("../form/judging.js").Judging<"corner_map">} map
 * @property {CornerMap} [shown] the last picture, which stays while the next is worked out
 * @property {(Panel["point"])[]} points what each does at the dot
 * @property {boolean} asking whether the dot is being worked out
 * @property {boolean} moved whether it was moved meanwhile
 * @property {boolean} fine whether the picture is as fine as it gets
 */

// A picture that is there at once, and one that is smooth.
const COARSE = 9;
const FINE = 33;

/** @returns {Tried} */
const nothingTried = () => ({ pair: "", turned: false, drive: "", coast: "", faces: "", torque: "" });

/** @returns {Draft} */
const empty = () => ({
  car: "",
  corner: "slow",
  slow: "15",
  fast: "80",
  spot: { across: 60, up: 60 },
  typed: nothingTried(),
  tries: [],
});

/**
 * @param {HTMLElement} place
 * @param {string[]} params
 * @returns {Promise<State | undefined>} nothing where the unit is not on this phone
 */
async function opened(place, [id]) {
  const [read, found, all] = await Promise.all([reading(), standing(id), cars(), style("corner")]);
  if (!isBuilt(found)) return undefined;
  const key = `corner/${id}`;
  // The car that the unit names, until another is chosen.
  const draft = { ...empty(), car: found.built.unit.car_id ?? "", ...(await kept(key)) };
  const state = /** @type {State} */ ({ place, id, built: found.built, cars: all, read, draft, asking: false });
  state.points = [];
  state.unitName = found.unit.name;
  state.lack = lackOf(found, "lock");
  state.sits = found.sits;
  const alike = { key, draft: () => state.draft, draw: () => draw(state) };
  state.bench = judging({ ...alike, calculation: "candidates", request: () => benchRequest(state) });
  state.map = judging({
    ...alike,
    calculation: "corner_map",
    request: () => mapRequest(state),
    draw: () => came(state),
  });
  return state;
}

/** What is tried, as the engine takes it. @param {State} state */
const triesOf = ({ draft, read }) =>
  draft.tries.map(({ pair, turned, drive, coast, faces, torque }) => ({
    pair,
    fitted: /** @type {"as_is" | "turned_over"} */ (turned ? "turned_over" : "as_is"),
    drive_deg: drive,
    coast_deg: coast,
    faces,
    torque_nm: quantity(torque, read.torqueUnit),
  }));

/** @param {State} state */
function benchRequest(state) {
  if (state.lack || state.sits.corner) return undefined;
  return { built: state.built, tries: triesOf(state), write_in: state.read.torqueUnit };
}

/** The car that is chosen, as it was typed; nothing for a usual one. @param {State} state */
const carOf = ({ cars: all, draft, sits }) => carWith(all.find(({ id }) => id === draft.car)?.body, sits);

/** @param {State} state */
function cornerRequest(state) {
  const { draft, built, read } = state;
  return { built, car: carOf(state), tries: triesOf(state), radius_m: draft[draft.corner], write_in: read.torqueUnit };
}

/** @param {State} state */
function mapRequest(state) {
  if (state.lack || state.sits.corner) return undefined;
  return { ...cornerRequest(state), points: state.fine ? FINE : COARSE, blur: state.fine };
}

/** A picture came: show it, and go on to the fine one. @param {State} state */
function came(state) {
  const { map } = state;
  if (map.result) {
    state.shown = map.result;
    if (!map.asking) moved(state);
  }
  draw(state);
  if (map.result && !map.asking && !state.fine) {
    state.fine = true;
    map.judge();
  }
}

/**
 * The dot stands elsewhere, or something else is drawn: ask what each does there, one question at a time.
 * @param {State} state
 */
async function moved(state) {
  if (!state.shown) return;
  if (state.asking) {
    state.moved = true;
    return;
  }
  state.asking = true;
  do {
    state.moved = false;
    const point = pointOf(state.shown, state.draft.spot);
    try {
      const { panels } = await calc("corner_map", { ...cornerRequest(state), points: 0, point });
      state.points = panels.map((panel) => panel.point);
    } catch {
      // What is wrong with the request is said where the picture is asked for.
      state.points = [];
    }
    draw(state);
  } while (state.moved);
  state.asking = false;
}

/** Something else is to be worked out: coarse first. @param {State} state @param {Partial<Draft>} change */
function set(state, change) {
  state.draft = { ...state.draft, ...change };
  state.fine = false;
  // The engine answers in turn, and the picture is what is waited for.
  state.map.judge();
  state.bench.changed();
}

/** @param {State} state @param {import("../../draw/corner.js").Spot} spot */
function setSpot(state, spot) {
  state.draft = { ...state.draft, spot };
  state.bench.keep();
  draw(state);
  moved(state);
}

/** A unit between the axles. @param {State} state */
const ofNoWheels = ({ id, sits }) =>
  html`<div class="full">
      ${backTo(`#/unit/${id}/ramps`, "Ramps")}
      <h1>In a corner</h1>
    </div>
    ${notInACorner(id, sits)}`;

/** @param {State} state */
const screen = (state) =>
  html`<div class="full">
      ${backTo(`#/unit/${state.id}/ramps`, "Ramps")}
      <h1>In a corner</h1>
      <p>${state.unitName}: ways to build it side by side, and what each does to the car.</p>
      <p>
        <a href="#/unit/${state.id}/complaint">From complaint to change</a>: what a driver felt, and what may be behind
        it.
      </p>
    </div>
    ${state.lack ? lackCard(state.id, state.lack) : whole(state)}`;

/** @param {State} state */
const whole = (state) =>
  html`${pictures(
    state,
    (change) => set(state, change),
    (spot) => setSpot(state, spot),
  )}
    <section class="card full">
      <h2>Ways to build it</h2>
      ${state.bench.result ? candidateList(state.bench.result) : nothing}
      ${errorLine(state.bench.bad?.reason)}${errorLine(state.bench.failed)}
    </section>
    ${tryForm(state, (change) => set(state, change), nothingTried)}`;

/** @param {State} state */
function draw(state) {
  render(state.sits.corner ? ofNoWheels(state) : screen(state), state.place);
}

/** @type {import("../../app.js").Show} */
export async function show(place, params) {
  const state = await openOfUnit(place, params, opened, draw);
  if (!state) return;
  await Promise.all([state.map.judge(), state.bench.judge()]);
}
