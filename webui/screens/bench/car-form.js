// @ts-check
// The fields of a car, and what the engine makes of them.

import { LABELS } from "../../log/labels.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { caution, choiceField, choiceKeys, errorLine, numberField, textField, unitSwitch } from "../form/fields.js";
import { worked } from "../form/worked.js";

/** @typedef {import("./car-draft.js").CarDraft} CarDraft */
/** @typedef {import("../form/form-state.js").FormState<CarDraft, "car">} CarForm */
/** @typedef {import("../form/fields.js").Reading} Reading */
/** @typedef {import("../../engine/door.js").ResultOf<"car">} CarResult */

/** Tyres and ground, in the engine's words. @type {[string, string][]} */
const TYRES = [
  ["racing_slicks", "Slicks, warm, in the dry"],
  ["racing_treaded", "Treaded racing or semi-slick tyres, warm, in the dry"],
  ["historic", "Historic cross-ply racing tyres, in the dry"],
  ["road", "Road tyres, in the dry"],
  ["damp", "A damp road"],
  ["wet", "A wet road"],
  ["loose", "Gravel or wet grass"],
  ["snow", "Snow or ice"],
];

/** @typedef {{name: keyof CarDraft, path: keyof typeof LABELS.car, hint?: string}} Asked */

/** @type {Record<string, Asked[]>} */
const FIGURES = {
  weights: [
    { name: "front_left", path: "corners.front_left_kg" },
    { name: "front_right", path: "corners.front_right_kg" },
    { name: "rear_left", path: "corners.rear_left_kg" },
    { name: "rear_right", path: "corners.rear_right_kg" },
  ],
  sizes: [
    { name: "track", path: "track_mm", hint: "middle of tread to middle of tread" },
    { name: "wheelbase", path: "wheelbase_mm" },
  ],
  lifting: [
    { name: "lift", path: "lifted.lift_mm" },
    { name: "hub", path: "lifted.hub_mm" },
  ],
};

/** @type {WeakMap<CarForm, import("../form/fields.js").UnitSwitch>} */
const switches = new WeakMap();

/** @param {CarForm} form */
function switchOf(form) {
  const held = switches.get(form) ?? unitSwitch(form.draw);
  switches.set(form, held);
  return held;
}

const WEIGHTS = /** @type {const} */ (["mass", "front_left", "front_right", "rear_left", "rear_right", "gained"]);
const LENGTHS = /** @type {const} */ (["cg", "lift", "hub", "track", "wheelbase", "tyre", "distance"]);

/** @typedef {{of: keyof CarDraft, si: string, all: readonly (keyof CarDraft)[]}} UnitOf */

/** In which unit each figure is typed. @type {Record<string, UnitOf>} */
const UNITS = {
  kg: { of: "weight_unit", si: "kg", all: WEIGHTS },
  mm: { of: "length_unit", si: "mm", all: LENGTHS },
  nm: { of: "torque_unit", si: "nm", all: ["engine"] },
};

/** @param {CarForm} form @param {Reading} read @param {Asked} asked @param {string} [si] of a figure with a unit */
function figure(form, read, { name, path, hint }, si) {
  const { draft, answer } = form;
  const value = draft[name];
  const type = (/** @type {string} */ typed) => form.put({ [name]: typed });
  const plain = { name: `car.${name}`, label: LABELS.car[path], hint, value, type, error: answer.error(path) };
  if (!si) return numberField(plain);
  const { of, all } = UNITS[si];
  const choose = (/** @type {string} */ unit) =>
    switchOf(form).choose(
      si,
      all.map((other) => draft[other]),
      draft[of],
      unit,
      (to) => form.put({ [of]: to }),
    );
  return numberField({ ...plain, units: read.units[si], unit: draft[of], choose });
}

/** @param {CarForm} form @param {Reading} read @param {string} si */
const question = (form, read, si) => switchOf(form).question(si, read.units[si]);

/** @param {CarForm} form @param {Reading} read */
const weights = (form, read) =>
  html`<details ?open=${Boolean(form.draft.mass || form.draft.front_left)}>
    <summary>Weight</summary>
    <div class="inside">
      <p class="quiet">With the driver in the seat. Weights by scales under each wheel are best; else the whole car.</p>
      <div class="pair">${FIGURES.weights.map((field) => figure(form, read, field, "kg"))}</div>
      ${errorLine(form.answer.error("corners"))}
      ${figure(form, read, { name: "mass", path: "mass_kg" }, "kg")} ${question(form, read, "kg")}
    </div>
  </details>`;

/** @param {CarForm} form @param {Reading} read */
const sizes = (form, read) =>
  html`<details ?open=${Boolean(form.draft.track || form.draft.tyre || form.draft.turns)}>
    <summary>Track, wheelbase and tyres</summary>
    <div class="inside">
      <div class="pair">${FIGURES.sizes.map((field) => figure(form, read, field, "mm"))}</div>
      <p class="quiet">
        Rolling radius: mark tyre and ground with chalk, push the car straight until the tyre has turned a few times,
        and measure how far it went.
      </p>
      <div class="pair">
        ${numberField({
          name: "car.turns",
          label: LABELS.car["rolled.turns"],
          whole: true,
          value: form.draft.turns,
          error: form.answer.error("rolled.turns"),
          type: (turns) => form.put({ turns }),
        })}
        ${figure(form, read, { name: "distance", path: "rolled.distance_mm" }, "mm")}
      </div>
      ${figure(form, read, { name: "tyre", path: "tyre_mm" }, "mm")}
      ${question(form, read, "mm")}
    </div>
  </details>`;

/** @param {CarForm} form @param {Reading} read @param {string} words of the caution */
const height = (form, read, words) =>
  html`<details ?open=${Boolean(form.draft.cg || form.draft.lift)}>
    <summary>Height of the centre of gravity</summary>
    <div class="inside">
      ${figure(form, read, { name: "cg", path: "cg_mm" }, "mm")}
      <p>
        Or measure it: read the scales under one axle, lift the other axle by its hubs, and read again. It needs the
        weight of the car and the wheelbase as well.
      </p>
      ${words ? caution(words) : nothing}
      ${choiceKeys({
        name: "car.lifted",
        label: LABELS.car["lifted.axle"],
        short: true,
        value: form.draft.lifted,
        options: [
          { value: "rear", words: "rear" },
          { value: "front", words: "front" },
        ],
        choose: (lifted) => form.put({ lifted }),
      })}
      <div class="pair">${FIGURES.lifting.map((field) => figure(form, read, field, "mm"))}</div>
      ${figure(form, read, { name: "gained", path: "lifted.gained_kg" }, "kg")}
    </div>
  </details>`;

/** @param {CarForm} form @param {Reading} read */
const engine = (form, read) =>
  html`<details ?open=${Boolean(form.draft.engine || form.draft.gears)}>
    <summary>Engine and gears</summary>
    <div class="inside">
      ${figure(form, read, { name: "engine", path: "engine_nm" }, "nm")}
      ${question(form, read, "nm")}
      ${textField({
        name: "car.gears",
        label: LABELS.car.gears,
        hint: "with spaces between, for example 3.1 2.05 1.45 1.1",
        value: form.draft.gears,
        error: gearsError(form),
        type: (gears) => form.put({ gears }),
      })}
      ${figure(form, read, { name: "final_drive", path: "final_drive" })}
    </div>
  </details>`;

/** @param {CarForm} form */
function gearsError({ answer }) {
  return answer.bad?.field.startsWith("gears") ? answer.bad.reason : undefined;
}

/** @param {CarForm} form @param {Reading} read */
const tyres = (form, read) =>
  html`<details ?open=${Boolean(form.draft.grip || form.draft.transfer)}>
    <summary>Grip, where it is known better than in words</summary>
    <div class="inside pair">
      ${figure(form, read, { name: "grip", path: "grip", hint: "1 holds its own weight" })}
      ${figure(form, read, {
        name: "transfer",
        path: "transfer_share",
        hint: "0.5 if left empty; more with a stiff bar there",
      })}
    </div>
  </details>`;

/** @param {CarForm} form @param {Reading} read */
export function carFields(form, read) {
  const { draft, answer } = form;
  return html`${textField({
    name: "car.name",
    label: LABELS.car.name,
    value: draft.name,
    error: answer.error("name"),
    type: (name) => form.put({ name }),
  })}
  ${choiceKeys({
    name: "car.axle",
    label: LABELS.car.axle,
    short: true,
    value: draft.axle,
    options: [
      { value: "rear", words: "rear" },
      { value: "front", words: "front" },
    ],
    choose: (axle) => form.put({ axle }),
  })}
  ${choiceField({
    name: "car.tyres",
    label: LABELS.car.tyres,
    value: draft.tyres,
    options: TYRES,
    choose: (chosen) => form.put({ tyres: chosen }),
  })}
  ${weights(form, read)} ${sizes(form, read)} ${height(form, read, answer.result?.caution ?? "")} ${engine(form, read)}
  ${tyres(form, read)}
  ${textField({
    name: "car.note",
    label: LABELS.car.note,
    kind: "long",
    value: draft.note,
    type: (note) => form.put({ note }),
  })}`;
}

/** @param {CarResult} result @param {Reading} read */
export const carFigures = (result, read) =>
  html`<section class="card">
    <h2>What a corner goes by</h2>
    <p>${result.text} ${worked("car")}</p>
    <table>
      <thead>
        <tr>
          <th scope="col">Figure</th>
          <th scope="col">Likely, and its range</th>
        </tr>
      </thead>
      <tbody>
        ${result.figures.map(
          (row) =>
            html`<tr>
              <th scope="row">${row.meaning}</th>
              <td>
                ${row.text}
                <div class="quiet">${row.from}</div>
              </td>
            </tr>`,
        )}
      </tbody>
    </table>
    ${
      result.gears.length
        ? html`<table>
            <caption>
              Torque at the axle
            </caption>
            <thead>
              <tr>
                <th scope="col">Gear</th>
                <th scope="col" class="number">Full throttle</th>
                <th scope="col" class="number">Engine braking</th>
              </tr>
            </thead>
            <tbody>
              ${result.gears.map(
                (row) =>
                  html`<tr>
                    <th scope="row">${row.gear}</th>
                    <td class="number">${read.torque(row.torque_nm)}</td>
                    <td class="number">${read.torque(row.braking_nm)}</td>
                  </tr>`,
              )}
            </tbody>
          </table>`
        : nothing
    }
  </section>`;
