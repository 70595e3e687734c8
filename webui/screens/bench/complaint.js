// @ts-check
// From complaint to change: what was felt, the computed figure behind it, what to change, and what that costs.

import { draft as kept } from "../../log/drafts.js";
import { write } from "../../log/outbox.js";
import { cars, isBuilt, standing } from "../../log/stands.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { backTo, choiceField, choiceKeys, errorLine, numberField, reading, whenDay } from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { judging } from "../form/judging.js";
import { lackLine, lackOf } from "../form/lack.js";
import { signing } from "../form/signing.js";
import { style } from "../form/style.js";
import { worked } from "../form/worked.js";
import { complaintOf, feltInWords, feltKeys, markedOf } from "../unit/felt.js";
import { carWith, notInACorner, otherAxle } from "../unit/sits.js";
import { answerSections } from "./complaint-answer.js";
import { chosenSection, trialRequest } from "./complaint-choice.js";
import { openOfUnit } from "./of-unit.js";

/** @typedef {import("../unit/felt.js").Marked} Marked */
/** @typedef {import("../../engine/door.js").ResultOf<"complaint">} Answer */
/** @typedef {import("./complaint-choice.js").Chosen} Chosen */

/**
 * @typedef {object} Draft
 * @property {string} outing id of the outing that the complaints are of; blank for none
 * @property {Marked[]} felt
 * @property {string} conditions
 * @property {string} car the car's id; blank for a usual one
 * @property {string} slow radius of slow corners, m
 * @property {string} fast radius of fast ones, m
 * @property {string} slow_gear
 * @property {string} fast_gear
 * @property {Chosen | null} chosen the change that is chosen
 */

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {string} id of the unit
 * @property {import("../../log/stands.js").BuiltStanding} found what stands for it
 * @property {import("../../log/stands.js").Car[]} cars
 * @property {import("../form/fields.js").Reading} read
 * @property {Draft} draft
 * @property {boolean} isMarked whether something was marked when the screen opened: then the keys are folded
 * @property {import("../form/signing.js").Signing} sign
 * @property {import("../form/judging.js").Judging<"complaint">} answer
 * @property {import("../form/judging.js").Judging<"trial">} choice
 */

const CONDITIONS = [
  { value: "", words: "not known" },
  { value: "dry", words: "dry" },
  { value: "damp", words: "damp" },
  { value: "wet", words: "wet" },
  { value: "loose", words: "loose" },
  { value: "snow", words: "snow" },
];

const CORNERS = ["slow_m", "slow_gear", "fast_m", "fast_gear"];

/**
 * What is typed at first: what was felt at an outing, the last one where none is named.
 * @param {import("../../log/stands.js").BuiltStanding} found @param {string | undefined} outing @returns {Draft}
 */
function fresh({ felt, built }, outing) {
  const from = outing ? felt.find(({ id }) => id === outing) : felt[0];
  return {
    outing: from?.id ?? "",
    felt: markedOf(from?.felt ?? []),
    conditions: from?.conditions ?? "",
    car: built.unit.car_id ?? "",
    slow: "15",
    fast: "80",
    slow_gear: "2",
    fast_gear: "3",
    chosen: null,
  };
}

/**
 * @param {HTMLElement} place
 * @param {string[]} params
 * @returns {Promise<State | undefined>} nothing where the unit is not on this phone
 */
async function opened(place, [id, outing]) {
  const key = `complaint/${id}`;
  const [read, found, all, before, sign] = await Promise.all([
    reading(),
    standing(id),
    cars(),
    kept(key),
    signing(() => draw(state)),
    style("outing"),
    style("complaint"),
  ]);
  if (!isBuilt(found)) return undefined;
  const begun = fresh(found, outing);
  // What was begun about another outing is not about this one.
  const typed = /** @type {Partial<Draft> | undefined} */ (before);
  const draft = { ...begun, ...(!outing || typed?.outing === outing ? typed : {}) };
  const isMarked = draft.felt.length > 0;
  const state = /** @type {State} */ ({ place, id, found, cars: all, read, draft, isMarked, sign });
  const alike = { draft: () => state.draft, draw: () => draw(state) };
  state.answer = judging({ ...alike, key, calculation: "complaint", request: () => requestOf(state) });
  state.choice = judging({
    ...alike,
    key,
    calculation: "trial",
    request: () => (state.draft.chosen ? trialRequest(state.draft.chosen, state.draft.outing, read) : undefined),
  });
  return state;
}

/** @param {State} state */
function requestOf({ draft, found, cars: all, read }) {
  if (!draft.felt.length || found.sits.corner) return undefined;
  return {
    built: found.built,
    car: carWith(all.find(({ id }) => id === draft.car)?.body, found.sits),
    felt: draft.felt.map(complaintOf),
    ...(draft.conditions
      ? { conditions: /** @type {"dry" | "damp" | "wet" | "loose" | "snow"} */ (draft.conditions) }
      : {}),
    slow_m: draft.slow,
    fast_m: draft.fast,
    slow_gear: draft.slow_gear,
    fast_gear: draft.fast_gear,
    write_in: read.torqueUnit,
  };
}

/** @param {State} state @param {Partial<Draft>} change */
function set(state, change) {
  state.draft = { ...state.draft, ...change };
  state.answer.changed();
}

/** A change is chosen, or typed on. @param {State} state @param {Chosen | null} chosen */
function choose(state, chosen) {
  const isNew = !state.draft.chosen;
  state.draft = { ...state.draft, chosen };
  state.choice.changed();
  draw(state);
  if (chosen && isNew) focusOn(state.place, "#chosen");
}

/** @param {State} state */
function save(state) {
  return state.choice.save(async (body, shown) => {
    state.sign.check();
    await write({ unit: state.id, kind: "trial", body, shown, draft: `complaint/${state.id}` });
    return `#/unit/${state.id}`;
  });
}

/** @param {State} state */
function whatWasFelt(state) {
  const { draft, found } = state;
  const from = found.felt.find(({ id }) => id === draft.outing);
  const keys = feltKeys(draft.felt, (felt) => set(state, { felt }));
  return html`<section class="card" aria-labelledby="felt">
    <h2 id="felt">What the driver felt</h2>
    ${from ? html`<p>As logged on ${whenDay(from.at)}.</p>` : nothing}
    ${
      from?.rebuilt
        ? html`<p class="finding doubt">
            The unit was rebuilt on ${whenDay(from.rebuilt)}, after that: what follows is of the unit as it is built
            now. Look whether the next outing still shows it.
          </p>`
        : nothing
    }
    ${
      state.isMarked
        ? html`<details>
            <summary>${feltInWords(draft.felt)}</summary>
            <div class="inside">${keys}</div>
          </details>`
        : keys
    }
    ${errorLine(state.answer.error("felt"))}
  </section>`;
}

/** @param {State} state */
function carAndCorners(state) {
  const { draft, answer, cars: all } = state;
  const figure = (
    /** @type {"slow" | "fast" | "slow_gear" | "fast_gear"} */ name,
    /** @type {string} */ path,
    /** @type {string} */ label,
  ) =>
    numberField({
      name: `complaint.${name}`,
      label,
      value: draft[name],
      error: answer.error(path),
      type: (typed) => set(state, { [name]: typed }),
    });
  return html`<section class="card">
    <h2>Car and ground</h2>
    ${choiceField({
      name: "complaint.car",
      label: "Car",
      value: draft.car,
      options: [
        ["", "a usual car, nothing measured"],
        ...all.map(({ id, name }) => /** @type {[string, string]} */ ([id, name])),
      ],
      choose: (car) => set(state, { car }),
    })}
    ${otherAxle(all.find(({ id }) => id === draft.car)?.body, state.found.sits)}
    <p class="quiet"><a href="#/car">Cars</a>: what is known of one makes the answer surer.</p>
    ${choiceKeys({
      name: "complaint.conditions",
      label: "It ran on",
      short: true,
      value: draft.conditions,
      options: CONDITIONS,
      choose: (conditions) => set(state, { conditions }),
    })}
    <details ?open=${CORNERS.some((path) => answer.error(path))}>
      <summary>Corners and gears</summary>
      <div class="inside pair">
        ${figure("slow", "slow_m", "Slow corners, radius in m")} ${figure("slow_gear", "slow_gear", "Gear there")}
        ${figure("fast", "fast_m", "Fast corners, radius in m")} ${figure("fast_gear", "fast_gear", "Gear there")}
      </div>
    </details>
    ${answer.bad?.field.startsWith("car") ? errorLine(answer.bad.reason) : nothing} ${errorLine(answer.failed)}
  </section>`;
}

/** A unit between the axles. @param {State} state */
const ofNoWheels = ({ id, found }) =>
  html`<div class="full">
      ${backTo(`#/unit/${id}`, found.unit.name)}
      <h1>From complaint to change</h1>
    </div>
    ${notInACorner(id, found.sits)}`;

/** @param {State} state */
const screen = (state) =>
  html`<div class="full">
      ${backTo(`#/unit/${state.id}`, state.found.unit.name)}
      <h1>From complaint to change</h1>
      ${lackLine(state.id, lackOf(state.found, "lock"))}
    </div>
    <div class="screen">${whatWasFelt(state)} ${carAndCorners(state)}</div>
    <div class="screen">
      ${
        state.answer.result && state.draft.felt.length
          ? answerSections(state.answer.result, state.draft.chosen, (chosen) => choose(state, chosen))
          : html`<section class="card"><p>Mark what was felt: what may be behind it stands here.</p></section>`
      }
      ${chosenSection(
        state,
        (chosen) => choose(state, chosen),
        () => save(state),
      )}
      <section class="card">
        <p><a href="#/unit/${state.id}/corner">In a corner</a> shows each way to build it over the whole corner.</p>
        ${worked("complaint")}
      </section>
    </div>`;

/** @param {State} state */
function draw(state) {
  render(state.found.sits.corner ? ofNoWheels(state) : screen(state), state.place);
}

/** @type {import("../../app.js").Show} */
export async function show(place, params) {
  const state = await openOfUnit(place, params, opened, draw);
  if (!state) return;
  await Promise.all([state.answer.judge(), state.choice.judge()]);
}
