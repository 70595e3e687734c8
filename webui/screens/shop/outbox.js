// @ts-check
// What this phone has not delivered yet, and every way to bring it to the workshop.

import { isSamples } from "../../log/book.js";
import { onChange } from "../../log/changes.js";
import { deliver, watch } from "../../log/delivery.js";
import { DEVICE } from "../../log/device.js";
import { judgement } from "../../log/entries.js";
import { keptFrom, mayWrite } from "../../log/kinds.js";
import { known } from "../../log/known.js";
import { nameOf, ownLog } from "../../log/logs.js";
import { heldElsewhere } from "../../log/other-logs.js";
import { askToPersist, outboxFile, settled, takeInFile, waiting } from "../../log/outbox.js";
import { photosWaiting } from "../../log/photos.js";
import { sharedPhotos } from "../../log/shared.js";
import { standing } from "../../log/stands.js";
import { reasonOf } from "../../log/storage-fault.js";
import { fact, offerAgain, today } from "../../log/store.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { actKey } from "../form/act-key.js";
import { reading, verdictMark, when } from "../form/fields.js";
import { canShare, download, share } from "../form/share.js";
import { correctionOf } from "../unit/entry-views.js";
import { ofAnotherLog } from "./another-log.js";
import { cameBack } from "./came-back.js";
import { faultsOf } from "./faults.js";
import { problemsBanner } from "./problems.js";

// More than anybody reads; all of them are delivered.
const LISTED = 100;

/** @typedef {Record<string, import("../../log/kinds.js").Kind>} Kinds */
/** @typedef {Awaited<ReturnType<typeof waiting>>[number]} Waiting */
/**
 * What waits, with the name of its unit, and why it was refused.
 * @typedef {Waiting & {unitName: string, done: boolean, faults: import("./faults.js").Fault[]}} Row
 */

/**
 * What the phone holds, read anew at every change.
 * @typedef {object} Content
 * @property {Waiting[]} all
 * @property {Waiting[]} open those that something is left to be done about
 * @property {Waiting[]} refused
 * @property {Waiting[]} forBench refused because of who sent them
 * @property {Row[]} rows that are listed
 * @property {number} hidden how many more there are
 * @property {number} fetched the log's number up to which it is on this phone
 * @property {number} photos that wait
 * @property {number} shared photos that wait for a unit
 * @property {boolean} trackside whether this phone is paired for trackside
 * @property {import("../../log/other-logs.js").Elsewhere[]} elsewhere what is here of other logs
 * @property {import("../../log/store.js").Returned[]} returned what came back to the log
 * @property {string} logName what people call the log that is shown
 * @property {import("../../log/store.js").Facts["backup"] | undefined} backup of the workshop's log, made by itself
 * @property {unknown} problems the banner of what the workshop's PC found in its log
 */

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {number} turn counts the readings of the content: only the newest is drawn
 * @property {import("../form/fields.js").Reading} read
 * @property {Kinds} kinds
 * @property {{state: string, reason: string}} report how delivery stands
 * @property {string} message what came of the last tap
 * @property {boolean} persists whether the browser promised to keep what is stored
 * @property {Content} content
 */

/** @param {HTMLElement} place @returns {Promise<State>} */
async function opened(place) {
  const [{ kinds }, read] = await Promise.all([known("about"), reading()]);
  const persists = (await navigator.storage?.persisted?.()) ?? false;
  const report = { state: "idle", reason: "" };
  return /** @type {State} */ ({ place, turn: 0, read, kinds, report, message: "", persists });
}

/**
 * Whether an entry was refused because of who sent it, not because of what is in it: the workshop names its kind then.
 * @param {Waiting} waiting
 * @param {Kinds} kinds
 */
function isForBench({ entry, refused }, kinds) {
  const kept = !mayWrite(kinds[entry.kind], "trackside");
  return Boolean(refused?.some(({ field }) => field === "replaces" || (field === "kind" && kept)));
}

/** @returns {Promise<Content>} @param {Kinds} kinds */
async function contentNow(kinds) {
  const [all, done, fetched, photos, paired, problems, shared, elsewhere, own, backup, returned] = await Promise.all([
    waiting(),
    settled(),
    fact("after", 0),
    photosWaiting(),
    fact("paired"),
    problemsBanner(),
    sharedPhotos(),
    heldElsewhere(),
    ownLog(),
    fact("backup"),
    fact("returned"),
  ]);
  const open = all.filter(({ id }) => !done.has(id));
  const refused = open.filter((row) => row.refused);
  const listed = [...refused, ...open.filter((row) => !row.refused), ...all.filter(({ id }) => done.has(id))];
  const rows = listed.slice(0, LISTED).map(async (row) => {
    const unitName = row.entry.unit ? ((await standing(row.entry.unit)).unit?.name ?? "a unit") : "the kit";
    return { ...row, unitName, done: done.has(row.id), faults: await faultsOf(row, kinds) };
  });
  return {
    all,
    open,
    refused,
    forBench: refused.filter((entry) => isForBench(entry, kinds)),
    rows: await Promise.all(rows),
    hidden: Math.max(0, listed.length - LISTED),
    fetched,
    photos,
    shared: shared.length,
    trackside: paired?.role === "trackside",
    problems,
    elsewhere,
    returned: returned ?? [],
    logName: nameOf(own),
    backup,
  };
}

/** Read the content anew and draw it. @param {State} state */
async function refresh(state) {
  const turn = ++state.turn;
  const content = await contentNow(state.kinds);
  if (turn !== state.turn) return;
  state.content = content;
  if (!content.open.length) state.message = state.message.replace(IMPORT_IT, "").trim();
  draw(state);
}

/** Names and types of the outbox's file. Some phones share no file of data, but one of text. */
const fileKinds = () =>
  /** @type {[string, string][]} */ ([
    [`slipbook-outbox-${today()}.json`, "application/json"],
    [`slipbook-outbox-${today()}.txt`, "text/plain"],
  ]);

/** What is said of a file, as long as what is in it waits here as well. */
const IMPORT_IT =
  "Import it on another phone's Outbox screen, or on the workshop's PC. " +
  "The entries wait here too, and none is stored twice.";

/** @param {State} state */
async function saveFile(state) {
  const [[name, type]] = fileKinds();
  download(new File([await outboxFile()], name, { type }));
  state.message = `${name} was handed to the browser: it is where the ${DEVICE} keeps downloads. ${IMPORT_IT}`;
  draw(state);
}

/** Hand it to another app by the phone's own sheet. @param {State} state */
async function shareFile(state) {
  const kinds = fileKinds();
  const done = await share("Slipbook's outbox", await outboxFile(), kinds);
  state.message =
    done === "shared"
      ? `The outbox was handed to the other app. ${IMPORT_IT}`
      : done
        ? `The ${DEVICE} did not share it, so ${kinds[0][0]} is among its downloads. ${IMPORT_IT}`
        : "Nothing was shared; the entries wait here.";
  draw(state);
}

/** @param {State} state @param {HTMLInputElement} input */
async function importFile(state, input) {
  const [file] = input.files ?? [];
  if (!file) return;
  try {
    const { brought, fresh } = await takeInFile(file);
    state.message =
      `${brought} ${brought === 1 ? "entry was" : "entries were"} in the file, ${fresh} of them new here. ` +
      (fresh ? "They are delivered from here." : "All of it is here already.");
  } catch (error) {
    state.message = reasonOf(error);
  }
  input.value = "";
  await refresh(state);
}

/** @param {{id: string}[]} entries */
async function sendAgain(entries) {
  for (const { id } of entries) await offerAgain(id);
  deliver();
}

/** @param {State} state */
async function askToKeep(state) {
  state.persists = await askToPersist();
  draw(state);
}

/** Why an entry was refused, and what can be done. @param {Row} row @param {Kinds} kinds */
function refusal({ id, entry, faults, done }, kinds) {
  const correction = correctionOf(entry, kinds);
  return html`<p class="error">The workshop refused this entry; it stays here.</p>
    <ul class="steps">
      ${faults.map(({ name, reason }) => html`<li>${name ? html`<b>${name}</b>: ` : nothing}${reason}</li>`)}
    </ul>
    ${
      done
        ? html`<p>A later entry corrects it.</p>`
        : html`<div class="row">
            ${correction ? html`<a class="button" href=${correction}>Correct it</a>` : nothing}
            <button @click=${() => sendAgain([{ id }])}>Send it again</button>
          </div>`
    }`;
}

/** @param {State} state @param {Row} row */
function entryCard({ kinds, read }, row) {
  const { entry, refused, done, unitName } = row;
  const waitsForBench = isForBench(row, kinds) && !done;
  const judged = refused && !done ? (waitsForBench ? "rework" : "replace") : "";
  const { verdict, value_nm } = judgement(entry);
  const figure = value_nm ? ` ${read.torque(value_nm)}` : "";
  const line = () =>
    waitsForBench
      ? html`<p class="error">Waits for the bench: see above.</p>`
      : refused
        ? refusal(row, kinds)
        : nothing;
  return html`<li class="card judged ${judged}">
    <div class="row apart">
      <strong>${unitName}: ${kinds[entry.kind]?.meaning ?? entry.kind}${figure}</strong
      >${verdict ? verdictMark(verdict) : nothing}
    </div>
    <p class="quiet">${when(entry.at)} · ${entry.who || "no name given"}${entry.replaces ? " · a correction" : ""}</p>
    ${line()}
  </li>`;
}

/** What can be done on a phone that is paired for trackside. @param {string} them @param {Kinds} kinds */
const waysToTheBench = (them, kinds) =>
  html`<p>
      This ${DEVICE} is paired for trackside now, and the workshop accepts ${keptFrom(kinds, "trackside")} from the
      bench alone. Nothing is lost: they stay here. Do one of these:
    </p>
    <ul class="steps">
      <li>
        Have this ${DEVICE} <a href="#/pair">paired for the bench</a>, with a code from the workshop's PC. Then send
        ${them} again.
      </li>
      <li>
        Save the outbox to a file, and have the bench import it on its own Outbox screen. They then leave this
        ${DEVICE} by themselves.
      </li>
    </ul>`;

/** @param {State} state */
function benchSection(state) {
  const { forBench, trackside } = state.content;
  if (!forBench.length) return nothing;
  const them = forBench.length === 1 ? "it" : "them";
  return html`<section class="card judged rework" aria-label="For the bench">
    <h2>${forBench.length === 1 ? "1 entry waits" : `${forBench.length} entries wait`} for the bench</h2>
    ${
      trackside
        ? waysToTheBench(them, state.kinds)
        : html`<p>
            They were refused while this ${DEVICE} was paired for trackside. It no longer is: send them again.
          </p>`
    }
    <div class="row">
      ${trackside ? html`<button @click=${() => saveFile(state)}>Save the outbox to a file</button>` : nothing}
      <button class=${trackside ? "" : "main"} @click=${() => sendAgain(forBench)}>Send ${them} again</button>
    </div>
  </section>`;
}

/** How delivery stands, in a sentence. @param {State} state */
function reportLine({ report, content: { open, refused, forBench, logName } }) {
  if (report.state === "busy") return "Delivering…";
  if (report.state === "offline")
    return "No connection to the workshop. All is kept here and is delivered by itself later.";
  if (report.state === "elsewhere")
    return html`Another log answers at this address. What waits here stays with ${logName}.
      <button class="small" @click=${() => location.reload()}>Show the other log</button>`;
  if (report.state === "unpaired") return html`${report.reason} <a href="#/pair">Pair this ${DEVICE}</a>`;
  if (report.state === "failed") return report.reason;
  if (!open.length) return "All is delivered.";
  if (!refused.length) return "Ready to deliver.";
  if (forBench.length === refused.length) return `${forBench.length} for the bench alone: see below.`;
  return `${refused.length === 1 ? "1 was" : `${refused.length} were`} not taken: see below.`;
}

/** @param {State} state */
function photoLines({ content: { photos, shared } }) {
  const photosWait = photos === 1 ? "1 photo waits" : `${photos} photos wait`;
  const sharedWait = shared === 1 ? "1 shared photo waits" : `${shared} shared photos wait`;
  return html`${photos ? html`<p>${photosWait}; a photo is delivered after its entry.</p>` : nothing}
  ${shared ? html`<p><a class="button" href="#/shared">${sharedWait} for a unit</a></p>` : nothing}`;
}

/** How much of the log is on this phone. @param {State} state */
function fetchedLine({ report, content: { fetched } }) {
  if (fetched) return `The workshop's log is on this ${DEVICE}, up to entry ${fetched}.`;
  return report.state === "idle" ? "The workshop's log is empty." : "The log has not been fetched yet.";
}

/** How old the last good backup of the workshop's log is. @param {State} state */
function backupLines({ content: { backup } }) {
  if (!backup) return nothing;
  const { made, days, problem } = backup;
  const age = days ? `${days === 1 ? "1 day" : `${days} days`} ago` : "less than a day ago";
  return html`<p class="quiet">
      ${made ? `The workshop's last good backup: ${when(made)}, ${age}.` : "The workshop's log has no good backup yet."}
    </p>
    ${problem ? html`<p class="error">${problem}</p>` : nothing}`;
}

/** Whether the browser keeps what waits. @param {State} state */
const keptLines = (state) =>
  state.persists
    ? html`<p class="quiet">The browser keeps what is stored, even when the ${DEVICE} runs full.</p>`
    : html`<p class="quiet">
          The browser may clear what is stored when the ${DEVICE} runs full: deliver soon, or ${
            DEVICE === "PC" ? "install Slipbook as an app" : "add Slipbook to the home screen"
          }.
        </p>
        <button @click=${() => askToKeep(state)}>Ask the browser to keep it</button>`;

/** @param {State} state */
const shareKey = (state) => html`<button @click=${() => shareFile(state)}>Share the outbox</button>`;

/** @param {State} state */
function deliverySection(state) {
  const { open, all } = state.content;
  return html`<section class="card" aria-live="polite">
    <p class="figure">${open.length} <small>${open.length === 1 ? "entry waits" : "entries wait"}</small></p>
    <p>${reportLine(state)}</p>
    ${photoLines(state)}
    <p class="quiet">${fetchedLine(state)}</p>
    ${backupLines(state)}
    <div class="actions">
      ${actKey({
        words: "Deliver now",
        ready: state.report.state !== "busy",
        act: () => deliver(),
        instead: () => deliver(),
        look: "main",
      })}
      ${all.length && canShare(fileKinds()) ? shareKey(state) : nothing}
      ${actKey({ words: "Save the outbox to a file", ready: Boolean(all.length), act: () => saveFile(state) })}
      <label class="button photo"
        >Import another phone's outbox<input
          type="file"
          accept=".json,.txt,application/json,text/plain"
          @change=${(/** @type {{target: HTMLInputElement}} */ event) => importFile(state, event.target)}
      /></label>
    </div>
    <p role="status">${state.message}</p>
    ${keptLines(state)}
  </section>`;
}

/** @param {State} state */
const screen = (state) =>
  isSamples
    ? html`<h1>Outbox</h1>
        <p>What you save in the sample book stays in it: nothing waits here, and nothing is sent.</p>`
    : html`<h1>Outbox</h1>
    ${deliverySection(state)} ${state.content.problems}${benchSection(state)}
    ${state.content.elsewhere.map((held) => ofAnotherLog(held, state.content.logName, state.place))}
    ${cameBack(state.content.returned)}
    <ul class="list">
      ${state.content.rows.map((row) => entryCard(state, row))}
    </ul>
    ${state.content.hidden ? html`<p class="quiet">And ${state.content.hidden} more.</p>` : nothing}`;

/** @param {State} state */
function draw(state) {
  render(screen(state), state.place);
}

/** @type {import("../../app.js").Show} */
export async function show(place) {
  const state = await opened(place);
  await refresh(state);
  const stopListening = onChange(() => refresh(state));
  const stopWatching = watch((report) => {
    state.report = report;
    refresh(state);
  });
  return () => {
    stopListening();
    stopWatching();
  };
}
