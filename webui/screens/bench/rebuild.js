// @ts-check
// What a rebuild fitted, into the log: exchanged parts, oil, and why.

import { calc } from "../../engine/door.js";
import { draft as kept } from "../../log/drafts.js";
import { isOf } from "../../log/entries.js";
import { LABELS } from "../../log/labels.js";
import { write } from "../../log/outbox.js";
import { isBuilt, shelfNow, standing } from "../../log/stands.js";
import { entry } from "../../log/store.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { saveKey } from "../form/act-key.js";
import {
  backTo,
  caution,
  choiceKeys,
  errorLine,
  numberField,
  reading,
  textField,
  typedOf,
  unitSwitch,
  whenDay,
} from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { judging } from "../form/judging.js";
import { quantityFields } from "../form/quantity.js";
import { signing } from "../form/signing.js";
import { style } from "../form/style.js";
import { canBeMade, followDefinition, madeSection } from "../unit/trials.js";
import { cameOut, cameOutSection, comesOut, saidToComeOut, shelfKeys } from "./came-out.js";
import { fittedCard, isNew } from "./fitted-card.js";
import { openOfUnit } from "./of-unit.js";
import { plannedNote, toFit } from "./plan-taken.js";
import { draftOf, isBegun } from "./rebuild-draft.js";
import { lookUp, markedRequest, markedSection, NOT_KNOWN_YET } from "./rebuild-marked.js";
import { replacedSection } from "./replaced.js";

/** @typedef {import("../form/fields.js").Typed} Typed */
/** @typedef {import("./rebuild-draft.js").Fitted} Fitted */
/** @typedef {import("./rebuild-draft.js").Draft} Draft */

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {string} id of the unit
 * @property {string} unitName
 * @property {string} [corrected] the entry that is corrected
 * @property {string} key of the draft
 * @property {string[]} slots places in the stack, apart from the spring's
 * @property {import("../../log/stands.js").BuiltStanding} found what stands for the unit
 * @property {import("../../log/stands.js").ShelfNow} stock the shelf, as this unit may use it
 * @property {import("./came-out.js").Out[]} outs what comes out of the places that another part goes into
 * @property {ReturnType<typeof saidToComeOut>} [saidBefore] what an entry that is corrected says of that
 * @property {number} taken how many of what was fitted came off the shelf
 * @property {import("../../engine/door.js").ResultOf<"shelf_less">["known"]} onShelf what the shelf tells of each part
 * @property {import("./rebuild-marked.js").Known} marked what is known of the marked parts
 * @property {string} meant what the entry says about the shelf; blank for one that never said anything about it
 * @property {boolean} springWasNoted whether the entry that is corrected says something of the spring
 * @property {Draft} draft
 * @property {import("../form/fields.js").Reading} read
 * @property {ReturnType<typeof quantityFields>} quantity
 * @property {import("../form/signing.js").Signing} sign
 * @property {import("../form/judging.js").Judging<"rebuild">} form
 */

/**
 * @param {HTMLElement} place
 * @param {string[]} params
 * @returns {Promise<State | undefined>} nothing where the unit is not on this phone
 */
async function opened(place, [id, corrected]) {
  const [read, found, sign, stock] = await Promise.all([
    reading(),
    standing(id),
    signing(() => draw(state)),
    shelfNow(id),
    style("outing"),
  ]);
  if (!isBuilt(found)) return undefined;
  const key = corrected ? `rebuild/${id}/${corrected}` : `rebuild/${id}`;
  const replaced = corrected ? await entry(corrected) : undefined;
  const old = isOf(replaced, "rebuild") ? replaced.body : undefined;
  /** @type {Draft} */
  const draft = { ...draftOf(old), ...(await kept(key)) };
  const state = /** @type {State} */ ({ place, id, corrected, key, found, stock, draft, sign, taken: 0 });
  state.onShelf = [];
  state.marked = NOT_KNOWN_YET;
  state.read = read;
  state.unitName = found.unit.name;
  state.slots = (found.derived.checked.chain ?? []).filter(({ part }) => part !== "spring").map(({ slot }) => slot);
  state.outs = [];
  if (corrected) state.saidBefore = saidToComeOut(old?.came_out ?? []);
  // An entry of long ago moved nothing: a count of its own did.
  state.meant = corrected ? (old?.shelf ?? "") : "moves";
  state.springWasNoted = Boolean(old?.spring);
  const redraw = () => draw(state);
  state.quantity = quantityFields(read, unitSwitch(redraw), redraw);
  state.form = judging({
    key,
    calculation: "rebuild",
    request: () => (isBegun(state.draft) ? requestOf(state) : undefined),
    draft: () => state.draft,
    draw: redraw,
  });
  countTaken(state);
  return state;
}

/** @param {State} state */
const otherSpring = ({ draft, springWasNoted }) =>
  draft.other_spring ?? (springWasNoted || (draft.marked ?? []).some(({ part }) => part === "spring"));

/** @param {State} state */
function requestOf(state) {
  const {
    fitted,
    replaced = [],
    marked = [],
    trials = [],
    oil,
    spring,
    note,
    hours = "",
    parts_cost = "",
  } = state.draft;
  // What the shelf tells of a piece goes with it into its place, unless something else was typed.
  const filled = (/** @type {Fitted} */ { bought, ...part }, /** @type {number} */ number) => ({
    ...filledIn(state.onShelf[number] ?? {}),
    ...filledIn(part),
    ...(bought ? { bought } : {}),
  });
  const came_out = cameOut(state.outs, state.draft.out ?? {});
  const shelf = state.meant && (state.draft.shelf ?? state.meant);
  return {
    ...(fitted.length ? { fitted: fitted.map(filled) } : {}),
    ...(came_out.length ? { came_out } : {}),
    ...(shelf ? { shelf: /** @type {"moves" | "counted"} */ (shelf) } : {}),
    ...(replaced.length ? { replaced } : {}),
    ...(marked.length ? { marked_parts: markedRequest(marked, state.marked) } : {}),
    ...(trials.length ? { trials } : {}),
    ...(oil.trim() ? { oil } : {}),
    ...(spring.trim() ? { spring } : {}),
    other_spring: otherSpring(state),
    note,
    ...filledIn({ hours, parts_cost }),
  };
}

/** The fields of a part that are filled in. @param {Record<string, Typed | null>} part */
const filledIn = (part) => Object.fromEntries(Object.entries(part).filter(([, value]) => typedOf(value).trim()));

/**
 * The shelf without what was fitted: what was bought for it never lay there.
 * @param {State} state @param {boolean} [all] whether that is asked about all the same
 */
const shelfLess = ({ stock, draft }, all = false) =>
  calc("shelf_less", {
    pieces: stock.pieces,
    fitted: draft.fitted.map(({ piece, bought }) => (bought && !all ? "" : piece)),
  });

/** Asks how much of what was fitted came off the shelf, what it tells of it, and what came out. @param {State} state */
async function countTaken(state) {
  // A name that the engine refuses is said at its field, and stands for no piece.
  const none = { taken: 0, known: [] };
  const [{ taken }, { known: told }] = await Promise.all([shelfLess(state), shelfLess(state, true)]).catch(() => [
    none,
    none,
  ]);
  state.taken = state.meant ? taken : 0;
  state.onShelf = told;
  const slots = state.draft.fitted.map(({ slot }) => slot);
  const names = state.stock.rows.map(({ name }) => name);
  state.marked = await lookUp(state.draft.marked ?? []).catch(() => NOT_KNOWN_YET);
  state.outs = state.saidBefore ?? (await comesOut(state.found, slots, names));
  await state?.form.judge();
}

/** @param {State} state @param {Partial<Draft>} change */
function set(state, change) {
  state.draft = { ...state.draft, ...change };
  state.form.changed();
  countTaken(state);
}

/** @param {State} state */
function add(state) {
  const { fitted } = state.draft;
  const slot = state.slots.find((free) => !fitted.some((part) => part.slot === free)) ?? state.slots[0];
  set(state, { fitted: [...fitted, { slot, mm: "", piece: "", minimum_mm: "" }] });
  focusOn(state.place, ".list > li:last-child select");
}

/** @param {State} state @param {number} number @param {Partial<Fitted>} change */
const put = (state, number, change) =>
  set(state, {
    fitted: state.draft.fitted.map((other, place) => (place === number ? { ...other, ...change } : other)),
  });

/** @param {State} state @param {number} number */
function remove(state, number) {
  set(state, { fitted: state.draft.fitted.filter((_, place) => place !== number) });
  focusOn(state.place, "#add");
}

/** @param {State} state */
async function save(state) {
  const { form, sign, id, corrected, key, stock } = state;
  await countTaken(state);
  return form.save(async (body, shown) => {
    sign.check();
    const alsoKnows = stock.knows.counts;
    await write({ unit: id, kind: "rebuild", body, shown, replaces: corrected, draft: key, alsoKnows });
    await followDefinition(id, state.found, body.trials ?? []);
    return corrected ? `#/unit/${id}` : `#/unit/${id}/close`;
  });
}

/** @param {State} state */
function comesOutSection(state) {
  const { draft, form, outs, quantity } = state;
  const answers = draft.out ?? {};
  return cameOutSection({
    outs,
    said: answers,
    quantity,
    say: (slot, change) => set(state, { out: { ...answers, [slot]: { ...answers[slot], ...change } } }),
    error: (slot, field) =>
      form.error(`came_out.${cameOut(outs, answers).findIndex((row) => row.slot === slot)}.${field}`),
  });
}

/** Fills in the plan that was taken. @param {State} state */
function asPlanned(state) {
  const { plan } = state.found.shelf;
  if (!plan || state.corrected) return nothing;
  const fill = () => set(state, { fitted: toFit(plan.fitted), note: state.draft.note || plannedNote(plan) });
  return html`<button @click=${fill}>Fill in the plan of ${whenDay(plan.at)}</button>`;
}

/** @param {State} state */
const exchanged = (state) =>
  html`<section class="card">
    <h2>Exchanged</h2>
    ${
      state.draft.fitted.length
        ? html`<ul class="list">
            ${state.draft.fitted.map((part, number) =>
              fittedCard(state, part, number, {
                put: (change) => put(state, number, change),
                remove: () => remove(state, number),
              }),
            )}
          </ul>`
        : html`<p class="quiet">
              Nothing yet. <a href="#/unit/${state.id}/plan">Plan the rebuild</a>, or add what you fitted.
            </p>
            ${asPlanned(state)}`
    }
    <button id="add" @click=${() => add(state)}>Add a part that was fitted</button>
  </section>`;

/** @param {State} state */
const springFields = (state) =>
  html`${choiceKeys({
    name: "other_spring",
    label: LABELS.rebuild.other_spring,
    short: true,
    value: otherSpring(state) ? "other" : "same",
    choose: (value) => set(state, { other_spring: value === "other" }),
    options: [
      { value: "same", words: "the same" },
      { value: "other", words: "another fitted" },
    ],
  })}
  ${textField({
    name: "spring",
    label: LABELS.rebuild.spring,
    value: state.draft.spring,
    type: (spring) => set(state, { spring }),
  })}`;

/** What is wrong and has no field of its own to stand at. @param {State} state */
function otherFaults({ form }) {
  const { bad, failed } = form;
  const atAField =
    bad && (["note", "hours", "parts_cost"].includes(bad.field) || /^(fitted|came_out|marked_parts)\./.test(bad.field));
  return html`${bad && !atAField ? errorLine(bad.reason) : nothing}${errorLine(failed)}`;
}

/** @param {State} state @param {"hours" | "parts_cost"} name */
const costField = (state, name) =>
  numberField({
    name,
    label: LABELS.rebuild[name],
    hint: "may stay empty",
    value: typedOf(state.draft[name]),
    error: state.form.error(name),
    type: (typed) => set(state, { [name]: typed }),
  });

/** @param {State} state */
const work = (state) =>
  html`<section class="card">
    ${textField({ name: "oil", label: LABELS.rebuild.oil, value: state.draft.oil, type: (oil) => set(state, { oil }) })}
    ${springFields(state)}
    ${textField({
      name: "note",
      kind: "long",
      label: LABELS.rebuild.note,
      value: state.draft.note,
      error: state.form.error("note"),
      type: (note) => set(state, { note }),
    })}
    <div class="fields">
      ${costField(state, "hours")} ${costField(state, "parts_cost")}
    </div>
    ${state.sign.field("Rebuilt by")} ${otherFaults(state)}
    ${
      state.draft.fitted.some(isNew)
        ? html`<p>Type the thickness of each part that was fitted; then it can be saved.</p>`
        : nothing
    }
    ${saveKey({
      answer: state.form,
      words: state.corrected ? "Save the correction" : "Save, and close it up",
      save: () => save(state),
      first: `${state.draft.fitted.some(isNew) ? "[data-field^=fitted][data-field$=mm]" : "#add"}`,
    })}
    <p class="quiet">
      Earlier torque checks, and measurements of the exchanged plates, then no longer count; they stay in the log.
    </p>
  </section>`;

/** What was chosen to be tried: whether it was made. @param {State} state */
function changesSection(state) {
  const trials = state.draft.trials ?? [];
  return madeSection(
    canBeMade(state.found, trials, () => true),
    trials,
    (trials) => set(state, { trials }),
  );
}

/** @param {State} state */
const screen = (state) =>
  html`<div class="full">
      ${backTo(`#/unit/${state.id}`, state.unitName)}
      <h1>${state.corrected ? "Correct a rebuild" : "Rebuild"}</h1>
    </div>
    <div class="full">
      ${caution(
        html`Every part clean and dry before it goes in:
          <b>dirt between the plates scores them and makes the torque check read false.</b>`,
      )}
    </div>
    ${changesSection(state)} ${exchanged(state)} ${comesOutSection(state)}
    ${replacedSection(state.found.features, state.draft.replaced ?? [], (replaced) => set(state, { replaced }))}
    ${markedSection(state, (marked) => set(state, { marked }))}
    ${shelfKeys(state, (shelf) => set(state, { shelf }))} ${work(state)}`;

/** @param {State} state */
function draw(state) {
  render(screen(state), state.place);
}

/** @type {import("../../app.js").Show} */
export async function show(place, params) {
  const state = await openOfUnit(place, params, opened, draw);
  await state?.form.judge();
}
