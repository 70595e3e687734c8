// @ts-check
// What changed: where the preload went, how the last checks compare, and when the limit will be met.

import { html, nothing, render } from "../vendor/lit-html/lit-html.js";
import { calc } from "../engine/door.js";
import { standing } from "../log/stands.js";
import { entriesOf } from "../log/store.js";
import { curvesDrawing } from "../draw/curves.js";
import { outlook } from "./outlook.js";
import { worked } from "./worked.js";
import { backTo, choiceField, errorLine, reading, typedOf, whenDay } from "./parts.js";

/** @typedef {import("../log/store.js").Entry} Entry */

/** The plates as they were last measured before a moment, mean thickness. @param {Entry[]} entries @param {string} at */
function platesAt(entries, at) {
  /** @type {Record<string, any>} */
  const rows = {};
  for (const entry of entries) {
    if (Date.parse(entry.at) > Date.parse(at)) continue;
    if (entry.kind === "plate_check") for (const row of entry.shown.plates) rows[row.slot] = { slot: row.slot, mm: row.mean_mm };
    if (entry.kind === "rebuild") for (const part of entry.shown.fitted) rows[part.slot] = { slot: part.slot, mm: part.mm };
  }
  return Object.values(rows);
}

/** The free height that was last measured before a moment. @param {Entry[]} entries @param {string} at */
function heightAt(entries, at) {
  const found = entries.filter((entry) => entry.kind === "spring_check" && Date.parse(entry.at) <= Date.parse(at));
  return found[found.length - 1]?.shown.springs[0]?.mean_mm;
}

/** What belongs to a reading. @param {Entry} entry */
function circumstances(entry) {
  const { oil, temperature, outings } = entry.body.circumstances ?? {};
  return {
    value_nm: entry.shown.value_nm,
    u_nm: entry.shown.u_nm,
    ...(oil ? { oil } : {}),
    ...(temperature ? { temperature } : {}),
    ...(typedOf(outings) ? { outings } : {}),
  };
}

/** @type {import("../app.js").Show} */
export async function show(place, [id]) {
  const [read, found, all] = await Promise.all([reading(), standing(id), entriesOf(id)]);
  const unit = found.derived.checked;
  const entries = all.filter((entry) => !found.replaced[entry.id]).sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
  const checks = entries.filter((entry) => entry.kind === "torque_check");
  const rebuilt = found.rebuilt ? Date.parse(found.rebuilt.at) : -Infinity;
  let before = (checks.find((entry) => Date.parse(entry.at) >= rebuilt) ?? checks[0])?.id;
  let now = checks[checks.length - 1]?.id;
  /** @type {any} */ let loss;
  /** @type {any} */ let compared;
  /** @type {any} */ let life;
  let why = "";
  let fault = "";

  const work = async () => {
    fault = "";
    loss = compared = undefined;
    const [one, two] = [before, now].map((wanted) => checks.find((entry) => entry.id === wanted));
    if (!one || !two || one === two) return;
    const side = (/** @type {Entry} */ entry) => {
      const height = heightAt(entries, entry.at);
      return { torque_nm: entry.shown.value_nm, u_nm: entry.shown.u_nm, plates: platesAt(entries, entry.at), ...(height ? { l0_mm: height } : {}) };
    };
    try {
      loss = await calc("loss", { unit, before: side(one), now: side(two), write_lengths_in: read.lengthUnit });
      compared = await calc("compare", { before: circumstances(one), now: circumstances(two), write_in: read.torqueUnit });
    } catch (error) {
      fault = /** @type {any} */ (error).reason ?? String(error);
    }
  };

  const predict = async () => {
    ({ life, why } = await outlook(found, all));
  };

  const options = checks.map((entry) => /** @type {[string, string]} */ ([entry.id, `${whenDay(entry.at)}: ${read.torque(entry.shown.value_nm)}`]));
  /** @param {any} share */
  const bar = (share) => html`<div class="finding"><p><b>${share.cause}</b>: ${share.percent.toFixed(1)} %${share.certain ? "" : ", within the doubt"}</p>
    <meter min="0" max="100" value=${Math.min(100, Math.abs(share.percent))} aria-label=${`${share.cause}, ${share.percent.toFixed(1)} percent`}></meter>
    ${Math.abs(share.percent) >= 0.05 ? html`<p class="quiet">${share.text}</p>` : nothing}</div>`;

  const draw = () =>
    render(
      html`<div class="full">${backTo(`#/unit/${id}`, found.unit.name)}<h1>What changed</h1></div>
        <section class="card"><h2>Where the preload went</h2>
          ${
            checks.length < 2
              ? html`<p>It takes two torque checks to compare.</p>`
              : html`<div class="fields">
                  ${choiceField({ name: "before", label: "The last good check", value: before, options, choose: async (value) => {
                    before = value;
                    await work();
                    draw();
                  } })}
                  ${choiceField({ name: "now", label: "And now", value: now, options, choose: async (value) => {
                    now = value;
                    await work();
                    draw();
                  } })}</div>`
          }
          ${errorLine(fault)}
          ${loss ? html`<p aria-live="polite"><b>${loss.text}</b></p>${loss.shares.map(bar)}${loss.warnings.map((/** @type {any} */ one) => html`<p class="finding doubt">${one.text}</p>`)}
            <p class="quiet">Shares by Shapley on the logarithm: they add up whatever the order. Plates and spring as they were measured by then; what was never
              measured counts as unchanged, and its part shows as friction.</p>${worked("loss")}` : nothing}
          ${compared ? html`<p>${compared.text}</p>${compared.marks.map((/** @type {any} */ mark) => html`<p class="finding">${mark.text}</p>`)}` : nothing}
        </section>
        <section class="card"><h2>When to open it next</h2>${worked("trend")}
          ${
            !life
              ? html`<p>${why}</p>`
              : html`<p>${life.text}</p>${
                  life.curve?.length
                    ? curvesDrawing({
                        series: [
                          { name: "", points: life.curve.map((/** @type {any} */ point) => ({ x: point.use, y: read.torqueIn(point.value) })) },
                          { name: "", dashed: true, points: life.curve.map((/** @type {any} */ point) => ({ x: point.use, y: read.torqueIn(Math.max(0, point.low)) })) },
                          { name: "", dashed: true, points: life.curve.map((/** @type {any} */ point) => ({ x: point.use, y: read.torqueIn(point.high) })) },
                        ],
                        marks: [{ y: read.torqueIn(unit.service.low_nm), name: "limit" }, ...(life.due_use ? [{ x: life.due_use, name: "earliest" }] : [])],
                        xName: "outings since the rebuild",
                        yName: read.torqueLabel,
                        words: life.text,
                      })
                    : nothing
                }${(life.warnings ?? []).map((/** @type {any} */ one) => html`<p class="finding doubt">${one.text}</p>`)}`
          }
        </section>`,
      place,
    );
  place.classList.add("wide");
  draw();
  await Promise.all([work(), predict()]);
  draw();
}
