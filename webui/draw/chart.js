// @ts-check
// A chart's place on a page. What draws it is fetched once the place is in sight, since a chart mostly stands
// below what is read first, and its library takes longer to start than all that stands above it.

import { ref } from "../vendor/lit-html/directives/ref.js";
import { html } from "../vendor/lit-html/lit-html.js";

/** @typedef {import("./trend.js").Given} Given */

let asked = false;

const near = new IntersectionObserver((places) => {
  if (asked || !places.some((place) => place.isIntersecting)) return;
  asked = true;
  import("./trend.js")
    .then(({ define }) => define())
    .then(() => near.disconnect())
    .catch((failure) => {
      // The page stands without its chart, and the next look asks again.
      asked = false;
      console.error(failure);
    });
});

/** Once the element is known to the page, it draws itself. @param {Element | undefined} place */
function watch(place) {
  if (place && !customElements.get("trend-chart")) near.observe(place);
}

/** What it shows, for those who do not see it, whether or not it is drawn yet. @param {Given} shown */
function inWords({ name, points, byDate, low, high, say, words }) {
  const limits = [low === null ? "" : `from ${say(low)}`, high === null ? "" : `to ${say(high)}`].join(" ").trim();
  const checks = points.length === 1 ? "1 check" : `${points.length} checks`;
  const over = byDate ? "over time" : "over outings since the rebuild";
  const last = say(points[points.length - 1].value);
  const hollow = points.filter((point) => point.hollow).length;
  const fresh = hollow ? `, ${hollow} of them fresh from a rebuild` : "";
  const found = `${name} ${over}, ${checks}${fresh}, the last ${last}`;
  return `${found}; allowed ${limits || "anything"}. ${words}`.trim();
}

/** @param {Given} shown */
export const chart = (shown) =>
  html`<trend-chart role="img" aria-label=${inWords(shown)} ${ref(watch)} .shown=${shown}></trend-chart>`;
