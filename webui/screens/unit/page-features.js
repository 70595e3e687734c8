// @ts-check
// Other parts on a unit's page: what stands of each feature, and how it went since its part was replaced.

import { chart } from "../../draw/chart.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { inUnit, verdictMark, whenDay } from "../form/fields.js";

/** @typedef {import("./page.js").UnitPage} UnitPage */
/** @typedef {UnitPage["found"]["features"][number]} Feature */
/** @typedef {UnitPage["read"]} Read */

/**
 * The value that its limits are about: the lowest where only that is limited, else the highest.
 * @param {{lowest_mm: number | null, highest_mm: number | null}} values @param {Feature} feature
 */
const judgedValue = ({ lowest_mm, highest_mm }, { low_mm, high_mm }) =>
  low_mm !== null && high_mm === null ? lowest_mm : highest_mm;

/** How a feature went, by date, for its chart. @param {Feature} feature @param {Read} read */
function chartOf(feature, read) {
  const { low_mm, high_mm } = feature;
  const written = (/** @type {number} */ mm) => inUnit(read.units, "mm", read.lengthUnit, mm);
  const limit = (/** @type {number | null} */ mm) => (mm === null ? null : written(mm));
  const { label, places } =
    read.units.mm.find(({ unit }) => unit === read.lengthUnit) ?? /** @type {{label: string, places: number}} */ ({});
  const points = feature.trend.flatMap((point) => {
    const value = judgedValue(point, feature);
    return value === null
      ? []
      : [{ x: point.at, value: written(value), guard: written(point.guard_mm ?? 0), hollow: false, joined: true }];
  });
  return {
    points,
    name: feature.name,
    byDate: true,
    low: limit(low_mm),
    high: limit(high_mm),
    label,
    say: (/** @type {number} */ value) => `${value.toFixed(places)} ${label}`,
    words: feature.reason,
  };
}

/** @param {Feature} feature @param {Read} read */
function trend(feature, read) {
  // One look is no trend.
  const [, second] = feature.trend;
  if (!second || judgedValue(second, feature) === null) return nothing;
  return html`<details>
    <summary>How it went: ${feature.name}</summary>
    <div class="inside">${chart(chartOf(feature, read))}</div>
  </details>`;
}

/** @param {UnitPage} page */
const featureRow =
  ({ id, read }) =>
  (/** @type {Feature} */ feature) => {
    const { at, id: entry, name, verdict, reason } = feature;
    const when = at ? html` <a href="#/unit/${id}/entry/${entry}">${whenDay(at)}</a>` : nothing;
    return html`<li>
      <div class="row apart">
        <b>${name}</b>
        ${at ? verdictMark(verdict) : nothing}
      </div>
      <p class="quiet">${reason.startsWith(`${name}: `) ? reason.replace(`${name}: `, "") : reason}${when}</p>
      ${trend(feature, read)}
    </li>`;
  };

/** What stands of other parts; nothing for a unit that lists none. @param {UnitPage} page */
export function otherPartsNow(page) {
  const { features } = page.found;
  if (!features.length) return nothing;
  return html`<section class="card" aria-labelledby="other-parts">
    <h2 id="other-parts">Other parts</h2>
    <ul class="list">
      ${features.map(featureRow(page))}
    </ul>
    <a class="button" href="#/unit/${page.id}/inspect">Inspect other parts</a>
  </section>`;
}
