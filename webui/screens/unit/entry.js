// @ts-check
// One entry of the log, whole: what was typed, what was shown, what the workshop made of it, and its correction.

import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { calc } from "../../engine/door.js";
import { known } from "../../log/known.js";
import { photoAddress } from "../../log/photos.js";
import { standing } from "../../log/stands.js";
import { entry as stored, onChange, outbox } from "../../log/store.js";
import { photoDrawing } from "./photo.js";
import { correctionOf, entryView } from "./entry-views.js";
import { backTo, findingLines, reading, verdictMark, when } from "../form/fields.js";

/** @type {import("../../app.js").Show} */
export async function show(place, [unitId, id]) {
  const [read, { kinds }, steps] = await Promise.all([reading(), known("about"), calc("steps", {})]);

  const load = async () => {
    const [one, found, rows] = await Promise.all([stored(id), standing(unitId), outbox()]);
    if (!one) {
      render(
        html`${backTo(`#/unit/${unitId}`, "The unit")}
          <section class="card"><h1>This entry is not on this phone</h1></section>`,
        place,
      );
      return;
    }
    const { shown, body } = one;
    const later = found.replaced[id];
    const waiting = rows.find((row) => row.id === id);
    const correction = later ? "" : correctionOf(one, kinds);
    render(
      html`${backTo(`#/unit/${unitId}`, found.unit?.name ?? "The unit")}
        <section class="card judged ${later ? "" : (shown.verdict ?? "")}">
          <h1 class=${later ? "replaced" : ""}>${kinds[one.kind]?.meaning ?? one.kind}</h1>
          ${
            shown.verdict
              ? html`<div>${verdictMark(shown.verdict, true)}</div>
                  <p>${shown.reason}</p>`
              : nothing
          }
          ${one.kind === "photo" ? photoDrawing(await photoAddress(body.sha256), body.text) : nothing}
          ${body.text ? html`<p>${body.text}</p>` : nothing}
          ${later ? html`<p><a href="#/unit/${unitId}/entry/${later}">A later entry corrects this one.</a> Both stay in the log.</p>` : nothing}
          ${one.replaces ? html`<p><a href="#/unit/${unitId}/entry/${one.replaces}">This corrects an earlier entry.</a></p>` : nothing}
          ${findingLines(shown.findings ?? [])}
        </section>
        ${entryView(one, kinds[one.kind], read, steps)}
        <section class="card">
          <h2>The record</h2>
          <p>${when(one.at)} by this device's clock, by ${one.who || "nobody named"}.</p>
          ${
            one.clock_off_s
              ? html`<p class="finding doubt">
                  That clock was ${Math.round(Math.abs(one.clock_off_s) / 60)} minutes
                  ${one.clock_off_s > 0 ? "slow" : "fast"}: set it right. The log's order allows for it.
                </p>`
              : nothing
          }
          <p>
            ${
              waiting
                ? waiting.refused && !later
                  ? html`<span class="error">Refused by the workshop.</span>
                      <a href="#/outbox">See why, and correct it</a>.`
                  : "Waiting in the outbox."
                : `Number ${one.seq} in the workshop's log${one.received ? `, received ${when(one.received)}` : ""}.`
            }
          </p>
          ${
            one.agrees === undefined || shown.verdict === null
              ? nothing
              : one.agrees
                ? html`<p>The workshop judged it again, with the same result.</p>`
                : html`<p class="error" role="alert">
                    The workshop judged it otherwise: ${one.judged?.verdict ?? "no verdict"}.
                    ${one.judged?.reason ?? one.judged?.refused ?? ""}
                  </p>`
          }
        </section>
        ${correction ? html`<a class="button" href=${correction}>Correct this entry</a>` : nothing}`,
      place,
    );
  };
  await load();
  return onChange(load);
}
