// @ts-check
// What is inspected on other parts, in a unit's definition: each feature with its limits, and ready-made lists by part.

import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { FEATURE_PARTS } from "../form/feature-parts.js";
import { choiceField, numberField, textField, typedOf, unitOf } from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { worked } from "../form/worked.js";
import { blankFeature } from "./define-draft.js";
import { quantityOf } from "./define-fields.js";

/** @typedef {import("./define-form.js").DefineForm} DefineForm */
/** @typedef {import("./define-draft.js").Feature} Feature */
/** @typedef {import("../form/fields.js").Typed} Typed */

/** Which part a feature is of. @type {[string, string][]} */
const CHOICE_OF_PARTS = FEATURE_PARTS.map(([part, words]) => [part, part === "other" ? "Another part" : words]);

/** @type {[string, string][]} */
const MEASURES = [
  ["size", "size"],
  ["play", "play"],
  ["backlash", "backlash"],
  ["end_float", "end float"],
  ["run_out", "run-out (whole swing of the needle)"],
  ["flatness", "flatness (gap under a straight edge)"],
  ["surface", "surface, by eye"],
  ["crack", "crack test, pass or fail"],
  ["used", "times used"],
];

/** @type {[string, string][]} */
const GAUGES = [
  ["", "the usual one"],
  ["micrometer", "micrometer"],
  ["dial_gauge", "dial gauge"],
  ["feeler", "feeler gauge"],
  ["bore_gauge", "bore gauge"],
  ["depth_gauge", "depth gauge"],
];

/** @type {[string, string][]} */
const OUTSIDE = [
  ["", "usual: shim backlash and float, replace the rest"],
  ["replace", "replace it"],
  ["rework", "rework or shim it"],
];

/** What uses screws once more, as the log tells. @type {[string, string][]} */
const COUNTED = [
  ["", "only as inspections say"],
  ["closing", "each time that the cover is closed"],
  ["refit", "each time that the unit goes back into its axle"],
];

/** What has no limits in mm. @type {Record<string, string>} */
const WITHOUT_LENGTH = {
  surface: "No limit: it passes without deep scoring, blue or cracks.",
  crack: "No limit: it passes when the crack test finds none.",
};

/** @type {["new_mm" | "low_mm" | "high_mm" | "change_mm", string, string][]} */
const LIMITS = [
  ["new_mm", "when new", "may stay empty"],
  ["low_mm", "lowest allowed", "may stay empty"],
  ["high_mm", "highest allowed", "may stay empty"],
  ["change_mm", "change allowed against new", "either way; needs the figure when new"],
];

/** @param {DefineForm} form @param {number} place @param {Partial<Feature>} change */
const put = (form, place, change) =>
  form.put({ features: form.draft.features.map((item, other) => (other === place ? { ...item, ...change } : item)) });

/** Limits that somebody types are no longer only common practice. @type {Partial<Feature>} */
const OWN = { usual_limits: null };

const USUAL = html`<p class="quiet">Common practice, no source: the maker's limits come first.</p>`;

/** @param {DefineForm} form @param {number} place */
function limits(form, place) {
  const feature = form.draft.features[place];
  const label = feature.name || "This";
  const error = (/** @type {string} */ name) => form.answer.error(`features.${place}.${name}`);
  const without = WITHOUT_LENGTH[feature.measure];
  if (without) return html`<p class="quiet">${without}</p>`;
  if (feature.measure === "used")
    return html`<div class="fields">
      ${numberField({
        name: `features.${place}.most_uses`,
        label: `${label}, may be used so often in all`,
        hint: "1 for what is used once; may stay empty",
        value: typedOf(feature.most_uses),
        error: error("most_uses"),
        whole: true,
        type: (typed) => put(form, place, { most_uses: typed, ...OWN }),
      })}
      ${choiceField({
        name: `features.${place}.counted`,
        label: `${label}: used once more`,
        value: feature.counted,
        options: COUNTED,
        error: error("counted"),
        choose: (counted) => put(form, place, { counted }),
      })}
    </div>`;
  return html`<div class="fields">
      ${LIMITS.map(([name, words, hint]) =>
        quantityOf(form, {
          name: `features.${place}.${name}`,
          label: `${label}, ${words}`,
          hint,
          si: "mm",
          value: feature[name],
          put: (typed) => put(form, place, { [name]: typed, ...OWN }),
          error: error(name),
        }),
      )}
    </div>
    ${feature.usual_limits ? USUAL : nothing}`;
}

/** What changes with what is measured: the rest of the row that no longer fits is emptied. @param {string} measure */
const measuredAs = (measure) => ({
  measure,
  gauge: "",
  ...(measure === "used" ? {} : { most_uses: "", counted: "" }),
  ...(measure === "used" || WITHOUT_LENGTH[measure] ? { new_mm: "", low_mm: "", high_mm: "", change_mm: "" } : {}),
});

/** How it is measured. @param {DefineForm} form @param {number} place */
function how(form, place) {
  const feature = form.draft.features[place];
  const label = feature.name || "This";
  const path = `features.${place}`;
  const hasLength = feature.measure !== "used" && !WITHOUT_LENGTH[feature.measure];
  const choice = (
    /** @type {"part" | "measure" | "gauge" | "outside"} */ name,
    /** @type {string} */ words,
    /** @type {[string, string][]} */ options,
    /** @type {(chosen: string) => Partial<Feature>} */ change,
  ) =>
    choiceField({
      name: `${path}.${name}`,
      label: `${label}: ${words}`,
      value: feature[name],
      options,
      error: form.answer.error(`${path}.${name}`),
      choose: (chosen) => put(form, place, change(chosen)),
    });
  return html`<div class="fields">
    ${choice("part", "part", CHOICE_OF_PARTS, (part) => ({ part }))}
    ${choice("measure", "what is measured", MEASURES, measuredAs)}
    ${hasLength ? choice("gauge", "gauge", GAUGES, (gauge) => ({ gauge })) : nothing}
    ${
      hasLength
        ? numberField({
            name: `${path}.places`,
            label: `${label}: in how many places`,
            value: typedOf(feature.places),
            error: form.answer.error(`${path}.places`),
            whole: true,
            type: (places) => put(form, place, { places }),
          })
        : nothing
    }
    ${
      feature.measure === "crack" ? nothing : choice("outside", "if it is outside", OUTSIDE, (outside) => ({ outside }))
    }
  </div>`;
}

/** A figure as it was typed, with its unit. @param {DefineForm} form @param {Typed} value */
function asTyped({ read }, value) {
  const unit = unitOf(value, "mm");
  return `${typedOf(value)} ${read.units.mm.find((choice) => choice.unit === unit)?.label ?? unit}`;
}

/** What is looked for, in a line. @param {DefineForm} form @param {Feature} feature */
function inShort(form, { measure, low_mm, high_mm, change_mm, most_uses }) {
  const words = MEASURES.find(([name]) => name === measure)?.[1] ?? measure;
  const limits = [
    ["at least", low_mm],
    ["at most", high_mm],
    ["change at most", change_mm],
  ]
    .filter(([, value]) => typedOf(value).trim())
    .map(([sign, value]) => `${sign} ${asTyped(form, value)}`);
  const uses = typedOf(most_uses).trim() ? [`up to ${typedOf(most_uses)} times`] : [];
  const limitsAndUses = [...limits, ...uses].join(", ");
  return `${words}${limitsAndUses ? `: ${limitsAndUses}` : WITHOUT_LENGTH[measure] ? "" : ": no limit yet"}`;
}

/** @param {DefineForm} form @param {number} place */
function featureRow(form, place) {
  const feature = form.draft.features[place];
  const path = `features.${place}`;
  const { bad } = form.answer;
  const wrong = Boolean(bad?.field.startsWith(`${path}.`));
  const takeOut = () => {
    // Those behind it have other places then.
    for (const name of form.unfolded) if (name.startsWith("features.")) form.unfolded.delete(name);
    form.put({ features: form.draft.features.filter((_, other) => other !== place) });
    focusOn(form.place, "#add-feature");
  };
  const toggle = (/** @type {{currentTarget: HTMLDetailsElement}} */ { currentTarget }) => {
    if (currentTarget.open) form.unfolded.add(path);
    else form.unfolded.delete(path);
  };
  return html`<li>
    <details
      ?open=${wrong || form.unfolded.has(path)}
      @toggle=${toggle}
      data-feature=${place}>
      <summary><b>${feature.name || "No name yet"}</b> <small>${inShort(form, feature)}</small></summary>
      <div class="inside">
        ${textField({
          name: `${path}.name`,
          label: `Name of feature ${place + 1}`,
          hint: "such as Case bore, or Side gear left, end float",
          value: feature.name,
          error: form.answer.error(`${path}.name`),
          type: (name) => put(form, place, { name }),
        })}
        ${limits(form, place)} ${how(form, place)}
        <button class="small" @click=${takeOut}>Take ${feature.name || "this"} out</button>
      </div>
    </details>
  </li>`;
}

/**
 * A ready-made list's features that are not listed yet.
 * @param {DefineForm} form @param {import("./define-draft.js").FeatureList} list
 */
const notYet = ({ draft }, { features }) =>
  features.filter(({ name }) => !draft.features.some((known) => known.name === name));

/** Ready-made lists, by part. @param {DefineForm} form */
function ready(form) {
  const left = form.usualFeatures.filter((list) => notYet(form, list).length);
  if (!left.length) return nothing;
  return html`<h2 class="minor">Add what is usually looked at</h2>
    <p class="quiet">Limits are empty, for the maker's figures; those of common practice are marked so.</p>
    <div class="row usual" role="group" aria-label="Ready-made lists">
      ${left.map(
        (list) =>
          html`<button
            class="small"
            @click=${() => form.put({ features: [...form.draft.features, ...notYet(form, list)] })}
          >
            ${list.title} (${notYet(form, list).length})
          </button>`,
      )}
    </div>`;
}

/** @param {DefineForm} form */
export function otherParts(form) {
  const add = () => {
    form.unfolded.add(`features.${form.draft.features.length}`);
    form.put({ features: [...form.draft.features, blankFeature()] });
    focusOn(form.place, ".features > li:last-child input");
  };
  return html`<p class="quiet">
      Gears, pins, washers, case, screws: what is looked at when the unit is open. Each is judged at an inspection, and
      its verdict counts until the part is replaced.
    </p>
    ${
      form.draft.features.length
        ? html`<ol class="list features" aria-label="Inspected features">
            ${form.draft.features.map((_, place) => featureRow(form, place))}
          </ol>`
        : nothing
    }
    ${ready(form)} <button class="small" id="add-feature" @click=${add}>Add a feature of your own</button>
    ${worked("inspection")}`;
}
