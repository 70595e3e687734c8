// @ts-check
// Which of the inspected parts a rebuild replaced: what was found of them no longer counts.

import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { verdictMark } from "../form/fields.js";

/** @typedef {import("../../log/stands.js").BuiltStanding["features"][number]} Feature */

/**
 * @param {Feature[]} features what stands of the unit's features
 * @param {string[]} replaced names of those that are said to be replaced
 * @param {(replaced: string[]) => void} put
 */
export function replacedSection(features, replaced, put) {
  const listed = features.map(({ name }) => name);
  // What an entry that is corrected says of a feature that the unit lists no longer stays in it.
  const names = [...listed, ...replaced.filter((name) => !listed.includes(name))];
  if (!names.length) return nothing;
  const toggle = (/** @type {string} */ name) =>
    put(replaced.includes(name) ? replaced.filter((other) => other !== name) : [...replaced, name]);
  const verdictOf = (/** @type {string} */ name) => features.find((feature) => feature.name === name)?.verdict;
  return html`<section class="card" aria-label="Other parts replaced">
    <h2>Other parts replaced</h2>
    <p class="quiet">What was found of these before then no longer counts.</p>
    <ul class="list">
      ${names.map(
        (name) =>
          html`<li class="row apart">
            <button class="small" aria-pressed=${replaced.includes(name)} @click=${() => toggle(name)}>
              ${replaced.includes(name) ? "✓ " : ""}${name}
            </button>
            ${verdictOf(name) ? verdictMark(verdictOf(name)) : nothing}
          </li>`,
      )}
    </ul>
  </section>`;
}
