// @ts-check
// One unit: what stands and why, its stack, its trend, its history, and what can be done with it.

import { draftKeys } from "../../log/drafts.js";
import { inVice } from "../../log/in-vice.js";
import { known } from "../../log/known.js";
import { isBuilt, standing } from "../../log/stands.js";
import { entriesOf, onChange, outbox } from "../../log/store.js";
import { html, render } from "../../vendor/lit-html/lit-html.js";
import { backTo, reading } from "../form/fields.js";
import { noteForm } from "./note.js";
import { history } from "./page-history.js";
import { benchKeys, mainKeys, notHere, stack, torque, verdict } from "./page-sections.js";
import { photoForm } from "./photo.js";
import { unitTrend } from "./trend.js";

/**
 * @typedef {object} UnitPage
 * @property {string} id
 * @property {Awaited<ReturnType<typeof reading>>} read
 * @property {Record<string, {meaning: string}>} kinds of entries
 * @property {boolean} whole whether the whole history is shown
 * @property {() => void} draw
 * @property {import("../../log/stands.js").BuiltStanding} found what stands
 * @property {import("../../log/store.js").Entry[]} entries
 * @property {Awaited<ReturnType<typeof outbox>>} waiting entries in the outbox, refused or not
 * @property {string[]} drafts keys of the forms that are begun
 * @property {import("../../log/in-vice.js").InVice} [inVice] what was left in a vice by the guide on this phone
 */

/** What the page shows of a unit. @param {string} id */
async function loadUnit(id) {
  const [found, entries, waiting, drafts, left] = await Promise.all([
    standing(id),
    entriesOf(id),
    outbox(),
    draftKeys(),
    inVice(),
  ]);
  return { found, entries, waiting, drafts, inVice: left.get(id) };
}

/** The words of a save, and the form that it empties. @param {string} id @param {() => void} draw */
async function noteAndPhoto(id, draw) {
  let saved = "";
  const note = await noteForm({ unit: id, draw, done: () => (saved = "Note saved.") });
  const photo = await photoForm({ unit: id, draw, done: () => (saved = "Photo saved.") });
  return () =>
    html`<section class="card">
        <h2>Add a note</h2>
        ${note()}
        <p role="status" class="quiet">${saved}</p>
      </section>
      <section class="card">
        <h2>Add a photo</h2>
        ${photo()}
      </section>`;
}

/** @type {import("../../app.js").Show} */
export async function show(place, [id]) {
  const [read, { kinds }] = await Promise.all([reading(), known("about")]);
  /** @type {UnitPage | undefined} */
  let page;
  let progress = "";
  const redraw = () => draw();
  const trend = unitTrend(read, redraw);
  const adding = await noteAndPhoto(id, redraw);

  const saveToFile = async () => {
    progress = "Gathering its entries and photos…";
    draw();
    const { saveUnit } = await import("./export.js");
    progress = await saveUnit(id, page?.found.unit.name ?? "");
    draw();
  };

  const draw = () =>
    render(
      page
        ? html`<div class="full">${backTo("#/", "Units")}</div>
            ${verdict(page)} ${mainKeys(page)} ${benchKeys(page, saveToFile, progress)} ${torque(page, trend)}
            ${stack(page)} ${history(page)} ${adding()}`
        : notHere,
      place,
    );

  const load = async () => {
    const { found, ...rest } = await loadUnit(id);
    // A unit whose definition has not arrived yet is not on this phone.
    if (isBuilt(found)) {
      page = { id, read, kinds, whole: page?.whole ?? false, draw, found, ...rest };
      place.classList.add("wide");
      trend.give(page.found, page.entries);
    }
    draw();
  };
  await load();
  return onChange(load);
}
