// @ts-check
// Marked parts that a rebuild took out or put in: each with what is known of it, which goes into the entry.

import { LABELS } from "../../log/labels.js";
import { markedParts } from "../../log/stands.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { choiceField, numberField, textField, typedOf, verdictMark } from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { MARKED, OUT_TO, partWords } from "../form/marked.js";

/** @typedef {import("../form/fields.js").Typed} Typed */
/** @typedef {import("../form/marked.js").Part} Part */
/** @typedef {import("../../log/stands.js").MarkedPart} MarkedPart */
/** @typedef {NonNullable<import("../../engine/calculations.js").BodyOf<"rebuild">["marked_parts"]>[number]} Body */
/**
 * A row as it is typed; `was` is what the entry that is corrected brought along for a mark.
 * @typedef {object} Row
 * @property {Part} part
 * @property {string} place
 * @property {string} out_mark
 * @property {"stock" | "scrap" | "away"} out_to
 * @property {string} mark
 * @property {Typed} uses
 * @property {{mark: string, found: Body["found"]}} [was]
 */
/**
 * Every marked part, and which of them the mark of each row is.
 * @typedef {{parts: MarkedPart[], rows: (MarkedPart | undefined)[]}} Known
 */

/** Before anything is looked up. @type {Known} */
export const NOT_KNOWN_YET = { parts: [], rows: [] };

/** @param {Partial<Row>} [known] @returns {Row} */
const newRow = (known) => ({ part: "spring", place: "", out_mark: "", out_to: "stock", mark: "", uses: "", ...known });

/** Rows of the entry that is corrected. @param {Body[] | null} [rows] @returns {Row[]} */
export const rowsOf = (rows) =>
  (rows ?? []).map(({ part, place, out_mark, out_to, mark, uses, found }) => ({
    ...newRow({ part }),
    place: place ?? "",
    out_mark: out_mark ?? "",
    out_to: out_to || "stock",
    mark: mark ?? "",
    uses: typedOf(uses),
    was: { mark: mark ?? "", found },
  }));

/** What is known of the marks of some rows. @param {Row[]} rows @returns {Promise<Known>} */
export async function lookUp(rows) {
  const { parts, asked } = await markedParts(rows.map(({ part, mark }) => ({ part, mark })));
  return {
    parts,
    rows: asked.map(({ key }, number) => parts.find((known) => known.key === key && known.part === rows[number].part)),
  };
}

/** Rows as the engine takes them, with what goes along. @param {Row[]} rows @param {Known} known */
export const markedRequest = (rows, known) =>
  rows.map(({ part, place, out_mark, out_to, mark, uses, was }, number) => {
    const own = known.rows[number];
    // What an entry that is corrected brought along stays with its mark.
    const found = was?.mark === mark ? was.found : own?.for_rebuild.found;
    const counted = typedOf(uses).trim() ? uses : own?.for_rebuild.uses;
    return {
      part,
      ...(place.trim() ? { place } : {}),
      ...(out_mark.trim() ? { out_mark, out_to } : {}),
      ...(mark.trim() ? { mark } : {}),
      ...(part === "screws" && mark.trim() && counted ? { uses: counted } : {}),
      ...(mark.trim() && found?.length ? { found } : {}),
    };
  });

/**
 * What is known of the part that goes in.
 * @param {MarkedPart | undefined} own @param {Row} row @param {string} id of the unit
 */
function aboutIt(own, { mark }, id) {
  if (!mark.trim()) return nothing;
  if (!own) return html`<p class="quiet">A new mark: its life begins here.</p>`;
  return html`<div class="row apart">
      <p>${own.text} In all: ${own.used}</p>
      ${own.verdict ? verdictMark(own.verdict) : nothing}
    </div>
    ${
      own.unit && own.unit !== id
        ? html`<p class="finding doubt">
            By the log it is still in ${own.unit_name}. Say in a rebuild there that it came out, or correct the mark.
          </p>`
        : nothing
    }
    ${
      own.for_rebuild.found.length
        ? html`<p class="finding doubt">${own.reason} This comes along, and counts until it is measured here.</p>`
        : nothing
    }`;
}

/**
 * Parts of its kind that lie in stock, a tap each.
 * @param {Known} known @param {Row} row @param {(mark: string) => void} take
 */
function inStock({ parts }, { part, mark }, take) {
  const spares = parts.filter((row) => row.part === part && row.where === "stock" && row.mark !== mark);
  if (!spares.length) return nothing;
  return html`<div class="row" role="group" aria-label="In stock">
    ${spares.map(
      (row) =>
        html`<button class="small" @click=${() => take(row.mark)}>
          Take ${row.name}${row.verdict ? `: ${row.verdict.replace("_", " ")}` : ""}
        </button>`,
    )}
  </div>`;
}

/**
 * @typedef {object} Section
 * @property {string} id of the unit
 * @property {Row[]} rows
 * @property {Known} known
 * @property {(rows: Row[]) => void} put
 * @property {(number: number, field: string) => string | undefined} error
 * @property {(number: number) => void} remove
 * @property {(number: number) => void} toMark
 */

/** @param {Section} section @param {Row} row @param {number} number */
function card({ id, rows, known, put, error, remove, toMark }, row, number) {
  const set = (/** @type {Partial<Row>} */ change) =>
    put(rows.map((other, place) => (place === number ? { ...other, ...change } : other)));
  const labels = LABELS.rebuild;
  const field = (/** @type {"place" | "out_mark" | "mark"} */ name, /** @type {string} */ hint) =>
    textField({
      name: `marked.${number}.${name}`,
      label: labels[`marked_parts..${name}`],
      value: row[name],
      hint,
      error: error(number, name),
      type: (typed) => set({ [name]: typed }),
    });
  return html`<li class="card" data-marked=${number}>
    <div class="pair">
      ${choiceField({
        name: `marked.${number}.part`,
        label: labels["marked_parts..part"],
        value: row.part,
        options: MARKED,
        error: error(number, "part"),
        choose: (part) => set({ part: /** @type {Part} */ (part) }),
      })}
      ${field("place", "such as S1 or R2; may stay empty where it has one")}
    </div>
    <div class="pair">
      ${field("out_mark", "may stay empty")}
      ${choiceField({
        name: `marked.${number}.out_to`,
        label: labels["marked_parts..out_to"],
        value: row.out_to,
        options: Object.entries(OUT_TO),
        error: error(number, "out_to"),
        choose: (to) => set({ out_to: /** @type {Row["out_to"]} */ (to) }),
      })}
    </div>
    ${field("mark", "may stay empty where that has none")} ${aboutIt(known.rows[number], row, id)}
    ${inStock(known, row, (mark) => {
      set({ mark });
      toMark(number);
    })}
    ${
      row.part === "screws"
        ? numberField({
            name: `marked.${number}.uses`,
            label: labels["marked_parts..uses"],
            hint: "by the log, if empty; how often they may be used is the maker's to say",
            value: typedOf(row.uses),
            error: error(number, "uses"),
            whole: true,
            type: (uses) => set({ uses }),
          })
        : nothing
    }
    <button
      class="plain"
      aria-label=${`Remove this line: ${partWords(row.part)} ${row.mark || row.out_mark}`}
      @click=${() => remove(number)}
    >
      Remove this line
    </button>
  </li>`;
}

/** @param {import("./rebuild.js").State} state @param {(rows: Row[]) => void} put */
export function markedSection({ place: screen, id, draft, marked: known, found, form }, put) {
  const rows = draft.marked ?? [];
  const error = (/** @type {number} */ number, /** @type {string} */ field) =>
    form.error(`marked_parts.${number}.${field}`);
  const isHere = (/** @type {{part: string, mark: string}} */ stay) =>
    rows.some(({ part, out_mark }) => part === stay.part && out_mark === stay.mark);
  const inIt = found.marked_parts.stays.filter((stay) => stay.to_at === null && !isHere(stay));
  // The key that was pressed goes, so the focus goes on to what is typed next.
  const toMark = (/** @type {number} */ number) => focusOn(screen, `[data-field="marked.${number}.mark"]`);
  const add = (/** @type {Partial<Row>} */ known) => {
    put([...rows, newRow(known)]);
    if (known.out_mark) toMark(rows.length);
    else focusOn(screen, `[data-marked="${rows.length}"] select`);
  };
  const remove = (/** @type {number} */ number) => {
    put(rows.filter((_, at) => at !== number));
    focusOn(screen, "#add-marked");
  };
  return html`<section class="card full" aria-label="Marked parts">
    <h2>Marked parts</h2>
    <p class="quiet">Parts with a number or mark of their own. What each ran and what was found goes with it.</p>
    ${
      rows.length
        ? html`<ul class="list">
            ${rows.map((row, number) => card({ id, rows, known, put, error, remove, toMark }, row, number))}
          </ul>`
        : nothing
    }
    <div class="row">
      ${inIt.map(
        ({ part, place, mark }) =>
          html`<button class="small" @click=${() => add({ part, place, out_mark: mark })}>
            ${partWords(part)} ${mark}${place ? ` (${place})` : ""} came out
          </button>`,
      )}
      <button class="small" id="add-marked" @click=${() => add({})}>Add a marked part</button>
    </div>
  </section>`;
}
