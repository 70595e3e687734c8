// @ts-check
// What a unit lacks for something: one sentence of the engine, with the way to the field at which to go on.

import { html, nothing } from "../../vendor/lit-html/lit-html.js";

/** @typedef {{field: string, text: string}} Lack */

/**
 * Where a field of a unit's definition is filled in.
 * @param {string} id the unit
 * @param {string} field its path in the definition
 */
export const toField = (id, field) => `#/unit/${id}/change/at/${field}`;

/**
 * The definition's field that a refusal is about; nothing where it is about something else.
 * @param {{field: string} | undefined} bad
 */
const fieldOfUnit = (bad) => /^(?:built\.)?unit\.(.+)$/.exec(bad?.field ?? "")?.[1];

/** @param {string} id the unit @param {Lack | null | undefined} lack */
export const lackLine = (id, lack) =>
  lack ? html`<p class="lack">${lack.text} <a href=${toField(id, lack.field)}>Fill it in</a></p>` : nothing;

/** The same where it is all that a screen can say. @param {string} id the unit @param {Lack} lack */
export const lackCard = (id, lack) => html`<section class="card">${lackLine(id, lack)}</section>`;

/**
 * A refusal of the engine: where the unit is at fault, with the way to its field.
 * @param {string} id the unit
 * @param {{field: string, reason: string} | undefined} bad
 */
export function refusalOfUnit(id, bad) {
  const field = fieldOfUnit(bad);
  return bad && field ? lackLine(id, { field, text: bad.reason }) : nothing;
}

/**
 * What a unit lacks for something.
 * @param {{lacks: (Lack & {name: string})[]}} found what stands for it
 * @param {string} ability
 */
export const lackOf = ({ lacks }, ability) => lacks.find(({ name }) => name === ability);
