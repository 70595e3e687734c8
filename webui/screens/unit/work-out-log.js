// @ts-check
// What the log can say of a figure that nobody measured: offered on the unit's page and beside the figure's field.

import { calc } from "../../engine/door.js";
import { entriesOf } from "../../log/store.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { toField } from "../form/lack.js";

/** @typedef {import("./define-form.js").DefineForm} DefineForm */
/** @typedef {import("../../engine/door.js").ResultOf<"from_log">["figures"][number]} FromLog */

/**
 * @param {import("../../log/store.js").Entry[]} entries of a unit
 * @param {import("../form/fields.js").Reading} read
 * @returns {Promise<FromLog[]>}
 */
async function figuresIn(entries, read) {
  const request = { entries, write_in: read.torqueUnit, write_lengths_in: read.lengthUnit };
  return (await calc("from_log", request)).figures;
}

/** What the log says of the unit of a form, read once. @param {DefineForm} form */
export async function readLog(form) {
  if (!form.id || form.working.inLog.length) return;
  form.working.inLog = await figuresIn(await entriesOf(form.id), form.read);
}

/** Put what the log says into the fields of its way. @param {DefineForm} form @param {FromLog} figure */
export function takeFromLog(form, { from, typed }) {
  const figures = Object.fromEntries(typed.map((row) => [row.path, row.typed]));
  return { ...form.draft.working, from, typed: { ...form.draft.working.typed, ...figures }, fromLog: from };
}

/**
 * Open what the log says of a field that somebody comes for; nothing is kept of it until something is done with it.
 * @param {DefineForm} form @param {string} field
 */
export async function openFromLog(form, field) {
  await readLog(form);
  const figure = form.working.inLog.find((row) => row.field === field);
  if (!figure || form.draft.working.from) return;
  form.draft = { ...form.draft, working: takeFromLog(form, figure) };
  await form.askAll();
}

/**
 * What the log says of a unit whose depth nobody gave; nothing for others.
 * @param {import("../../log/stands.js").BuiltStanding} found
 * @param {import("../../log/store.js").Entry[]} entries
 * @param {import("../form/fields.js").Reading} read
 */
export const ofUnknownDepth = async ({ opens }, entries, read) =>
  opens.some(({ name }) => name === "cavity_mm") ? figuresIn(entries, read) : [];

/** One of them, with the way into the form. @param {string} id @param {FromLog} figure */
const sentence = (id, { field, text, basis }) =>
  html`<p>${text} From ${basis}. <a href=${toField(id, field)}>Use it</a></p>`;

/** On the unit's page. @param {string} id @param {FromLog[]} figures */
export const saidByLog = (id, figures) =>
  figures.length
    ? html`<section class="card" aria-labelledby="said">
        <h2 id="said">The log can say</h2>
        ${figures.map((figure) => sentence(id, figure))}
      </section>`
    : nothing;
