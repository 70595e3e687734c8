// @ts-check
// A count of the shelf in a form: its state, and what can be done with it.

import { calc } from "../../engine/door.js";
import { draft as kept } from "../../log/drafts.js";
import { isOf } from "../../log/entries.js";
import { write } from "../../log/outbox.js";
import { shelfNow } from "../../log/stands.js";
import { entry } from "../../log/store.js";
import { UNIT_SIGNS } from "../../log/unit-signs.js";
import { figureWithUnit } from "../../tables/pasted.js";
import { reading, typedOf, unitSwitch } from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { judging } from "../form/judging.js";
import { quantityFields } from "../form/quantity.js";
import { signing } from "../form/signing.js";

/** @typedef {import("../form/fields.js").Typed} Typed */
/** @typedef {import("../../engine/calculations.js").BodyOf<"shelf">["pieces"][number]} Counted */
/**
 * A piece or class as it is typed.
 * @typedef {Partial<Record<Exclude<keyof Counted, "name" | "part">, Typed>> & {name: string, part: string}} Piece
 */

/** @typedef {{pieces: Piece[], whole?: boolean}} Draft */

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
 * @property {() => void} redraw
 * @property {number} inHand the row that the focus was in last
 * @property {number} begun the row that was begun last and is still typed; below nought for none
 * @property {import("../form/fields.js").Reading} read
 * @property {ReturnType<typeof quantityFields>} quantity
 * @property {import("../form/signing.js").Signing} sign
 * @property {import("../form/judging.js").Judging<"shelf">} form
 */

export const PARTS = /** @type {[string, string][]} */ ([
  ["friction", "friction"],
  ["separator", "separator"],
  ["shim", "shim"],
]);

/** A row of which nothing is typed. @type {Piece} */
export const NEW_ROW = { name: "", part: "friction", mm: "", count: "1", minimum_mm: "" };

/**
 * @param {HTMLElement} place
 * @param {string | undefined} corrected the entry to correct
 * @param {() => void} redraw
 * @returns {Promise<State>}
 */
export async function shelfForm(place, corrected, redraw) {
  const [read, stands, sign, last] = await Promise.all([
    reading(),
    shelfNow(),
    signing(redraw),
    entry(corrected ?? ""),
  ]);
  const key = corrected ? `shelf/${corrected}` : "shelf";
  /** @type {Piece[]} */
  const counted = isOf(last, "shelf") ? last.body.pieces : await asTyped(stands);
  /** @type {Draft} */
  const draft = { pieces: counted, ...(await kept(key)) };
  const state = /** @type {State} */ ({ place, corrected, key, counted, draft, sign, now: stands, read });
  Object.assign(state, { message: "", begun: -1, inHand: -1 });
  if (isOf(last, "shelf") && last.body.only_these) state.partly = true;
  state.quantity = quantityFields(read, unitSwitch(redraw), redraw);
  state.form = judging({
    key,
    calculation: "shelf",
    request: () => requestOf(state),
    draft: () => state.draft,
    draw: redraw,
  });
  state.redraw = redraw;
  return state;
}

/** A length in the unit that is typed behind its figure, if one is. @param {Typed} value @returns {Typed} */
function withItsUnit(value) {
  const own = figureWithUnit(typedOf(value), UNIT_SIGNS.mm);
  return own ?? value;
}

/** @param {State} state */
function requestOf(state) {
  const { draft } = state;
  const filled = (/** @type {Piece} */ piece) =>
    Object.fromEntries(
      Object.entries(piece)
        .filter(([, value]) => typedOf(value).trim())
        .map(([name, value]) => [name, name.endsWith("_mm") || name === "mm" ? withItsUnit(value) : value]),
    );
  // All rows are judged while they are typed, whichever of them are saved.
  return { pieces: draft.pieces.map(filled), ...(state.partly ? { only_these: true } : {}) };
}

/**
 * The rows that somebody touched; nothing where the whole shelf is meant: a row went, or none was touched.
 * @param {State} state
 */
export function touched({ draft, counted, corrected }) {
  // A draft that was kept is another object than what it was made of.
  const were = counted.map((piece) => JSON.stringify(piece));
  const rows = draft.pieces.filter((piece) => !were.includes(JSON.stringify(piece)));
  const went = counted.some(({ name }) => !draft.pieces.some((piece) => piece.name === name));
  return corrected || went || !rows.length || !counted.length ? undefined : rows;
}

/** @param {State} state @param {Piece[]} pieces */
export function set(state, pieces) {
  state.draft = { ...state.draft, pieces };
  state.message = "";
  state.form.changed();
}

/** @param {State} state */
export function add(state) {
  set(state, [...state.draft.pieces, NEW_ROW]);
  focusOn(state.place, ".list > li:last-child input");
}

/** @param {State} state @param {number} number */
export function remove(state, number) {
  set(
    state,
    state.draft.pieces.filter((_, place) => place !== number),
  );
  focusOn(state.place, "#add", `[data-row="${number}"] input`);
}

/**
 * Change a row; the one behind the last is begun with it.
 * @param {State} state @param {number} number @param {Partial<Piece>} change
 */
export function putAt(state, number, change) {
  const { pieces } = state.draft;
  if (number < pieces.length)
    return set(
      state,
      pieces.map((other, place) => (place === number ? { ...other, ...change } : other)),
    );
  state.begun = number;
  state.inHand = number;
  set(state, [...pieces, { ...NEW_ROW, ...change }]);
}

/** @param {State} state */
export function clear(state) {
  state.cleared = state.draft;
  set(state, state.counted);
}

/** @param {State} state */
export function undoClear(state) {
  const pieces = state.cleared?.pieces ?? [];
  state.cleared = undefined;
  set(state, pieces);
}

/** @param {State} state */
export function save(state) {
  const { form, sign, corrected, key, now, draft } = state;
  const only = draft.whole ? undefined : touched(state);
  return form.save(async (all, whole) => {
    sign.check();
    const places = only?.map((piece) => draft.pieces.indexOf(piece));
    const body = places ? { pieces: places.map((place) => all.pieces[place]), only_these: true } : all;
    const shown = places ? await calc("shelf", body) : whole;
    const alsoKnows = now.knows.moves;
    await write({ unit: "", kind: "shelf", body, shown, replaces: corrected, draft: key, alsoKnows });
    if (corrected) return "#/outbox";
    state.now = await shelfNow();
    state.counted = await asTyped(state.now);
    state.draft = { pieces: state.counted };
    state.message = "The count is saved.";
    state.redraw();
    await form.judge();
  });
}

/**
 * What stands, each row as it was typed in the count that it is from, with the number that there is now.
 * @param {import("../../log/stands.js").ShelfNow} stands
 * @returns {Promise<Piece[]>}
 */
export async function asTyped({ rows }) {
  // Many rows are of one count.
  const counts = new Map(
    await Promise.all(
      [...new Set(rows.map(({ counted_in }) => counted_in))].map(
        async (id) => /** @type {const} */ ([id, id ? await entry(id) : undefined]),
      ),
    ),
  );
  return Promise.all(
    rows.map(async ({ name, part, count, counted_in, mm, within_mm, lowest_mm, new_mm, family, ...row }) => {
      const from = counts.get(counted_in);
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
