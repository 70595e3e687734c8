// @ts-check
// The shelf: plates in stock, by class or measured piece.

import { draft as kept } from "../../log/drafts.js";
import { isOf } from "../../log/entries.js";
import { write } from "../../log/outbox.js";
import { lastCount, shelf } from "../../log/stands.js";
import { entry } from "../../log/store.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import {
  backTo,
  choiceField,
  clearKey,
  errorLine,
  numberField,
  reading,
  textField,
  typedOf,
  unitSwitch,
} from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { judging } from "../form/judging.js";
import { quantityFields } from "../form/quantity.js";
import { signing } from "../form/signing.js";

/** @typedef {import("../form/fields.js").Typed} Typed */
/**
 * A piece or class as it is typed.
 * @typedef {Partial<Record<Exclude<keyof import("../../engine/calculations.js").ShelfPiece, "name" | "part">, Typed>> &
 *   {name: string, part: string}} Piece
 */

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {string} [corrected] the entry that is corrected
 * @property {string} key of the draft
 * @property {Piece[]} counted the last count, as it was typed and in the units that it was typed in
 * @property {{pieces: Piece[]}} draft
 * @property {{pieces: Piece[]}} [cleared] what was typed before it was cleared
 * @property {string} message what came of the last tap
 * @property {ReturnType<typeof quantityFields>} quantity
 * @property {import("../form/signing.js").Signing} sign
 * @property {import("../form/judging.js").Judging<"shelf">} form
 */

const PARTS = /** @type {[string, string][]} */ ([
  ["friction", "friction"],
  ["separator", "separator"],
  ["shim", "shim"],
]);

/** @param {HTMLElement} place @param {string[]} params @returns {Promise<State>} */
async function opened(place, [corrected]) {
  const [read, stock, sign, last] = await Promise.all([
    reading(),
    shelf(),
    signing(() => draw(state)),
    corrected ? entry(corrected) : lastCount(),
  ]);
  const key = corrected ? `shelf/${corrected}` : "shelf";
  /** @type {Piece[]} */
  const counted = isOf(last, "shelf") ? last.body.pieces : stock;
  const draft = { pieces: counted, ...(await kept(key)) };
  const state = /** @type {State} */ ({ place, corrected, key, counted, draft, sign, message: "" });
  const redraw = () => draw(state);
  state.quantity = quantityFields(read, unitSwitch(redraw), redraw);
  state.form = judging({
    key,
    calculation: "shelf",
    request: () => requestOf(state),
    draft: () => state.draft,
    draw: () => draw(state),
  });
  return state;
}

/** @param {State} state */
function requestOf({ draft }) {
  const filled = (/** @type {Piece} */ piece) =>
    Object.fromEntries(Object.entries(piece).filter(([, value]) => typedOf(value).trim()));
  return { pieces: draft.pieces.map(filled) };
}

/** @param {State} state @param {Piece[]} pieces */
function set(state, pieces) {
  state.draft = { pieces };
  state.message = "";
  state.form.changed();
}

/** @param {State} state */
function add(state) {
  set(state, [...state.draft.pieces, { name: "", part: "friction", mm: "", count: "1", minimum_mm: "" }]);
  focusOn(state.place, ".list > li:last-child input");
}

/** @param {State} state @param {number} number */
function remove(state, number) {
  set(
    state,
    state.draft.pieces.filter((_, place) => place !== number),
  );
  focusOn(state.place, "#add");
}

/** @param {State} state */
function clear(state) {
  state.cleared = state.draft;
  set(state, state.counted);
}

/** @param {State} state */
function undoClear(state) {
  const pieces = state.cleared?.pieces ?? [];
  state.cleared = undefined;
  set(state, pieces);
}

/** @param {State} state */
function save(state) {
  const { form, sign, corrected, key } = state;
  return form.save(async (body, shown) => {
    sign.check();
    await write({ unit: "", kind: "shelf", body, shown, replaces: corrected, draft: key });
    if (corrected) {
      location.hash = "#/outbox";
      return;
    }
    state.message = "The count is saved.";
    draw(state);
  });
}

/**
 * How exact a thickness is, what it was when new, and the plate family, folded away.
 * @param {(name: "within_mm" | "new_mm", label: string, hint: string) => import("../form/fields.js").Template} field
 * @param {import("../form/fields.js").Template} family
 */
const exactness = (field, family) =>
  html`<details>
    <summary>How exact, and plate family</summary>
    <div class="inside">
      ${field("within_mm", "May be off by", "0.02 mm for a class: common practice, no source")}
      ${field("new_mm", "When new", "of a piece that has run: the limit of its class counts")} ${family}
    </div>
  </details>`;

/** @param {State} state @param {Piece} piece @param {number} number */
function pieceCard(state, piece, number) {
  const { form, quantity, draft } = state;
  const put = (/** @type {Partial<Piece>} */ change) =>
    set(
      state,
      draft.pieces.map((other, place) => (place === number ? { ...other, ...change } : other)),
    );
  const error = (/** @type {keyof Piece} */ field) => form.error(`pieces.${number}.${field}`);
  const length = (
    /** @type {"mm" | "minimum_mm" | "within_mm" | "new_mm"} */ name,
    /** @type {string} */ label,
    /** @type {string | undefined} */ hint = undefined,
  ) =>
    quantity({
      name: `${number}.${name}`,
      label,
      si: "mm",
      hint,
      value: piece[name],
      error: error(name),
      put: (typed) => put({ [name]: typed }),
    });
  return html`<li class="card">
    <div class="pair">
      ${textField({
        name: `${number}.name`,
        label: "Name",
        value: piece.name,
        error: error("name"),
        type: (name) => put({ name }),
      })}
      ${choiceField({
        name: `${number}.part`,
        label: "Part",
        value: piece.part,
        options: PARTS,
        error: error("part"),
        choose: (part) => put({ part }),
      })}
    </div>
    <div class="pair uneven">
      <div>${length("mm", "Thickness")}</div>
      <div>
        ${numberField({
          name: `${number}.count`,
          label: "How many",
          whole: true,
          value: typedOf(piece.count),
          error: error("count"),
          type: (count) => put({ count }),
        })}
      </div>
    </div>
    <div class="pair uneven">
      <div>${length("minimum_mm", "Limit", "when worn to this, it is replaced; the maker's")}</div>
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
      textField({
        name: `${number}.family`,
        label: "Plate family",
        value: typedOf(piece.family),
        hint: "rubbing ring, lugs or splines, material; may stay empty",
        error: error("family"),
        type: (family) => put({ family }),
      }),
    )}
  </li>`;
}

/** @param {State} state */
const saveSection = (state) =>
  html`<section class="card">
    <button id="add" @click=${() => add(state)}>Add a class or a piece</button>
    ${state.form.bad && !state.form.bad.field.includes(".") ? errorLine(state.form.bad.reason) : nothing}
    ${errorLine(state.form.failed)} ${state.sign.fieldIfUnknown("Counted by")}
    <button class="main" ?disabled=${!state.form.result} @click=${() => save(state)}>Save the count</button>
    ${clearKey(
      Boolean(state.cleared),
      () => clear(state),
      () => undoClear(state),
    )}
    <p role="status">${state.message}</p>
  </section>`;

/** @param {State} state */
const screen = (state) =>
  html`${state.corrected ? backTo("#/outbox", "Outbox") : nothing}
    <h1>${state.corrected ? "Correct a count" : "Shelf"}</h1>
    <p class="quiet">
      Plates in stock, for planning a rebuild: classes of equal plates, or single pieces that were measured.
    </p>
    ${
      state.draft.pieces.length
        ? html`<ul class="list cards">
            ${state.draft.pieces.map((piece, number) => pieceCard(state, piece, number))}
          </ul>`
        : html`<section class="card"><p>The shelf is empty.</p></section>`
    }
    ${saveSection(state)}`;

/** @param {State} state */
function draw(state) {
  render(screen(state), state.place);
}

/** @type {import("../../app.js").Show} */
export async function show(place, params) {
  const state = await opened(place, params);
  draw(state);
  state.form.judge();
}
