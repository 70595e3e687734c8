// @ts-check
// The shelf: plates in stock, by class or measured piece.

import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { draft as kept } from "../../log/drafts.js";
import { write } from "../../log/outbox.js";
import { shelf } from "../../log/stands.js";
import { entriesOf, entry } from "../../log/store.js";
import { focusOn } from "../form/focus.js";
import { judging } from "../form/judging.js";
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
import { quantityFields } from "../form/quantity.js";
import { signing } from "../form/signing.js";

const PARTS = /** @type {[string, string][]} */ ([
  ["friction", "friction"],
  ["separator", "separator"],
  ["shim", "shim"],
]);

/** @typedef {{name: string, part: string, mm: any, count: any, within_mm: any}} Piece */

/** @type {import("../../app.js").Show} */
export async function show(place, [corrected]) {
  const [read, standing, sign, last] = await Promise.all([
    reading(),
    shelf(),
    signing(() => draw()),
    corrected ? entry(corrected) : lastCount(),
  ]);
  const key = corrected ? `shelf/${corrected}` : "shelf";
  const quantity = quantityFields(
    read,
    unitSwitch(() => draw()),
  );
  // As it was typed, in the units that it was typed in.
  const known = last?.body.pieces ?? standing;
  /** @type {{pieces: Piece[]}} */
  let draft = (await kept(key)) ?? { pieces: known };
  /** @type {typeof draft | undefined} */
  let cleared;
  let told = "";

  const body = () => ({
    pieces: draft.pieces.map((piece) =>
      Object.fromEntries(Object.entries(piece).filter(([, value]) => typedOf(value).trim())),
    ),
  });
  const form = judging({ key, calculation: "shelf", request: body, draft: () => draft, draw: () => draw() });

  /** @param {Piece[]} pieces */
  const set = (pieces) => {
    draft = { pieces };
    told = "";
    form.changed();
  };

  const save = () =>
    form.save(async (body, shown) => {
      sign.check();
      await write({ unit: "", kind: "shelf", body, shown, replaces: corrected, draft: key });
      if (corrected) return void (location.hash = "#/outbox");
      told = "The count is saved.";
      draw();
    });

  /** @param {Piece} piece @param {number} number */
  const row = (piece, number) => {
    const put = (/** @type {string} */ field, /** @type {any} */ value) =>
      set(draft.pieces.map((one, place) => (place === number ? { ...one, [field]: value } : one)));
    const at = (/** @type {string} */ field) => form.error(`pieces.${number}.${field}`);
    const words = piece.name || `piece ${number + 1}`;
    return html`<li class="card">
      <div class="pair">
        ${textField({ name: `${number}.name`, label: "Called", value: piece.name, error: at("name"), type: (value) => put("name", value) })}
        ${choiceField({ name: `${number}.part`, label: "Part", value: piece.part, options: PARTS, error: at("part"), choose: (value) => put("part", value) })}
      </div>
      <div class="pair uneven">
        <div>
          ${quantity({ name: `${number}.mm`, label: "Thickness", si: "mm", value: piece.mm, error: at("mm"), put: (value) => put("mm", value) })}
        </div>
        <div>
          ${numberField({ name: `${number}.count`, label: "How many", whole: true, value: typedOf(piece.count), error: at("count"), type: (value) => put("count", value) })}
        </div>
      </div>
      <div class="pair uneven">
        <details>
          <summary>How exact</summary>
          <div class="inside">
            ${quantity({ name: `${number}.within`, label: "May be off by", si: "mm", hint: "0.02 mm for a class: common practice, no source", value: piece.within_mm, error: at("within_mm"), put: (value) => put("within_mm", value) })}
          </div>
        </details>
        <button
          class="plain"
          aria-label=${`Take off ${words}`}
          @click=${() => {
            set(draft.pieces.filter((_, at) => at !== number));
            focusOn(place, "#add");
          }}
        >
          Take off
        </button>
      </div>
    </li>`;
  };

  const draw = () =>
    render(
      html`${corrected ? backTo("#/outbox", "Outbox") : nothing}
        <h1>${corrected ? "Correct a count" : "Shelf"}</h1>
        <p class="quiet">
          Plates in stock, for planning a rebuild: a class of equal ones, or single pieces that were measured.
        </p>
        ${
          draft.pieces.length
            ? html`<ul class="list cards">
                ${draft.pieces.map(row)}
              </ul>`
            : html`<section class="card"><p>Nothing is on the shelf yet.</p></section>`
        }
        <section class="card">
          <button
            id="add"
            @click=${() => {
              set([...draft.pieces, { name: "", part: "friction", mm: "", count: "1", within_mm: "" }]);
              focusOn(place, ".list > li:last-child input");
            }}
          >
            Add a class or a piece
          </button>
          ${form.bad && !form.bad.field.includes(".") ? errorLine(form.bad.reason) : nothing}${errorLine(form.failed)}
          ${sign.fieldIfUnknown("Counted by")}
          <button class="main" ?disabled=${!form.result} @click=${save}>Save the count</button>
          ${clearKey(
            Boolean(cleared),
            () => {
              cleared = draft;
              set(known);
            },
            () => {
              const back = cleared;
              cleared = undefined;
              set(back?.pieces ?? []);
            },
          )}
          <p role="status">${told}</p>
        </section>`,
      place,
    );
  draw();
  form.judge();
}

/** The last count that stands, by the order of the log; what was not delivered yet comes last. */
async function lastCount() {
  const all = (await entriesOf("")).filter((one) => one.kind === "shelf");
  const gone = new Set(all.map((one) => one.replaces));
  return all
    .filter((one) => !gone.has(one.id))
    .sort((a, b) => (a.seq ?? Infinity) - (b.seq ?? Infinity) || Date.parse(a.at) - Date.parse(b.at))
    .pop();
}
