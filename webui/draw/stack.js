// @ts-check
// The stack to scale: every part at its thickness, in its order from cover to floor, and the crush made visible.

import { html, nothing, svg } from "../vendor/lit-html/lit-html.js";

/**
 * Where the case begins, where its figures do, how wide the drawing is and how long a name: alone on a phone, or
 * two side by side.
 */
const WHOLE = { left: 62, right: 212, width: 340, most: 14 };
const HALF = { left: 52, right: 108, width: 198, most: 6 };
const LETTER = 8;
const HATCH = 9;
/** What is not good shows beside its figure as well. @type {Record<string, string>} */
const SHAPES = { replace: " ✕", measure_again: " ?" };
const NAMES = {
  friction: "friction plate",
  separator: "separator plate",
  ring: "ramp ring",
  spring: "disc spring",
  shim: "shim",
};

// Plates are thin: below this many pixels a part could not be told from its neighbours, nor tapped.
const LEAST = { friction: 13, separator: 13, shim: 9, ring: 30, spring: 24 };
// The drawing is 340 wide and shown as narrow as 262: a key stays 48 high there.
const TAPPED_LEAST = 63;
// The same where a mouse or the arrows choose.
const POINTED_LEAST = 26;

/**
 * Lines across a part that is worn, so that it shows without any colour.
 * @param {number} x @param {number} y @param {number} width @param {number} height
 */
function hatching(x, y, width, height) {
  const lines = Math.floor((width + height) / HATCH);
  const path = Array.from({ length: lines }, (_, line) => {
    // Each rises by one for one, from the foot of the part or its left side to its head or its right side.
    const start = (line + 1) * HATCH - height;
    const [left, right] = [Math.max(0, start), Math.min(width, start + height)];
    return `M${x + left} ${y + height - (left - start)}L${x + right} ${y + height - (right - start)}`;
  });
  return svg`<path class="hatch" d=${path.join("")}/>`;
}

/**
 * @typedef {object} Part
 * @property {string} slot
 * @property {"friction" | "separator" | "ring" | "spring" | "shim"} part
 * @property {number | null} thickness mm; none for a spring
 * @property {string | null} [coneTo] side that a spring's point faces; drawn towards the floor if not known
 * @property {string} [verdict]
 * @property {string} [told] a figure to write beside it
 */

/**
 * @param {object} shown
 * @param {Part[]} shown.parts from cover to floor
 * @param {number | null} shown.springHeight free height of the spring at one place, mm; none where it is not known
 * @param {number | null} shown.crush mm
 * @param {(mm: number) => string} shown.say
 * @param {(slot: string) => void} [shown.choose] makes plates keys
 * @param {string} [shown.chosen]
 * @param {boolean} [shown.finger] whether a key has to be as high as a finger is wide
 * @param {{name: string}[]} [shown.workedOut] figures that nobody measured: drawn broken, and told
 * @param {boolean} [shown.half] two stand side by side: only the figures that are told are written
 */
export function stackDrawing(shown) {
  const { parts, springHeight, crush, say, choose, chosen, workedOut = [], half = false, finger = true } = shown;
  const isWorkedOut = (/** @type {string} */ name) => workedOut.some((figure) => figure.name === name);
  const { left, right: RIGHT, width, most } = half ? HALF : WHOLE;
  // Of a long name the end tells it from its neighbours.
  const short = (/** @type {string} */ slot) => (slot.length > most ? `…${slot.slice(1 - most)}` : slot);
  const LEFT = Math.max(left, 21 + LETTER * Math.max(...parts.map((item) => short(item.slot).length)));
  const WIDE = RIGHT - LEFT;
  const heightOf = (/** @type {Part} */ item) => item.thickness ?? springHeight ?? 0;
  const total = parts.reduce((sum, item) => sum + heightOf(item), 0);
  const tapped = (/** @type {Part} */ item) => Boolean(choose) && item.part !== "ring" && item.part !== "spring";
  // One scale for all parts of a kind, so that a thicker plate is drawn thicker.
  const scale = 260 / Math.max(total, 1);
  let y = 34;
  const rows = parts.map((item) => {
    const least = tapped(item) ? (finger ? TAPPED_LEAST : POINTED_LEAST) : LEAST[item.part];
    const height = Math.max(least, heightOf(item) * scale * (tapped(item) && finger ? 3 : 1));
    const row = { item, y, height };
    y += height;
    return row;
  });
  const bottom = y;
  const onDepth = isWorkedOut("cavity_mm") ? " Its depth is worked out, not measured." : "";
  const partNames = parts.map((item) => `${item.slot} ${NAMES[item.part]}`).join(", ");
  const words = `Stack from cover to floor: ${partNames}.${onDepth}`;

  /** @param {{item: Part, y: number, height: number}} row */
  const drawn = ({ item, y: top, height }) => {
    const middle = top + height / 2;
    const [rim, point] = item.coneTo === "cover" ? [top + height - 5, top + 5] : [top + 5, top + height - 5];
    const narrow = item.part === "friction" ? WIDE / 12 : 0;
    const body =
      item.part === "spring"
        ? svg`<path class="spring" d="M${LEFT + 8} ${rim} L${LEFT + 0.38 * WIDE} ${point}
            M${LEFT + WIDE - 8} ${rim} L${LEFT + 0.62 * WIDE} ${point}"/>`
        : svg`<rect class="plate ${item.part}" x=${LEFT + narrow} y=${top + 0.5} rx="1.5"
            width=${WIDE - 2 * narrow} height=${height - 1}/>`;
    const left = svg`<text aria-hidden="true" class="tag" x=${LEFT - 21} y=${middle + 4} text-anchor="end"
      >${short(item.slot)}</text>`;
    const ofSpring = item.part === "spring" && isWorkedOut("l0_mm") && !half ? "height worked out" : "";
    const figure = item.told ?? (half || item.thickness === null ? ofSpring : say(item.thickness));
    const shape = SHAPES[item.verdict ?? ""] ?? "";
    const right = svg`<text aria-hidden="true" x=${RIGHT + 22} y=${middle + 4}>${figure}${shape}</text>`;
    const mark = item.verdict ? `${item.verdict} judged` : "";
    const worn = item.verdict === "replace" && item.part !== "spring";
    const hatch = worn ? hatching(LEFT + narrow, top + 1.5, WIDE - 2 * narrow, height - 3) : nothing;
    if (!tapped(item)) return svg`<g class=${mark}>${body}${hatch}${left}${right}</g>`;
    const key = (/** @type {KeyboardEvent} */ event) => {
      if (event.key === "Enter" || event.key === " ") {
        event.preventDefault();
        choose?.(item.slot);
      }
    };
    const verdict = item.verdict?.replace("_", " ") ?? "not measured";
    const label = `${item.slot}${figure ? ` ${figure}` : ""}, ${NAMES[item.part]}, ${verdict}`;
    return svg`<g role="button" tabindex="0" aria-label=${label} aria-pressed=${item.slot === chosen ? "true" : "false"}
      class="${mark} ${item.slot === chosen ? "chosen" : ""}" @click=${() => choose?.(item.slot)} @keydown=${key}>
      <rect x="0" y=${top} width=${width} height=${height} fill="transparent"/>${body}${hatch}${left} ${right}
      ${item.slot === chosen ? svg`<path class="pointer" d="M${width - 16} ${middle}l14 -8v16z"/>` : nothing}</g>`;
  };

  // A tenth of a millimetre is drawn as four pixels, or nobody would see it.
  const over = crush === null ? 0 : Math.min(24, Math.max(-24, crush * 14));
  return html`<svg
    class="drawing stack"
    viewBox="0 0 ${width} ${bottom + 30}"
    role=${choose ? "group" : "img"}
    aria-label=${words}
  >
    ${
      crush === null || over <= 0
        ? nothing
        : svg`<rect class="crush" x=${LEFT - 14} y=${34 - over} width=${WIDE + 28} height=${over}/>
          <text x=${RIGHT + 22} y=${34 - over / 2 + 4}>${half ? "" : "crush "}${say(crush)}</text>`
    }
    ${isWorkedOut("cavity_mm") && !half ? svg`<text x=${RIGHT + 22} y=${bottom + 24}>depth worked out</text>` : nothing}
    <path
      class="case ${isWorkedOut("cavity_mm") ? "worked" : ""}"
      d="M${LEFT - 14} 34 V${bottom + 3} H${RIGHT + 14} V34"
    />
    ${rows.map(drawn)}
    <text x="0" y="14">cover</text>
    <text x="0" y=${bottom + 24}>floor</text>
  </svg>`;
}
