// @ts-check
// The stack as it is built now: beside what is typed of a plan, as long as there is no answer.

import { stackDrawing } from "../../draw/stack.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";

/** @param {Pick<import("./plan.js").State, "found" | "unit" | "read" | "form">} state */
export function stackNow({ found, unit, read, form }) {
  const { chain } = found.derived.checked;
  if (!chain) return nothing;
  /** @type {Map<string, number | null>} */
  const built = new Map(found.built.places.map(({ slot, mm }) => [slot, mm]));
  const parts = chain.map(({ slot, part, new_mm = null }) => ({
    slot,
    part,
    thickness: part === "spring" ? null : (built.get(slot) ?? new_mm),
  }));
  return html`<section class="card now-built">
    <h2>As it is built now</h2>
    ${form.asking ? html`<p role="status">Working out the plan…</p>` : nothing}
    ${stackDrawing({ parts, springHeight: unit.spring?.l0_mm ?? null, crush: null, say: read.length })}
  </section>`;
}
