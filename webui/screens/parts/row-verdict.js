// @ts-check
// What the engine says of one part of several: why it is judged as it is, and what else it found.

import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { findingLines } from "../form/fields.js";

/** @typedef {{reason: string, findings: {weight: string, text: string}[]}} JudgedRow */

/** @param {JudgedRow | undefined} row of the engine's result */
export function rowVerdict(row) {
  if (!row) return nothing;
  const { reason, findings } = row;
  return html`<p>${reason}</p>
    ${findingLines(findings.filter(({ text }) => text !== reason))}`;
}
