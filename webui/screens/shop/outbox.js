// @ts-check
// What this phone has not delivered yet, and every way to bring it home.

import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { keptFrom, mayWrite } from "../../log/kinds.js";
import { known } from "../../log/known.js";
import { deliver, watch } from "../../log/delivery.js";
import { askToPersist, outboxFile, settled, waiting, takeInFile } from "../../log/outbox.js";
import { fact, offerAgain, onChange, today } from "../../log/store.js";
import { photosWaiting } from "../../log/photos.js";
import { sharedPhotos } from "../../log/shared.js";
import { standing } from "../../log/stands.js";
import { correctionOf } from "../unit/entry-views.js";
import { problemsBanner } from "./problems.js";
import { reading, verdictMark, when } from "../form/fields.js";

// More than anybody reads; all of them are delivered.
const LISTED = 100;

/**
 * Whether an entry was refused because of who sent it, not because of what is in it: the workshop names its kind then.
 * @param {{entry: any, refused?: {field: string}[]}} one
 * @param {Record<string, import("../../log/kinds.js").Kind>} kinds
 */
function isBenchs({ entry, refused }, kinds) {
  const kept = !mayWrite(kinds[entry.kind], "trackside");
  return Boolean(refused?.some(({ field }) => field === "replaces" || (field === "kind" && kept)));
}

/** A field's path as people read it. @param {string} path */
function inWords(path) {
  const names = path.replace(/^body\./, "").split(".");
  return names
    .map((name) =>
      /^\d+$/.test(name) ? `no. ${Number(name) + 1}` : name.replace(/_(nm|mm|n|deg|kg|nmm2)$/, "").replaceAll("_", " "),
    )
    .join(", ");
}

/** @type {import("../../app.js").Show} */
export async function show(place) {
  let turn = 0;
  const [{ kinds }, read] = await Promise.all([known("about"), reading()]);
  let report = { state: "idle", reason: "", at: 0 };
  let taken = "";
  let stays = (await navigator.storage?.persisted?.()) ?? false;

  const saveFile = async () => {
    const url = URL.createObjectURL(new Blob([await outboxFile()], { type: "application/json" }));
    const name = `slipbook-outbox-${today()}.json`;
    Object.assign(document.createElement("a"), { href: url, download: name }).click();
    setTimeout(() => URL.revokeObjectURL(url), 60000);
    taken = `${name} was handed to the browser: it is where the phone keeps downloads. Take it in on another phone's Outbox screen, or on the workshop's PC. The entries wait here too, and none is taken in twice.`;
    draw();
  };

  /** @param {string} id */
  const again = async (id) => {
    await offerAgain(id);
    deliver();
  };

  /** @param {Awaited<ReturnType<typeof waiting>>[number]} one */
  const row = async ({ id, entry, refused }, done = false) => {
    const name = entry.unit ? ((await standing(entry.unit)).unit?.name ?? "a unit") : "the kit";
    const correction = correctionOf(entry, kinds);
    const benchs = isBenchs({ entry, refused }, kinds);
    const figure = entry.shown.value_nm ? ` ${read.torque(entry.shown.value_nm)}` : "";
    return html`<li class="card judged ${refused && !done ? (benchs ? "rework" : "replace") : ""}">
      <div class="row apart">
        <strong>${name}: ${kinds[entry.kind]?.meaning ?? entry.kind}${figure}</strong
        >${entry.shown.verdict ? verdictMark(entry.shown.verdict) : nothing}
      </div>
      <p class="quiet">${when(entry.at)} · ${entry.who || "nobody named"}${entry.replaces ? " · a correction" : ""}</p>
      ${
        benchs && !done
          ? html`<p class="error">Waits for the bench: see above.</p>`
          : refused
            ? html`<p class="error">The workshop refused this entry; it stays here.</p>
                <ul class="steps">
                  ${refused.map((error) => html`<li>${error.field ? html`<b>${inWords(error.field)}</b>: ` : nothing}${error.reason}</li>`)}
                </ul>
                ${
                  done
                    ? html`<p>A later entry corrects it.</p>`
                    : html`<div class="row">
                        ${correction ? html`<a class="button" href=${correction}>Correct it</a>` : nothing}
                        <button @click=${() => again(id)}>Send it again</button>
                      </div>`
                }`
            : nothing
      }
    </li>`;
  };

  /** @param {{id: string}[]} benchs @param {boolean} trackside whether this phone still is */
  const forTheBench = (benchs, trackside) =>
    html`<section class="card judged rework" aria-label="For the bench">
      <h2>${benchs.length === 1 ? "1 entry waits" : `${benchs.length} entries wait`} for the bench</h2>
      ${
        trackside
          ? html`<p>
                This phone is paired for trackside now, and the workshop takes
                ${keptFrom(kinds, "trackside")} from the bench alone. Nothing is lost: they stay here. Do one of these:
              </p>
              <ul class="steps">
                <li>
                  Have this phone <a href="#/pair">paired for the bench</a>, with a code from the workshop's PC. Then
                  send ${benchs.length === 1 ? "it" : "them"} again.
                </li>
                <li>
                  Save the outbox to a file, and have the bench take it in on its own Outbox screen. They then leave
                  this phone by themselves.
                </li>
              </ul>`
          : html`<p>They were refused while this phone was paired for trackside. It no longer is: send them again.</p>`
      }
      <div class="row">
        ${trackside ? html`<button @click=${saveFile}>Save the outbox to a file</button>` : nothing}
        <button
          class=${trackside ? "" : "main"}
          @click=${async () => {
            for (const { id } of benchs) await offerAgain(id);
            deliver();
          }}
        >
          Send ${benchs.length === 1 ? "it" : "them"} again
        </button>
      </div>
    </section>`;

  const draw = async () => {
    const mine = ++turn;
    const [all, done, after, photos, paired, problems, shared] = await Promise.all([
      waiting(),
      settled(),
      fact("after", 0),
      photosWaiting(),
      fact("paired"),
      problemsBanner(),
      sharedPhotos(),
    ]);
    const open = all.filter((one) => !done.has(one.id));
    const refused = open.filter((one) => one.refused);
    const benchs = refused.filter((one) => isBenchs(one, kinds));
    const listed = [...refused, ...open.filter((one) => !one.refused), ...all.filter((one) => done.has(one.id))];
    const rows = await Promise.all(listed.slice(0, LISTED).map((one) => row(one, done.has(one.id))));
    if (mine !== turn) return;
    const told = {
      idle: !open.length
        ? "All is delivered."
        : refused.length
          ? `${refused.length === 1 ? "1 was" : `${refused.length} were`} refused: see below.`
          : "Ready to deliver.",
      busy: "Delivering…",
      offline: "No connection to the workshop. All is kept here and goes home by itself.",
      unpaired: html`${report.reason} <a href="#/pair">Pair this phone</a>`,
      failed: `The workshop did not take it: ${report.reason}`,
    }[report.state];
    render(
      html`<h1>Outbox</h1>
        <section class="card" aria-live="polite">
          <p class="figure">${open.length} <small>${open.length === 1 ? "entry waits" : "entries wait"}</small></p>
          <p>${told}</p>
          ${photos ? html`<p>${photos === 1 ? "1 photo waits" : `${photos} photos wait`}; a photo goes home after its entry.</p>` : nothing}
          ${shared.length ? html`<p><a class="button" href="#/shared">${shared.length === 1 ? "1 shared photo waits" : `${shared.length} shared photos wait`} for a unit</a></p>` : nothing}
          <p class="quiet">
            ${after ? `The log is here up to number ${after}.` : report.state === "idle" ? "The workshop's log is empty." : "The log was not fetched yet."}
          </p>
          <div class="row">
            <button class="main" aria-disabled=${report.state === "busy" ? "true" : "false"} @click=${() => deliver()}>
              Deliver now
            </button>
            <button ?disabled=${!all.length} @click=${saveFile}>Save the outbox to a file</button>
          </div>
          <label class="button photo"
            >Take in another phone's outbox<input
              type="file"
              accept=".json,application/json"
              @change=${async (/** @type {any} */ event) => {
                const [file] = event.target.files;
                if (!file) return;
                try {
                  const { brought, fresh } = await takeInFile(file);
                  taken = `${brought} ${brought === 1 ? "entry was" : "entries were"} in the file, ${fresh} of them new here. ${fresh ? "They go home from here." : "All of it is here already."}`;
                } catch (error) {
                  taken = /** @type {Error} */ (error).message;
                }
                event.target.value = "";
                draw();
              }}
          /></label>
          <p role="status">${taken}</p>
          <p class="quiet">
            ${
              stays
                ? "The browser keeps what is stored, even when the phone runs full."
                : "The browser may clear what is stored when the phone runs full: deliver soon, or add Slipbook to the home screen."
            }
          </p>
          ${
            stays
              ? nothing
              : html`<button
                  @click=${async () => {
                    stays = await askToPersist();
                    draw();
                  }}
                >
                  Ask the browser to keep it
                </button>`
          }
        </section>
        ${problems}${benchs.length ? forTheBench(benchs, paired?.role === "trackside") : nothing}
        <ul class="list">
          ${rows}
        </ul>
        ${listed.length > LISTED ? html`<p class="quiet">And ${listed.length - LISTED} more.</p>` : nothing}`,
      place,
    );
  };
  await draw();
  const stop = [onChange(draw), watch((now) => ((report = now), draw()))];
  return () => stop.forEach((one) => one());
}
