// @ts-check
// What changed: where the preload went, how the last checks compare, and when the limit will be met.

import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { calc } from "../../engine/door.js";
import { standing } from "../../log/stands.js";
import { entriesOf } from "../../log/store.js";
import { curvesDrawing } from "../../draw/curves.js";
import { heightBetween } from "./as-it-stands.js";
import { outlook } from "./outlook.js";
import { worked } from "../form/worked.js";
import { backTo, choiceField, errorLine, reading, typedOf, whenDay } from "../form/fields.js";

/** @typedef {import("../../log/store.js").Entry} Entry */

/**
 * Until when what is measured belongs to a check: a unit is opened after its torque was read, and nothing wears before it
 * is closed and read again, or rebuilt.
 * @param {Entry[]} entries by time @param {Entry} check
 */
function belongsUntil(entries, check) {
  const next = entries.find(
    (entry) => Date.parse(entry.at) > Date.parse(check.at) && ["torque_check", "rebuild"].includes(entry.kind),
  );
  return next ? Date.parse(next.at) - 1 : Infinity;
}

/** The plates as they were last measured by a moment, mean thickness. @param {Entry[]} entries by time @param {number} until */
function platesAt(entries, until) {
  /** @type {Record<string, any>} */
  const rows = {};
  for (const entry of entries) {
    if (Date.parse(entry.at) > until) continue;
    if (entry.kind === "plate_check")
      for (const row of entry.shown.plates) rows[row.slot] = { slot: row.slot, mm: row.mean_mm };
    if (entry.kind === "rebuild")
      for (const part of entry.shown.fitted) rows[part.slot] = { slot: part.slot, mm: part.mm };
  }
  return Object.values(rows);
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

/** @type {import("../../app.js").Show} */
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
  /** What was not measured between the two checks. */
  /** @type {string[]} */ let unmeasured = [];

  const work = async () => {
    fault = "";
    unmeasured = [];
    loss = compared = undefined;
    const [one, two] = [before, now].map((wanted) => checks.find((entry) => entry.id === wanted));
    if (!one || !two || one === two) return;
    const [first, last] = [one, two].map((check) => belongsUntil(entries, check));
    const measured = (/** @type {string} */ kind) =>
      entries.some((entry) => entry.kind === kind && Date.parse(entry.at) > first && Date.parse(entry.at) <= last);
    unmeasured = [...(measured("plate_check") ? [] : ["plates"]), ...(measured("spring_check") ? [] : ["spring"])];
    const side = (/** @type {Entry} */ entry, /** @type {number} */ until) => {
      const height = heightBetween(entries, -Infinity, until);
      return {
        torque_nm: entry.shown.value_nm,
        u_nm: entry.shown.u_nm,
        plates: platesAt(entries, until),
        ...(height ? { l0_mm: height } : {}),
      };
    };
    try {
      loss = await calc("loss", {
        unit,
        before: side(one, first),
        now: side(two, last),
        write_lengths_in: read.lengthUnit,
      });
      compared = await calc("compare", {
        before: circumstances(one),
        now: circumstances(two),
        write_in: read.torqueUnit,
      });
    } catch (error) {
      fault = /** @type {any} */ (error).reason ?? String(error);
    }
  };

  const predict = async () => {
    ({ life, why } = await outlook(found, all));
  };

  const options = checks.map(
    (entry) =>
      /** @type {[string, string]} */ ([entry.id, `${whenDay(entry.at)}: ${read.torque(entry.shown.value_nm)}`]),
  );
  /** @param {any} share */
  const bar = (share) =>
    html`<div class="finding">
      <p><b>${share.cause}</b>: ${share.percent.toFixed(1)} %${share.certain ? "" : ", within the doubt"}</p>
      <meter
        min="0"
        max="100"
        value=${Math.min(100, Math.abs(share.percent))}
        aria-label=${`${share.cause}, ${share.percent.toFixed(1)} percent`}
      ></meter>
      ${Math.abs(share.percent) >= 0.05 ? html`<p class="quiet">${share.text}</p>` : nothing}
    </div>`;

  const shared = () => {
    if (unmeasured.length === 2 && loss.certain)
      return html`<p aria-live="polite">
          <b
            >The torque ${loss.change_percent < 0 ? "lost" : "gained"} ${Math.abs(loss.change_percent).toFixed(0)} %.</b
          >
        </p>
        <p class="finding doubt">
          Neither the plates nor the spring were measured between these two, so nobody can tell wear from friction.
          <a href="#/unit/${id}/strip">Strip it</a>, measure both, and look here again.
        </p>`;
    const [theirs, them] =
      unmeasured[0] === "plates"
        ? ["The plates were not measured between these two: what they", "them"]
        : ["The spring was not measured between these two: what it", "it"];
    return html`<p aria-live="polite"><b>${loss.text}</b></p>
      ${unmeasured.length === 1 ? html`<p class="finding doubt">${theirs} lost shows as friction. Measure ${them} before you act on it.</p>` : nothing}
      ${loss.certain ? loss.shares.map(bar) : nothing}${loss.warnings.map((/** @type {any} */ one) => html`<p class="finding doubt">${one.text}</p>`)}
      ${loss.certain ? html`<p class="quiet">Shares by Shapley on the logarithm: they add up whatever the order. Plates and spring as they were last measured.</p>` : nothing}${worked("loss")}`;
  };

  const draw = () =>
    render(
      html`<div class="full">
          ${backTo(`#/unit/${id}`, found.unit.name)}
          <h1>What changed</h1>
        </div>
        <section class="card">
          <h2>Where the preload went</h2>
          ${
            checks.length < 2
              ? html`<p>It takes two torque checks to compare.</p>`
              : html`<div class="fields">
                  ${choiceField({
                    name: "before",
                    label: "The last good check",
                    value: before,
                    options,
                    choose: async (value) => {
                      before = value;
                      await work();
                      draw();
                    },
                  })}
                  ${choiceField({
                    name: "now",
                    label: "And now",
                    value: now,
                    options,
                    choose: async (value) => {
                      now = value;
                      await work();
                      draw();
                    },
                  })}
                </div>`
          }
          ${errorLine(fault)} ${loss ? shared() : nothing}
          ${
            compared
              ? html`<p>${compared.text}</p>
                  ${compared.marks.map((/** @type {any} */ mark) => html`<p class="finding">${mark.text}</p>`)}`
              : nothing
          }
        </section>
        <section class="card">
          <h2>When to open it next</h2>
          ${worked("trend")}
          ${
            !life
              ? html`<p>${why}</p>`
              : html`<p>${life.text}</p>
                  ${
                    life.curve?.length
                      ? curvesDrawing({
                          series: [
                            {
                              name: "",
                              points: life.curve.map((/** @type {any} */ point) => ({
                                x: point.use,
                                y: read.torqueIn(point.value),
                              })),
                            },
                            {
                              name: "",
                              dashed: true,
                              points: life.curve.map((/** @type {any} */ point) => ({
                                x: point.use,
                                y: read.torqueIn(Math.max(0, point.low)),
                              })),
                            },
                            {
                              name: "",
                              dashed: true,
                              points: life.curve.map((/** @type {any} */ point) => ({
                                x: point.use,
                                y: read.torqueIn(point.high),
                              })),
                            },
                          ],
                          marks: [
                            { y: read.torqueIn(unit.service.low_nm), name: "limit" },
                            ...(life.due_use ? [{ x: life.due_use, name: "earliest" }] : []),
                          ],
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
