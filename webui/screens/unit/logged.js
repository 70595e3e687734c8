// @ts-check
// The frame of what is logged of a unit besides its checks, outings and service alike: how its form opens, the key that
// saves it, and what stands where.

import { draft as keptDraft } from "../../log/drafts.js";
import { isOf } from "../../log/entries.js";
import { write } from "../../log/outbox.js";
import { isHere, standing } from "../../log/stands.js";
import { entry } from "../../log/store.js";
import { html, render } from "../../vendor/lit-html/lit-html.js";
import { saveKey } from "../form/act-key.js";
import { backTo, clearKey, errorLine } from "../form/fields.js";
import { formState } from "../form/form-state.js";
import { signing } from "../form/signing.js";
import { style } from "../form/style.js";

/** @typedef {"outing" | "service"} Logged */
/** @typedef {import("../../engine/door.js").Calculations} Calculations */
/** @typedef {import("../../log/stands.js").UnitStanding} UnitStanding */

/**
 * What is asked of the engine about a draft; nothing while there is too little to judge.
 * @template {Logged} Kind
 * @typedef {import("../../engine/calculations.js").AsTyped<Calculations[Kind]["request"]> | undefined} Asked
 */

/**
 * What a kind of entry has of its own.
 * @template {Logged} Kind
 * @template Draft
 * @typedef {object} Own
 * @property {Kind} kind
 * @property {(found: UnitStanding, old: import("../../log/entries.js").EntryOf<Kind> | undefined) => Draft} start
 *   a draft to begin with, of what stands for the unit and of the entry that is corrected
 * @property {() => Draft} empty
 * @property {(draft: Draft, begun: boolean) => Asked<Kind>} request
 */

/**
 * @template {Logged} Kind
 * @template Draft
 * @param {string} id the unit
 * @param {string | undefined} corrected the entry to correct
 * @param {() => void} draw
 * @param {Own<Kind, Draft>} own
 * @returns the form; nothing where the unit is not on this phone
 */
export async function loggedForm(id, corrected, draw, { kind, start, empty, request }) {
  const key = corrected ? `${kind}/${id}/${corrected}` : `${kind}/${id}`;
  const [found, old, typed, sign] = await Promise.all([
    standing(id),
    corrected ? entry(corrected) : undefined,
    keptDraft(key),
    signing(draw),
  ]);
  if (!isHere(found)) return undefined;
  const replaced = isOf(old, kind) ? old : undefined;
  const form = formState({
    key,
    calculation: kind,
    /** @type {Draft} */ draft: { ...start(found, replaced), ...typed },
    empty,
    request: (draft, touched) => request(draft, Boolean(touched || corrected || typed)),
    draw,
  });
  const save = () =>
    form.answer.save(async (body, shown) => {
      sign.check();
      await write({ unit: id, kind, body, shown, replaces: corrected, draft: key });
      return `#/unit/${id}`;
    });
  return Object.assign(form, { id, corrected, found, sign, save });
}

/**
 * @typedef {object} Frame
 * @property {string} title
 * @property {string} correction the title where an entry is corrected
 * @property {string} words of the key that saves
 */

/** Any form of these. @typedef {NonNullable<Awaited<ReturnType<typeof loggedForm>>>} LoggedForm */

/** Who writes it, and the key that clears. @param {Pick<LoggedForm, "sign" | "cleared" | "clear" | "putBack">} form */
export const nameAndClear = (form) =>
  html`${form.sign.fieldIfUnknown() ?? ""} ${clearKey(Boolean(form.cleared), form.clear, form.putBack)}`;

/**
 * Opens and shows a form, what is typed at the left and what is beside it at the right.
 * @template {LoggedForm} Form
 * @param {HTMLElement} place
 * @param {string[]} params of the address: the unit, and the entry to correct
 * @param {Frame} frame
 * @param {(id: string, corrected: string | undefined, draw: () => void) => Promise<Form | undefined>} open
 * @param {(form: Form) => {typed: unknown, beside: unknown}} parts
 */
export async function showLogged(place, [id, corrected], { title, correction, words }, open, parts) {
  const [form] = await Promise.all([open(id, corrected, () => draw()), style("outing")]);
  if (!form) {
    location.hash = `#/unit/${id}`;
    return;
  }
  const draw = () => {
    const { typed, beside } = parts(form);
    render(
      html`<div class="full">
          ${backTo(`#/unit/${id}`, form.found.unit.name)}
          <h1>${corrected ? correction : title}</h1>
        </div>
        <div class="screen">
          ${typed}
          <section class="keep-bar">
            ${saveKey({ answer: form.answer, words: corrected ? "Save the correction" : words, save: form.save })}
            ${errorLine(form.answer.failed)}
          </section>
        </div>
        ${beside}`,
      place,
    );
  };
  place.classList.add("wide", "outing");
  draw();
  await form.answer.judge();
}
