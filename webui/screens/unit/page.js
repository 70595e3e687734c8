// @ts-check
// One unit: what stands and why, its stack, its trend, its history, and what can be done with it.

import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { known } from "../../log/known.js";
import { draftKeys } from "../../log/drafts.js";
import { standing } from "../../log/stands.js";
import { entriesOf, onChange, outbox } from "../../log/store.js";
import { icon } from "../../draw/icons.js";
import { stackDrawing } from "../../draw/stack.js";
import { figuresNow, thicknessNow } from "./as-it-stands.js";
import { noteForm } from "./note.js";
import { unitTrend } from "./trend.js";
import { photoForm } from "./photo.js";
import { backTo, reading, verdictMark, when } from "../form/fields.js";

/** A history longer than this is shown whole only when it is asked for. */
const NEWEST = 20;

/** @param {any} found what stands @param {{crush_mm: number}} now its figures @param {(mm: number) => string} say */
export function stackOf(found, now, say) {
  const parts = found.derived.checked.chain.map((/** @type {any} */ item) => {
    const measured = found.by_slot[item.slot];
    return {
      slot: item.slot,
      part: item.part,
      thickness: item.part === "spring" ? item.new_mm : thicknessNow(found, item.slot, item.new_mm),
      verdict: measured?.verdict,
      told: measured ? say(measured.lowest_mm) : undefined,
    };
  });
  return { parts, springHeight: found.derived.checked.spring.l0_mm, crush: now.crush_mm, say };
}

/** @type {import("../../app.js").Show} */
export async function show(place, [id]) {
  const read = await reading();
  const { kinds } = await known("about");
  let saved = "";
  let whole = false;
  let filed = "";
  let draw = () => {};
  const trend = unitTrend(read, () => draw());
  const photo = await photoForm({ unit: id, draw: () => draw(), done: () => (saved = "Photo saved.") });
  const note = await noteForm({ unit: id, draw: () => draw(), done: () => (saved = "Note saved.") });

  /** @param {string} name */
  const keepFile = async (name) => {
    filed = "Gathering its entries and photos…";
    draw();
    const { saveUnit } = await import("./export.js");
    filed = await saveUnit(id, name);
    draw();
  };

  /** @param {any} found @param {any[]} entries @param {Map<string, any>} waiting why each was refused, if it was */
  const history = (found, entries, waiting) => {
    const all = [...entries].sort((a, b) => Date.parse(b.at) - Date.parse(a.at) || (b.id > a.id ? 1 : -1));
    const rows = whole ? all : all.slice(0, NEWEST);
    return html`<section class="card" aria-labelledby="history">
      <h2 id="history">History</h2>
      <ul class="list">
        ${rows.map((entry) => {
          const gone = found.replaced[entry.id];
          const figure = entry.shown.value_nm ? read.torque(entry.shown.value_nm) : "";
          return html`<li>
            <a href="#/unit/${id}/entry/${entry.id}">
              <span class=${gone ? "replaced" : ""}>${kinds[entry.kind]?.meaning ?? entry.kind} ${figure}</span>
              ${entry.shown.verdict ? verdictMark(entry.shown.verdict) : html`<span></span>`}
              <span class="quiet"
                >${when(entry.at)} ·
                ${entry.who || "nobody named"}${
                  entry.body.text ? html`<br />${entry.body.text}` : nothing
                }${gone ? " · corrected later" : ""}${entry.replaces ? " · a correction" : ""}${
                  !waiting.has(entry.id)
                    ? ""
                    : waiting.get(entry.id)
                      ? " · REFUSED BY THE WORKSHOP, see the outbox"
                      : " · waiting in the outbox"
                }${entry.agrees === false ? " · THE WORKSHOP JUDGED OTHERWISE" : ""}</span
              ></a
            >
          </li>`;
        })}
      </ul>
      ${
        rows.length < all.length
          ? html`<button
              @click=${() => {
                whole = true;
                draw();
              }}
            >
              Show all ${all.length}
            </button>`
          : nothing
      }
    </section>`;
  };

  const load = async () => {
    const [found, entries, waiting, drafts] = await Promise.all([standing(id), entriesOf(id), outbox(), draftKeys()]);
    if (!found.unit) {
      render(
        html`${backTo("#/", "Units")}
          <section class="card">
            <h1>This unit is not on this phone</h1>
            <p>Connect to the workshop once to fetch it.</p>
          </section>`,
        place,
      );
      return;
    }
    place.classList.add("wide");
    const { unit, derived, torque } = found;
    const now = await figuresNow(found);
    trend.give(found, entries);
    const begun = (/** @type {string} */ what) => drafts.includes(`${what}/${id}`);
    draw = () =>
      render(
        html`<div class="full">${backTo("#/", "Units")}</div>
          <section class="card judged ${found.verdict ?? ""} full">
            <div class="row apart">
              <h1>${unit.name}</h1>
              ${verdictMark(found.verdict, true)}
            </div>
            <p>${found.reason}</p>
            ${
              found.disagrees.length
                ? html`<p class="error" role="alert">
                    The workshop's engine judged ${found.disagrees.length} of these entries otherwise. Open them below
                    before you rely on this verdict.
                  </p>`
                : nothing
            }
            ${
              waiting.some((one) => one.refused && !found.replaced[one.id] && entries.some(({ id }) => id === one.id))
                ? html`<p class="error" role="alert">
                    The workshop refused an entry that this verdict counts.
                    <a href="#/outbox">See why, and correct it</a>.
                  </p>`
                : nothing
            }
            ${
              found.contested.length
                ? html`<p class="finding doubt">
                    Another device changed this unit without having seen
                    <a href="#/unit/${id}/entry/${found.contested[0]}">this change</a>. The one that arrived later
                    stands: look at both.
                  </p>`
                : nothing
            }
            ${
              found.due.length
                ? html`<ul class="steps">
                    ${found.due.map((/** @type {any} */ one) => html`<li>${one.text}</li>`)}
                  </ul>`
                : nothing
            }
          </section>
          <div class="actions full">
            <a class="button main" href="#/unit/${id}/check"
              >${icon("torque")}${begun("check") ? "Go on with the check" : "Check torque"}</a
            >
            <a class="button main" href="#/unit/${id}/plates"
              >${icon("plates")}${begun("plates") ? "Go on with the plates" : "Measure plates"}</a
            >
            <a class="button" href="#/unit/${id}/change">${icon("pen")}Change the unit</a>
          </div>
          <details class="full" ?open=${matchMedia("(min-width: 900px)").matches}>
            <summary>At the bench: measure, plan, rebuild, hand over</summary>
            <div class="actions inside">
              <a class="button" href="#/unit/${id}/strip">Strip it</a>
              <a class="button" href="#/unit/${id}/springs">Measure the spring</a>
              <a class="button" href="#/unit/${id}/rings">Look at the rings</a>
              <a class="button" href="#/unit/${id}/changed">What changed</a>
              <a class="button" href="#/unit/${id}/plan">Plan the rebuild</a>
              <a class="button" href="#/unit/${id}/rebuild">Rebuild</a>
              <a class="button" href="#/unit/${id}/close">Close it</a>
              <a class="button" href="#/unit/${id}/refit"
                >${begun("refit") ? "Go on with the refit" : "Back into the axle"}</a
              >
              <a class="button" href="#/unit/${id}/sheet">Build sheet</a>
              <a class="button" href="#/unit/${id}/ramps">Ramps</a>
              <button @click=${() => keepFile(unit.name)}>Save it to a file</button>
            </div>
            <p role="status" class="quiet">${filed}</p>
          </details>
          <section class="card" aria-labelledby="torque">
            <h2 id="torque">Breakaway torque</h2>
            ${torque ? html`<p class="figure">${read.torque(torque.value_nm)}</p>` : html`<p>Never checked.</p>`}
            <p class="quiet">
              Ordered ${read.torque(derived.checked.order.torque_nm)} ±
              ${read.torque(derived.checked.order.tolerance_nm)}; the parts when new give
              ${read.torque(derived.breakaway_nm)}.
            </p>
            ${trend.view()}
          </section>
          <section class="card" aria-labelledby="stack">
            <h2 id="stack">The stack</h2>
            ${stackDrawing(stackOf(found, now, read.length))}
            <p class="quiet">
              Sliding faces ${derived.faces.first} and ${derived.faces.second}; preload
              ${now.preload_n === null ? "none" : `${Math.round(now.preload_n)} N`} with the plates as they stand,
              ${Math.round(derived.preload_n)} N when new; the spring as when new.
            </p>
            ${now.warnings.map((/** @type {any} */ one) => html`<p class="finding doubt">${one.text}</p>`)}
          </section>
          ${history(found, entries, new Map(waiting.map((one) => [one.id, one.refused])))}
          <section class="card">
            <h2>Add a note</h2>
            ${note()}
            <p role="status" class="quiet">${saved}</p>
          </section>
          <section class="card">
            <h2>Add a photo</h2>
            ${photo()}
          </section>`,
        place,
      );
    draw();
  };
  await load();
  return onChange(load);
}
