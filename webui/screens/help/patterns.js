// @ts-check
// Patterns: what a new unit takes from one, and what a pattern that changed offers.

import { journeyDrawing } from "../../draw/journey.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { UNIT } from "./example.js";
import { formula, inline } from "./formula.js";
import { word } from "./words.js";

const WORKING = html`<p>
    A ${word("pattern")} holds what units of it have alike: places and thicknesses, spring, ramps, screws, torque and
    limits. Name, owner, serial marks and measurements are a unit's own. A new unit of a pattern takes a name and an
    owner.
  </p>
  <p>
    A pattern that changes changes no unit. Each unit remembers which state of the pattern it was last decided by, and
    is offered a figure where both of these hold:
  </p>
  ${formula("p ≠ p_0")} ${formula("p ≠ x")}
  <p>
    You take it or keep your own. What you keep is not asked again, until the pattern changes that figure again. A
    figure that the pattern no longer knows is not offered, so nothing that a unit knows is lost.
  </p>
  <p>
    Sizes are compared in one unit: 0.1 inch and 2.54 mm are the same. A section that the unit lacks is offered as a
    whole, and so is a stack with other places.
  </p>
  <p>
    Units of a pattern teach each other: torque for each ${inline("0.1")} mm and wear of one help a plan of the next,
    with a wider doubt.
  </p>`;

/** @type {import("./topics.js").Page["symbols"]} */
const SYMBOLS = [
  ["p", "figure that the pattern has now", "any"],
  ["p_0", "figure that it had when the unit was last decided on", "any"],
  ["x", "figure that the unit has", "any"],
];

const LIMITS = [
  "Take a limit or a torque only where this unit is built so: a pattern knows nothing of what was changed in it.",
  "Taking a thickness changes what the unit should have, and no plate in it. Measure what is there.",
  "A unit whose last decision has not arrived on this phone is offered nothing, until it has.",
  "Slipbook brings no pattern of any maker, and a pattern is as good as the unit that it was made of.",
];

const SOURCES = ["Plain bookkeeping: common practice, no source."];

export const purpose = html`A build that the workshop sees again and again is entered once. New units of it need a
  name and an owner, and a pattern that changes offers each unit the change: it forces none.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc, read }) {
  const { name: _name, ...seen } = UNIT;
  const wanted = {
    ...seen,
    service: { low_nm: 75, high_nm: 130 },
    chain: seen.chain.map((item) => (item.part === "friction" ? { ...item, minimum_mm: 2.35 } : item)),
    cover: { ...seen.cover, torque_nm: 28 },
  };
  // This unit has got the new torque of its screws before.
  const own = { ...UNIT, cover: { ...UNIT.cover, torque_nm: 28 } };
  const written = { write_in: read.torqueUnit, write_lengths_in: read.lengthUnit };
  const offer = await calc("pattern_offer", { own, seen, wanted, ...written });
  const [first] = offer.offers;
  const kept = await calc("pattern_offer", { own, seen: wanted, wanted, ...written });
  return {
    figures: html`<figure>
      ${journeyDrawing([
        { name: "The pattern changes", about: "one figure or several" },
        { name: "Each unit is offered it", about: "where the unit has something else" },
        { name: "Take or keep", about: "figure by figure, on the unit's page" },
        { name: "Decided", about: "asked again only if it changes again" },
      ])}
      <figcaption>Nothing is taken over by itself.</figcaption>
    </figure>`,
    working: WORKING,
    symbols: SYMBOLS,
    example: html`<p>
        A pattern gets another lowest torque, other limits of its friction plates and another torque of its cover's
        screws. A unit of it that has that screw torque already is offered: ${offer.text}.
      </p>
      <ul class="steps">
        ${offer.offers.map(({ label, now, offered }) => html`<li>${label}: ${now}, offered ${offered}</li>`)}
      </ul>
      <p>
        It keeps ${first.now} and the rest as well. The same pattern then offers
        ${kept.offers.length ? kept.text : "nothing"}.
      </p>`,
    limits: LIMITS,
    sources: SOURCES,
    words: ["pattern", "offer", "unit", "order", "service limits"],
  };
}
