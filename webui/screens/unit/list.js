// @ts-check
// Every unit with its standing verdict, and what is due.

import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { entry, fact, onChange, outbox } from "../../log/store.js";
import { watch } from "../../log/delivery.js";
import { standings } from "../../log/stands.js";
import { icon } from "../../draw/icons.js";
import { choiceField, errorLine, VERDICTS, verdictMark, whenDay } from "../form/fields.js";

// A long list is drawn as far as anybody scrolls at once; the search finds the rest.
const PAGE = 60;

/** @param {any} one what stands for a unit @param {(import("../../log/store.js").Entry | undefined)[]} refused entries that the workshop did not take */
function row(one, refused) {
  return html`<li>
    <a href="#/unit/${one.unit_id}">
      <strong>${one.unit.name}</strong>${verdictMark(one.verdict)}
      <span class="quiet"
        >${one.unit.owner ? `${one.unit.owner} · ` : ""}${
          one.looked_at ? `looked at ${whenDay(one.looked_at)}` : "not looked at yet"
        }${one.due.length ? html`<br />Due: ${one.due[0].text}` : nothing}</span
      >
      ${refused.some((its) => its && its.unit === one.unit_id && !one.replaced[its.id]) ? html`<span class="error">Counts an entry that was refused</span>` : nothing}
    </a>
  </li>`;
}

/** Which units are shown: all, those due for something, or those of one verdict. @type {[string, string, (one: any) => boolean][]} */
const SHOWN = [
  ["", "all", () => true],
  ["due", "something due", (one) => one.due.length > 0],
  ...["replace", "rework", "measure_again", "go"].map(
    (verdict) =>
      /** @type {[string, string, (one: any) => boolean]} */ ([
        verdict,
        VERDICTS[verdict],
        (one) => one.verdict === verdict,
      ]),
  ),
  ["none", "not judged", (one) => !one.verdict],
];

/** @type {import("../../app.js").Show} */
export async function show(place) {
  let sought = "";
  let shown = "";
  let many = PAGE;
  /** @type {any[] | undefined} */
  let units;
  /** @type {Parameters<typeof row>[1]} */
  let refused = [];
  let left = 0;
  let failed = "";
  /** @type {any} */
  let problems = nothing;
  let delivery = { state: "busy", reason: "", at: 0 };

  const draw = () => {
    const fits = SHOWN.find(([name]) => name === shown)?.[2] ?? (() => true);
    const found = (units ?? []).filter(
      (one) => fits(one) && `${one.unit.name} ${one.unit.owner}`.toLowerCase().includes(sought.toLowerCase().trim()),
    );
    const counted = SHOWN.map(
      ([name, words, of]) => /** @type {const} */ ([name, words, (units ?? []).filter(of).length]),
    );
    const empty = units?.length
      ? html`<p>
          ${sought ? `No unit${shown ? " of these" : ""} has “${sought}” in its name or owner.` : "No unit is among these."}
        </p>`
      : html`<section class="card">
          <p>
            ${
              delivery.state === "busy" || !units
                ? "Looking for units…"
                : delivery.state === "unpaired"
                  ? html`No unit is on this phone yet. <a href="#/pair">Pair it with the workshop</a> to fetch its log.`
                  : "No unit is in the book yet. Add a unit, or connect to the workshop once to fetch its log."
            }
          </p>
        </section>`;
    render(
      html`<div class="row apart">
          <h1>Units</h1>
          <a class="button" href="#/unit/new">${icon("plus")}Add a unit</a>
        </div>
        ${
          (units?.length ?? 0) > 5
            ? html`<div class="pair">
                <div class="field">
                  <label for="search">Find</label>
                  <input
                    id="search"
                    type="search"
                    .value=${sought}
                    @input=${(/** @type {any} */ event) => {
                      sought = event.target.value;
                      many = PAGE;
                      draw();
                    }}
                  />
                </div>
                ${choiceField({
                  name: "shown",
                  label: "Show",
                  value: shown,
                  options: counted
                    .filter(([name, , count]) => count || name === shown)
                    .map(([name, words, count]) => [name, `${words}, ${count}`]),
                  choose: (value) => {
                    shown = value;
                    many = PAGE;
                    draw();
                  },
                })}
              </div>`
            : nothing
        }
        ${left ? html`<p role="status">Working out what stands: ${left} more to come…</p>` : nothing}
        ${problems}${errorLine(failed)}
        ${
          found.length
            ? html`<ul class="list cards">
                ${found.slice(0, many).map((one) => row(one, refused))}
              </ul>`
            : empty
        }
        ${
          found.length > many
            ? html`<button
                @click=${() => {
                  const first = many;
                  many += PAGE;
                  draw();
                  /** @type {HTMLElement | undefined} */ (place.querySelectorAll(".list a")[first])?.focus();
                }}
              >
                Show ${Math.min(PAGE, found.length - many)} more of ${found.length}
              </button>`
            : nothing
        }
        <p class="quiet"><a class="back" href="#/import">Take in a unit from a file</a></p>`,
      place,
    );
  };
  /** Rarely is there any: what tells of them is loaded only then. */
  const lookForProblems = async () => {
    const any = (await fact("problems", [])).length > 0;
    problems = any ? await (await import("../shop/problems.js")).problemsBanner() : nothing;
    draw();
  };
  const load = async () => {
    try {
      refused = await Promise.all((await outbox()).filter((one) => one.refused).map(({ id }) => entry(id)));
      units = await standings((found, all) => {
        units = found;
        left = all - found.length;
        draw();
      });
      left = 0;
    } catch (error) {
      failed = String(/** @type {Error} */ (error).message);
    }
    draw();
    lookForProblems();
  };
  const stop = [onChange(load), watch((report) => ((delivery = report), draw()))];
  load();
  return () => stop.forEach((one) => one());
}
