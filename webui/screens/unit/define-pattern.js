// @ts-check
// A pattern that is changed, or an entry of it that is corrected: the form of a unit, without what is a unit's own.

import { isOf } from "../../log/entries.js";
import { write } from "../../log/outbox.js";
import { patternOf } from "../../log/pattern.js";
import { entry } from "../../log/store.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { backTo } from "../form/fields.js";
import { showForm } from "./define.js";

/** @typedef {import("../../engine/calculations.js").Kinds["pattern"]} PatternEntry */

/**
 * A pattern in the form.
 * @typedef {object} Subject
 * @property {string} key of the draft
 * @property {PatternEntry["body"]} body as it stands
 * @property {(body: unknown, shown: unknown) => Promise<string>} save what the form was judged as; says what comes then
 */

/** @param {string} key of the draft @param {PatternEntry["body"]} body @param {string} [replaces] what is corrected */
const subject = (key, body, replaces) => ({
  key,
  body,
  /** @param {unknown} judged @param {unknown} shown */
  async save(judged, shown) {
    const whole = /** @type {PatternEntry} */ ({ body: judged, shown });
    await write({ unit: "", kind: "pattern", ...whole, replaces, draft: key });
    return replaces ? "#/outbox" : "#/patterns";
  },
});

/** A pattern to be changed. @param {string} id @returns {Promise<Subject | undefined>} */
async function toChange(id) {
  const pattern = await patternOf(id);
  return pattern && subject(`pattern/${id}`, { ...pattern.body, id });
}

/** An entry of one to be corrected. @param {string} id @returns {Promise<Subject | undefined>} */
async function toCorrect(id) {
  const old = await entry(id);
  return isOf(old, "pattern") ? subject(`pattern/${id}/corrected`, old.body, id) : undefined;
}

/** @type {import("../../app.js").Show} */
export async function show(place, [id, change]) {
  const pattern = await (change ? toChange(id) : toCorrect(id));
  if (!pattern) {
    location.hash = "#/patterns";
    return;
  }
  const heading = html`<div class="full">
    ${change ? backTo("#/patterns", "Patterns") : backTo("#/outbox", "Outbox")}
    <h1>${change ? `Change the pattern ${pattern.body.name}` : "Correct a pattern"}</h1>
    <p class="quiet">Its units keep what they have: each is offered what changes here, to take or to leave.</p>
  </div>`;
  await showForm(place, { pattern, heading: () => heading });
}
