// @ts-check
// A field whose figure keeps the unit that it was typed in, on its way to the engine as in a draft.

import { calc } from "../../engine/door.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { numberField, typedOf, unitOf } from "./fields.js";

/**
 * @param {Awaited<ReturnType<typeof import("./fields.js").reading>>} read
 * @param {ReturnType<typeof import("./fields.js").unitSwitch>} switching
 * @param {() => void} draw
 */
export function quantityFields(read, switching, draw) {
  const usual = { nm: read.torqueUnit, mm: read.lengthUnit };
  const inReadersUnit = readersUnit(read, draw);

  /**
   * @param {object} field
   * @param {string} field.name its path, unique on the screen
   * @param {string} field.label
   * @param {"nm" | "mm"} field.si what a figure without a unit is in
   * @param {import("./fields.js").Typed} field.value as it is kept
   * @param {(value: import("./fields.js").Typed) => void} field.put
   * @param {string} [field.preferred] the unit to begin with, if not the reader's
   * @param {(unit: string) => void} [field.chosen] hears of a unit that was chosen
   * @param {string} [field.error]
   * @param {string} [field.hint]
   */
  return ({ name, label, si, value, put, preferred = usual[si], chosen, error, hint }) => {
    const typed = typedOf(value);
    const unit = value && typeof value === "object" ? unitOf(value, preferred) : value ? si : preferred;
    // Typed in another unit than this reader's: shown in both.
    const other = typed.trim() && unit !== usual[si] ? inReadersUnit(si, typed, unit) : "";
    return html`${numberField({
      name,
      label,
      hint: other ? `is ${other}` : hint,
      value: typed,
      error,
      type: (now) => put(unit === si ? now : { typed: now, unit }),
      units: read.units[si],
      unit,
      choose: (other) =>
        switching.choose(name, [typed], unit, other, (to) => {
          chosen?.(to);
          put({ typed, unit: to });
        }),
    })}${switching.question(name, read.units[si])}`;
  };
}

/**
 * What was typed in another unit, in the reader's, as the engine writes it.
 * @param {import("./fields.js").Reading} read
 * @param {() => void} draw
 */
function readersUnit(read, draw) {
  /** @type {Map<string, string>} */
  const answers = new Map();

  /**
   * Empty for what is no figure.
   * @param {"nm" | "mm"} si @param {string} typed @param {string} unit
   */
  return (si, typed, unit) => {
    const question = `${typed} ${unit}`;
    const known = answers.get(question);
    if (known !== undefined) return known;
    const figure = { typed, unit };
    const request =
      si === "nm"
        ? { torque_nm: figure, write_in: read.torqueUnit }
        : { length_mm: figure, write_lengths_in: read.lengthUnit };
    const tell = (/** @type {string} */ text) => {
      answers.set(question, text);
      draw();
    };
    // Until then the line keeps its place.
    answers.set(question, "…");
    calc("in_words", request).then(
      ({ text }) => tell(text),
      () => tell(""),
    );
    return "…";
  };
}
