// @ts-check
// What a rebuild fitted, into the log: exchanged parts, oil, and why.

import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { calc } from "../../engine/door.js";
import { draft as kept } from "../../log/drafts.js";
import { mayWrite } from "../../log/kinds.js";
import { known } from "../../log/known.js";
import { write } from "../../log/outbox.js";
import { shelf, standing } from "../../log/stands.js";
import { entry, fact } from "../../log/store.js";
import { focusOn } from "../form/focus.js";
import { judging } from "../form/judging.js";
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
import { quantityFields } from "../form/quantity.js";
import { signing } from "../form/signing.js";

/** @type {import("../../app.js").Show} */
export async function show(place, [id, corrected]) {
  const [read, found, sign, stock, paired, { kinds }] = await Promise.all([
    reading(),
    standing(id),
    signing(() => draw()),
    shelf(),
    fact("paired"),
    known("about"),
  ]);
  // A correction does not say what was taken meanwhile, and the workshop may take no count from this phone.
  const counts = !corrected && mayWrite(kinds.shelf, paired?.role);
  const key = corrected ? `rebuild/${id}/${corrected}` : `rebuild/${id}`;
  const old = corrected ? (await entry(corrected))?.body : undefined;
  const slots = found.derived.checked.chain
    .filter((/** @type {any} */ item) => item.part !== "spring")
    .map((/** @type {any} */ item) => item.slot);
  /** @type {{fitted: {slot: string, mm: any, piece: string}[], oil: string, spring: string, other_spring?: boolean, note: string}} */
  let draft = (await kept(key)) ?? { fitted: [], oil: "", spring: "", note: "", ...old };
  const other = () => draft.other_spring ?? Boolean(old?.spring);
  let takeOff = true;
  const quantity = quantityFields(
    read,
    unitSwitch(() => draw()),
  );

  const body = () => ({
    ...(draft.fitted.length
      ? {
          fitted: draft.fitted.map((part) =>
            Object.fromEntries(Object.entries(part).filter(([, value]) => typedOf(value).trim())),
          ),
        }
      : {}),
    ...(draft.oil.trim() ? { oil: draft.oil } : {}),
    ...(draft.spring.trim() ? { spring: draft.spring } : {}),
    other_spring: other(),
    note: draft.note,
  });
  const form = judging({
    key,
    calculation: "rebuild",
    request: () => (draft.fitted.length || draft.note ? body() : undefined),
    draft: () => draft,
    draw: () => draw(),
  });
  /** @param {Partial<typeof draft>} change */
  const set = (change) => {
    draft = { ...draft, ...change };
    form.changed();
  };

  /** How many of a class or piece on the shelf were fitted. @param {any} piece */
  const taken = (piece) =>
    Math.min(piece.count, draft.fitted.filter((part) => part.piece.trim() === piece.name).length);
  const fromShelf = () => (counts ? stock.reduce((sum, piece) => sum + taken(piece), 0) : 0);

  /** The shelf without what was fitted, as a count of its own, so that nobody plans with a plate that is in a unit. */
  const count = async () => {
    const pieces = stock.map((piece) =>
      Object.fromEntries(
        Object.entries({ ...piece, count: piece.count - taken(piece) }).filter(([, value]) => value !== null),
      ),
    );
    const body = { pieces: pieces.filter((piece) => piece.count > 0) };
    await write({ unit: "", kind: "shelf", body, shown: await calc("shelf", body) });
  };

  const save = () =>
    form.save(async (body, shown) => {
      sign.check();
      if (takeOff && fromShelf()) await count();
      await write({ unit: id, kind: "rebuild", body, shown, replaces: corrected, draft: key });
      location.hash = corrected ? `#/unit/${id}` : `#/unit/${id}/close`;
    });

  const add = () => {
    const free =
      slots.find((/** @type {string} */ slot) => !draft.fitted.some((part) => part.slot === slot)) ?? slots[0];
    set({ fitted: [...draft.fitted, { slot: free, mm: "", piece: "" }] });
    focusOn(place, ".list > li:last-child select");
  };
  /** @param {number} number */
  const leaveOut = (number) => {
    set({ fitted: draft.fitted.filter((_, at) => at !== number) });
    focusOn(place, "#add");
  };

  /** @param {{slot: string, mm: any, piece: string}} part @param {number} number */
  const row = (part, number) => {
    const put = (/** @type {string} */ field, /** @type {any} */ value) =>
      set({ fitted: draft.fitted.map((one, at) => (at === number ? { ...one, [field]: value } : one)) });
    return html`<li class="card">
      <div class="pair">
        ${choiceField({ name: `${number}.slot`, label: "Place", value: part.slot, error: form.error(`fitted.${number}.slot`), options: slots.map((/** @type {string} */ slot) => [slot, slot]), choose: (value) => put("slot", value) })}
        ${textField({ name: `${number}.piece`, label: "Called on the shelf", value: part.piece, error: form.error(`fitted.${number}.piece`), type: (value) => put("piece", value) })}
      </div>
      ${quantity({ name: `${number}.mm`, label: "Thickness", si: "mm", value: part.mm, error: form.error(`fitted.${number}.mm`), put: (value) => put("mm", value) })}
      <button class="plain" aria-label=${`Not fitted: ${part.slot}`} @click=${() => leaveOut(number)}>
        Not fitted
      </button>
    </li>`;
  };

  const draw = () =>
    render(
      html`<div class="full">
          ${backTo(`#/unit/${id}`, found.unit.name)}
          <h1>${corrected ? "Correct a rebuild" : "Rebuild"}</h1>
        </div>
        <div class="full">
          ${caution(html`Every part clean and dry before it goes in: <b>dirt between the plates scores them and makes the torque check read false.</b>`)}
        </div>
        <section class="card">
          <h2>Exchanged</h2>
          ${
            draft.fitted.length
              ? html`<ul class="list">
                  ${draft.fitted.map(row)}
                </ul>`
              : html`<p class="quiet">Nothing yet. <a href="#/unit/${id}/plan">Plan it</a>, or add what you fitted.</p>`
          }
          <button id="add" @click=${add}>Add a part that was fitted</button>
          ${
            fromShelf()
              ? choiceKeys({
                  name: "count",
                  label: "The shelf's count",
                  short: true,
                  value: takeOff ? "less" : "same",
                  choose: (value) => {
                    takeOff = value === "less";
                    draw();
                  },
                  options: [
                    { value: "less", words: `take ${fromShelf()} off` },
                    { value: "same", words: "leave it: counted already" },
                  ],
                })
              : nothing
          }
        </section>
        <section class="card">
          ${textField({ name: "oil", label: "Oil filled", value: draft.oil, type: (oil) => set({ oil }) })}
          ${choiceKeys({
            name: "other_spring",
            label: "The spring",
            short: true,
            value: other() ? "other" : "same",
            choose: (value) => set({ other_spring: value === "other" }),
            options: [
              { value: "same", words: "the same" },
              { value: "other", words: "another fitted" },
            ],
          })}
          ${textField({ name: "spring", label: "What was done about the spring", value: draft.spring, type: (spring) => set({ spring }) })}
          ${textField({ name: "note", kind: "long", label: "What was done and why", value: draft.note, error: form.error("note"), type: (note) => set({ note }) })}
          ${sign.field("Rebuilt by")}
          ${form.bad && form.bad.field !== "note" && !form.bad.field.startsWith("fitted.") ? errorLine(form.bad.reason) : nothing}${errorLine(form.failed)}
          <button class="main big" ?disabled=${!form.result} @click=${save}>
            ${corrected ? "Save the correction" : "Save, and close it up"}
          </button>
          <p class="quiet">
            Earlier torque checks, and measurements of the exchanged plates, count no more from here on; they stay in
            the log.
          </p>
        </section>`,
      place,
    );
  place.classList.add("wide");
  draw();
  await form.judge();
}
