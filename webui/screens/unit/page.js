// @ts-check
// One unit: what stands and why, its stack, its trend, its history, and what can be done with it.

import { isSamples } from "../../log/book.js";
import { onChange } from "../../log/changes.js";
import { draftKeys } from "../../log/drafts.js";
import { isOf } from "../../log/entries.js";
import { inVice } from "../../log/in-vice.js";
import { roleNow } from "../../log/kinds.js";
import { known } from "../../log/known.js";
import { nameOfPattern, offerTo, writtenIn } from "../../log/pattern.js";
import { photoAddress } from "../../log/photos.js";
import { isBuilt, patterns, standing } from "../../log/stands.js";
import { entriesOf, outbox } from "../../log/store.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { backTo, reading } from "../form/fields.js";
import { bench, tablet } from "../frame/places.js";
import { inTurns } from "../frame/turns.js";
import { noteForm } from "./note.js";
import { otherPartsNow } from "./page-features.js";
import { history } from "./page-history.js";
import { lifeOfMarked, markedNow } from "./page-marked.js";
import { job, notHere, opens, stack, torque, use, verdict } from "./page-sections.js";
import { photoForm } from "./photo.js";
import { receipt } from "./receipt.js";
import { unitTrend } from "./trend.js";
import { trialsSection } from "./trials.js";
import { ofUnknownDepth, saidByLog } from "./work-out-log.js";

/**
 * @typedef {object} UnitPage
 * @property {string} id
 * @property {Awaited<ReturnType<typeof reading>>} read
 * @property {Record<string, import("../../log/kinds.js").Kind>} kinds of entries
 * @property {string} role what this phone may do in the workshop
 * @property {boolean} whole whether the whole history is shown
 * @property {() => void} draw
 * @property {import("../../log/stands.js").BuiltStanding} found what stands
 * @property {import("../../log/store.js").Entry[]} entries
 * @property {Awaited<ReturnType<typeof outbox>>} waiting entries in the outbox, refused or not
 * @property {string[]} drafts keys of the forms that are begun
 * @property {Map<string, string>} photos where each photo of its entries is shown from
 * @property {import("../../log/pattern.js").Offer} [offer] what its pattern offers since it changed
 * @property {string} pattern what the pattern that it is built to is called; empty where there is none
 * @property {import("./work-out-log.js").FromLog[]} said what the log can say of its depth
 * @property {import("../../log/stands.js").MarkedPart[]} lives what all units say of its marked parts
 * @property {import("../../log/in-vice.js").InVice} [inVice] what was left in a vice by the guide on this phone
 */

/** Its sections are drawn in so many turns. */
const TURNS = 4;

/** What the page shows of a unit. @param {string} id @param {UnitPage["read"]} read */
async function loadUnit(id, read) {
  const [found, entries, waiting, drafts, left, role] = await Promise.all([
    standing(id),
    entriesOf(id),
    outbox(),
    draftKeys(),
    inVice(),
    roleNow(),
  ]);
  return { found, entries, waiting, drafts, inVice: left.get(id), role, ...(await patternNow(found, read)) };
}

/**
 * The unit's pattern, and what it offers.
 * @param {import("../../log/stands.js").Standing} found
 * @param {UnitPage["read"]} read
 */
async function patternNow({ unit }, read) {
  if (!unit?.pattern) return { pattern: "" };
  const [all, offer] = await Promise.all([patterns(), offerTo(unit, writtenIn(read))]);
  return { pattern: nameOfPattern(unit, all), offer };
}

/** Photos have their addresses found once. @param {Map<string, string>} photos @param {UnitPage["entries"]} entries */
async function findPhotos(photos, entries) {
  const shots = entries.flatMap((entry) => (isOf(entry, "photo") ? [entry.body.sha256] : []));
  await Promise.all(
    shots.filter((name) => !photos.has(name)).map(async (name) => photos.set(name, await photoAddress(name))),
  );
}

/**
 * A note and a photo, each with what was saved of it beside it.
 * @param {string} id @param {() => void} draw @param {ReturnType<typeof receipt>} saved
 */
async function noteAndPhoto(id, draw, saved) {
  /** What was said after saving, by kind. @type {Map<string, string>} */
  const messages = new Map();
  /**
   * @param {string} title @param {string} kind @param {string} whenSaved
   * @param {(about: {unit: string, draw: () => void, done: () => void}) => Promise<() => unknown>} form
   */
  const adding = async (title, kind, whenSaved, form) => {
    messages.set(kind, "");
    const fields = await form({ unit: id, draw, done: () => void messages.set(kind, whenSaved) });
    return () =>
      html`<section class="card">
        <h2>${title}</h2>
        ${fields()}
        <p role="status" class="quiet">${messages.get(kind)}</p>
        ${saved.view((found) => found === kind)}
      </section>`;
  };
  const note = await adding("Add a note", "note", "Note saved.", noteForm);
  const photo = await adding("Add a photo", "photo", "Photo saved.", photoForm);
  return { view: () => html`${note()} ${photo()}`, shows: (/** @type {string} */ kind) => messages.has(kind) };
}

/** @type {import("../../app.js").Show} */
export async function show(place, [id]) {
  const [read, { kinds }] = await Promise.all([reading(), known("about")]);
  /** @type {UnitPage | undefined} */
  let page;
  let progress = "";
  const { from, drawRest } = inTurns(TURNS);
  /** @type {Map<string, string>} */
  const photos = new Map();
  const redraw = () => draw();
  const trend = unitTrend(read, redraw);
  const saved = receipt(id, kinds, redraw, async () => {
    adding = await noteAndPhoto(id, redraw, saved);
  });
  let adding = await noteAndPhoto(id, redraw, saved);

  const saveToFile = async () => {
    progress = isSamples ? "A sample unit stays in the sample book." : "Gathering its entries and photos…";
    draw();
    if (isSamples) return;
    const { saveUnit } = await import("./export.js");
    progress = await saveUnit(id, page?.found.unit.name ?? "");
    draw();
  };

  const view = (/** @type {UnitPage} */ page) => {
    const { first, after } = job(page, saveToFile, progress);
    const torqueNow = () =>
      html`<div class="screen torque-now">${torque(page, trend)} ${use(page)} ${trialsSection(page)}
        ${markedNow(page)} ${otherPartsNow(page)}</div>`;
    const stackNow = () => (after === nothing ? stack(page) : html`<div class="screen">${stack(page)} ${after}</div>`);
    const log = () => html`${saidByLog(id, page.said)} ${opens(page)} ${history(page)} ${adding.view()}`;
    return html`<div class="full">${backTo("#/", "Units")}</div>
      ${saved.view((kind) => !adding.shows(kind))} ${verdict(page)} ${first}
      ${from(2, torqueNow)} ${from(3, stackNow)} ${from(TURNS, log)}`;
  };
  const draw = () => render(page ? view(page) : notHere, place);

  /** What other units say of its marked parts; nobody waits for it, least of all who leaves this screen. */
  const tellLives = async () => {
    const now = page;
    const lives = now && (await lifeOfMarked(now.found).catch(() => []));
    if (!now || now !== page || !lives?.length) return;
    now.lives = lives;
    draw();
  };

  const load = async () => {
    const [{ found, ...rest }] = await Promise.all([loadUnit(id, read), saved.load()]);
    // A unit whose definition has not arrived yet is not on this phone.
    if (isBuilt(found)) {
      page = {
        id,
        read,
        kinds,
        whole: page?.whole ?? false,
        draw,
        found,
        photos,
        said: page?.said ?? [],
        lives: page?.lives ?? [],
        ...rest,
      };
      place.classList.add("wide", "of-unit");
      trend.give(page.found, page.entries);
    }
    draw();
    if (page) {
      await drawRest(draw);
      trend.ahead();
    }
    // The page is there before its pictures are, and before what its log can say of an unknown depth.
    await findPhotos(photos, rest.entries);
    if (page) page.said = await ofUnknownDepth(page.found, page.entries, read);
    if (photos.size || page?.said.length) draw();
    tellLives();
  };
  await load();
  const stop = onChange(load);
  for (const width of [bench, tablet]) width.addEventListener("change", redraw);
  return () => {
    stop();
    for (const width of [bench, tablet]) width.removeEventListener("change", redraw);
    saved.leave();
    for (const address of photos.values()) if (address.startsWith("blob:")) URL.revokeObjectURL(address);
  };
}
