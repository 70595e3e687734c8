// @ts-check
// Levers to scale: a wrench with an adapter at its angle, and a bar that a force pulls.

import { html, nothing, svg } from "../vendor/lit-html/lit-html.js";

const WIDTH = 340;

/**
 * @param {object} shown
 * @param {number} shown.wrench grip to drive, mm
 * @param {number} shown.adapter drive to shaft, mm
 * @param {number} shown.angle degrees, 0 straight on
 * @param {(mm: number) => string} shown.say
 */
export function adapterDrawing({ wrench, adapter, angle, say }) {
  const radians = (angle * Math.PI) / 180;
  const scale = 250 / (wrench + adapter);
  const [reach, rise] = [adapter * scale * Math.cos(radians), adapter * scale * Math.sin(radians)];
  const grip = 300;
  const drive = grip - wrench * scale;
  const y = 54 + rise;
  const shaft = drive - reach;
  const arm = say(wrench + adapter * Math.cos(radians));
  const words =
    `A wrench of ${say(wrench)} with an adapter of ${say(adapter)} at ${angle} degrees: ` +
    `along the wrench the arm is ${arm}.`;
  const low = y + 34;
  return html`<svg class="drawing lesson" viewBox="0 0 ${WIDTH} ${low + 58}" role="img" aria-label=${words}>
    <path
      class="ghost"
      d="M${shaft} ${y - rise}V${low + 6}M${drive} ${y}V${low - 6}M${grip} ${y}V${low + 34}M${shaft} ${low}V${low + 34}"
    />
    <path class="arm second" d="M${shaft} ${y - rise}L${drive} ${y}" />
    <path class="arm" d="M${drive} ${y}H${grip}" />
    <circle class="hollow" cx=${drive} cy=${y} r="7" />
    <circle class="bronze" cx=${shaft} cy=${y - rise} r="11" />
    <path class="force" d="M${grip} ${y - 36}V${y - 8}M${grip - 6} ${y - 16}L${grip} ${y - 8}L${grip + 6} ${y - 16}" />
    <path class="measure" d="M${drive} ${low}H${grip}M${shaft} ${low + 28}H${grip}" />
    <text x=${(drive + grip) / 2} y=${low - 5} text-anchor="middle">L ${say(wrench)}</text>
    <text x=${(shaft + grip) / 2} y=${low + 23} text-anchor="middle">
      L + A cos a = ${arm}
    </text>
    ${svg`<text x=${shaft + 16} y=${y - rise - 12}>A ${say(adapter)}, a = ${angle}°</text>`}
    <text x=${Math.max(4, shaft - 22)} y=${low + 50}>shaft</text>
    <text x=${grip} y=${low + 50} text-anchor="end">middle of the grip</text>
  </svg>`;
}

/** A figure as it was typed; none where it cannot be drawn. @param {string} text */
const figure = (text) => (text.trim() ? Number(text.replace(",", ".")) : Number.NaN);

/**
 * The same of what is being typed, in millimetres and degrees; nothing until there is enough to draw.
 * @param {{wrench_mm?: string, adapter_mm?: string, angle_deg?: string}} typed
 */
export function adapterAsTyped({ wrench_mm = "", adapter_mm = "", angle_deg = "" }) {
  const [wrench, adapter, angle] = [figure(wrench_mm), figure(adapter_mm), figure(angle_deg || "0")];
  if (!(wrench > 0 && adapter >= 0 && angle >= 0 && angle <= 180 && adapter <= wrench)) return nothing;
  return adapterDrawing({ wrench, adapter, angle, say: (mm) => `${Math.round(mm)} mm` });
}

/**
 * @param {object} shown
 * @param {string} shown.length shaft to pull, as written
 * @param {string} shown.force as written
 * @param {string} shown.own the bar's own torque, as written
 */
export function barDrawing({ length, force, own }) {
  const [shaft, end, y] = [40, 290, 60];
  return html`<svg
    class="drawing lesson"
    viewBox="0 0 ${WIDTH} 150"
    role="img"
    aria-label=${`A bar of ${length} from the shaft to where ${force} pull, square to it.`}
  >
    <path class="ghost" d=${`M${shaft} ${y}V118M${end} ${y}V118`} />
    <path class="arm" d=${`M${shaft} ${y}H${end}`} />
    <circle class="bronze" cx=${shaft} cy=${y} r="12" />
    <path class="force" d=${`M${end} ${y + 4}V104M${end - 7} 95L${end} 104L${end + 7} 95`} />
    <path class="line" d=${`M${end - 11} ${y + 4}V${y + 15}H${end}`} />
    <path class="force" d=${`M165 ${y + 4}V84M160 78L165 84L170 78`} />
    <path class="measure" d=${`M${shaft} 114H${end}`} />
    <text x="150" y="108" text-anchor="end">${own}</text>
    <text class="strong" x="336" y="44" text-anchor="end">pull ${force}</text>
    <text x=${(shaft + end) / 2} y="132" text-anchor="middle">l = ${length}, square to the pull</text>
  </svg>`;
}
