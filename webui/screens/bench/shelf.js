// @ts-check
// The shelf: plates in stock, by class or measured piece; cards on a phone, a grid at the bench.

import { LABELS } from "../../log/labels.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { saveKey } from "../form/act-key.js";
import {
  backTo,
  choiceField,
  choiceKeys,
  clearKey,
  errorLine,
  numberField,
  textField,
  typedOf,
} from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { style } from "../form/style.js";
import { bench } from "../frame/places.js";
import { watchPaste } from "./paste-save.js";
import { add, clear, PARTS, putAt, remove, save, shelfForm, touched, undoClear } from "./shelf-form.js";
import { begin, grid, inHand } from "./shelf-grid.js";
import { buyingList, rowState } from "./shelf-rows.js";

/** @typedef {import("./shelf-form.js").State} State */
/** @typedef {import("./shelf-form.js").Piece} Piece */
/** @typedef {"within_mm" | "new_mm" | "lowest_mm"} Exactly */

/**
 * How exact a thickness is, what it was when new, and the plate family, folded away.
 * @param {(name: Exactly, hint: string) => import("../form/fields.js").Template} field
 * @param {import("../form/fields.js").Template} lowest
 * @param {import("../form/fields.js").Template} family
 */
const exactness = (field, lowest, family) =>
  html`<details>
    <summary>Lowest stock, how exact, plate family</summary>
    <div class="inside">
      ${lowest}
      ${field("within_mm", "0.02 mm for a class: common practice, no source")}
      ${field("new_mm", "of a piece that has run: the limit of its class counts")}
      ${field("lowest_mm", "of a piece that has run: its limit judges this")} ${family}
    </div>
  </details>`;

/** @param {State} state @param {Piece} piece @param {number} number */
function pieceCard(state, piece, number) {
  const { form, quantity, now, corrected } = state;
  const put = (/** @type {Partial<Piece>} */ change) => putAt(state, number, change);
  const error = (/** @type {keyof Piece} */ field) => form.error(`pieces.${number}.${field}`);
  const length = (
    /** @type {"mm" | "minimum_mm" | "within_mm" | "new_mm" | "lowest_mm"} */ name,
    /** @type {string | undefined} */ hint = undefined,
  ) =>
    quantity({
      name: `${number}.${name}`,
      label: LABELS.shelf[`pieces..${name}`],
      si: "mm",
      hint,
      value: piece[name],
      error: error(name),
      put: (typed) => put({ [name]: typed }),
    });
  return html`<li class="card piece">
    ${corrected ? nothing : rowState(now, piece.name)}
    <div class="pair">
      ${textField({
        name: `${number}.name`,
        label: LABELS.shelf["pieces..name"],
        value: piece.name,
        error: error("name"),
        type: (name) => put({ name }),
      })}
      ${choiceField({
        name: `${number}.part`,
        label: LABELS.shelf["pieces..part"],
        value: piece.part,
        options: PARTS,
        error: error("part"),
        choose: (part) => put({ part }),
      })}
    </div>
    <div class="pair uneven">
      <div>${length("mm")}</div>
      <div>
        ${numberField({
          name: `${number}.count`,
          label: LABELS.shelf["pieces..count"],
          whole: true,
          value: typedOf(piece.count),
          error: error("count"),
          type: (count) => put({ count }),
        })}
      </div>
    </div>
    <div class="pair uneven">
      <div>${length("minimum_mm", "when worn to this, it is replaced; the maker's")}</div>
      <button
        class="plain"
        aria-label=${`Remove ${piece.name || `piece ${number + 1}`}`}
        @click=${() => remove(state, number)}
      >
        Remove
      </button>
    </div>
    ${exactness(
      length,
      numberField({
        name: `${number}.lowest_stock`,
        label: LABELS.shelf["pieces..lowest_stock"],
        whole: true,
        value: typedOf(piece.lowest_stock),
        error: error("lowest_stock"),
        hint: "with fewer than this, more are on the buying list",
        type: (lowest_stock) => put({ lowest_stock }),
      }),
      textField({
        name: `${number}.family`,
        label: LABELS.shelf["pieces..family"],
        value: typedOf(piece.family),
        hint: "rubbing ring, lugs or splines, material; may stay empty",
        error: error("family"),
        type: (family) => put({ family }),
      }),
    )}
  </li>`;
}

/** Which rows the count is of. @param {State} state */
function wholeKeys(state) {
  const rows = touched(state);
  if (!rows) return nothing;
  return choiceKeys({
    name: "whole",
    label: "Counted",
    short: true,
    value: state.draft.whole ? "whole" : "these",
    options: [
      { value: "these", words: `what I changed: ${rows.length === 1 ? "1 row" : `${rows.length} rows`}` },
      { value: "whole", words: "the whole shelf" },
    ],
    choose: (value) => {
      state.draft = { ...state.draft, whole: value === "whole" };
      state.form.changed();
    },
  });
}

/** @param {State} state */
const faults = ({ form }) =>
  html`${form.bad && !form.bad.field.includes(".") ? errorLine(form.bad.reason) : nothing} ${errorLine(form.failed)}`;

/** @param {State} state */
const clearing = (state) =>
  clearKey(
    Boolean(state.cleared),
    () => clear(state),
    () => undoClear(state),
  );

/** @param {State} state */
const saveSection = (state) =>
  html`<section class="card">
    <button id="add" @click=${() => add(state)}>Add a class or a piece</button>
    ${faults(state)} ${wholeKeys(state)} ${state.sign.fieldIfUnknown("Counted by")}
    ${saveKey({ answer: state.form, words: "Save the count", save: () => save(state), look: "main" })}
    ${clearing(state)}
    <p role="status">${state.message}</p>
  </section>`;

/** Where the count cannot be saved yet, its key leads to what is wrong. @param {State} state */
async function saveOrGo(state) {
  await save(state);
  if (!state.form.result) focusOn(state.place, "[aria-invalid=true]");
}

/** The foot of the grid, which stays in sight. @param {State} state */
const foot = (state) =>
  html`<section class="card grid-foot" aria-label="The count">
    <div class="row-in-hand">${inHand(state)}</div>
    ${faults(state)}
    <div class="row">
      ${state.sign.fieldIfUnknown("Counted by")} ${wholeKeys(state)}
      <button class="main" aria-disabled=${state.form.ready ? "false" : "true"} @click=${() => saveOrGo(state)}>
        Save the count
      </button>
      <button id="add" @click=${() => begin(state)}>Add a class or a piece</button>
      ${clearing(state)}
    </div>
    <p role="status" class="quiet">${state.message}</p>
  </section>`;

/** @param {State} state */
const cards = (state) =>
  html`${
    state.draft.pieces.length
      ? html`<ul class="list cards">
          ${state.draft.pieces.map((piece, number) => pieceCard(state, piece, number))}
        </ul>`
      : html`<section class="card"><p>The shelf is empty.</p></section>`
  }
  ${saveSection(state)}`;

/** @param {State} state */
const screen = (state) =>
  html`${state.corrected ? backTo("#/outbox", "Outbox") : nothing}
    <div class="row apart">
      <h1>${state.corrected ? "Correct a count" : "Shelf"}</h1>
      ${state.corrected ? nothing : html`<a class="button" href="#/shelf/paste">Paste a table</a>`}
    </div>
    <p class="quiet">
      Plates in stock, for planning a rebuild: classes of equal plates, or single pieces that were measured. Rebuilds
      take from it and return to it; a count says what is true.
    </p>
    ${state.corrected ? nothing : buyingList(state.now, bench.matches)}
    ${bench.matches ? html`${grid(state)} ${foot(state)}` : cards(state)}`;

/** @type {import("../../app.js").Show} */
export async function show(place, [corrected]) {
  const styled = style("grid");
  const draw = () => render(screen(state), place);
  const state = await shelfForm(place, corrected, draw);
  await styled;
  place.classList.add("broad");
  draw();
  state.form.judge();
  bench.addEventListener("change", draw);
  const stop = corrected ? undefined : watchPaste("shelf");
  return () => {
    bench.removeEventListener("change", draw);
    stop?.();
  };
}
