// @ts-check
// Small pictures, each a shape of its own, so that no meaning hangs on a colour.

import { svg } from "../vendor/lit-html/lit-html.js";

/** Paths on a field of 24 by 24, drawn with a stroke. @type {Record<string, ReturnType<typeof svg>>} */
const SHAPES = {
  mark: svg`<path d="M3 5h3v14H3zM18 5h3v14h-3zM8 7v10M11 7v10M13 7v10M16 7v10"/>`,
  units: svg`<path d="M4 6h16M4 12h16M4 18h16"/>`,
  kit: svg`<path d="M4 20 14 10M13 5a5 5 0 0 1 6 6l-3-1-2-2z"/>`,
  outbox: svg`<path d="M3 13v6h18v-6M12 15V4M8 8l4-4 4 4"/>`,
  help: svg`<circle cx="12" cy="12" r="9"/><path d="M9.5 9.5a2.5 2.5 0 1 1 3.5 2.3c-.7.3-1 .8-1 1.7M12 17v.2"/>`,
  settings: svg`<path d="M4 7h10M18 7h2M4 17h2M10 17h10"/><circle cx="16" cy="7" r="2"/><circle cx="8" cy="17" r="2"/>`,
  patterns: svg`<path d="M9 3h11v13H9zM4 8v13h11"/>`,
  customers: svg`<circle cx="12" cy="8" r="4"/><path d="M4 21c0-5 3.5-7 8-7s8 2 8 7"/>`,
  history: svg`<path d="M8 6h13M8 12h13M8 18h13M3 6h1M3 12h1M3 18h1"/>`,
  shelf: svg`<path d="M3 3v18M21 3v18M3 11h18M3 19h18M7 11V6h4v5M13 19v-5h4v5"/>`,
  marked: svg`<path d="M3 12V4h8l10 10-7 7zM7.5 8v.2"/>`,
  car: svg`<path d="M5 16H3v-4l3-5h9l4 5 2 1v3h-2M9 16h6M7 14a2 2 0 1 0 .1 0zM17 14a2 2 0 1 0 .1 0z"/>`,
  costs: svg`<circle cx="12" cy="12" r="9"/><path d="M12 7v5l4 2"/>`,
  calendar: svg`<path d="M4 6h16v14H4zM4 10h16M8 3v5M16 3v5"/>`,
  import: svg`<path d="M12 3v11M8 10l4 4 4-4M4 17v4h16v-4"/>`,
  backup: svg`<path d="M3 4h18v5H3zM5 9v11h14V9M10 13h4"/>`,
  labels: svg`<path d="M4 4h6v6H4zM14 4h6v6h-6zM4 14h6v6H4zM14 14h2v2h-2zM18 18h2v2h-2zM18 14h2M14 18v2"/>`,
  letterhead: svg`<path d="M5 3h14v18H5zM8 7h4M8 12h8M8 16h8"/>`,
  devices: svg`<path d="M7 3h10v18H7zM11 18h2"/>`,
  idle: svg`<path d="m5 12 5 5 9-10"/>`,
  busy: svg`<path d="M12 3v6M12 15v6M3 12h6M15 12h6"/>`,
  offline: svg`<path d="M3 3l18 18M6 15a7 7 0 0 1 3-4M18 15a7 7 0 0 0-4-4.3M12 19v.2"/>`,
  failed: svg`<path d="M12 4 2.5 20h19zM12 10v5M12 17.5v.2"/>`,
  unpaired: svg`<path d="M3 3l18 18M8 11V8a4 4 0 0 1 7-2.6M6 11h12v9H6z"/>`,
  elsewhere: svg`<path d="M4 4h12v16H4zM8 9h4M8 13h4M16 7h4v10h-4"/>`,
  caution: svg`<path d="M12 4 2.5 20h19zM12 10v5M12 17.5v.2"/>`,
  back: svg`<path d="m14 5-7 7 7 7"/>`,
  next: svg`<path d="M4 12h15M13 6l6 6-6 6"/>`,
  plus: svg`<path d="M12 5v14M5 12h14"/>`,
  minus: svg`<path d="M5 12h14"/>`,
  torque: svg`<path d="M4 20 15 9"/><circle cx="17" cy="7" r="3.5"/>`,
  plates: svg`<path d="M5 4v16M9 6v12M12 6v12M15 6v12M19 4v16"/>`,
  worked: svg`<path d="M5 3h14v18H5zM8 7h8M8 12h.2M12 12h.2M16 12h.2M8 16h.2M12 16h.2M16 16h.2"/>`,
  pen: svg`<path d="M4 20l1-5L16 4l4 4L9 19z"/>`,
  // The verdicts: ring with a tick, diamond, octagon with a cross, square with a question.
  go: svg`<circle cx="12" cy="12" r="10"/><path d="m7 12.5 3.5 3.5L17 8.5"/>`,
  rework: svg`<path d="M12 1.5 22.5 12 12 22.5 1.5 12zM12 7v6M12 16v.3"/>`,
  replace: svg`<path d="M8 2h8l6 6v8l-6 6H8l-6-6V8zM8.5 8.5l7 7M15.5 8.5l-7 7"/>`,
  measure_again: svg`<path d="M3 3h18v18H3z"/><path d="M9.5 9.5a2.5 2.5 0 1 1 3.5 2.3c-.7.3-1 .8-1 1.7M12 17v.2"/>`,
  none: svg`<circle cx="12" cy="12" r="10" stroke-dasharray="3 3"/>`,
};

/** @param {string} name */
export function icon(name) {
  return svg`<svg viewBox="0 0 24 24" aria-hidden="true" focusable="false" fill="none" stroke="currentColor"
    stroke-width="2" stroke-linecap="round" stroke-linejoin="round">${SHAPES[name]}</svg>`;
}
