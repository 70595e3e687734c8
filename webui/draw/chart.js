// @ts-check
// A chart's place on a page. What draws it is fetched once the place is in sight, since a chart mostly stands
// below what is read first, and its library takes longer to start than all that stands above it.

import { ref } from "../vendor/lit-html/directives/ref.js";
import { html } from "../vendor/lit-html/lit-html.js";

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

/** @param {import("./trend.js").Given} shown */
export const chart = (shown) => html`<trend-chart ${ref(watch)} .shown=${shown}></trend-chart>`;
