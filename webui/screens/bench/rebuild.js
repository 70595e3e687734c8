// @ts-check
// What a rebuild fitted, into the log: exchanged parts, oil, and why.

import { calc } from "../../engine/door.js";
import { draft as kept } from "../../log/drafts.js";
import { isOf } from "../../log/entries.js";
import { mayWrite } from "../../log/kinds.js";
import { known } from "../../log/known.js";
import { write } from "../../log/outbox.js";
import { isBuilt, shelf, standing } from "../../log/stands.js";
import { entry, fact } from "../../log/store.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import {
  backTo,
  caution,
  choiceField,
  choiceKeys,
  errorLine,
  reading,
  textField,
  typedOf,
  unitSwitch,
} from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { judging } from "../form/judging.js";
import { quantityFields } from "../form/quantity.js";
import { signing } from "../form/signing.js";
import { openOfUnit } from "./of-unit.js";

/** @typedef {import("../form/fields.js").Typed} Typed */
/** @typedef {{slot: string, mm: Typed, piece: string, minimum_mm: Typed, family?: string | null}} Fitted */
/** @typedef {{fitted: Fitted[], oil: string, spring: string, other_spring?: boolean, note: string}} Draft */

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {string} id of the unit
 * @property {string} unitName
 * @property {string} [corrected] the entry that is corrected
 * @property {string} key of the draft
 * @property {string[]} slots places in the stack, apart from the spring's
 * @property {import("../../log/stands.js").Piece[]} stock the shelf by its last count
 * @property {number} taken how many of what was fitted came off the shelf
 * @property {import("../../engine/door.js").ResultOf<"shelf_less">["known"]} onShelf what the shelf tells of each part
 * @property {boolean} mayCount whether the shelf's count may be changed with it
 * @property {boolean} takeOff whether what was fitted is taken off the shelf
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
  const [read, found, sign, stock, paired, { kinds }] = await Promise.all([
    reading(),
    standing(id),
    signing(() => draw(state)),
    shelf(),
    fact("paired"),
    known("about"),
  ]);
  if (!isBuilt(found)) return undefined;
  const key = corrected ? `rebuild/${id}/${corrected}` : `rebuild/${id}`;
  const replaced = corrected ? await entry(corrected) : undefined;
  const old = isOf(replaced, "rebuild") ? replaced.body : undefined;
  /** @type {Draft} */
  const draft = { ...draftOf(old), ...(await kept(key)) };
  const state = /** @type {State} */ ({ place, id, corrected, key, stock, draft, sign, takeOff: true, taken: 0 });
  state.onShelf = [];
  state.read = read;
  state.unitName = found.unit.name;
  state.slots = found.derived.checked.chain.filter(({ part }) => part !== "spring").map(({ slot }) => slot);
  // A correction does not say what was taken meanwhile, and the workshop may take no count from this phone.
  state.mayCount = !corrected && mayWrite(kinds.shelf, paired?.role);
  state.springWasNoted = Boolean(old?.spring);
  const redraw = () => draw(state);
  state.quantity = quantityFields(read, unitSwitch(redraw), redraw);
  state.form = judging({
    key,
    calculation: "rebuild",
    request: () => (state.draft.fitted.length || state.draft.note ? requestOf(state) : undefined),
    draft: () => state.draft,
    draw: redraw,
  });
  countTaken(state);
  return state;
}

/**
 * What is typed at first.
 * @param {import("../../engine/calculations.js").BodyOf<"rebuild">} [old] the entry that is corrected
 * @returns {Draft}
 */
function draftOf(old) {
  const { fitted, oil, spring, other_spring, note } = old ?? {};
  return {
    fitted: (fitted ?? []).map((part) => ({ minimum_mm: "", ...part, piece: part.piece ?? "" })),
    oil: oil ?? "",
    spring: spring ?? "",
    ...(typeof other_spring === "boolean" ? { other_spring } : {}),
    note: note ?? "",
  };
}

/** @param {State} state */
const otherSpring = ({ draft, springWasNoted }) => draft.other_spring ?? springWasNoted;

/** @param {State} state */
function requestOf(state) {
  const { fitted, oil, spring, note } = state.draft;
  // What the shelf tells of a piece goes with it into its place, unless something else was typed.
  const filled = (/** @type {Fitted} */ part, /** @type {number} */ number) => ({
    ...filledIn(state.onShelf[number] ?? {}),
    ...filledIn(part),
  });
  return {
    ...(fitted.length ? { fitted: fitted.map(filled) } : {}),
    ...(oil.trim() ? { oil } : {}),
    ...(spring.trim() ? { spring } : {}),
    other_spring: otherSpring(state),
    note,
  };
}

/** The fields of a part that are filled in. @param {Record<string, Typed | null>} part */
const filledIn = (part) => Object.fromEntries(Object.entries(part).filter(([, value]) => typedOf(value).trim()));

/** The shelf without what was fitted. @param {State} state */
const shelfLess = ({ stock, draft }) =>
  calc("shelf_less", { pieces: stock, fitted: draft.fitted.map(({ piece }) => piece) });

/** Asks how much of what was fitted came off the shelf, and what the shelf tells of it. @param {State} state */
async function countTaken(state) {
  // A name that the engine refuses is said at its field, and stands for no piece.
  const { taken, known: told } = await shelfLess(state).catch(() => ({ taken: 0, known: [] }));
  state.taken = state.mayCount ? taken : 0;
  state.onShelf = told;
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

/** @param {State} state @param {number} number */
function remove(state, number) {
  set(state, { fitted: state.draft.fitted.filter((_, place) => place !== number) });
  focusOn(state.place, "#add");
}

/**
 * The shelf without what was fitted, as a count of its own, so that nobody plans with a plate that is in a unit.
 * @param {State} state
 */
async function writeCount(state) {
  const { taken, pieces } = await shelfLess(state);
  if (!taken) return;
  const body = { pieces };
  await write({ unit: "", kind: "shelf", body, shown: await calc("shelf", body) });
}

/** @param {State} state */
async function save(state) {
  const { form, sign, takeOff, mayCount, id, corrected, key } = state;
  await countTaken(state);
  return form.save(async (body, shown) => {
    sign.check();
    if (takeOff && mayCount) await writeCount(state);
    await write({ unit: id, kind: "rebuild", body, shown, replaces: corrected, draft: key });
    location.hash = corrected ? `#/unit/${id}` : `#/unit/${id}/close`;
  });
}

/** Where the limit of a piece comes from while none is typed. @param {State} state @param {number} number */
function limitHint({ onShelf, read }, number) {
  const limit = onShelf[number]?.minimum_mm;
  return typeof limit === "number"
    ? `${read.length(limit)} by the shelf, if empty`
    : "Not known. Give the maker's; if empty, 92 % of the thickness: common practice, no source";
}

/** @param {State} state @param {Fitted} part @param {number} number */
function fittedCard(state, part, number) {
  const { form, slots, quantity, draft } = state;
  const put = (/** @type {Partial<Fitted>} */ change) =>
    set(state, { fitted: draft.fitted.map((other, place) => (place === number ? { ...other, ...change } : other)) });
  const error = (/** @type {keyof Fitted} */ field) => form.error(`fitted.${number}.${field}`);
  return html`<li class="card">
    <div class="pair">
      ${choiceField({
        name: `${number}.slot`,
        label: "Place",
        value: part.slot,
        error: error("slot"),
        options: slots.map((slot) => [slot, slot]),
        choose: (slot) => put({ slot }),
      })}
      ${textField({
        name: `${number}.piece`,
        label: "Name on the shelf",
        value: part.piece,
        error: error("piece"),
        type: (piece) => put({ piece }),
      })}
    </div>
    ${quantity({
      name: `${number}.mm`,
      label: "Thickness",
      si: "mm",
      value: part.mm,
      error: error("mm"),
      put: (mm) => put({ mm }),
    })}
    ${quantity({
      name: `${number}.minimum_mm`,
      label: "Limit of this piece",
      si: "mm",
      value: part.minimum_mm,
      error: error("minimum_mm"),
      hint: limitHint(state, number),
      put: (minimum_mm) => put({ minimum_mm }),
    })}
    ${textField({
      name: `${number}.family`,
      label: "Plate family",
      value: part.family ?? state.onShelf[number]?.family ?? "",
      hint: "by the shelf, if it knows; may stay empty",
      error: error("family"),
      type: (family) => put({ family }),
    })}
    <button class="plain" aria-label=${`Remove this line: ${part.slot}`} @click=${() => remove(state, number)}>
      Remove this line
    </button>
  </li>`;
}

/** @param {State} state */
function takeOffKeys(state) {
  const { taken: count } = state;
  if (!count) return nothing;
  return choiceKeys({
    name: "count",
    label: "The shelf's count",
    short: true,
    value: state.takeOff ? "less" : "same",
    choose: (value) => {
      state.takeOff = value === "less";
      draw(state);
    },
    options: [
      { value: "less", words: `take ${count} off` },
      { value: "same", words: "leave it: counted already" },
    ],
  });
}

/** @param {State} state */
const exchanged = (state) =>
  html`<section class="card">
    <h2>Exchanged</h2>
    ${
      state.draft.fitted.length
        ? html`<ul class="list">
            ${state.draft.fitted.map((part, number) => fittedCard(state, part, number))}
          </ul>`
        : html`<p class="quiet">
            Nothing yet. <a href="#/unit/${state.id}/plan">Plan the rebuild</a>, or add what you fitted.
          </p>`
    }
    <button id="add" @click=${() => add(state)}>Add a part that was fitted</button>
    ${takeOffKeys(state)}
  </section>`;

/** @param {State} state */
const springFields = (state) =>
  html`${choiceKeys({
    name: "other_spring",
    label: "The spring",
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
    label: "What was done about the spring",
    value: state.draft.spring,
    type: (spring) => set(state, { spring }),
  })}`;

/** What is wrong and has no field of its own to stand at. @param {State} state */
function otherFaults({ form }) {
  const { bad, failed } = form;
  const atAField = bad && (bad.field === "note" || bad.field.startsWith("fitted."));
  return html`${bad && !atAField ? errorLine(bad.reason) : nothing}${errorLine(failed)}`;
}

/** @param {State} state */
const work = (state) =>
  html`<section class="card">
    ${textField({ name: "oil", label: "Oil filled", value: state.draft.oil, type: (oil) => set(state, { oil }) })}
    ${springFields(state)}
    ${textField({
      name: "note",
      kind: "long",
      label: "What was done and why",
      value: state.draft.note,
      error: state.form.error("note"),
      type: (note) => set(state, { note }),
    })}
    ${state.sign.field("Rebuilt by")} ${otherFaults(state)}
    <button class="main big" ?disabled=${!state.form.result} @click=${() => save(state)}>
      ${state.corrected ? "Save the correction" : "Save, and close it up"}
    </button>
    <p class="quiet">
      Earlier torque checks, and measurements of the exchanged plates, then no longer count; they stay in the log.
    </p>
  </section>`;

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
    ${exchanged(state)} ${work(state)}`;

/** @param {State} state */
function draw(state) {
  render(screen(state), state.place);
}

/** @type {import("../../app.js").Show} */
export async function show(place, params) {
  const state = await openOfUnit(place, params, opened, draw);
  await state?.form.judge();
}
