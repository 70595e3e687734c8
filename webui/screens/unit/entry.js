// @ts-check
// An entry of the log, whole: what was typed, what was shown, what the workshop made of it, and its correction.

import { calc } from "../../engine/door.js";
import { isSamples } from "../../log/book.js";
import { onChange } from "../../log/changes.js";
import { DEVICE } from "../../log/device.js";
import { isOf, judgement } from "../../log/entries.js";
import { known } from "../../log/known.js";
import { photoAddress } from "../../log/photos.js";
import { standing } from "../../log/stands.js";
import { entriesOf, outbox, entry as storedEntry } from "../../log/store.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { backTo, findingLines, reading, verdictMark, when, whenDay } from "../form/fields.js";
import { correctionOf, entryView } from "./entry-views.js";
import { limitsInWords } from "./limits-in-words.js";
import { photoDrawing } from "./photo.js";

/** @typedef {Awaited<ReturnType<typeof reading>>} Read */
/** @typedef {import("../../log/entries.js").Entry} Entry */
/** @typedef {import("../../log/stands.js").Standing} Standing */
/** @typedef {NonNullable<Awaited<ReturnType<typeof loadEntry>>>} Shown */

/**
 * What is known of an entry beside itself, and the page that leads to it.
 * @typedef {{home: string, name: string, stands?: Standing} & Pick<Standing, "replaced" | "clocks">} About
 */

/** Entries of the shop that have a page, by kind. */
const OF_THE_SHOP = [
  { kind: "customer", home: "#/customers", name: "Customers" },
  { kind: "erasure", home: "#/customers", name: "Customers" },
  { kind: "pattern", home: "#/patterns", name: "Patterns" },
];

/** @param {string} unitId empty for the shop @param {string} [kind] of the entry @returns {Promise<About>} */
async function aboutOf(unitId, kind) {
  if (!unitId) {
    const page = OF_THE_SHOP.find((about) => about.kind === kind) ?? OF_THE_SHOP[1];
    return { home: page.home, name: page.name, replaced: {}, clocks: {} };
  }
  const stands = await standing(unitId);
  const { unit, replaced, clocks } = stands;
  return { home: `#/unit/${unitId}`, name: unit?.name ?? "The unit", replaced, clocks, stands };
}

/**
 * What the screen shows of an entry; nothing where it is not on this phone.
 * @param {string} unitId empty for the shop
 * @param {string} id
 */
async function loadEntry(unitId, id) {
  const entry = await storedEntry(id);
  const found = await aboutOf(unitId, entry?.kind);
  const [rows, entries] = await Promise.all([outbox(), entriesOf(unitId)]);
  if (!entry) return undefined;
  return {
    home: found.home,
    entry,
    name: found.name,
    /** The entry that corrects this one. @type {string | undefined} */ correction: found.replaced[id],
    waiting: rows.find((row) => row.id === id),
    /** What was wrong with the clock that dated it. @type {string | undefined} */ clock: found.clocks[id],
    /** What the engine of now finds otherwise in a torque check. */
    now: isOf(entry, "torque_check") ? await calc("judged_again", { entries, id }) : null,
    stands: found.stands,
    photo: isOf(entry, "photo") ? photoDrawing(await photoAddress(entry.body.sha256), entry.body.text ?? "") : nothing,
  };
}

/** @param {Shown} shown */
function links({ home, entry, correction }) {
  return html`${
    correction
      ? html`<p>
          <a href="${home}/entry/${correction}">A later entry corrects this one.</a> Both stay in the log.
        </p>`
      : nothing
  }
  ${
    entry.replaces
      ? html`<p><a href="${home}/entry/${entry.replaces}">This corrects an earlier entry.</a></p>`
      : nothing
  }`;
}

/** What it is, its verdict, its words. @param {Shown} shown @param {string} meaning of its kind */
function summary(shown, meaning) {
  const { entry, correction, photo } = shown;
  const { verdict, reason, findings } = judgement(entry);
  const text = "text" in entry.body ? entry.body.text : "";
  return html`<section class="card judged ${correction ? "" : (verdict ?? "")}">
    <h1 class=${correction ? "replaced" : ""}>${meaning}</h1>
    ${
      verdict
        ? html`<div>${verdictMark(verdict, true)}</div>
            <p>${reason}</p>`
        : nothing
    }
    ${photo} ${text ? html`<p>${text}</p>` : nothing}
    ${links(shown)} ${findingLines((findings ?? []).map(({ weight = "", text = "" }) => ({ weight, text })))}
  </section>`;
}

/** Where the entry is on its way home. @param {Shown} shown */
function whereItIs({ entry, correction, waiting }) {
  if (isSamples) return html`<p>In the sample book, on this ${DEVICE} alone.</p>`;
  if (waiting?.refused && !correction)
    return html`<p>
      <span class="error">The workshop did not take it.</span> <a href="#/outbox">See what to do</a>.
    </p>`;
  if (waiting) return html`<p>Waiting in the outbox.</p>`;
  const received = entry.received ? `, received ${when(entry.received)}` : "";
  return html`<p>Number ${entry.seq} in the workshop's log${received}.</p>`;
}

/** What the workshop's engine made of it. @param {Entry} entry */
function workshopVerdict(entry) {
  const { agrees, judged } = entry;
  if (agrees === undefined || judgement(entry).verdict === null) return nothing;
  if (agrees) return html`<p>The workshop judged it again, with the same result.</p>`;
  const { verdict, reason } = judged ? judgement({ shown: judged }) : {};
  const refused = judged && "refused" in judged ? judged.refused : "";
  return html`<p class="error" role="alert">
    The workshop's verdict differs: ${verdict ?? "no verdict"}. ${reason ?? refused}
  </p>`;
}

/** When it was done. @param {Entry} entry */
function dated({ at, imported }) {
  if (!imported) return `${when(at)} by this device's clock`;
  const { file, row, by, at: day } = imported;
  return `${whenDay(at)}, as ${file} has it in row ${row}; imported by ${by} on ${whenDay(day)}`;
}

/** What today's limits make of the torque check that stands, where it was judged by others. @param {Shown} shown */
function outdated({ entry, now, stands }, /** @type {Read} */ read) {
  const checked = stands?.derived?.checked;
  if (!now?.outdated || !checked || !isOf(entry, "torque_check") || stands.torque?.id !== entry.id) return nothing;
  // Beside the same figures it would not be seen what they are for.
  const { judged_on: reading = "steady", stated_for: way = "one_output_held" } = entry.body;
  const alike = checked.judged_on === reading && checked.stated_for === way;
  const what = alike ? "others" : "for another reading or way of holding";
  return html`<p class="finding doubt">
    Today's limits are ${what}. ${limitsInWords(checked, read)} Check it against them.
  </p>`;
}

/** @param {Shown} shown @param {Read} read */
function record(shown, read) {
  const { entry } = shown;
  return html`<section class="card">
    <h2>The record</h2>
    <p>${dated(entry)}, ${entry.who ? `by ${entry.who}` : "no name given"}.</p>
    ${shown.clock ? html`<p class="finding doubt">${shown.clock}</p>` : nothing}
    ${whereItIs(shown)} ${workshopVerdict(entry)}
    ${shown.now?.again ? html`<p class="finding doubt">${shown.now.again.text}</p>` : nothing}
    ${outdated(shown, read)}
  </section>`;
}

/** From what was felt at an outing to what to change. @param {Shown} shown */
const toChange = ({ home, entry, correction }) =>
  isOf(entry, "outing") && !correction && entry.shown.felt?.length
    ? html`<a class="button" href="${home}/complaint/${entry.id}">From complaint to change</a>`
    : nothing;

/** @param {Shown} shown @param {Record<string, import("../../log/kinds.js").Kind>} kinds */
function correctKey({ entry, correction }, kinds) {
  const address = correction ? "" : correctionOf(entry, kinds);
  return address ? html`<a class="button" href=${address}>Correct this entry</a>` : nothing;
}

/** @type {import("../../app.js").Show} */
export async function show(place, [unitId, id]) {
  const [read, { kinds }, steps] = await Promise.all([reading(), known("about"), calc("steps", {})]);
  const { home } = await aboutOf(unitId);
  const notHere = html`${backTo(home, unitId ? "The unit" : "Patterns")}
    <section class="card"><h1>This entry is not on this ${DEVICE}</h1></section>`;
  const load = async () => {
    const shown = await loadEntry(unitId, id);
    if (!shown) return void render(notHere, place);
    const { entry, name, home } = shown;
    render(
      html`${backTo(home, name)} ${summary(shown, kinds[entry.kind]?.meaning ?? entry.kind)}
        ${entryView(entry, kinds[entry.kind], read, steps, shown.stands)}
        ${toChange(shown)} ${record(shown, read)} ${correctKey(shown, kinds)}`,
      place,
    );
  };
  await load();
  return onChange(load);
}
