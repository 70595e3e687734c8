// @ts-check
// What a unit's builds in the log have shown of torque over thickness, and whether a plan goes by them.

import { curvesDrawing } from "../../draw/curves.js";
import { calc } from "../../engine/door.js";
import { othersOfPattern } from "../../log/pattern.js";
import { entriesOf } from "../../log/store.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { choiceField } from "../form/fields.js";
import { worked } from "../form/worked.js";

/** @typedef {import("../../engine/door.js").ResultOf<"experience">} Experience */
/** @typedef {NonNullable<Experience["shown"]>} Shown */
/** @typedef {import("../form/fields.js").Reading} Reading */
/** What a plan goes by; blank for the spring where it is known. @typedef {"" | "spring" | "builds"} By */

/**
 * What the log shows of a unit's builds, and of those of its pattern.
 * @param {string} id of the unit
 * @param {import("../../log/pattern.js").Definition} unit its definition as it was typed
 * @param {Reading} read
 * @returns {Promise<Experience>}
 */
export async function experienceOf(id, unit, read) {
  return calc("experience", {
    entries: await entriesOf(id),
    others: await othersOfPattern(id, unit),
    write_in: read.torqueUnit,
    write_lengths_in: read.lengthUnit,
  });
}

/**
 * Points of every build, the line through them and its band.
 * @param {Shown} shown
 * @param {Pick<Reading, "torqueIn" | "torqueLabel" | "length">} read
 */
export function buildsDrawing(shown, read) {
  const dots = [...shown.own, ...shown.others].map(({ above_mm, torque_nm }) => ({
    x: above_mm,
    y: read.torqueIn(torque_nm),
  }));
  const points = shown.curve.map(({ above_mm, torque_nm, low_nm, high_nm }) => ({
    x: above_mm,
    y: read.torqueIn(torque_nm),
    low: read.torqueIn(low_nm),
    high: read.torqueIn(high_nm),
  }));
  return curvesDrawing({
    series: [{ name: "", points }],
    dots,
    base: read.torqueIn(shown.base_nm),
    xName: `mm more than the thinnest, ${read.length(shown.low_mm)}`,
    yName: read.torqueLabel,
    words: `Breakaway torque of each build against the thickness of its stack. ${shown.tenth_text}`,
  });
}

/**
 * Builds so far, and the keys that choose what the plan goes by.
 * @param {object} of
 * @param {Experience} of.known
 * @param {Reading} of.read
 * @param {boolean} of.hasSpring whether the plan could go by the spring
 * @param {By} of.by
 * @param {(by: By) => void} of.choose
 */
export function buildsSection({ known: { builds, shown, why }, read, hasSpring, by, choose }) {
  if (!builds.length && hasSpring) return nothing;
  const choice = () =>
    choiceField({
      name: "by",
      label: "Plan by",
      value: by || "spring",
      options: [
        ["spring", "The spring"],
        ["builds", "Builds so far"],
      ],
      choose: (value) => choose(/** @type {By} */ (value)),
    });
  return html`<section class="card">
    <h2>Builds so far</h2>
    ${
      shown
        ? html`<p>${shown.tenth_text}</p>
            ${buildsDrawing(shown, read)}
            <p class="quiet">Shaded: where the next build will come out, 95 %.</p>
            ${hasSpring ? choice() : nothing}`
        : html`<p>${why}</p>`
    }
    ${
      builds.length
        ? html`<details>
            <summary>Which builds count</summary>
            <div class="inside">
              <ul class="steps">
                ${builds.map(({ text }) => html`<li>${text}</li>`)}
              </ul>
            </div>
          </details>`
        : nothing
    }
    ${worked("experience")}
  </section>`;
}
