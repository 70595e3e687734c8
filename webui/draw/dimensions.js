// @ts-check
// Where the figures of a unit are measured: a line drawing of each of its sections, with the dimension that is being
// typed drawn strong.

import { html, svg } from "../vendor/lit-html/lit-html.js";

/** @typedef {ReturnType<typeof svg>} Shape */

/**
 * @typedef {object} Dimension
 * @property {string} words what it is
 * @property {string} letter
 * @property {[number, number, number, number] | string} line from end to end, or the path of an arc
 * @property {string} [helping] path of the lines that lead to its ends
 * @property {[number, number]} at where its letter stands
 */

/** @typedef {{words: string, height: number, shapes: Shape, dimensions: Record<string, Dimension>}} Sketch */

/**
 * @param {string} letter @param {string} words @param {Dimension["line"]} line @param {string} helping
 * @param {[number, number]} at
 * @returns {Dimension}
 */
const dimension = (letter, words, line, helping, at) => ({ letter, words, line, helping, at });

/** @type {Sketch} */
const SPRING = {
  words: "A disc spring cut open.",
  height: 196,
  shapes: svg`<path class="thin" d="M170 34V164" stroke-dasharray="10 4 2 4" />
    <path class="spring body" d="M60 112L130 76V94L60 130ZM280 112L210 76V94L280 130Z" />`,
  dimensions: {
    "spring.de_mm": dimension("De", "outside diameter", [60, 166, 280, 166], "M60 132V172M280 132V172", [184, 186]),
    "spring.di_mm": dimension("Di", "inside diameter", [130, 46, 210, 46], "M130 74V40M210 74V40", [184, 36]),
    "spring.t_mm": dimension("t", "thickness of the disc", [42, 112, 42, 130], "M58 112H36M58 130H36", [20, 126]),
    "spring.l0_mm": dimension(
      "l0",
      "free height of one disc",
      [306, 76, 306, 130],
      "M212 76H312M282 130H312",
      [324, 108],
    ),
  },
};

/** @type {Sketch} */
const DEPTH = {
  words: "The case cut open, its cover lifted off.",
  height: 196,
  shapes: svg`<path class="ring plate" d="M64 62H84V164H256V62H276V184H64Z" />
    <path class="separator plate" d="M64 20H276V38H64Z" />
    <text x="94" y="33">cover</text><text x="94" y="179">floor</text>`,
  dimensions: {
    cavity_mm: dimension(
      "D",
      "depth from the cover's face to the floor",
      [170, 62, 170, 164],
      "M84 62H184",
      [186, 118],
    ),
  },
};

/** @type {Sketch} */
const GAP = {
  words: "The case cut open with the whole stack in it: the cover lies loose on the spring, above the rim.",
  height: 196,
  shapes: svg`<path class="ring plate" d="M64 62H84V164H256V62H276V184H64Z" />
    <path class="separator plate" d="M98 70H242V88H98ZM98 106H242V124H98ZM98 142H242V164H98Z" />
    <path class="friction plate" d="M108 88H232V106H108ZM108 124H232V142H108Z" />
    <path class="spring body" d="M100 66L146 44V50L100 72ZM240 66L194 44V50L240 72Z" />
    <path class="separator plate" d="M64 26H276V44H64Z" /><text x="64" y="18">cover</text>`,
  dimensions: {
    "gap.gap_mm": dimension("g", "gap under the loose cover", [300, 44, 300, 62], "M278 44H306M278 62H306", [312, 58]),
  },
};

/** @type {Sketch} */
const RUBBING = {
  words: "A friction plate from the front, with the ring on which it rubs.",
  height: 200,
  shapes: svg`<circle class="separator plate" cx="170" cy="92" r="80" />
    <path class="friction plate" fill-rule="evenodd" d="M170 22a70 70 0 1 0 .01 0zM170 44a48 48 0 1 1 -.01 0z" />
    <circle class="hole" cx="170" cy="92" r="38" />`,
  dimensions: {
    "friction.inner_mm": dimension("d", "inside diameter of the rubbing ring", [122, 92, 218, 92], "", [172, 84]),
    "friction.outer_mm": dimension(
      "D",
      "outside diameter of the rubbing ring",
      [100, 182, 240, 182],
      "M100 92V188M240 92V188",
      [258, 188],
    ),
  },
};

/** @type {Sketch} */
const PACK = {
  words: "Plates and a ramp ring of one pack, cut open.",
  height: 192,
  shapes: svg`<path class="separator plate" d="M60 16H230V42H60ZM60 72H230V92H60Z" />
    <path class="friction plate" d="M74 42H216V72H74ZM74 92H216V122H74Z" />
    <path class="ring plate" d="M60 122H230V182H160L145 160 130 182H60Z" />
    <text x="110" y="34">separator</text><text class="on-bronze" x="106" y="62">friction plate</text>
    <text x="70" y="146">ramp ring</text>`,
  dimensions: {
    separator: dimension(
      "s",
      "thickness of a separator plate",
      [256, 16, 256, 42],
      "M232 16H264M232 42H264",
      [280, 34],
    ),
    second: dimension(
      "s2",
      "thickness of the other separators",
      [256, 72, 256, 92],
      "M232 72H264M232 92H264",
      [282, 88],
    ),
    friction: dimension("f", "thickness of a friction plate", [38, 42, 38, 72], "M72 42H30M72 72H30", [16, 62]),
    ring: dimension("r", "thickness of a ramp ring", [256, 122, 256, 182], "M232 122H264M232 182H264", [280, 158]),
  },
};

/** @type {Sketch} */
const RAMPS = {
  words: "The cross pin between the ramps of a ring, and from the front the radius at which it bears.",
  height: 190,
  shapes: svg`<path class="ring plate" d="M10 176V76H48L100 136 160 76H196V176Z" />
    <circle class="pin" cx="101" cy="90" r="24" />
    <circle class="ring plate" cx="272" cy="92" r="62" /><circle class="hole" cx="272" cy="92" r="20" />
    <path class="pin" d="M264 22h16v140h-16z" />
    <text x="112" y="170">drive</text><text x="34" y="170">coast</text>`,
  dimensions: {
    "ramps.pin_radius_mm": dimension(
      "r",
      "radius at which the pins bear",
      [300, 46, 300, 92],
      "M280 46H308M272 92H308",
      [310, 74],
    ),
    "ramps.drive_deg": dimension(
      "α",
      "drive ramp, from the plane of rotation",
      "M142 136A42 42 0 0 0 130 106",
      "M100 136H176",
      [154, 122],
    ),
    "ramps.coast_deg": dimension(
      "β",
      "coast ramp, from the plane of rotation",
      "M58 136A42 42 0 0 1 72 104",
      "M100 136H24",
      [46, 122],
    ),
  },
};

/** @type {Sketch} */
const COVER = {
  words: "The cover with its screws, from above and cut open at a screw.",
  height: 196,
  shapes: svg`<circle class="separator plate" cx="80" cy="100" r="66" /><circle class="hole" cx="80" cy="100" r="24" />
    ${[0, 1, 2, 3, 4, 5].map(
      (place) =>
        svg`<circle class="hole" cx=${80 + 46 * Math.sin((place * Math.PI) / 3)} r="9"
          cy=${100 - 46 * Math.cos((place * Math.PI) / 3)} />`,
    )}
    <path class="ring plate" d="M186 110H296V184H186Z" /><path class="separator plate" d="M170 66H296V88H170Z" />
    <path class="pin" d="M222 40H258V62H250V140H230V62H222Z" />`,
  dimensions: {
    "cover.screws": dimension("n", "how many screws", [80, 54, 120, 77], "", [88, 106]),
    "cover.screw_mm": dimension(
      "d",
      "diameter of the thread",
      [230, 156, 250, 156],
      "M230 140V162M250 140V162",
      [258, 161],
    ),
    "cover.torque_nm": dimension("M", "torque of a screw", [206, 26, 262, 26], "", [278, 31]),
    "cover.start_mm": dimension(
      "s",
      "gap when the screws first catch",
      [312, 88, 312, 110],
      "M298 88H320M298 110H320",
      [322, 104],
    ),
  },
};

const SKETCHES = { spring: SPRING, depth: DEPTH, gap: GAP, rubbing: RUBBING, pack: PACK, ramps: RAMPS, cover: COVER };

/** What can be drawn. @typedef {keyof typeof SKETCHES} SketchName */

/** The head of an arrow that ends here, coming from there. */
function arrow(
  /** @type {number} */ x,
  /** @type {number} */ y,
  /** @type {number} */ fromX,
  /** @type {number} */ fromY,
) {
  const length = Math.hypot(x - fromX, y - fromY);
  const [dx, dy] = [(x - fromX) / length, (y - fromY) / length];
  // Of a short line some is left between the heads.
  const head = Math.min(9, length / 3);
  const [backX, backY] = [x - head * dx, y - head * dy];
  return `M${x} ${y}L${backX - 4 * dy} ${backY + 4 * dx} ${backX + 4 * dy} ${backY - 4 * dx}Z`;
}

/** @param {Dimension} shown @param {boolean} strong */
function drawn({ line, helping, letter, at }, strong) {
  const along = typeof line === "string" ? line : `M${line[0]} ${line[1]}L${line[2]} ${line[3]}`;
  const heads =
    typeof line === "string"
      ? ""
      : arrow(line[0], line[1], line[2], line[3]) + arrow(line[2], line[3], line[0], line[1]);
  return svg`<g class="dimension ${strong ? "typed" : ""}">
    <path class="helping" d=${helping ?? ""} /><path class="along" d=${along} /><path class="head" d=${heads} />
    <text x=${at[0]} y=${at[1]} text-anchor="middle">${letter}</text>
  </g>`;
}

/**
 * @param {object} shown
 * @param {SketchName} shown.name
 * @param {string} [shown.typed] the dimension that is being typed
 */
export function dimensionDrawing({ name, typed }) {
  const { words, height, shapes, dimensions } = SKETCHES[name];
  const strong = typed ? dimensions[typed] : undefined;
  const label = strong ? `${words} ${strong.letter}: ${strong.words}.` : words;
  return html`<figure class="sketch">
    <svg class="drawing stack" viewBox="0 0 340 ${height}" role="img" aria-label=${label}>
      ${shapes}
      ${Object.entries(dimensions).map(([field, shown]) => drawn(shown, field === typed))}
    </svg>
    <figcaption>
      ${
        strong
          ? html`<b>${strong.letter}</b> ${strong.words}`
          : Object.values(dimensions)
              .map(({ letter }) => letter)
              .join(", ")
      }
    </figcaption>
  </figure>`;
}
