// @ts-check
// The sections of a refit that say what to move: contact pattern, shims and gears, what was tried, what to do.

import { contactDrawing } from "../../draw/contact.js";
import { crownWheelDrawing } from "../../draw/crown-wheel.js";
import { LABELS } from "../../log/labels.js";
import { TRIES } from "../../log/limits.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { caution, choiceField, choiceKeys, figureIn, numberField, verdictMark } from "../form/fields.js";
import { placeOf } from "../form/readings.js";
import { worked } from "../form/worked.js";
import { addTry, dropTry, isOpen, keepTry, putGears, putShims, putTry } from "./refit-form.js";
import { typedTries } from "./setting-draft.js";

/** @typedef {import("./refit-form.js").RefitForm} RefitForm */
/** @typedef {import("./setting-draft.js").Contact} Contact */
/** @typedef {NonNullable<import("../../engine/door.js").ResultOf<"refit">["setting"]>} Setting */

/** @type {Record<Exclude<Contact, "">, string>} */
const CONTACTS = {
  good: "in the middle",
  toe: "toe",
  heel: "heel",
  face: "high, at the tip",
  flank: "low, at the root",
};

const CONTACT_KEYS = [
  ...Object.entries(CONTACTS).map(([value, words]) => ({ value, words, drawing: contactDrawing(value) })),
  { value: "", words: "not looked at" },
];

/** Places after the point of turning torques, which are small. */
const FINER = 2;

/** How a length is written beside its field. @param {RefitForm} form */
const mm = ({ read, draft }) => read.units.mm.find(({ unit }) => unit === draft.lengthUnit)?.label;

/** How a torque is written beside its field. @param {RefitForm} form */
const nm = ({ read, draft }) => read.units.nm.find(({ unit }) => unit === draft.torqueUnit)?.label;

/** Where the paste is wiped off. @param {RefitForm} form */
export function contactPart(form) {
  const row = form.answer.result?.checks.find((check) => check.name === "contact");
  return html`<section class="card judged ${row?.verdict ?? ""}" aria-label="Contact pattern">
    <div class="row apart">
      <h2>Contact pattern</h2>
      ${row ? verdictMark(row.verdict) : nothing}
    </div>
    <p class="quiet">
      Marking paste on a few teeth of the crown wheel, turned by hand under a light brake. Look at the side of the teeth
      that drives the car forward: where is the paste wiped off? ${worked("contact", "How to read it")}
    </p>
    ${choiceKeys({
      name: "contact",
      label: "Drive side, as seen on the tooth",
      value: form.draft.contact,
      options: CONTACT_KEYS,
      choose: (contact) => form.put({ contact: /** @type {Contact} */ (contact) }),
      error: form.answer.error("contact.drive"),
    })}
    ${row ? html`<p>${row.reason}</p>` : nothing}
  </section>`;
}

/** @typedef {"behind" | "tooth" | "pinion" | "step"} Pack */

/** @param {RefitForm} form @param {Pack} which @param {string} [hint] */
const shimField = (form, which, hint) =>
  numberField({
    name: `shims.${which}`,
    label: `${LABELS.refit[`shims.${which}_mm`]}, ${mm(form)}`,
    hint,
    value: form.draft.shims[which],
    error: form.answer.error(`shims.${which}_mm`),
    type: (typed) => putShims(form, { [which]: typed }),
  });

/**
 * A figure of the gears: its place in the draft, and its field.
 * @type {[keyof typeof GEAR_HINTS, keyof typeof LABELS.refit][]}
 */
const GEAR_FIELDS = [
  ["pressure", "gears.pressure_deg"],
  ["other", "gears.other_pressure_deg"],
  ["spiral", "gears.spiral_deg"],
  ["cone", "gears.cone_deg"],
  ["crown", "gears.crown_teeth"],
  ["pinion", "gears.pinion_teeth"],
  ["mean", "gears.mean_radius_mm"],
  ["gauge", "gears.gauge_radius_mm"],
];

const GEAR_HINTS = {
  pressure: "of the flank that the gauge touches",
  other: "only where it differs",
  spiral: "at the middle of the tooth; 0 for straight teeth",
  cone: "or both numbers of teeth",
  crown: "",
  pinion: "",
  mean: "",
  gauge: "a little further out, at the heel",
};

/** @param {RefitForm} form */
function gears(form) {
  const { draft, answer } = form;
  const wrong = answer.bad?.field.startsWith("gears.") ?? false;
  return html`<details ?open=${isOpen(form, "gears", wrong)}>
    <summary>Gears</summary>
    <div class="inside">
      <p class="quiet">
        From the maker's drawing. With pressure angle, spiral angle and cone angle the ratio of backlash to movement is
        worked out; else 0.7 is taken (0.5 to 0.9, common practice, no source) until two tries have shown it.
      </p>
      <div class="pair">
        ${GEAR_FIELDS.map(([name, path]) =>
          numberField({
            name: `gears.${name}`,
            label: path.endsWith("_mm")
              ? `${LABELS.refit[path]}, ${mm(form)}`
              : `${LABELS.refit[path]}${path.endsWith("_deg") ? ", degrees" : ""}`,
            hint: GEAR_HINTS[name],
            value: draft.gears[name],
            error: answer.error(path),
            whole: path.endsWith("_teeth"),
            type: (typed) => putGears(form, { [name]: typed }),
          }),
        )}
      </div>
      ${choiceField({
        name: "gears.along",
        label: LABELS.refit["gears.along"],
        value: draft.gears.along,
        options: [
          ["tooth", "square to the tooth's flank"],
          ["round", "along the circle round the crown wheel"],
        ],
        choose: (along) => putGears(form, { along: along === "round" ? "round" : "tooth" }),
      })}
    </div>
  </details>`;
}

/** @param {RefitForm} form */
export function shimsPart(form) {
  return html`<section class="card" aria-label="Shims">
    <h2>Shims</h2>
    <p class="quiet">
      What is in now, each pack measured as it goes in. May stay empty: then only the changes are given.
    </p>
    <div class="pair">${shimField(form, "behind")} ${shimField(form, "tooth")}</div>
    <div class="pair">
      ${shimField(form, "pinion")} ${shimField(form, "step", "0.05 mm, for example; empty for any thickness")}
    </div>
    ${choiceField({
      name: "shims.thicker",
      label: LABELS.refit["shims.thicker"],
      value: form.draft.shims.thicker,
      options: [
        ["deeper", "moves it deeper, to the middle"],
        ["shallower", "moves it out"],
      ],
      choose: (thicker) => putShims(form, { thicker: thicker === "shallower" ? "shallower" : "deeper" }),
    })}
    ${gears(form)} ${tried(form)}
  </section>`;
}

/** @param {RefitForm} form @param {number | null} value */
const length = ({ read, draft }, value) => (value === null ? "–" : figureIn(read.units, "mm", draft.lengthUnit, value));

/** @param {RefitForm} form @param {number | null} value */
const torque = ({ read, draft }, value) =>
  value === null ? "–" : figureIn(read.units, "nm", draft.torqueUnit, value, FINER);

/** Each try and the present one, in a row. @param {RefitForm} form @param {Setting["tries"]} rows */
const table = (form, rows) =>
  html`<p class="quiet">Shims and backlash in ${mm(form)}, torque in ${nm(form)}.</p>
    <table class="tried">
    <thead>
      <tr>
        <th scope="col">Try</th>
        <th scope="col">Shims</th>
        <th scope="col">Backlash</th>
        <th scope="col">Torque</th>
        <th scope="col">Contact</th>
      </tr>
    </thead>
    <tbody>
      ${rows.map(
        (row, number) =>
          html`<tr>
            <th scope="row">${number === rows.length - 1 ? "now" : number + 1}</th>
            <td>
              <small>behind ${length(form, row.behind_mm)}</small>
              <small>tooth side ${length(form, row.tooth_mm)}</small>
              <small>pinion ${length(form, row.pinion_mm)}</small>
            </td>
            <td>${length(form, row.backlash_mm)}</td>
            <td>
              ${torque(form, row.torque_nm)}
            </td>
            <td>${row.contact ? CONTACTS[row.contact] : "–"}</td>
          </tr>`,
      )}
    </tbody>
  </table>`;

/** @param {RefitForm} form @param {number} place */
function oneTry(form, place) {
  const { draft, answer } = form;
  const row = draft.tries[place];
  const sent = typedTries(draft.tries.slice(0, place)).length;
  const path = `tries.${sent}.`;
  const error = (/** @type {string} */ field) => (typedTries([row]).length ? answer.error(path + field) : undefined);
  const wrong = typedTries([row]).length > 0 && (answer.bad?.field.startsWith(path) ?? false);
  const pack = (/** @type {"behind" | "tooth" | "pinion"} */ which) =>
    numberField({
      name: `tries.${place}.${which}`,
      label: `${LABELS.refit[`tries..${which}_mm`]}, ${mm(form)}`,
      value: row[which],
      error: error(`${which}_mm`),
      type: (typed) => putTry(form, place, { [which]: typed }),
    });
  const points = row.points.map((point, tooth) => {
    const bad = answer.bad?.field.startsWith(`${path}points_mm.`) ? answer.bad : undefined;
    const isHere = bad && typedTries([row]).length && placeOf(row.points, Number(bad.field.split(".")[3])) === tooth;
    return numberField({
      name: `tries.${place}.points.${tooth}`,
      label: row.points.length > 1 ? `Backlash, tooth ${tooth + 1}, ${mm(form)}` : `Backlash, ${mm(form)}`,
      value: point,
      error: isHere ? bad?.reason : undefined,
      type: (typed) =>
        putTry(form, place, { points: row.points.map((other, number) => (number === tooth ? typed : other)) }),
    });
  });
  return html`<details ?open=${isOpen(form, `try ${place}`, wrong || !typedTries([row]).length)}>
    <summary>Try ${place + 1}</summary>
    <div class="inside">
      <div class="pair">${pack("behind")} ${pack("tooth")}</div>
      <div class="pair">
        ${pack("pinion")}
        ${numberField({
          name: `tries.${place}.torque`,
          label: `${LABELS.refit["tries..torque_nm"]}, ${nm(form)}`,
          value: row.torque,
          error: error("torque_nm"),
          type: (torque) => putTry(form, place, { torque }),
        })}
      </div>
      <div class="pair">${points}</div>
      ${choiceField({
        name: `tries.${place}.contact`,
        label: LABELS.refit["tries..contact"],
        value: row.contact,
        options: [["", "not looked place"], ...Object.entries(CONTACTS)],
        choose: (contact) => putTry(form, place, { contact: /** @type {Contact} */ (contact) }),
      })}
      <button class="plain" @click=${() => dropTry(form, place)}>Remove try ${place + 1}</button>
    </div>
  </details>`;
}

/** @param {RefitForm} form */
function tried(form) {
  const { draft } = form;
  const rows = form.answer.result?.setting?.tries ?? [];
  const full = draft.tries.length >= TRIES.most;
  return html`<h3>What was tried</h3>
    <p class="quiet">
      Two tries with different shims show how much a shim does in this axle; the next move goes by that.
    </p>
    ${rows.length > 1 ? html`${table(form, rows)}` : nothing}
    ${draft.tries.map((_, place) => oneTry(form, place))}
    ${full ? nothing : html`<button class="plain" @click=${() => addTry(form)}>Type an earlier try</button>`}`;
}

const setCaution = caution(
  html`<b>Never run it without backlash, and set the bearings' preload to the maker's figures.</b> The carrier is heavy:
    lift it with two people or a hoist, fingers out of the teeth. Each cap goes back on its own side, as marked.`,
);

/** @param {Setting} setting */
function drawing({ way, behind_text, tooth_text, pinion_text, advice }) {
  const words = advice.filter(({ about }) => about === "shims").map(({ text }) => text);
  return crownWheelDrawing({
    way: way === "still" ? "" : way,
    behind: behind_text,
    tooth: tooth_text,
    pinion: pinion_text,
    words: `The crown wheel between its two packs of shims. ${words.join(" ")}`,
  });
}

/** What to do next. @param {RefitForm} form */
export function movesPart(form) {
  const { draft, answer } = form;
  const setting = answer.result?.setting;
  const kept = typedTries(draft.tries).length;
  if (!setting)
    return html`<section class="card" aria-label="What to move" aria-live="polite">
      <h2>What to move</h2>
      <p class="quiet">
        ${
          kept && !answer.result
            ? `${kept === 1 ? "1 try is" : `${kept} tries are`} kept: fit the shims, tighten the caps and read again.`
            : "Type backlash, turning torque or the contact pattern."
        }
      </p>
    </section>`;
  const todo = setting.advice.filter(({ about }) => about === "shims");
  const moves = setting.behind_text || setting.tooth_text || setting.pinion_text;
  const why = setting.advice.filter(({ about }) => about !== "shims");
  return html`<section class="card" aria-label="What to move" aria-live="polite">
    <h2>What to move</h2>
    ${moves ? html`${drawing(setting)} ${setCaution}` : nothing}
    ${todo.map(({ text }) => html`<p><b>${text}</b></p>`)}
    <ul class="to-do">
      ${why.map(({ text }) => html`<li>${text}</li>`)}
    </ul>
    ${kept >= TRIES.most ? nothing : html`<button @click=${() => keepTry(form)}>Keep this try and read again</button>`}
    ${worked("setting")}
  </section>`;
}
