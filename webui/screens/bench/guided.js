// @ts-check
// Strip and close, step by step, with the force that the vice must hold; a step is one tap, and nothing is skipped.

import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { calc } from "../../engine/door.js";
import { draft as kept } from "../../log/drafts.js";
import { write } from "../../log/outbox.js";
import { standing } from "../../log/stands.js";
import { entry } from "../../log/store.js";
import { icon } from "../../draw/icons.js";
import { strongest } from "../unit/as-it-stands.js";
import { keepAwake } from "../form/awake.js";
import { focusOn } from "../form/focus.js";
import { judging } from "../form/judging.js";
import { backTo, caution, errorLine, textField } from "../form/fields.js";
import { signing } from "../form/signing.js";
import { worked } from "../form/worked.js";

const TITLES = /** @type {Record<string, [string, string]>} */ ({
  strip: ["Strip it safely", "Correct a strip"],
  close: ["Close it up", "Correct a closing"],
});

/** @type {import("../../app.js").Show} */
export async function show(place, [id, procedure, corrected]) {
  const [found, steps, sign] = await Promise.all([standing(id), calc("steps", {}), signing(() => draw())]);
  const unit = found.derived.checked;
  const key = corrected ? `${procedure}/${id}/${corrected}` : `${procedure}/${id}`;
  const old = corrected ? (await entry(corrected))?.body : undefined;
  // Each step once, and none that there is no key for.
  const before = [...new Set(/** @type {string[]} */ (old?.done ?? []))].filter((name) =>
    steps[procedure].some((/** @type {any} */ one) => one.name === name),
  );
  const force = unit.cover ? await calc("closing", { unit: strongest(found) }) : undefined;
  /** @type {{done: string[], note: string}} */
  let draft = (await kept(key)) ?? { done: before, note: old?.note ?? "" };

  const body = () => ({
    done: draft.done,
    signed: sign.name() || "nobody yet",
    ...(force ? { vice_n: force.vice_most_n } : {}),
    ...(draft.note.trim() ? { note: draft.note } : {}),
  });
  const form = judging({
    key,
    calculation: procedure,
    request: () => (draft.done.length ? body() : undefined),
    draft: () => draft,
    draw: () => draw(),
  });

  /** @param {Partial<typeof draft>} change */
  const set = (change) => {
    draft = { ...draft, ...change };
    form.changed();
  };
  /** @param {string[]} done */
  const step = (done) => {
    set({ done });
    focusOn(place, ".guided button.main", "button.main");
  };

  const save = () =>
    form.save(async (body, shown) => {
      sign.check();
      await write({ unit: id, kind: procedure, body, shown, replaces: corrected, draft: key });
      location.hash = `#/unit/${id}`;
    });

  const draw = () => {
    const listed = steps[procedure];
    const next = listed.find((/** @type {any} */ step) => !draft.done.includes(step.name));
    render(
      html`<div class="full">
          ${backTo(`#/unit/${id}`, found.unit.name)}
          <h1>${TITLES[procedure][corrected ? 1 : 0]}</h1>
        </div>
        <section class="card beside">
          ${
            force
              ? html`<p>With the cover flush and the plates unworn the vice must hold as much as</p>
                  <p class="figure">
                    ${Math.round(force.vice_most_n)} N <small>${Math.round(force.vice_most_kgf)} kgf</small>
                  </p>
                  <p class="quiet">
                    So strong a new spring may be within its tolerance. By its table it pushes with
                    ${Math.round(force.flush_n)} N, ${Math.round(force.per_screw_n)} N for each screw. Up to
                    ${force.energy_most_j.toFixed(1)} J are let loose if it
                    slips.${
                      force.start_most_n > 0
                        ? ` At the first thread it may still push with ${Math.round(force.start_most_n)} N.`
                        : " At the first thread the spring is free."
                    }
                    The screws then clamp with ${(force.clamp_left_n / 1000).toFixed(0)} kN to spare (nut factor 0.2:
                    common practice, no source).
                  </p>
                  ${force.warnings.map((/** @type {any} */ one) => html`<p class="finding doubt">${one.text}</p>`)}`
              : html`<p>
                  This unit's definition has no cover screws, so the force cannot be worked out.
                  <a href="#/unit/${id}/change">Add them</a>
                </p>`
          }
          ${worked("closing")}
          ${caution(
            html`<b>Hold the spring closed in a vice or press before you touch the screws</b>, face and hands out of
              line with the cover, eyes covered. The screws never pull the cover down. The maker's procedure and the
              local rules come first.`,
          )}
        </section>
        <div class="screen">
          ${
            old && before.length < old.done.length
              ? html`<p class="finding doubt">
                  A step was noted twice, or is none of these: it was left out. See that each step below was done.
                </p>`
              : nothing
          }
          <ol class="list guided">
            ${listed.map((/** @type {any} */ one, /** @type {number} */ number) => {
              const done = draft.done.includes(one.name);
              return html`<li class="card ${done ? "judged go" : ""}">
                <p><b>${number + 1}.</b> ${one.text}</p>
                ${
                  done
                    ? html`<div class="row apart">
                        <span class="verdict go">${icon("go")}done</span>${
                          draft.done[draft.done.length - 1] === one.name
                            ? html`<button class="plain" @click=${() => step(draft.done.slice(0, -1))}>
                                Not done after all
                              </button>`
                            : nothing
                        }
                      </div>`
                    : one === next
                      ? html`<button class="main big" @click=${() => step([...draft.done, one.name])}>
                          Done: step ${number + 1}
                        </button>`
                      : nothing
                }
              </li>`;
            })}
          </ol>
          <section class="card">
            ${textField({ name: "note", kind: "long", label: "Anything that was seen", value: draft.note, error: form.error("note"), type: (note) => set({ note }) })}
            ${sign.field("Done and signed by")}
            ${form.bad && form.bad.field !== "note" ? errorLine(form.bad.reason) : nothing}${errorLine(form.failed)}
            ${next && draft.done.length ? html`<p class="quiet">${listed.length - draft.done.length} steps are left; you can leave this page and go on later.</p>` : nothing}
            <button class="main big" ?disabled=${!draft.done.length || Boolean(form.bad)} @click=${save}>
              ${next ? "Sign what is done so far" : "Sign it off"}
            </button>
            ${
              procedure === "close" && !next
                ? html`<p class="quiet">
                    Now check the torque on the bench, and again after the first outing: a fresh pack drops while it
                    beds in.
                  </p>`
                : nothing
            }
          </section>
        </div>`,
      place,
    );
  };
  place.classList.add("wide");
  draw();
  await form.judge();
  return keepAwake();
}
