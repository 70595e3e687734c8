// @ts-check
// The shelf: plates in stock, by class or measured piece.

import { calc } from "../../engine/door.js";
import { draft as kept } from "../../log/drafts.js";
import { isOf } from "../../log/entries.js";
import { LABELS } from "../../log/labels.js";
import { write } from "../../log/outbox.js";
import { shelfNow } from "../../log/stands.js";
import { entry } from "../../log/store.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { saveKey } from "../form/act-key.js";
import {
  backTo,
  choiceField,
  choiceKeys,
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
import { buyingList, rowState } from "./shelf-rows.js";

/** @typedef {import("../form/fields.js").Typed} Typed */
/** @typedef {import("../../engine/calculations.js").BodyOf<"shelf">["pieces"][number]} Counted */
/**
 * A piece or class as it is typed.
 * @typedef {Partial<Record<Exclude<keyof Counted, "name" | "part">, Typed>> & {name: string, part: string}} Piece
 */

/** @typedef {{pieces: Piece[], whole?: boolean}} Draft */
/** @typedef {"within_mm" | "new_mm" | "lowest_mm"} Exactly */

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {string} [corrected] the entry that is corrected
 * @property {string} key of the draft
 * @property {Piece[]} counted what there is now, as it was typed last and in the units that it was typed in
 * @property {import("../../log/stands.js").ShelfNow} now what stands
 * @property {boolean} [partly] whether the count that is corrected was one of some rows alone
 * @property {Draft} draft
 * @property {Draft} [cleared] what was typed before it was cleared
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
  const [read, stands, sign, last] = await Promise.all([
    reading(),
    shelfNow(),
    signing(() => draw(state)),
    entry(corrected ?? ""),
  ]);
  const key = corrected ? `shelf/${corrected}` : "shelf";
  /** @type {Piece[]} */
  const counted = isOf(last, "shelf") ? last.body.pieces : await asTyped(stands);
  /** @type {Draft} */
  const draft = { pieces: counted, ...(await kept(key)) };
  const state = /** @type {State} */ ({ place, corrected, key, counted, draft, sign, now: stands, message: "" });
  if (isOf(last, "shelf") && last.body.only_these) state.partly = true;
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
function requestOf(state) {
  const { draft } = state;
  const filled = (/** @type {Piece} */ piece) =>
    Object.fromEntries(Object.entries(piece).filter(([, value]) => typedOf(value).trim()));
  // All rows are judged while they are typed, whichever of them are saved.
  return { pieces: draft.pieces.map(filled), ...(state.partly ? { only_these: true } : {}) };
}

/**
 * The rows that somebody touched; nothing where the whole shelf is meant: a row went, or none was touched.
 * @param {State} state
 */
function touched({ draft, counted, corrected }) {
  // A draft that was kept is another object than what it was made of.
  const were = counted.map((piece) => JSON.stringify(piece));
  const rows = draft.pieces.filter((piece) => !were.includes(JSON.stringify(piece)));
  const went = counted.some(({ name }) => !draft.pieces.some((piece) => piece.name === name));
  return corrected || went || !rows.length || !counted.length ? undefined : rows;
}

/** @param {State} state @param {Piece[]} pieces */
function set(state, pieces) {
  state.draft = { ...state.draft, pieces };
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
  const { form, sign, corrected, key, now, draft } = state;
  const only = draft.whole ? undefined : touched(state);
  return form.save(async (all, whole) => {
    sign.check();
    const places = only?.map((piece) => draft.pieces.indexOf(piece));
    const body = places ? { pieces: places.map((place) => all.pieces[place]), only_these: true } : all;
    const shown = places ? await calc("shelf", body) : whole;
    const alsoKnows = now.knows.moves;
    await write({ unit: "", kind: "shelf", body, shown, replaces: corrected, draft: key, alsoKnows });
    if (corrected) {
      location.hash = "#/outbox";
      return;
    }
    state.now = await shelfNow();
    state.counted = await asTyped(state.now);
    state.draft = { pieces: state.counted };
    state.message = "The count is saved.";
    draw(state);
    await form.judge();
  });
}

/**
 * What stands, each row as it was typed in the count that it is from, with the number that there is now.
 * @param {import("../../log/stands.js").ShelfNow} stands
 * @returns {Promise<Piece[]>}
 */
async function asTyped({ rows }) {
  return Promise.all(
    rows.map(async ({ name, part, count, counted_in, mm, within_mm, lowest_mm, new_mm, family, ...row }) => {
      const from = counted_in ? await entry(counted_in) : undefined;
      const pieces = isOf(from, "shelf") ? from.body.pieces : [];
      const typed = pieces.find((piece) => piece.name.trim() === name);
      const limit = row.usual_minimum ? null : row.minimum_mm;
      const known = typed ?? {
        name,
        part: part ?? "friction",
        mm,
        within_mm,
        lowest_mm,
        new_mm,
        family,
        minimum_mm: limit,
      };
      return /** @type {Piece} */ (
        Object.fromEntries(Object.entries({ ...known, count: String(count) }).filter(([, value]) => value != null))
      );
    }),
  );
}

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
  const { form, quantity, draft, now, corrected } = state;
  const put = (/** @type {Partial<Piece>} */ change) =>
    set(
      state,
      draft.pieces.map((other, place) => (place === number ? { ...other, ...change } : other)),
    );
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
  return html`<li class="card">
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
const saveSection = (state) =>
  html`<section class="card">
    <button id="add" @click=${() => add(state)}>Add a class or a piece</button>
    ${state.form.bad && !state.form.bad.field.includes(".") ? errorLine(state.form.bad.reason) : nothing}
    ${errorLine(state.form.failed)} ${wholeKeys(state)} ${state.sign.fieldIfUnknown("Counted by")}
    ${saveKey({ answer: state.form, words: "Save the count", save: () => save(state), look: "main" })}
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
      Plates in stock, for planning a rebuild: classes of equal plates, or single pieces that were measured. Rebuilds
      take from it and return to it; a count says what is true.
    </p>
    ${state.corrected ? nothing : buyingList(state.now)}
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
