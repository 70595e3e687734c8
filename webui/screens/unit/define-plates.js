// @ts-check
// Plates and rings by their kind: each thickness is typed once, for all parts that have it.

import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { choiceKeys, errorLine, withCapital } from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { frictionAside, inTwo, movedTo, withFewer, withMore } from "./define-chain.js";
import { quantityOf } from "./define-fields.js";
import { chooseLayout, restack, setAlike } from "./define-form.js";
import { partByPart } from "./define-stack.js";

/** @typedef {import("./define-form.js").DefineForm} DefineForm */
/** @typedef {import("./define-chain.js").Part} Part */
/** Parts of a kind that are alike. @typedef {{like: Part, places: number[]}} Alike */

const LAYOUTS = [
  { value: "in_line", words: "one spring in line" },
  { value: "two_springs", words: "two springs, one at each end" },
  { value: "between_rings", words: "spring between the rings" },
];

const KINDS = [
  { part: "friction", one: "friction plate", many: "friction plates" },
  { part: "separator", one: "separator", many: "separators" },
  { part: "shim", one: "shim", many: "shims" },
  { part: "ring", one: "ramp ring", many: "ramp rings" },
];
/** @typedef {(typeof KINDS)[number]} Kind */

const ORDINALS = ["", "second ", "third ", "fourth "];

/**
 * Groups of a kind's parts that are typed together.
 * @param {Part[]} chain @param {string} part
 * @returns {Alike[]}
 */
function groupsOf(chain, part) {
  /** @type {Alike[]} */
  const groups = [];
  chain.forEach((like, place) => {
    if (like.part !== part) return;
    groups[like.alike ?? 0] ??= { like, places: [] };
    groups[like.alike ?? 0].places.push(place);
  });
  return groups.filter(Boolean);
}

/**
 * @param {DefineForm} form @param {Kind} kind @param {Alike} group @param {number} which
 * @param {"new_mm" | "minimum_mm"} field
 */
function alikeField(form, kind, { like, places }, which, field) {
  const path = `chain.${kind.part}.${which}.${field}`;
  const wrong = places.map((place) => form.answer.error(`chain.${place}.${field}`)).find(Boolean);
  return quantityOf(form, {
    name: path,
    label: `${withCapital(`${ORDINALS[which]}${kind.one}`)} ${field === "new_mm" ? "thickness" : "limit"}`,
    si: "mm",
    value: like[field],
    put: (value) => setAlike(form, like, { [field]: value }),
    error: wrong,
    hint: field === "new_mm" ? undefined : "replace it below",
  });
}

/**
 * Which of a kind have this thickness: each is a key.
 * @param {DefineForm} form @param {Kind} kind @param {Alike} group
 */
function whichOf(form, kind, { like }) {
  const { chain } = form.draft;
  const slots = chain.flatMap((item, place) => (item.part === kind.part ? [{ ...item, place }] : []));
  return html`<fieldset>
    <legend>These of the ${kind.many} are so thick</legend>
    <div class="row">
      ${slots.map(({ slot, alike, place }) => {
        const isThis = alike === like.alike;
        const to = isThis ? 0 : (like.alike ?? 0);
        return html`<button
          class="small member"
          aria-pressed=${isThis ? "true" : "false"}
          @click=${() => restack(form, (now) => movedTo(now, place, to))}
        >
          ${isThis ? "✓ " : ""}${slot}
        </button>`;
      })}
    </div>
  </fieldset>`;
}

/** A kind in two thicknesses, of which the second is typed next. @param {DefineForm} form @param {string} part */
function split(form, part) {
  restack(form, (chain) => inTwo(chain, part));
  form.draw();
  focusOn(form.place, `[data-field="chain.${part}.1.new_mm"]`);
}

/** @param {DefineForm} form @param {Kind} kind */
function kindFields(form, kind) {
  const groups = groupsOf(form.draft.chain, kind.part);
  if (!groups.length) return nothing;
  if (groups.length > ORDINALS.length)
    return html`<p class="quiet">
      ${withCapital(kind.many)} of ${groups.length} thicknesses: see every part by itself.
    </p>`;
  const many = groups.flatMap(({ places }) => places).length > 1;
  return html`${groups.map(
    (group, which) =>
      html`<div class="fields">
          ${alikeField(form, kind, group, which, "new_mm")}
          ${kind.part === "ring" ? nothing : alikeField(form, kind, group, which, "minimum_mm")}
        </div>
        ${which ? whichOf(form, kind, group) : nothing}`,
  )}
  ${
    many && groups.length === 1
      ? html`<button class="small" @click=${() => split(form, kind.part)}>
          ${withCapital(kind.many)} of two thicknesses
        </button>`
      : nothing
  }`;
}

/** How many plates there are; of a unit that is in the log already each has its history. @param {DefineForm} form */
function count(form) {
  const aside = frictionAside(form.draft.chain);
  const change = (/** @type {typeof withMore} */ to) => () => restack(form, to);
  return html`<fieldset>
    <legend>Friction plates on each side</legend>
    <div class="row stepper">
      <button aria-label="One friction plate less on each side" @click=${change(withFewer)}>−</button>
      <output>${aside}</output>
      <button aria-label="One friction plate more on each side" @click=${change(withMore)}>+</button>
    </div>
  </fieldset>`;
}

/** Plates and rings: where the spring sits, how many there are, how thick each kind is. @param {DefineForm} form */
export function plates(form) {
  const layout = choiceKeys({
    name: "layout",
    label: "Where does the spring sit?",
    short: true,
    value: form.draft.layout,
    error: form.answer.error("layout"),
    options: LAYOUTS,
    choose: (chosen) => chooseLayout(form, chosen),
  });
  return html`${layout} ${form.id ? nothing : count(form)} ${KINDS.map((kind) => kindFields(form, kind))}
  ${errorLine(form.answer.error("chain"))} ${partByPart(form)}`;
}
