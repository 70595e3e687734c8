// @ts-check
// What stands beside what is typed of a plan, as long as there is no answer: the stack as it is built now, and why not.

import { stackDrawing } from "../../draw/stack.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { errorLine } from "../form/fields.js";

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

/**
 * Why there is no plan; where nothing that is typed here can change that, the way on without one.
 * @param {string} id of the unit
 * @param {{field: string, reason: string}} bad
 */
export const noPlan = (id, { field, reason }) => html`<section class="card">
  ${errorLine(reason)}
  ${
    /^(measured|fitted|unit)\b/.test(field)
      ? html`<p class="quiet">
            If the figures are right: fit it with plates as when new, check the torque, and plan from that.
          </p>
          <a class="button" href="#/unit/${id}/rebuild">Rebuild without a plan</a>`
      : nothing
  }
</section>`;
