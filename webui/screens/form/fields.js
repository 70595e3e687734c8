// @ts-check
// What several screens are put together from: verdicts, fields, figures in the reader's unit.

import { icon } from "../../draw/icons.js";
import { known } from "../../log/known.js";
import { fact } from "../../log/store.js";
import { live } from "../../vendor/lit-html/directives/live.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";

/** A unit that may be typed. @typedef {import("../../engine/door.js").ResultOf<"units">[string][number]} Unit */

/**
 * How this person reads figures.
 * @typedef {object} Reading
 * @property {Record<string, Unit[]>} units all that may be typed, by the SI unit
 * @property {import("../../log/store.js").TorqueUnit} torqueUnit
 * @property {string} torqueLabel
 * @property {(nm: number) => number} torqueIn
 * @property {(nm: number) => string} torque with its unit
 * @property {(nm: number) => string} torqueFigure without
 * @property {import("../../log/store.js").LengthUnit} lengthUnit
 * @property {(mm: number) => string} length with its unit
 */

/** @typedef {ReturnType<typeof unitSwitch>} UnitSwitch */

/** @typedef {ReturnType<typeof html>} Template */
/** @typedef {string | Template} Words */

/** The units that may be typed, from the engine. @returns {Promise<Record<string, Unit[]>>} */
export function allUnits() {
  return known("units");
}

/** @type {Record<string, string>} */
export const VERDICTS = { go: "go", rework: "rework", replace: "replace", measure_again: "measure again" };

/** @param {string | null | undefined} verdict @param {boolean} [big] */
export function verdictMark(verdict, big = false) {
  const words = verdict ? VERDICTS[verdict] : "not judged";
  return html`<span class="verdict ${verdict ?? ""} ${big ? "big" : ""}">${icon(verdict ?? "none")}${words}</span>`;
}

/** How this person reads figures. @returns {Promise<Reading>} */
export async function reading() {
  const [all, torqueUnit, lengthUnit] = await Promise.all([
    allUnits(),
    fact("torqueUnit", "nm"),
    fact("lengthUnit", "mm"),
  ]);
  return {
    units: all,
    torqueUnit,
    torqueLabel: chosenOf(all, "nm", torqueUnit).label,
    torqueIn: (nm) => inUnit(all, "nm", torqueUnit, nm),
    lengthUnit,
    torque: (nm) => sayIn(all, "nm", torqueUnit, nm),
    length: (mm) => sayIn(all, "mm", lengthUnit, mm),
    torqueFigure: (nm) => figureIn(all, "nm", torqueUnit, nm),
  };
}

/** @param {Record<string, Unit[]>} all @param {string} si @param {string} unit */
const chosenOf = (all, si, unit) => all[si].find((choice) => choice.unit === unit) ?? all[si][0];

/**
 * A value in a unit, for drawings and for the eye: what is judged stays in SI.
 * @param {Record<string, Unit[]>} all
 * @param {string} si
 * @param {string} unit
 * @param {number} value in SI
 */
export const inUnit = (all, si, unit, value) => value / chosenOf(all, si, unit).factor;

/**
 * A figure in a unit, without its label.
 * @param {Record<string, Unit[]>} all
 * @param {string} si
 * @param {string} unit
 * @param {number} value in SI
 * @param {number} [least] so many places after the point at least
 */
export function figureIn(all, si, unit, value, least = 0) {
  return inUnit(all, si, unit, value).toFixed(Math.max(least, chosenOf(all, si, unit).places));
}

/**
 * The same with its label.
 * @param {Record<string, Unit[]>} all
 * @param {string} si
 * @param {string} unit
 * @param {number} value in SI
 */
export function sayIn(all, si, unit, value) {
  return `${figureIn(all, si, unit, value)} ${chosenOf(all, si, unit).label}`;
}

/** Words as they begin a sentence. @param {string} words */
export const withCapital = (words) => words.slice(0, 1).toUpperCase() + words.slice(1);

/** A force as it is written. @param {number} n */
export function newtons(n) {
  return `${Math.round(n)} N`;
}

/** A share of a whole as it is written. @param {number} share 1 is the whole */
export function percent(share) {
  return `${Math.round(100 * share)} %`;
}

/**
 * A quantity as it was typed, for the engine; nothing where nothing was typed.
 * @param {string | undefined} typed
 * @param {string} unit
 */
export function quantity(typed, unit) {
  return typed?.trim() ? { typed, unit } : undefined;
}

/**
 * A figure as a log or a draft keeps it.
 * @typedef {string | number | {typed?: string | number | null, unit?: string} | null | undefined} Typed
 */

/** What was typed in a quantity of the log. @param {Typed} value */
export function typedOf(value) {
  if (value === null || value === undefined) return "";
  return typeof value === "object" ? String(value.typed ?? "") : String(value);
}

/** @param {Typed} value @param {string} otherwise */
export function unitOf(value, otherwise) {
  return value && typeof value === "object" ? (value.unit ?? otherwise) : otherwise;
}

/** @param {string} [reason] @param {string} [id] */
export function errorLine(reason, id) {
  return reason ? html`<p class="error" id=${id ?? nothing} role="alert">${reason}</p>` : nothing;
}

let lastId = 0;
/** @type {Map<string, string>} */
const ids = new Map();

/** A stable id for a field's name on this page. @param {string} name */
export function idOf(name) {
  if (!ids.has(name)) ids.set(name, `f${++lastId}`);
  return /** @type {string} */ (ids.get(name));
}

/**
 * A field for a number with its unit beside it.
 * @param {object} field
 * @param {string} field.name its path, unique on the screen
 * @param {string} field.label
 * @param {string | undefined} field.value as typed
 * @param {(typed: string) => void} field.type
 * @param {Unit[]} [field.units] to choose from; one alone is only written
 * @param {string} [field.unit]
 * @param {(unit: string) => void} [field.choose]
 * @param {string} [field.error]
 * @param {string} [field.hint]
 * @param {boolean} [field.whole]
 */
export function numberField({ name, label, value, type, units: choices, unit, choose, error, hint, whole }) {
  const id = idOf(name);
  const input = html`<input
    id=${id}
    data-field=${name}
    type="text"
    inputmode=${whole ? "numeric" : "decimal"}
    autocomplete="off"
    enterkeyhint="next"
    .value=${live(value ?? "")}
    aria-invalid=${error ? "true" : "false"}
    aria-describedby=${error ? `${id}e` : hint ? `${id}h` : nothing}
    @input=${(/** @type {{target: HTMLInputElement}} */ event) => type(event.target.value)}
  />`;
  return html`<div class="field">
    <label for=${id}>${label}</label>
    ${
      choices && choices.length > 1 && choose
        ? html`<div class="with-unit">
            ${input}
            <select
              aria-label=${`Unit of ${label}`}
              @change=${(/** @type {{target: HTMLSelectElement}} */ event) => choose(event.target.value)}
            >
              ${choices.map(
                (choice) =>
                  html`<option value=${choice.unit} .selected=${live(choice.unit === unit)}>${choice.label}</option>`,
              )}
            </select>
          </div>`
        : input
    }
    ${hint && !error ? html`<p class="quiet" id="${id}h">${hint}</p>` : nothing}${errorLine(error, `${id}e`)}
  </div>`;
}

/**
 * @param {object} field
 * @param {string} field.name
 * @param {string} field.label
 * @param {string | undefined} field.value
 * @param {(typed: string) => void} field.type
 * @param {string} [field.error]
 * @param {string} [field.kind] "text", "date", or "long" for whole sentences
 * @param {string} [field.hint]
 */
export function textField({ name, label, value, type, error, kind = "text", hint }) {
  const id = idOf(name);
  return html`<div class="field">
    <label for=${id}>${label}</label>
    ${
      kind === "long"
        ? html`<textarea
            id=${id}
            .value=${live(value ?? "")}
            aria-invalid=${error ? "true" : "false"}
            aria-describedby=${error ? `${id}e` : nothing}
            @input=${(/** @type {{target: HTMLTextAreaElement}} */ event) => type(event.target.value)}
          ></textarea>`
        : html`<input
            id=${id}
            data-field=${name}
            type=${kind}
            autocomplete="off"
            .value=${live(value ?? "")}
            aria-invalid=${error ? "true" : "false"}
            aria-describedby=${error ? `${id}e` : hint ? `${id}h` : nothing}
            @input=${(/** @type {{target: HTMLInputElement}} */ event) => type(event.target.value)}
          />`
    }
    ${hint && !error ? html`<p class="quiet" id="${id}h">${hint}</p>` : nothing}${errorLine(error, `${id}e`)}
  </div>`;
}

/**
 * @param {object} field
 * @param {string} field.name
 * @param {string} field.label
 * @param {string | undefined} field.value
 * @param {[string, string][]} field.options value and words
 * @param {(value: string) => void} field.choose
 * @param {string} [field.error]
 */
export function choiceField({ name, label, value, options, choose, error }) {
  const id = idOf(name);
  return html`<div class="field">
    <label for=${id}>${label}</label>
    <select
      id=${id}
      aria-invalid=${error ? "true" : "false"}
      aria-describedby=${error ? `${id}e` : nothing}
      @change=${(/** @type {{target: HTMLSelectElement}} */ event) => choose(event.target.value)}
    >
      ${options.map(
        ([option, words]) => html`<option value=${option} .selected=${live(option === value)}>${words}</option>`,
      )}
    </select>
    ${errorLine(error, `${id}e`)}
  </div>`;
}

/**
 * A few big keys, of which one is down.
 * @param {object} field
 * @param {string} field.name
 * @param {Words} field.label
 * @param {string | undefined} field.value
 * @param {{value: string, words: Words, drawing?: Template}[]} field.options
 * @param {(value: string) => void} field.choose
 * @param {boolean} [field.short] words only
 * @param {string} [field.error]
 */
export function choiceKeys({ name, label, value, options, choose, short = false, error }) {
  return html`<fieldset aria-describedby=${error ? `${idOf(name)}e` : nothing}>
    <legend>${label}</legend>
    <div class="choices ${short ? "short" : ""}">
      ${options.map(
        (option) =>
          html`<label
            ><input
              type="radio"
              data-field=${name}
              name=${name}
              value=${option.value}
              .checked=${live(option.value === value)}
              @change=${() => choose(option.value)}
            />${option.drawing ?? nothing}<span>${option.words}</span></label
          >`,
      )}
    </div>
    ${errorLine(error, `${idOf(name)}e`)}
  </fieldset>`;
}

/**
 * Clears a form, and brings back what it cleared: a gloved thumb slips.
 * @param {boolean} cleared whether it was just cleared
 * @param {() => void} clear
 * @param {() => void} undo
 */
export function clearKey(cleared, clear, undo) {
  // The same key changes its words, so that the focus stays on it.
  return html`<button class=${cleared ? "" : "plain"} @click=${cleared ? undo : clear}>
    ${cleared ? "Undo" : "Clear what is typed"}
  </button>`;
}

/**
 * Another unit for what is typed already: nothing is converted, and no figure comes to mean something else by itself.
 * @param {() => void} draw
 */
export function unitSwitch(draw) {
  /** @type {{name: string, count: number, from: string, to: string, apply: (unit: string) => void} | undefined} */
  let question;
  return {
    /**
     * @param {string} name of the choice
     * @param {(string | undefined)[]} typed what is typed in the unit so far
     * @param {string} from
     * @param {string} to
     * @param {(unit: string) => void} apply
     */
    choose(name, typed, from, to, apply) {
      const count = typed.filter((figure) => figure?.trim()).length;
      question = count && from !== to ? { name, count, from, to, apply } : undefined;
      if (!question) return apply(to);
      draw();
      // On a small screen something else may cover the place where it is asked.
      document.querySelector(".asked")?.scrollIntoView({ block: "center" });
    },

    /** What is asked where figures are typed already. @param {string} name @param {Unit[]} units */
    question(name, units) {
      if (question?.name !== name) return nothing;
      const { count, from, to, apply } = question;
      const label = (/** @type {string} */ unit) => units.find((choice) => choice.unit === unit)?.label ?? unit;
      const answer = (/** @type {boolean} */ change) => {
        question = undefined;
        if (change) apply(to);
        else draw();
      };
      return html`<div class="asked" role="group" aria-label="Unit of what is typed">
        <p role="alert">
          ${count === 1 ? "1 figure is" : `${count} figures are`} typed in ${label(from)}. Nothing is converted.
        </p>
        <button class="small" @click=${() => answer(false)}>Stay with ${label(from)}</button>
        <button class="small" @click=${() => answer(true)}>They are ${label(to)}</button>
      </div>`;
    },
  };
}

/** @param {Words} words */
export function caution(words) {
  return html`<aside class="caution" role="note" aria-label="Caution">
    ${icon("caution")}
    <div>${words}</div>
  </aside>`;
}

/** @param {string} to @param {string} words */
export function backTo(to, words) {
  return html`<a class="back" href=${to}>${icon("back")}${words}</a>`;
}

/**
 * One writer for all: making one takes a phone longer than to draw a row. Made when it is first asked for.
 * @param {Intl.DateTimeFormatOptions} more than the day
 */
function dates(more) {
  /** @type {Intl.DateTimeFormat | undefined} */
  let format;
  return (/** @type {string} */ at) => {
    format ??= new Intl.DateTimeFormat(undefined, { day: "numeric", month: "short", year: "numeric", ...more });
    return format.format(new Date(at));
  };
}

/** A day and time as people here write them. */
export const when = dates({ hour: "2-digit", minute: "2-digit" });

/** Day only. */
export const whenDay = dates({});

/** When something was done: of what comes from a spreadsheet the day alone is known. */
export const whenDone = (/** @type {{at: string, imported?: object | boolean}} */ { at, imported }) =>
  imported ? whenDay(at) : when(at);

/**
 * Findings of a result.
 * @param {{weight: string, text: string}[]} findings
 */
export function findingLines(findings) {
  if (!findings.length) return nothing;
  return html`<ul class="list" aria-label="Findings">
    ${findings.map(({ weight, text }) => html`<li class="finding ${weight}">${text}</li>`)}
  </ul>`;
}

/**
 * That a figure was worked out, not measured, and from what: a sign and words.
 * @param {{text?: string, basis?: string}} figure
 */
export const workedOutLine = ({ text, basis }) =>
  html`<p class="worked-out">${icon("worked")}<span>${text}${basis ? html` From ${basis}.` : nothing}</span></p>`;

/** What the engine warns of. @param {{name: string, text: string}[]} warnings */
export function warningLines(warnings) {
  return warnings.map((warning) =>
    warning.name.startsWith("worked_out") ? workedOutLine(warning) : html`<p class="finding doubt">${warning.text}</p>`,
  );
}
