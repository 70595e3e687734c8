// @ts-check
// A field whose figure keeps the unit that it was typed in, on its way to the engine as in a draft.

import { html } from "../../vendor/lit-html/lit-html.js";
import { numberField, sayIn, typedOf, unitOf } from "./fields.js";

/**
 * @param {Awaited<ReturnType<typeof import("./fields.js").reading>>} read
 * @param {ReturnType<typeof import("./fields.js").unitSwitch>} switching
 */
export function quantityFields(read, switching) {
  const usual = { nm: read.torqueUnit, mm: read.lengthUnit };

  /**
   * @param {object} field
   * @param {string} field.name its path, unique on the screen
   * @param {string} field.label
   * @param {"nm" | "mm"} field.si what a figure without a unit is in
   * @param {import("./fields.js").Typed} field.value as it is kept
   * @param {(value: import("./fields.js").Typed) => void} field.put
   * @param {string} [field.preferred] the unit to begin with, if not the reader's
   * @param {string} [field.error]
   * @param {string} [field.hint]
   */
  return ({ name, label, si, value, put, preferred = usual[si], error, hint }) => {
    const typed = typedOf(value);
    const unit = value && typeof value === "object" ? unitOf(value, preferred) : value ? si : preferred;
    // Typed in another unit than this reader's: shown in both.
    const inReadersUnit =
      typed.trim() && unit !== usual[si]
        ? Number(typed.replace(",", ".")) * (read.units[si].find((choice) => choice.unit === unit)?.factor ?? NaN)
        : NaN;
    return html`${numberField({
      name,
      label,
      hint: Number.isFinite(inReadersUnit) ? `is ${sayIn(read.units, si, usual[si], inReadersUnit)}` : hint,
      value: typed,
      error,
      type: (now) => put(unit === si ? now : { typed: now, unit }),
      units: read.units[si],
      unit,
      choose: (chosen) => switching.choose(name, [typed], unit, chosen, (to) => put({ typed, unit: to })),
    })}${switching.question(name, read.units[si])}`;
  };
}
