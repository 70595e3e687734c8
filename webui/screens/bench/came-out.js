// @ts-check
// What comes out of a unit as it is rebuilt, and where each plate goes: kept for the shelf, scrapped, or fitted again.

import { calc } from "../../engine/door.js";
import { LABELS } from "../../log/labels.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { choiceKeys, textField, typedOf } from "../form/fields.js";

/** @typedef {import("../form/fields.js").Typed} Typed */
/** A plate that comes out. @typedef {import("../../engine/door.js").ResultOf<"came_out">["plates"][number]} Out */
/** What the builder says of it. @typedef {{where?: string, name?: string, mm?: Typed}} Said */
/** @typedef {NonNullable<import("../../engine/calculations.js").BodyOf<"rebuild">["came_out"]>[number]} Row */

/**
 * What comes out of the places that another part goes into.
 * @param {import("../../log/stands.js").BuiltStanding} found
 * @param {string[]} slots
 * @param {string[]} taken_names names that the shelf has
 * @returns {Promise<Out[]>}
 */
export async function comesOut(found, slots, taken_names) {
  const { plates } = await calc("came_out", {
    unit_name: found.unit.name,
    family: found.derived.checked.plate_family,
    places: found.built.places,
    by_slot: found.by_slot,
    slots,
    taken_names,
  });
  return plates;
}

/** What an entry that is corrected said of them. @param {Row[]} rows @returns {Out[]} */
export const saidToComeOut = (rows) =>
  rows.map((row) => /** @type {Out} */ ({ ...row, start: row.where, why: "", name: row.name ?? "" }));

/** Where a plate goes; empty until somebody says so. @param {Out} out @param {Record<string, Said>} answers */
const whereOf = ({ slot, start }, answers) => answers[slot]?.where ?? start ?? "";

/**
 * As a rebuild's entry has them: those of which it is said where they go.
 * @param {Out[]} outs @param {Record<string, Said>} answers
 * @returns {Row[]}
 */
export function cameOut(outs, answers) {
  return outs.flatMap((out) => {
    const where = whereOf(out, answers);
    if (!where) return [];
    const { slot, part, new_mm, lowest_mm, within_mm, minimum_mm, family } = out;
    const { name = out.name, mm } = answers[slot] ?? {};
    // A thickness that is typed now is another measurement than the last check.
    const measured = mm === undefined ? filled({ mm: out.mm, lowest_mm, within_mm }) : filled({ mm });
    const kept = where === "keep" ? filled({ name, minimum_mm, family }) : {};
    return [/** @type {Row} */ ({ slot, part, where, ...measured, ...filled({ new_mm }), ...kept })];
  });
}

/** @param {Record<string, Typed | null | undefined>} fields */
const filled = (fields) =>
  Object.fromEntries(Object.entries(fields).filter(([, value]) => value != null && typedOf(value).trim()));

const GOES = [
  { value: "keep", words: "keep" },
  { value: "scrap", words: "scrap" },
  { value: "again", words: "fitted again" },
];

/**
 * @typedef {object} Shown
 * @property {Out[]} outs
 * @property {Record<string, Said>} said
 * @property {(slot: string, change: Said) => void} say
 * @property {(slot: string, field: string) => string | undefined} error
 * @property {ReturnType<typeof import("../form/quantity.js").quantityFields>} quantity
 */

/** @param {Shown} shown */
export function cameOutSection({ outs, said, say, error, quantity }) {
  if (!outs.length) return nothing;
  return html`<section class="card">
    <h2>What came out</h2>
    <ul class="list">
      ${outs.map((out) => {
        const { slot, why, name, mm } = out;
        const where = whereOf(out, said);
        return html`<li class="card">
          ${choiceKeys({
            name: `out.${slot}.where`,
            label: `The plate from ${slot}`,
            short: true,
            value: where,
            error: error(slot, "where"),
            options: GOES,
            choose: (chosen) => say(slot, { where: chosen }),
          })}
          ${why ? html`<p class="quiet">${why}</p>` : nothing}
          ${
            where === "keep"
              ? html`${textField({
                  name: `out.${slot}.name`,
                  label: LABELS.rebuild["came_out..name"],
                  value: said[slot]?.name ?? name,
                  error: error(slot, "name"),
                  type: (typed) => say(slot, { name: typed }),
                })}
                  ${quantity({
                    name: `out.${slot}.mm`,
                    label: LABELS.rebuild["came_out..mm"],
                    si: "mm",
                    value: said[slot]?.mm ?? mm ?? "",
                    error: error(slot, "mm"),
                    put: (typed) => say(slot, { mm: typed }),
                  })}`
              : nothing
          }
        </li>`;
      })}
    </ul>
  </section>`;
}

/**
 * What the rebuild means for the shelf's count, where it moves anything.
 * @param {{taken: number, outs: Out[], draft: {out?: Record<string, Said>, shelf?: string}, meant: string}} rebuild
 * @param {(shelf: string) => void} choose
 */
export function shelfKeys({ taken, outs, draft, meant }, choose) {
  const kept = cameOut(outs, draft.out ?? {}).filter(({ where }) => where === "keep").length;
  if (!meant || !(taken || kept)) return nothing;
  const moves = [taken ? `take ${taken} off` : "", kept ? `put ${kept} on` : ""].filter(Boolean).join(", ");
  return html`<section class="card">
    ${choiceKeys({
      name: "count",
      label: LABELS.rebuild.shelf,
      short: true,
      value: draft.shelf ?? meant,
      choose,
      options: [
        { value: "moves", words: moves },
        { value: "counted", words: "leave it: counted since" },
      ],
    })}
  </section>`;
}
