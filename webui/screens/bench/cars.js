// @ts-check
// The cars that the shop's units are fitted to: what a corner needs of each, as far as it is known.

import { BadInput, calc } from "../../engine/door.js";
import { onChange } from "../../log/changes.js";
import { draft as kept } from "../../log/drafts.js";
import { isOf } from "../../log/entries.js";
import { write } from "../../log/outbox.js";
import { cars } from "../../log/stands.js";
import { reasonOf } from "../../log/storage-fault.js";
import { entry } from "../../log/store.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { saveKey } from "../form/act-key.js";
import { backTo, errorLine, reading } from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { formState } from "../form/form-state.js";
import { signing } from "../form/signing.js";
import { emptyCar, requestOf, typedAgain } from "./car-draft.js";
import { carFields, carFigures } from "./car-form.js";

/** @typedef {import("../../log/stands.js").Car} Car */
/** @typedef {import("./car-draft.js").CarDraft} CarDraft */

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {import("../../log/entries.js").EntryOf<"car">} [corrected] the entry that is corrected
 * @property {import("../form/fields.js").Reading} read
 * @property {Car[]} cars
 * @property {string} message what came of the last tap
 * @property {Car} [removed] the car that was removed last, for a thumb that slipped
 * @property {import("../form/signing.js").Signing} sign
 * @property {import("../form/form-state.js").FormState<CarDraft, "car">} form
 */

/** @param {HTMLElement} place @param {string[]} params @returns {Promise<State>} */
async function opened(place, [id]) {
  const draw = () => redraw(state);
  const [read, all, sign, old] = await Promise.all([reading(), cars(), signing(draw), id ? entry(id) : undefined]);
  // An address of no entry shows all cars.
  const corrected = isOf(old, "car") ? old : undefined;
  const state = /** @type {State} */ ({ place, corrected, read, cars: all, sign, message: "" });
  const key = corrected ? `car/${corrected.id}` : "car";
  const fresh = corrected ? typedAgain(corrected.body, corrected.body.id ?? "") : emptyCar();
  state.form = formState({
    key,
    calculation: "car",
    draft: { ...fresh, ...(await kept(key)) },
    empty: () => emptyCar(),
    request: (draft, touched) => (touched || draft.name.trim() ? requestOf(draft, read.lengthUnit) : undefined),
    draw,
  });
  state.form.answer.judge();
  return state;
}

/** @param {State} state */
function save(state) {
  const { form, sign, corrected } = state;
  return form.answer.save(async (body, shown) => {
    sign.check();
    await write({ unit: "", kind: "car", body, shown, replaces: corrected?.id, draft: form.key });
    if (corrected) return "#/outbox";
    state.message = `${body.name} is saved.`;
    await form.clear();
    form.cleared = undefined;
    state.cars = await cars();
    redraw(state);
    state.place.querySelector("[role=status]")?.scrollIntoView({ block: "center" });
  });
}

/** Remove a car from the list, or put it back. @param {State} state @param {Car} car @param {"yes" | "no"} gone */
async function setGone(state, car, gone) {
  try {
    state.sign.check();
    const body = { ...car.body, id: car.id, gone };
    await write({ unit: "", kind: "car", body, shown: await calc("car", body) });
    state.removed = gone === "yes" ? car : undefined;
    state.message = gone === "yes" ? `${car.name} is no longer kept.` : `${car.name} is kept again.`;
  } catch (error) {
    if (error instanceof BadInput) return redraw(state);
    state.message = `This could not be saved: ${reasonOf(error)}`;
  }
  state.cars = await cars();
  redraw(state);
  focusOn(state.place, "#put-back", `[data-car="${car.id}"]`);
}

/** @param {State} state @param {Car} car */
function change(state, car) {
  state.message = "";
  state.form.turnTo(typedAgain(car.body, car.id));
  state.place.querySelector("#car")?.scrollIntoView();
  focusOn(state.place, "#car input");
}

/** @param {State} state @param {Car} car */
const carCard = (state, car) =>
  html`<li class="card">
    <div class="row apart">
      <strong>${car.name}</strong>
      <span class="row"
        ><button data-car=${car.id} aria-label=${`Change ${car.name}`} @click=${() => change(state, car)}>
          Change
        </button>
        <button class="plain" aria-label=${`Remove ${car.name}`} @click=${() => setGone(state, car, "yes")}>
          Remove
        </button></span
      >
    </div>
    ${car.body.note ? html`<p class="quiet">${car.body.note}</p>` : nothing}
  </li>`;

/** @param {State} state */
function formCard(state) {
  const { form, sign } = state;
  const { answer, draft } = form;
  return html`<section class="card" id="car">
      <h2>${draft.id && !state.corrected ? `Change ${draft.name}` : state.corrected ? "The car" : "Add a car"}</h2>
      <p class="quiet">Only a name is needed. What is left empty goes by usual figures, and the answer is less sure.</p>
      ${carFields(form, state.read)} ${errorLine(answer.failed)} ${sign.fieldIfUnknown()}
      ${saveKey({ answer, words: "Save the car", save: () => save(state), look: "main" })}
      ${
        draft.id && !state.corrected
          ? html`<button class="plain" @click=${() => form.clear()}>Cancel the change</button>`
          : nothing
      }
    </section>
    ${answer.result ? carFigures(answer.result, state.read) : nothing}`;
}

/** @param {State} state */
const heading = (state) =>
  state.corrected
    ? html`<div class="full">
        ${backTo("#/outbox", "Outbox")}
        <h1>Correct a car</h1>
      </div>`
    : html`<div class="full">
        ${backTo("#/kit", "Kit")}
        <h1>Cars</h1>
      </div>`;

/** @param {State} state */
function allCars(state) {
  const { cars: all, message, removed } = state;
  return html`<div class="screen">
    ${
      all.length
        ? html`<ul class="list">
            ${all.map((car) => carCard(state, car))}
          </ul>`
        : html`<p>No car is kept yet. What ramps and preload do in a corner depends on the car.</p>`
    }
    <p role="status">${message}</p>
    ${
      removed
        ? html`<button id="put-back" @click=${() => setGone(state, removed, "no")}>Put ${removed.name} back</button>`
        : nothing
    }
  </div>`;
}

/** @param {State} state */
function redraw(state) {
  render(html`${heading(state)} ${state.corrected ? nothing : allCars(state)} ${formCard(state)}`, state.place);
}

/** @type {import("../../app.js").Show} */
export async function show(place, params) {
  const state = await opened(place, params);
  place.classList.add("wide");
  redraw(state);
  return onChange(async () => {
    state.cars = await cars();
    redraw(state);
  });
}
