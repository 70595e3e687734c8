// @ts-check
// How it is held and with what lever, drawn large: on screens that have room for it beside what is typed.

import { heldNamed } from "../../draw/held.js";
import { adapterAsTyped, barDrawing } from "../../draw/levers.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { feltWith } from "./held-cautions.js";

/** What lies between hand and shaft, as far as it is typed. @param {import("./check-form.js").CheckForm} form */
function lever({ draft: { toolKind, adapter, bar } }) {
  if (toolKind === "wrench") return adapterAsTyped(adapter);
  const length = bar.length_mm.trim();
  return length ? barDrawing({ length: `${length} mm`, force: "here", own: "its own weight" }) : nothing;
}

/** @param {import("./check-form.js").CheckForm} form */
export function drawnLarge(form) {
  const { held } = form.draft;
  if (!held) return nothing;
  return html`<figure class="large-drawing">
    ${heldNamed(held)}
    <figcaption>${feltWith(held, form.layout)}</figcaption>
    ${lever(form)}
  </figure>`;
}
