// @ts-check
// Other parts, inspected feature by feature, each judged as it is typed.

import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { saveKey } from "../form/act-key.js";
import { FEATURE_PARTS } from "../form/feature-parts.js";
import {
  backTo,
  choiceField,
  choiceKeys,
  clearKey,
  errorLine,
  numberField,
  typedOf,
  unitOf,
  verdictMark,
} from "../form/fields.js";
import { placeOf, readingRow } from "../form/readings.js";
import { style } from "../form/style.js";
import { worked } from "../form/worked.js";
import { gaugeOf, inspected } from "./inspect-draft.js";
import { chooseGauge, chooseUnit, inspectForm, putFound, putZero, save } from "./inspect-form.js";
import { rowVerdict } from "./row-verdict.js";

/** @typedef {import("./inspect-form.js").InspectForm} InspectForm */
/** @typedef {import("./inspect-draft.js").Feature} Feature */
/** @typedef {import("./inspect-draft.js").Kind} Kind */

/** What is found besides lengths: which field, and the keys for it. */
const SEEN = /** @type {const} */ ({
  surface: {
    field: "marks",
    options: [
      { value: "none", words: "no marks" },
      { value: "slight", words: "slight" },
      { value: "heavy", words: "deep, blue or cracked" },
    ],
  },
  crack: {
    field: "crack",
    options: [
      { value: "none", words: "no crack found" },
      { value: "unclear", words: "not clear" },
      { value: "crack", words: "crack found" },
    ],
  },
});

/** What gauges are called, and what is assumed of one that is not in the kit. @type {Record<Kind, [string, string]>} */
const GAUGES = {
  micrometer: ["Micrometer", "divisions of 0.01 mm and ± 0.004 mm (ISO 3611, from memory)"],
  dial_gauge: ["Dial gauge", "divisions of 0.01 mm and ± 0.02 mm (ISO 463, from memory)"],
  feeler: ["Feeler gauge", "steps of 0.05 mm and leaves of ± 0.005 mm (DIN 2275, from memory)"],
  bore_gauge: ["Bore gauge", "divisions of 0.01 mm and ± 0.015 mm (common practice)"],
  depth_gauge: ["Depth gauge", "divisions of 0.01 mm and ± 0.03 mm (ISO 13385-2, from memory)"],
};

/**
 * A figure of the definition as it was typed.
 * @param {InspectForm} form @param {import("../form/fields.js").Typed} value
 */
function asTyped({ read }, value) {
  const unit = unitOf(value, "mm");
  return `${typedOf(value)} ${read.units.mm.find((choice) => choice.unit === unit)?.label ?? unit}`;
}

/** Its limits and how it is measured, in a line. @param {InspectForm} form @param {Feature} feature */
function toGoBy(form, feature) {
  const { low_mm, high_mm, new_mm, change_mm, usual_limits } = feature;
  const known = /** @type {[string, import("../form/fields.js").Typed][]} */ ([
    ["new", new_mm],
    ["at least", low_mm],
    ["at most", high_mm],
    ["may change by", change_mm],
  ]).filter(([, value]) => typedOf(value).trim());
  const kind = gaugeOf(feature);
  const gauge =
    kind === "feeler" ? "feeler gauge: the thickest leaf that passes" : kind && GAUGES[kind][0].toLowerCase();
  return [
    ...known.map(([words, value]) => `${words} ${asTyped(form, value)}`),
    ...(usual_limits ? ["common practice"] : []),
    ...(gauge ? [gauge] : []),
  ].join(", ");
}

/**
 * What the engine says of a field of a feature, and at which place.
 * @param {InspectForm} form @param {Feature} feature
 */
function fault({ answer: { bad }, draft, features }, { name }) {
  const path = `features.${inspected(draft, features).findIndex((feature) => feature.name === name)}.`;
  if (!bad?.field.startsWith(path)) return undefined;
  const at = /points_mm\.(\d+)$/.exec(bad.field);
  return { reason: bad.reason, place: at ? placeOf(draft.found[name].points, Number(at[1])) : undefined };
}

/** @param {InspectForm} form @param {Feature} feature */
function lengths(form, feature) {
  const { name } = feature;
  const { points } = form.draft.found[name];
  const label = form.read.units.mm.find(({ unit }) => unit === form.draft.unit)?.label;
  const wrong = fault(form, feature);
  return html`<fieldset>
    <legend>${name}, ${label}</legend>
    <p class="quiet">${toGoBy(form, feature)}</p>
    ${readingRow({
      readings: points,
      limits: { most: points.length },
      label: (number) => (points.length > 1 ? `${name}, place ${number}` : name),
      wrong: (place) => Boolean(wrong && (wrong.place === undefined || wrong.place === place)),
      error: wrong?.reason,
      type: (typed) => putFound(form, name, { points: typed }),
      name,
      turn: points.length,
    })}
  </fieldset>`;
}

/** @param {InspectForm} form @param {Feature} feature */
function found(form, feature) {
  const { name, measure } = feature;
  const typed = form.draft.found[name];
  const wrong = fault(form, feature);
  if (measure === "used") {
    const most = typedOf(feature.most_uses).trim();
    return numberField({
      name: `uses ${name}`,
      label: `${name}: used how often so far`,
      hint: most ? `may be used ${most} times in all` : "",
      value: typed.uses,
      whole: true,
      error: wrong?.reason,
      type: (uses) => putFound(form, name, { uses }),
    });
  }
  if (measure !== "surface" && measure !== "crack") return lengths(form, feature);
  const { field, options } = SEEN[measure];
  const keys = choiceKeys({
    name: `${field} ${name}`,
    label: name,
    short: true,
    value: typed[field],
    options: [...options, ...(typed[field] ? [{ value: "", words: "not looked at" }] : [])],
    error: wrong?.reason,
    choose: (chosen) => putFound(form, name, { [field]: chosen }),
  });
  return keys;
}

/** @param {InspectForm} form @param {Feature} feature */
function featureRow(form, feature) {
  const row = form.answer.result?.features.find(({ name }) => name === feature.name);
  return html`<div class="inspected" role="group" aria-label=${feature.name}>
    ${found(form, feature)}
    ${row ? html`<div class="said">${verdictMark(row.verdict)}${rowVerdict(row)}</div>` : nothing}
  </div>`;
}

/** @param {InspectForm} form */
const parts = (form) =>
  FEATURE_PARTS.map(([part, title]) => {
    const rows = form.features.filter((feature) => feature.part === part);
    return rows.length
      ? html`<section class="card" aria-label=${title}>
          <h2>${title}</h2>
          ${rows.map((feature) => featureRow(form, feature))}
        </section>`
      : nothing;
  });

/** @param {InspectForm} form @param {Kind} kind */
function gauge(form, kind) {
  const [title, usual] = GAUGES[kind];
  const known = form.ofKit(kind);
  const { toolIds, zeros, tools } = form.draft;
  const before = tools[kind] ? /** @type {[string, string][]} */ ([["", `${tools[kind].name || "as before"}`]]) : [];
  const label = form.read.units.mm.find(({ unit }) => unit === form.draft.unit)?.label;
  return html`<div class="pair uneven">
    ${
      known.length || before.length
        ? choiceField({
            name: `gauge ${kind}`,
            label: title,
            value: toolIds[kind] ?? "",
            options: [...before, ...known.map(({ id, name }) => /** @type {[string, string]} */ ([id, name]))],
            choose: (chosen) => chooseGauge(form, kind, chosen),
          })
        : html`<p class="quiet">
            ${title}: none is in the kit, so one with ${usual} is assumed.
            <a href="#/kit">Add yours to the kit</a>
          </p>`
    }
    ${numberField({
      name: `zero ${kind}`,
      label: `${title}: off zero afterwards by, ${label}`,
      hint: "0 if it came back to zero; empty if you did not look",
      value: zeros[kind],
      error: zeroFault(form, kind),
      type: (typed) => putZero(form, kind, typed),
    })}
  </div>`;
}

/** What the engine says of the zero of a kind of gauge. @param {InspectForm} form @param {Kind} kind */
function zeroFault({ answer: { bad }, draft, features }, kind) {
  const at = /^features\.(\d+)\.tool\./.exec(bad?.field ?? "");
  const feature = at && inspected(draft, features)[Number(at[1])];
  return feature && gaugeOf(feature) === kind ? bad?.reason : undefined;
}

/** @param {InspectForm} form */
function gauges(form) {
  const { mm } = form.read.units;
  const wrong = form.kinds.some((kind) => zeroFault(form, kind));
  return html`<section class="card" aria-label="Gauges">
    ${choiceField({
      name: "unit",
      label: "Lengths in",
      value: form.draft.unit,
      options: mm.map(({ unit, label }) => /** @type {[string, string]} */ ([unit, label])),
      choose: (chosen) => chooseUnit(form, chosen),
    })}
    ${form.switching.question("unit", mm)}
    ${
      form.kinds.length
        ? html`<details ?open=${wrong}>
            <summary>Gauges, and their zero</summary>
            <div class="inside">${form.kinds.map((kind) => gauge(form, kind))}</div>
          </details>`
        : nothing
    }
  </section>`;
}

/** @param {InspectForm} form */
function verdict({ answer, features }) {
  const { result, bad, failed } = answer;
  const judged = result
    ? html`${verdictMark(result.verdict, true)}
        <p>${result.reason}</p>
        <p class="quiet">${result.features.length} of ${features.length} inspected. The others stay as they were.</p>`
    : html`<p class="quiet">Type what you measured; what you leave empty stays as it was.</p>`;
  return html`<section class="card judged ${result?.verdict ?? ""}" aria-live="polite" aria-label="Verdict">
    ${judged} ${bad && !bad.field.startsWith("features.") ? errorLine(bad.reason) : nothing} ${errorLine(failed)}
  </section>`;
}

/** @param {InspectForm} form */
const saving = (form) =>
  html`<section class="card">
    ${form.sign.field("Inspected by")}
    ${saveKey({ answer: form.answer, words: "Save", save: () => save(form), first: ".readings input" })}
    ${form.touched || form.cleared ? clearKey(Boolean(form.cleared), form.clear, form.putBack) : nothing}
  </section>`;

/** @param {string} id the unit */
const nothingListed = (id) =>
  html`<section class="card">
    <h2>Nothing is listed yet</h2>
    <p>
      Say once what is inspected on this unit: gears, pins, washers, case, screws, each with its limits. There are
      ready-made lists to begin with.
    </p>
    <a class="button main" href="#/unit/${id}/change/at/features">List what is inspected</a>
  </section>`;

/** @type {import("../../app.js").Show} */
export async function show(place, [id, corrected]) {
  const [form] = await Promise.all([inspectForm(id, corrected, () => draw()), style("inspect")]);
  if (!form) {
    location.hash = `#/unit/${id}`;
    return;
  }
  const draw = () =>
    render(
      html`<div class="full">
          ${backTo(`#/unit/${id}`, form.name)}
          <h1>${corrected ? "Correct an inspection" : "Inspect other parts"}</h1>
          ${worked("inspection")}
        </div>
        ${
          form.features.length
            ? html`<div class="screen">${gauges(form)} ${parts(form)}</div>
                <div class="screen beside">${verdict(form)} ${saving(form)}</div>`
            : nothingListed(id)
        }`,
      place,
    );
  place.classList.add("wide");
  draw();
  await form.answer.judge();
}
