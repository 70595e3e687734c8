// @ts-check
// Plan a rebuild: the torque that is wanted, the shelf, and what has to stay; the answer is drawn by plan-answer.js.

import { calc } from "../../engine/door.js";
import { keepDraft, draft as kept } from "../../log/drafts.js";
import { isBuilt, kit, shelf, shelfCount, standing } from "../../log/stands.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import {
  backTo,
  choiceField,
  errorLine,
  figureIn,
  numberField,
  quantity,
  reading,
  unitSwitch,
} from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { judging } from "../form/judging.js";
import { quantityFields } from "../form/quantity.js";
import { style } from "../form/style.js";
import { openOfUnit } from "./of-unit.js";
import { answer } from "./plan-answer.js";

/** @typedef {import("../form/fields.js").Typed} Typed */
/**
 * @typedef {{torque: string, tolerance: string, unit: string, keep: string[], apart: Typed, change: Typed}} Draft
 */

/** @typedef {import("../../engine/door.js").RequestOf<"plan">} Request */
/** @typedef {import("../../engine/door.js").ResultOf<"plan">} Plan */
/** A plan that reaches the torque. @typedef {Extract<Plan, {possible: true}>} Possible */
/** @typedef {import("../../engine/calculations.js").PlannedChoice} Choice */
/** @typedef {import("../../engine/calculations.js").Alternative} Alternative */
/** @typedef {import("../../log/stands.js").BuiltStanding} BuiltStanding */
/** @typedef {BuiltStanding["derived"]["checked"]} Definition */

/**
 * The other ways to what `asked` wants, once they were asked for.
 * @typedef {{asked: Request | undefined, rows?: Alternative[], failed?: string}} OtherWays
 */

/**
 * Which choice of the answer to `asked` is looked at.
 * @typedef {{asked: Request | undefined, number: number}} Looked
 */

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {string} id of the unit
 * @property {BuiltStanding} found what stands for the unit
 * @property {Definition} unit its definition, with the spring's height as it was measured last
 * @property {import("../../log/stands.js").Piece[]} pieces on the shelf
 * @property {number} count how many plates they are
 * @property {Draft} draft
 * @property {import("../../log/stands.js").Tool[]} tools of the kit
 * @property {OtherWays} others
 * @property {Looked} looked
 * @property {import("../form/fields.js").Reading} read
 * @property {ReturnType<typeof quantityFields>} quantity
 * @property {import("../form/fields.js").UnitSwitch} switching
 * @property {import("../form/judging.js").Judging<"plan">} form
 */

/**
 * @param {HTMLElement} place
 * @param {string[]} params
 * @returns {Promise<State | undefined>} nothing where the unit is not on this phone
 */
async function opened(place, [id]) {
  const [read, found, pieces, count, tools] = await Promise.all([
    reading(),
    standing(id),
    shelf(),
    shelfCount(),
    kit(),
    style("plan"),
  ]);
  if (!isBuilt(found)) return undefined;
  const unit = { ...found.derived.checked, spring: found.built.unit.spring };
  const key = `plan/${id}`;
  /** @type {Draft} */
  const draft = { ...ordered(unit, read, read.torqueUnit), keep: [], apart: "", change: "", ...(await kept(key)) };
  const state = /** @type {State} */ ({ place, id, found, unit, pieces, count, tools, draft, read });
  state.others = { asked: undefined };
  state.looked = { asked: undefined, number: 0 };
  const redraw = () => draw(state);
  state.switching = unitSwitch(redraw);
  state.quantity = quantityFields(read, state.switching, redraw);
  state.form = judging({
    key,
    calculation: "plan",
    request: () => (pieces.length ? requestOf(state) : undefined),
    draft: () => state.draft,
    draw: redraw,
  });
  return state;
}

/**
 * The torque that the unit was ordered with, as it is typed in a unit.
 * @param {Definition} unit
 * @param {import("../form/fields.js").Reading} read
 * @param {string} unitOfTorque
 */
function ordered({ order }, read, unitOfTorque) {
  const typed = (/** @type {number} */ nm) => figureIn(read.units, "nm", unitOfTorque, nm, 1);
  return { torque: typed(order.torque_nm), tolerance: typed(order.tolerance_nm), unit: unitOfTorque };
}

/** The parts that a plan may exchange. @param {State} state */
const plates = ({ found }) => found.built.places.filter(({ part }) => part !== "ring");

/** The tools that a torque can be read with. @param {State} state */
const torqueTools = ({ tools }) =>
  tools.flatMap(({ body: { wrench, scale } }) => (wrench || scale ? [{ wrench, scale }] : []));

/** @param {State} state */
function requestOf(state) {
  const { unit, found, draft, pieces, read } = state;
  const { places, measured, spring_within_mm } = found.built;
  return {
    unit,
    fitted: places.map(({ slot, mm, lowest_mm, new_mm, within_mm, minimum_mm, replace }) => ({
      slot,
      mm,
      lowest_mm,
      new_mm,
      within_mm,
      minimum_mm,
      ...(draft.keep.includes(slot) ? { keep: true } : {}),
      ...(replace ? { replace } : {}),
    })),
    ...(measured ? { measured } : {}),
    spring_within_mm,
    tools: torqueTools(state),
    most_apart_mm: draft.apart,
    most_change_mm: draft.change,
    wanted: {
      torque_nm: quantity(draft.torque, draft.unit) ?? "",
      tolerance_nm: quantity(draft.tolerance, draft.unit) ?? "",
    },
    shelf: pieces,
    write_in: read.torqueUnit,
    write_lengths_in: read.lengthUnit,
    // They can take many times as long as the plan, and are worked out when somebody asks for them.
    alternatives: false,
  };
}

/** @param {State} state @param {Partial<Draft>} change */
function set(state, change) {
  state.draft = { ...state.draft, ...change };
  state.form.changed();
}

/**
 * What was ordered is written in the other unit; what somebody typed is asked about.
 * @param {State} state @param {string} to
 */
function changeUnit(state, to) {
  const { draft, switching } = state;
  const order = ordered(state.unit, state.read, draft.unit);
  if (draft.torque === order.torque && draft.tolerance === order.tolerance)
    set(state, ordered(state.unit, state.read, to));
  else switching.choose("unit", [draft.torque, draft.tolerance], draft.unit, to, (unit) => set(state, { unit }));
}

/** @param {State} state @param {string} slot */
function toggleKeep(state, slot) {
  const { keep } = state.draft;
  set(state, { keep: keep.includes(slot) ? keep.filter((other) => other !== slot) : [...keep, slot] });
}

/** @param {State} state */
async function findOtherWays(state) {
  const asked = state.form.judged;
  if (!asked) return;
  state.others = { asked };
  draw(state);
  focusOn(state.place, "#others");
  try {
    state.others = { asked, rows: (await calc("plan", { ...asked, alternatives: true })).alternatives ?? [] };
  } catch (error) {
    state.others = { asked, failed: /** @type {Error} */ (error).message };
  }
  draw(state);
}

/**
 * Begin the entry of the rebuild with what is planned.
 * @param {State} state @param {Possible} result @param {Choice} choice
 */
async function beginRebuild({ id, read }, result, choice) {
  const fitted = choice.stack
    .filter((row) => row.action !== "keep")
    .map((row) => ({ slot: row.slot, mm: String(row.mm), piece: row.piece, minimum_mm: "" }));
  const note = `To ${read.torque(result.wanted_nm.torque_nm)}: planned ${read.torque(choice.torque_nm)}.`;
  await keepDraft(`rebuild/${id}`, { fitted, oil: "", spring: "", note });
  location.hash = `#/unit/${id}/rebuild`;
}

/** @param {State} state */
function wantedSection(state) {
  const { draft, form, read, found } = state;
  const field = (/** @type {"torque" | "tolerance"} */ name, /** @type {string} */ label) =>
    numberField({
      name: `wanted.${name}_nm`,
      label,
      value: draft[name],
      error: form.error(`wanted.${name}_nm`),
      type: (typed) => set(state, { [name]: typed }),
    });
  const checked = found.torque?.value_nm;
  const from =
    typeof checked === "number"
      ? `Worked out from the last check, ${read.torque(checked)}. ${found.built.measured_text}`
      : "There is no torque check of this stack.";
  return html`<section class="card">
    <h2>Wanted</h2>
    <div class="pair">${field("torque", "Breakaway torque")} ${field("tolerance", "Give or take")}</div>
    ${choiceField({
      name: "unit",
      label: "Unit",
      value: draft.unit,
      options: read.units.nm.map(({ unit, label }) => [unit, label]),
      choose: (unit) => changeUnit(state, unit),
    })}
    ${state.switching.question("unit", read.units.nm)}
    <p class="quiet">${from}</p>
    ${found.built.stale_text ? html`<p class="finding doubt">${found.built.stale_text}</p>` : nothing}
    ${bounds(state)}
  </section>`;
}

/** How even the packs have to be, and how much a place may change, folded away. @param {State} state */
function bounds(state) {
  const { draft, form, quantity } = state;
  const field = (/** @type {"apart" | "change"} */ name, /** @type {string} */ label, /** @type {string} */ hint) =>
    quantity({
      name: `most_${name}_mm`,
      label,
      si: "mm",
      value: draft[name],
      error: form.error(`most_${name}_mm`),
      hint: `${hint} if empty: common practice, no source`,
      put: (typed) => set(state, { [name]: typed }),
    });
  return html`<details>
    <summary>How even, and how much a place may change</summary>
    <div class="inside">
      ${field("apart", "Packs may differ by", "0.10 mm")} ${field("change", "A place may change by", "0.30 mm")}
    </div>
  </details>`;
}

/** @param {State} state */
const keepSection = (state) =>
  html`<section class="card">
    <h2>Plates that must stay</h2>
    <div class="keys">
      ${plates(state).map(({ slot }) => {
        const stays = state.draft.keep.includes(slot);
        return html`<button class="small" aria-pressed=${stays} @click=${() => toggleKeep(state, slot)}>
          ${stays ? "✓ " : ""}${slot}
        </button>`;
      })}
    </div>
  </section>`;

/** @param {State} state */
function shelfSection({ pieces, count }) {
  return html`<section class="card">
    <h2>Shelf</h2>
    <p>
      ${pieces.length ? `${pieces.length} classes and pieces, ${count} plates.` : "The shelf is empty: count it first."}
    </p>
    <a class="button" href="#/shelf">Count the shelf</a>
  </section>`;
}

/** @param {State} state */
function answerSections(state) {
  const { form, read, unit, others, looked } = state;
  const asked = form.judged;
  const found = (/** @type {Plan} */ result) =>
    answer({
      result,
      read,
      unit,
      looked: looked.asked === asked ? looked.number : 0,
      look: (number) => {
        state.looked = { asked, number };
        draw(state);
      },
      others: others.asked === asked ? others : undefined,
      findOtherWays: () => findOtherWays(state),
      beginRebuild: (possible, choice) => beginRebuild(state, possible, choice),
    });
  return html`${form.result ? found(form.result) : nothing}
  ${form.bad ? html`<section class="card">${errorLine(form.bad.reason)}</section>` : nothing}${errorLine(form.failed)}`;
}

/** @param {State} state */
const screen = (state) =>
  html`<div class="full">
      ${backTo(`#/unit/${state.id}`, state.found.unit.name)}
      <h1>Plan the rebuild</h1>
    </div>
    <div class="screen">${wantedSection(state)} ${keepSection(state)} ${shelfSection(state)}</div>
    <div class="screen">${answerSections(state)}</div>`;

/** @param {State} state */
function draw(state) {
  render(screen(state), state.place);
}

/** @type {import("../../app.js").Show} */
export async function show(place, params) {
  const state = await openOfUnit(place, params, opened, draw);
  await state?.form.judge();
}
