// @ts-check
// Plan a rebuild: the torque that is wanted, the shelf, and what has to stay; the answer is drawn by plan-answer.js.

import { calc } from "../../engine/door.js";
import { draft as kept } from "../../log/drafts.js";
import { LABELS } from "../../log/labels.js";
import { beddingOfOthers, isBuilt, kit, shelfNow, standing } from "../../log/stands.js";
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
import { lackCard, lackOf } from "../form/lack.js";
import { quantityFields } from "../form/quantity.js";
import { style } from "../form/style.js";
import { buildsSection, experienceOf } from "./builds.js";
import { openOfUnit } from "./of-unit.js";
import { answer } from "./plan-answer.js";
import { noPlan, stackNow } from "./plan-now.js";
import { beginFrom, beginRebuild, plannedNote, takenSection, takePlan, withdrawPlan } from "./plan-taken.js";
import { aimOf, toTry, tried, triedWith } from "./plan-tried.js";

/** @typedef {import("../form/fields.js").Typed} Typed */
/**
 * @typedef {object} Draft
 * @property {string} torque
 * @property {string} tolerance
 * @property {string} unit
 * @property {string[]} keep
 * @property {Typed} apart
 * @property {Typed} change
 * @property {import("./builds.js").By} by what it goes by
 * @property {boolean} above whether it aims above the order by what bedding in takes
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
 * @property {import("../../log/stands.js").ShelfNow} shelf what stands of it
 * @property {Draft} draft
 * @property {import("../../log/stands.js").Tool[]} tools of the kit
 * @property {Awaited<ReturnType<typeof beddingOfOthers>>} bedded what other units lost while they bedded in
 * @property {import("./builds.js").Experience} known what builds in the log have shown
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
  const [read, found, shelf, tools, bedded] = await Promise.all([
    reading(),
    standing(id),
    shelfNow(id),
    kit(),
    beddingOfOthers(id),
    style("plan"),
  ]);
  if (!isBuilt(found)) return undefined;
  const known = await experienceOf(id, found.unit, read);
  const unit = { ...found.derived.checked, spring: found.built.unit.spring };
  const key = `plan/${id}`;
  /** @type {Draft} */
  const draft = {
    ...ordered(unit, read, read.torqueUnit),
    ...aimOf(found, read, read.torqueUnit),
    keep: [],
    apart: "",
    change: "",
    by: "",
    above: true,
    ...(await kept(key)),
  };
  const state = /** @type {State} */ ({ place, id, found, unit, shelf, tools, bedded, known, draft, read });
  Object.assign(state, { pieces: shelf.pieces, others: { asked: undefined } });
  state.looked = { asked: undefined, number: 0 };
  const redraw = () => draw(state);
  state.switching = unitSwitch(redraw);
  state.quantity = quantityFields(read, state.switching, redraw);
  state.form = judging({
    key,
    calculation: "plan",
    request: () => (state.pieces.length ? requestOf(state) : undefined),
    draft: () => state.draft,
    draw: redraw,
  });
  return state;
}

/**
 * The torque that the unit was ordered with, as it is typed in a unit; empty where none was ordered.
 * @param {Definition} unit
 * @param {import("../form/fields.js").Reading} read
 * @param {string} unitOfTorque
 */
function ordered({ order }, read, unitOfTorque) {
  const typed = (/** @type {number | undefined} */ nm) =>
    nm === undefined ? "" : figureIn(read.units, "nm", unitOfTorque, nm, 1);
  return { torque: typed(order?.torque_nm), tolerance: typed(order?.tolerance_nm), unit: unitOfTorque };
}

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
    bedding: {
      losses: found.built.bedding,
      alike: found.built.alike,
      others: state.bedded,
      aim_above: draft.above,
    },
    ...(state.known.shown ? { experience: state.known.for_plan } : {}),
    ...(state.known.shown && draft.by ? { by: draft.by } : {}),
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
  const judged = state.form.judged;
  if (!judged) return;
  state.others = { asked: judged };
  draw(state);
  focusOn(state.place, "#others");
  try {
    state.others = { asked: judged, rows: (await calc("plan", { ...judged, alternatives: true })).alternatives ?? [] };
  } catch (error) {
    state.others = { asked: judged, failed: /** @type {Error} */ (error).message };
  }
  draw(state);
}

/**
 * Take a plan for later: the shelf keeps its plates.
 * @param {State} state @param {import("./plan-taken.js").Body} body
 */
async function take(state, body) {
  await takePlan(state.id, body);
  await openAnew(state);
}

/** What stands changed: show it. @param {State} state */
async function openAnew(state) {
  const [found, shelf] = await Promise.all([standing(state.id), shelfNow(state.id)]);
  if (isBuilt(found)) state.found = found;
  [state.shelf, state.pieces] = [shelf, shelf.pieces];
  draw(state);
  focusOn(state.place, "#taken h2, h1");
}

/** @param {State} state */
function taken(state) {
  const { found, read, id } = state;
  const { plan } = found.shelf;
  if (!plan) return nothing;
  return takenSection(
    plan,
    read,
    () => beginRebuild(id, plan.fitted, plannedNote(plan), toTry(found)),
    async () => {
      await withdrawPlan(id, plan);
      await openAnew(state);
    },
  );
}

/** @param {State} state */
function wantedSection(state) {
  const { draft, form, read, found } = state;
  const field = (/** @type {"torque" | "tolerance"} */ name) =>
    numberField({
      name: `wanted.${name}_nm`,
      label: LABELS.plan[`wanted.${name}_nm`],
      value: draft[name],
      error: form.error(`wanted.${name}_nm`),
      type: (typed) => set(state, { [name]: typed }),
    });
  const checked = found.torque?.value_nm;
  const byBuilds = form.result?.by === "builds";
  const from = byBuilds
    ? `${form.result?.experience?.text}. ${found.built.measured_text}`
    : typeof checked === "number"
      ? `Worked out from the last check, ${read.torque(checked)}. ${found.built.measured_text}`
      : "There is no torque check of this stack.";
  return html`<section class="card">
    <h2>Wanted</h2>
    ${tried(found, read, draft, (aim) => set(state, aim))}
    <div class="pair">${field("torque")} ${field("tolerance")}</div>
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
    ${bedding(state)} ${bounds(state)}
  </section>`;
}

/** What bedding in takes, where the log shows it, and whether it is aimed above for it. @param {State} state */
function bedding(state) {
  const shown = state.form.result?.bedding;
  if (!shown) return nothing;
  const { above } = state.draft;
  return html`<p>${shown.text}</p>
    <button class="small" aria-pressed=${above} @click=${() => set(state, { above: !above })}>
      ${above ? "✓ " : ""}Aim above the order for bedding in
    </button>`;
}

/** How even the packs have to be, and how much a place may change, folded away. @param {State} state */
function bounds(state) {
  const { draft, form, quantity } = state;
  const field = (/** @type {"apart" | "change"} */ name, /** @type {string} */ hint) =>
    quantity({
      name: `most_${name}_mm`,
      label: LABELS.plan[`most_${name}_mm`],
      si: "mm",
      value: draft[name],
      error: form.error(`most_${name}_mm`),
      hint: `${hint} if empty: common practice, no source`,
      put: (typed) => set(state, { [name]: typed }),
    });
  return html`<details>
    <summary>How even, and how much a place may change</summary>
    <div class="inside">
      ${field("apart", "0.10 mm")} ${field("change", "0.30 mm")}
    </div>
  </details>`;
}

/** @param {State} state */
function keepSection(state) {
  const all = state.found.built.places.filter(({ part }) => part !== "ring");
  if (!all.length) return nothing;
  return html`<section class="card">
    <h2>Plates that must stay</h2>
    <div class="keys">
      ${all.map(({ slot }) => {
        const stays = state.draft.keep.includes(slot);
        return html`<button class="small" aria-pressed=${stays} @click=${() => toggleKeep(state, slot)}>
          ${stays ? "✓ " : ""}${slot}
        </button>`;
      })}
    </div>
  </section>`;
}

/** @param {State} state */
function shelfSection({ pieces, shelf }) {
  return html`<section class="card">
    <h2>Shelf</h2>
    <p>
      ${
        pieces.length
          ? `${pieces.length} classes and pieces, of ${shelf.count} plates in all.`
          : "Nothing is left to plan with: count the shelf."
      }
    </p>
    ${shelf.pieces_text ? html`<p class="finding doubt">${shelf.pieces_text}</p>` : nothing}
    ${
      shelf.disagrees ? html`<p class="finding doubt">The shelf disagrees with what was fitted: count it.</p>` : nothing
    }
    <a class="button" href="#/shelf">Look at the shelf</a>
  </section>`;
}

/** @param {State} state */
function answerSections(state) {
  const { id, form, read, unit, others, looked } = state;
  const judged = form.judged;
  const found = (/** @type {Plan} */ result) =>
    answer({
      result,
      read,
      unit,
      looked: looked.asked === judged ? looked.number : 0,
      look: (number) => {
        state.looked = { asked: judged, number };
        draw(state);
      },
      others: others.asked === judged ? others : undefined,
      findOtherWays: () => findOtherWays(state),
      beginRebuild: (possible, choice) =>
        beginFrom(id, read, possible, choice, triedWith(state.found, read, state.draft)),
      take: (body) => take(state, body),
    });
  return html`${form.result ? found(form.result) : stackNow(state)}
  ${form.bad ? noPlan(id, form.bad) : nothing}${errorLine(form.failed)}`;
}

/** @param {State} state */
function screen(state) {
  const lack = lackOf(state.found, "torque");
  // Builds in the log do without the spring.
  const blocked = state.known.shown ? undefined : lack;
  return html`<div class="full">
      ${backTo(`#/unit/${state.id}`, state.found.unit.name)}
      <h1>Plan the rebuild</h1>
      ${blocked ? lackCard(state.id, blocked) : nothing}
    </div>
    <div class="screen">
      ${taken(state)} ${wantedSection(state)}
      ${buildsSection({
        known: state.known,
        read: state.read,
        hasSpring: !lack,
        by: state.draft.by,
        choose: (by) => set(state, { by }),
      })}
      ${keepSection(state)} ${shelfSection(state)}
    </div>
    <div class="screen answer">${blocked ? nothing : answerSections(state)}</div>`;
}

/** @param {State} state */
function draw(state) {
  render(screen(state), state.place);
}

/** @type {import("../../app.js").Show} */
export async function show(place, params) {
  const state = await openOfUnit(place, params, opened, draw);
  place.classList.add("plan");
  await state?.form.judge();
}
