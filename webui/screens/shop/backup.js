// @ts-check
// What leaves the workshop's log and comes back to it: backups, tables for other programs, and files of units.

import { Refused } from "../../log/access.js";
import { onChange } from "../../log/changes.js";
import { listing } from "../../log/stands.js";
import { fact } from "../../log/store.js";
import { bringBack, isAnotherNow, lookAt, size, wholeBackup, wholeTable } from "../../log/transfer.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { actKey } from "../form/act-key.js";
import { backTo, choiceField, errorLine, textField, whenDay } from "../form/fields.js";
import { download } from "../form/share.js";
import { saveUnit } from "../unit/export.js";

/** @typedef {"backup" | "back" | "table" | "unit"} Part of the screen */

/** What came back, while the page is loaded anew to show it. */
const CAME_BACK = "brought back";

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {Awaited<ReturnType<typeof listing>>} units
 * @property {import("../../log/store.js").Facts["backup"] | undefined} daily the last backup that the PC made by itself
 * @property {Part | ""} busy
 * @property {number} [share] how far that is
 * @property {Partial<Record<Part, string>>} done what came of it
 * @property {Partial<Record<Part, string>>} faults
 * @property {string} file the name of the backup that was looked at
 * @property {import("../../log/transfer.js").Look} [look]
 * @property {string} yes
 * @property {string} unit whose file is saved
 */

/** Do something, and tell how far it is and what came of it. @param {State} state @param {Part} part
 * @param {(tell: import("../../log/transfer.js").Tell) => Promise<string>} act */
async function attempt(state, part, act) {
  Object.assign(state, { busy: part, share: undefined });
  state.done[part] = state.faults[part] = "";
  draw(state);
  try {
    state.done[part] = await act((share) => {
      state.share = share;
      draw(state);
    });
  } catch (error) {
    const field = error instanceof Refused ? error.errors[0]?.reason : undefined;
    state.faults[part] = field ?? /** @type {Error} */ (error).message;
  }
  state.busy = "";
  draw(state);
}

/** @param {State} state */
const save = (state) =>
  attempt(state, "backup", async (tell) => {
    const { file, about, took } = await wholeBackup(tell);
    download(file);
    const faults = about.faults.length ? ` ${about.faults.join(" ")}` : "";
    const held = `${about.entries} entries, ${size(file.size)}, ${took}`;
    return `${file.name} is with this browser's downloads: ${held}. Put it on a stick or another PC.${faults}`;
  });

/** @param {State} state @param {HTMLInputElement} input */
async function choose(state, input) {
  const [file] = input.files ?? [];
  if (!file) return;
  Object.assign(state, { look: undefined, yes: "", file: file.name });
  await attempt(state, "back", async (tell) => {
    state.look = await lookAt(file, tell);
    return "";
  });
  input.value = "";
}

/** @param {State} state @param {import("../../log/transfer.js").Look} look */
const bring = (state, { accepted }) =>
  attempt(state, "back", async (tell) => {
    const { stored, there, refused, photos, took } = await bringBack(accepted, state.yes.trim().toLowerCase(), tell);
    state.look = undefined;
    const odd = refused ? ` ${refused} were not taken, since their numbers here are other entries'.` : "";
    const came = `${stored} entries and ${photos} photos came, ${there} entries were here already; ${took}.`;
    const words = `${came}${odd} Phones bring back what was written since as they come near.`;
    if (await isAnotherNow()) {
      // This page is of the log that was empty, and would go on to say that there are no units.
      sessionStorage.setItem(CAME_BACK, words);
      location.reload();
    }
    return words;
  });

/** @param {State} state @param {"csv" | "xlsx"} form */
const table = (state, form) =>
  attempt(state, "table", async (tell) => {
    const [torque, length] = await Promise.all([fact("torqueUnit", "nm"), fact("lengthUnit", "mm")]);
    const { file, took } = await wholeTable(form, new URLSearchParams({ torque, lengths: length }), tell);
    download(file);
    return `${file.name} is with this browser's downloads: ${size(file.size)}, ${took}.`;
  });

/** @param {State} state */
const unitFile = (state) =>
  attempt(state, "unit", async () => {
    const unit = state.units.find(({ unit_id }) => unit_id === state.unit);
    return saveUnit(state.unit, unit?.unit.name ?? "");
  });

/** How far a part is, and what came of it. @param {State} state @param {Part} part @param {string} words */
function progressOf({ busy, share, done, faults }, part, words) {
  if (busy === part)
    return html`<p role="status">
      ${words} ${share === undefined ? html`<progress></progress>` : html`<progress .value=${share}></progress>`}
    </p>`;
  return html`<p role="status">${done[part]}</p>
    ${errorLine(faults[part])}`;
}

/** @param {State} state */
function backupSection(state) {
  const { daily } = state;
  const last = daily?.made
    ? `The PC makes one a day by itself; the last good one is from ${whenDay(daily.made)}. ${daily.problem}`
    : "The PC makes one a day by itself where it is started with --backups FOLDER, on a stick or a share.";
  return html`<section class="card">
    <h2>Take a backup</h2>
    <p class="quiet">All entries and photos in one file. Whoever has it can read them all.</p>
    <p class="quiet">${last}</p>
    ${actKey({ words: "Save a backup", ready: !state.busy, act: () => save(state), look: "main" })}
    ${progressOf(state, "backup", "The PC is writing it…")}
  </section>`;
}

/** What would come, and what stays, by unit. @param {import("../../log/transfer.js").Look} look */
function unitTable({ units, more_units }) {
  if (!units.length) return nothing;
  return html`<div class="scroll" tabindex="0" role="region" aria-label="What it would change">
    <table>
      <thead>
        <tr>
          <th scope="col">Unit</th>
          <th scope="col" class="number">Would come</th>
          <th scope="col" class="number">In both</th>
          <th scope="col" class="number">Only here, stays</th>
        </tr>
      </thead>
      <tbody>
        ${units.map(
          (row) =>
            html`<tr>
              <th scope="row">${row.name || (row.unit ? "not named in it" : "the shop")}</th>
              <td class="number">${row.new}</td>
              <td class="number">${row.there}</td>
              <td class="number">${row.only_here}</td>
            </tr>`,
        )}
      </tbody>
    </table>
    ${more_units ? html`<p class="quiet">And ${more_units} more units.</p>` : nothing}
  </div>`;
}

/** @param {State} state */
function looked(state) {
  const { look, busy } = state;
  if (!look || busy) return nothing;
  const [title, ...says] = look.says;
  const some = look.new || look.new_photos;
  return html`<div>
    <p><b>${state.file}.</b> ${title}</p>
    ${says.map((sentence) => html`<p class=${look.may ? "" : "error"}>${sentence}</p>`)} ${unitTable(look)}
    ${look.may && !some ? html`<p>There is nothing to bring back.</p>` : nothing}
    ${
      look.may && some
        ? html`${textField({
            name: "yes",
            label: "Type yes to bring it back",
            value: state.yes,
            type: (yes) => {
              state.yes = yes;
            },
          })}<button class="main" @click=${() => bring(state, look)}>Bring it back</button>`
        : nothing
    }
  </div>`;
}

/** @param {State} state */
const backSection = (state) =>
  html`<section class="card">
    <h2>Bring a backup back</h2>
    <p class="quiet">
      What the log lacks comes back, and nothing that is here is changed: first it is shown. A new PC with an empty log
      becomes the log that was lost.
    </p>
    <label class="button photo"
      >Choose a backup<input
        type="file"
        accept=".zip,application/zip"
        aria-disabled=${state.busy ? "true" : "false"}
        @click=${(/** @type {Event} */ event) => state.busy && event.preventDefault()}
        @change=${(/** @type {{target: HTMLInputElement}} */ event) => choose(state, event.target)}
    /></label>
    ${looked(state)} ${progressOf(state, "back", state.look ? "Bringing it back…" : "The PC is checking it…")}
    <details>
      <summary>Go back to a backup without what came since</summary>
      <div class="inside">
        <p>A running log loses nothing, so this is done by a folder of its own. Stop Slipbook on the PC, then:</p>
        <p><code>slipbook restore FILE.zip --folder NEW</code></p>
        <p><code>slipbook serve --folder NEW</code></p>
        <p class="quiet">
          Phones bring back what they have of the entries since. Pair them again: that is kept in the old folder.
        </p>
      </div>
    </details>
  </section>`;

/** @param {State} state */
function exportSection(state) {
  const ready = !state.busy;
  return html`<section class="card">
    <h2>For other programs</h2>
    <p class="quiet">Every entry of every unit, a row for each thing measured; each unit's page has its own.</p>
    <div class="row">
      ${actKey({ words: "Save as CSV", ready, act: () => table(state, "csv") })}
      ${actKey({ words: "Save as a workbook, XLSX", ready, act: () => table(state, "xlsx") })}
    </div>
    ${progressOf(state, "table", "The PC is writing it…")}
    ${
      state.units.length
        ? html`${choiceField({
            name: "unit",
            label: "A unit for another workshop, with its photos",
            value: state.unit,
            options: state.units.map(({ unit_id, unit }) => [unit_id ?? "", unit.name]),
            choose: (unit) => {
              state.unit = unit;
            },
          })}${actKey({ words: "Save the unit's file", ready, act: () => unitFile(state) })}`
        : nothing
    }
    ${progressOf(state, "unit", "Putting it together…")}
  </section>`;
}

/** @param {State} state */
function draw(state) {
  render(
    html`${backTo("#/settings", "Settings")}
      <h1>Backup and export</h1>
      ${backupSection(state)} ${backSection(state)} ${exportSection(state)}`,
    state.place,
  );
}

/** @type {import("../../app.js").Show} */
export async function show(place) {
  const [units, daily] = await Promise.all([listing(), fact("backup")]);
  const unit = units[0]?.unit_id ?? "";
  /** @type {State} */
  const state = { place, units, daily, busy: "", done: {}, faults: {}, file: "", yes: "", unit };
  state.done.back = sessionStorage.getItem(CAME_BACK) ?? "";
  sessionStorage.removeItem(CAME_BACK);
  draw(state);
  return onChange(async () => {
    state.units = await listing();
    draw(state);
  });
}
