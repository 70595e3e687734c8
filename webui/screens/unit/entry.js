// @ts-check
// An entry of the log, whole: what was typed, what was shown, what the workshop made of it, and its correction.

import { calc } from "../../engine/door.js";
import { isOf, judgement } from "../../log/entries.js";
import { known } from "../../log/known.js";
import { photoAddress } from "../../log/photos.js";
import { standing } from "../../log/stands.js";
import { entriesOf, onChange, outbox, entry as storedEntry } from "../../log/store.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { backTo, findingLines, reading, verdictMark, when } from "../form/fields.js";
import { correctionOf, entryView } from "./entry-views.js";
import { photoDrawing } from "./photo.js";

/** @typedef {Awaited<ReturnType<typeof reading>>} Read */
/** @typedef {import("../../log/entries.js").Entry} Entry */
/** @typedef {NonNullable<Awaited<ReturnType<typeof loadEntry>>>} Shown */

/**
 * What the screen shows of an entry; nothing where it is not on this phone.
 * @param {string} unitId
 * @param {string} id
 */
async function loadEntry(unitId, id) {
  const [entry, found, rows, entries] = await Promise.all([
    storedEntry(id),
    standing(unitId),
    outbox(),
    entriesOf(unitId),
  ]);
  if (!entry) return undefined;
  return {
    unitId,
    entry,
    name: /** @type {string} */ (found.unit?.name ?? "The unit"),
    /** The entry that corrects this one. @type {string | undefined} */ correction: found.replaced[id],
    waiting: rows.find((row) => row.id === id),
    /** What the engine of now finds otherwise in a torque check. */
    again: isOf(entry, "torque_check") ? (await calc("judged_again", { entries, id })).again : null,
    photo: isOf(entry, "photo") ? photoDrawing(await photoAddress(entry.body.sha256), entry.body.text ?? "") : nothing,
  };
}

/** @param {Shown} shown */
function links({ unitId, entry, correction }) {
  return html`${
    correction
      ? html`<p>
          <a href="#/unit/${unitId}/entry/${correction}">A later entry corrects this one.</a> Both stay in the log.
        </p>`
      : nothing
  }
  ${
    entry.replaces
      ? html`<p><a href="#/unit/${unitId}/entry/${entry.replaces}">This corrects an earlier entry.</a></p>`
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

/** @param {Entry} entry */
function clock({ clock_off_s }) {
  if (!clock_off_s) return nothing;
  return html`<p class="finding doubt">
    That clock was ${Math.round(Math.abs(clock_off_s) / 60)} minutes ${clock_off_s > 0 ? "slow" : "fast"}: set it right.
    The log's order allows for it.
  </p>`;
}

/** Where the entry is on its way home. @param {Shown} shown */
function whereItIs({ entry, correction, waiting }) {
  if (waiting?.refused && !correction)
    return html`<p>
      <span class="error">Refused by the workshop.</span> <a href="#/outbox">See why, and correct it</a>.
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

/** @param {Shown} shown */
function record(shown) {
  const { entry } = shown;
  return html`<section class="card">
    <h2>The record</h2>
    <p>${when(entry.at)} by this device's clock, ${entry.who ? `by ${entry.who}` : "no name given"}.</p>
    ${clock(entry)} ${whereItIs(shown)} ${workshopVerdict(entry)}
    ${shown.again ? html`<p class="finding doubt">${shown.again.text}</p>` : nothing}
  </section>`;
}

/** @param {Shown} shown @param {Record<string, import("../../log/kinds.js").Kind>} kinds */
function correctKey({ entry, correction }, kinds) {
  const address = correction ? "" : correctionOf(entry, kinds);
  return address ? html`<a class="button" href=${address}>Correct this entry</a>` : nothing;
}

/** @type {import("../../app.js").Show} */
export async function show(place, [unitId, id]) {
  const [read, { kinds }, steps] = await Promise.all([reading(), known("about"), calc("steps", {})]);
  const notHere = html`${backTo(`#/unit/${unitId}`, "The unit")}
    <section class="card"><h1>This entry is not on this phone</h1></section>`;
  const load = async () => {
    const shown = await loadEntry(unitId, id);
    if (!shown) return void render(notHere, place);
    const { entry, name } = shown;
    render(
      html`${backTo(`#/unit/${unitId}`, name)} ${summary(shown, kinds[entry.kind]?.meaning ?? entry.kind)}
        ${entryView(entry, kinds[entry.kind], read, steps)}
        ${record(shown)} ${correctKey(shown, kinds)}`,
      place,
    );
  };
  await load();
  return onChange(load);
}
