// @ts-check
// The stack of a unit's definition, part by part: a table at the bench, cards on a phone.

import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { choiceField, errorLine, numberField, textField, typedOf, unitOf } from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { freeSlot } from "./define-chain.js";
import { chooseLengthUnit, restack, setThickness, setValue } from "./define-form.js";

/** @typedef {import("./define-form.js").DefineForm} DefineForm */
/** @typedef {import("./define-chain.js").Part} Part */

const PARTS = /** @type {[string, string][]} */ ([
  ["friction", "friction plate"],
  ["separator", "separator plate"],
  ["shim", "shim"],
  ["ring", "ramp ring"],
  ["spring", "disc spring"],
]);

const COLUMNS = ["Place", "Part", "Thickness", "Limit", "Up", "Down", "Copy", "Out"];

// From here on the stack is a table: the style says what it looks like.
export const wide = matchMedia("(min-width: 900px)");

/**
 * Change the stack at a part, and leave the focus on the same key of the part that it is about then.
 * @param {DefineForm} form
 * @param {string} key
 * @param {number} to where that part is then
 * @param {(chain: Part[]) => void} change
 */
function alter(form, key, to, change) {
  restack(form, (chain) => {
    change(chain);
    return chain;
  });
  if (form.open >= 0) form.open = to;
  form.draw();
  const row = `.part:nth-child(${to + 1}) `;
  focusOn(form.place, `${row}[data-key=${key}]`, `${row}[data-key=copy]`, "#add");
}

/** @param {DefineForm} form */
function addPart(form) {
  form.open = form.draft.chain.length;
  alter(form, "copy", form.open, (chain) =>
    chain.push({ slot: freeSlot(chain, "B"), part: "separator", new_mm: "", minimum_mm: "" }),
  );
  focusOn(form.place, ".part:last-child select");
}

/** Enter and the arrows go along a column, as in any table. @param {KeyboardEvent} event */
function alongColumn(event) {
  /** @type {Record<string, number>} */
  const steps = { ArrowDown: 1, ArrowUp: -1, Enter: event.shiftKey ? -1 : 1 };
  const step = steps[event.key];
  const field = /** @type {HTMLInputElement} */ (event.target);
  if (!step || field.localName !== "input" || !wide.matches) return;
  const { cell } = /** @type {HTMLElement} */ (field.closest("[data-cell]")).dataset;
  const table = /** @type {HTMLElement} */ (event.currentTarget);
  const column = /** @type {HTMLInputElement[]} */ ([...table.querySelectorAll(`[data-cell=${cell}] input`)]);
  const next = column[column.indexOf(field) + step];
  if (!next) return;
  event.preventDefault();
  next.select();
}

/** @param {DefineForm} form @param {number} number @param {"new_mm" | "minimum_mm"} field @param {string} label */
function thicknessField(form, number, field, label) {
  const path = `chain.${number}.${field}`;
  const value = form.draft.chain[number][field];
  // A definition from elsewhere may mix units: each figure keeps its own, and says so.
  const unit = typedOf(value).trim() ? unitOf(value, "mm") : form.lengthUnit;
  const unitLabel = form.read.units.mm.find((length) => length.unit === unit)?.label;
  return numberField({
    name: path,
    label,
    hint: unit === form.lengthUnit ? undefined : `in ${unitLabel}`,
    value: typedOf(value),
    error: form.answer.error(path),
    type: (typed) => setThickness(form, number, { [field]: typed.trim() ? { typed, unit } : "" }),
  });
}

const CONES = /** @type {[string, string][]} */ ([
  ["", "cone not recorded"],
  ["cover", "cone to the cover"],
  ["floor", "cone to the floor"],
]);

/** Where a part is and what it is. @param {DefineForm} form @param {Part} item @param {number} number */
function placeAndKind(form, { slot, part }, number) {
  const [slotPath, partPath] = [`chain.${number}.slot`, `chain.${number}.part`];
  const placeField = textField({
    name: slotPath,
    label: `${slot} place`,
    value: slot,
    error: form.answer.error(slotPath),
    type: (typed) => setValue(form, slotPath, typed),
  });
  const kindField = choiceField({
    name: partPath,
    label: `${slot} part`,
    value: part,
    options: PARTS,
    error: form.answer.error(partPath),
    choose: (chosen) => setValue(form, partPath, chosen),
  });
  return html`<div data-cell="slot">${placeField}</div>
    <div data-cell="part">${kindField}</div>`;
}

/** Which way round a disc spring sits. @param {DefineForm} form @param {number} number */
function coneField(form, number) {
  const { slot, cone_to } = form.draft.chain[number];
  const path = `chain.${number}.cone_to`;
  return choiceField({
    name: path,
    label: `${slot} point of its cone`,
    value: cone_to ?? "",
    options: CONES,
    error: form.answer.error(path),
    choose: (chosen) => setValue(form, path, chosen),
  });
}

/** How thick a part is. @param {DefineForm} form @param {Part} item @param {number} number */
function sizes(form, { slot, part }, number) {
  if (part === "spring") return html`<div data-cell="cone">${coneField(form, number)}</div>`;
  return html`<div data-cell="new">${thicknessField(form, number, "new_mm", `${slot} thickness`)}</div>
    <div data-cell="limit">
      ${part === "ring" ? nothing : thicknessField(form, number, "minimum_mm", `${slot} limit`)}
    </div>`;
}

/**
 * @typedef {object} PartKey
 * @property {string} name
 * @property {string} sign
 * @property {string} words
 * @property {string} label what it does to this part
 * @property {number} to where the part that it is about is then
 * @property {(chain: Part[]) => void} change
 * @property {boolean} [stays] where it can do nothing
 */

/**
 * What can be done with a part.
 * @param {DefineForm} form
 * @param {Part} item
 * @param {number} number
 * @returns {PartKey[]}
 */
function keysOf(form, item, number) {
  const { slot } = item;
  const last = form.draft.chain.length - 1;
  const [before, after] = [number - 1, number + 1];
  const moveTo = (/** @type {number} */ to) => (/** @type {Part[]} */ chain) =>
    chain.splice(to, 0, ...chain.splice(number, 1));
  const copy = (/** @type {Part[]} */ chain) =>
    chain.splice(after, 0, { ...item, slot: freeSlot(chain, slot.replace(/\d+$/, "") || "A") });
  const takeOut = (/** @type {Part[]} */ chain) => chain.splice(number, 1);
  const up = { name: "up", sign: "↑", words: "Up", label: `Move ${slot} up` };
  const down = { name: "down", sign: "↓", words: "Down", label: `Move ${slot} down` };
  const out = { name: "out", sign: "×", words: "Take out", label: `Take out ${slot}` };
  return [
    { ...up, to: before, change: moveTo(before), stays: number === 0 },
    { ...down, to: after, change: moveTo(after), stays: number === last },
    { name: "copy", sign: "+", words: "Copy", label: `Copy ${slot}`, to: after, change: copy },
    { ...out, to: Math.min(number, last - 1), change: takeOut },
  ];
}

/** @param {DefineForm} form @param {PartKey} key */
const partKey = (form, { name, sign, words, label, to, change, stays }) =>
  html`<button
    data-key=${name}
    aria-disabled=${stays ? "true" : "false"}
    aria-label=${label}
    @click=${() => stays || alter(form, name, to, change)}
  >
    ${sign}<span>${words}</span>
  </button>`;

/** @param {DefineForm} form @param {Part} item @param {number} number */
function partRow(form, item, number) {
  const { slot, part } = item;
  const { error } = form.answer;
  const open = form.open === number;
  const wrong = error(`chain.${number}.slot`) ?? error(`chain.${number}.part`);
  const toggle = () => {
    form.open = open ? -1 : number;
    form.draw();
  };
  return html`<li class="card part ${open || wrong ? "open" : ""}">
    <div class="row apart top">
      <h2 class="minor">${slot}, ${PARTS.find(([kind]) => kind === part)?.[1]}</h2>
      <button class="plain" aria-label="Change ${slot}" aria-expanded=${open} @click=${toggle}>
        ${open ? "Close" : "Change"}
      </button>
    </div>
    ${placeAndKind(form, item, number)} ${sizes(form, item, number)}
    <div class="row keys-of">${keysOf(form, item, number).map((key) => partKey(form, key))}</div>
    ${errorLine(error(`chain.${number}`))}
  </li>`;
}

/** The unit of all thicknesses in the table. @param {DefineForm} form */
const tableUnit = ({ read, lengthUnit, switching }, /** @type {(chosen: string) => void} */ choose) =>
  html`${choiceField({
    name: "stackUnit",
    label: "Thicknesses in",
    value: lengthUnit,
    options: read.units.mm.map(({ unit, label }) => /** @type {[string, string]} */ ([unit, label])),
    choose,
  })}${switching.question("stackUnit", read.units.mm)}`;

/** Every part of the stack with its place, to be set apart from its like or moved. @param {DefineForm} form */
export function partByPart(form) {
  const { chain } = form.draft;
  const wrong = chain.some((_, number) =>
    ["", ".slot", ".part"].some((field) => form.answer.error(`chain.${number}${field}`)),
  );
  return html`<details ?open=${wrong}>
    <summary>Every part by itself, ${chain.length}</summary>
    <div class="inside">
      ${tableUnit(form, (chosen) => chooseLengthUnit(form, chosen))}
      <p class="heads" aria-hidden="true">${COLUMNS.map((title) => html`<b>${title}</b>`)}</p>
      <ol class="list" @keydown=${alongColumn}>
        ${chain.map((item, number) => partRow(form, item, number))}
      </ol>
      <button id="add" @click=${() => addPart(form)}>Add a part at the floor</button>
    </div>
  </details>`;
}
