// @ts-check
// The plate that is measured now: where it lies in its stack, and round it the points that are typed.

import { html, svg } from "../vendor/lit-html/lit-html.js";

const TALL = 72;

/**
 * @param {object} shown
 * @param {{slot: string, part: string, verdict?: string}[]} shown.parts of the stack, from cover to floor
 * @param {string} shown.chosen
 * @param {boolean[]} shown.points whether each is typed, from twelve o'clock on
 * @param {boolean} shown.same whether one figure stands for all round
 * @param {string} shown.words what the drawing says
 */
export function plateNow({ parts, chosen, points, same, words }) {
  const step = TALL / parts.length;
  const part = parts.find(({ slot }) => slot === chosen)?.part ?? "friction";
  const worn = parts.find(({ slot }) => slot === chosen)?.verdict === "replace";
  const next = points.indexOf(false);
  const lies = parts.map(({ slot, part: kind, verdict }, place) => {
    const here = slot === chosen;
    const hatched = verdict === "replace" ? "worn" : "";
    return svg`<path class="lies ${kind} ${hatched} ${here ? "here" : ""}" stroke-width=${here ? step : step * 0.6}
      d="M${here ? 2 : 10} ${(place + 0.5) * step}H${here ? 46 : 38}"/>`;
  });
  const marks = points.map((typed, place) => {
    const turn = (2 * Math.PI * place) / points.length;
    const [x, y] = [94 + 24 * Math.sin(turn), TALL / 2 - 24 * Math.cos(turn)];
    return svg`<circle class="point ${typed ? "typed" : ""} ${place === next ? "next" : ""}" cx=${x} cy=${y}
      r=${place === next ? 7 : 5}/>`;
  });
  return html`<svg
    class="drawing plate-now"
    viewBox="0 0 130 ${TALL}"
    role="img"
    aria-label=${words}
  >
    ${lies}
    <circle class="face ${part}" cx="94" cy=${TALL / 2} r="24" />
    ${worn ? svg`<circle class="face hatch" cx="94" cy=${TALL / 2} r="24" />` : ""}
    ${same ? svg`<circle class="all-round" cx="94" cy=${TALL / 2} r="24"/>` : marks}
  </svg>`;
}
