// @ts-check
// Springs and ramp rings, measured part by part, with a verdict for each as it is typed.

import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { draft as kept } from "../../log/drafts.js";
import { write } from "../../log/outbox.js";
import { standing } from "../../log/stands.js";
import { entry, today } from "../../log/store.js";
import { grown } from "../form/readings.js";
import { judging } from "../form/judging.js";
import {
  backTo,
  caution,
  choiceField,
  choiceKeys,
  errorLine,
  findingLines,
  quantity,
  reading,
  typedOf,
  unitOf,
  unitSwitch,
  verdictMark,
} from "../form/fields.js";
import { signing } from "../form/signing.js";
import { worked } from "../form/worked.js";

const MARKS = [
  { value: "none", words: "none" },
  { value: "slight", words: "slight" },
  { value: "heavy", words: "heavy" },
];

/** What differs between the two. @type {Record<string, {part: string, kind: string, title: string, field: string, label: string, told: string}>} */
const MEASURED = {
  springs: {
    part: "spring",
    kind: "spring_check",
    title: "Measure the spring",
    field: "points_mm",
    label: "Free height",
    told: "Each disc free on a surface plate, three clock points or more. With several discs at a place, measure the lowest of them.",
  },
  rings: {
    part: "ring",
    kind: "ring_check",
    title: "Look at the ramp rings",
    field: "steps_mm",
    label: "Step worn into a ramp",
    told: "The depth of the step that the pin has worn into each ramp. 0.05 mm is the usual limit: common practice, no source.",
  },
};

/** @type {import("../../app.js").Show} */
export async function show(place, [id, what, corrected]) {
  const { part, kind, title, field, label, told } = MEASURED[what];
  const [read, found, sign] = await Promise.all([reading(), standing(id), signing(() => draw())]);
  const unit = found.derived.checked;
  const key = corrected ? `${what}/${id}/${corrected}` : `${what}/${id}`;
  const old = corrected ? (await entry(corrected))?.body : undefined;
  const slots = unit.chain
    .filter((/** @type {any} */ item) => item.part === part)
    .map((/** @type {any} */ item) => item.slot);
  /** @type {{unit: string, typed: Record<string, {points: string[], marks: string}>}} */
  let draft = (await kept(key)) ?? {
    unit: old ? unitOf(old[what][0]?.[field][0], "mm") : read.lengthUnit,
    typed: Object.fromEntries(
      slots.map((/** @type {string} */ slot) => {
        const row = old?.[what].find((/** @type {any} */ one) => one.slot === slot);
        return [slot, { points: row ? row[field].map(typedOf) : ["", "", ""], marks: row?.marks ?? "none" }];
      }),
    ),
  };

  const filled = (/** @type {string} */ slot) => (draft.typed[slot]?.points ?? []).filter((one) => one.trim());
  const sent = () => slots.filter((/** @type {string} */ slot) => filled(slot).length >= (what === "springs" ? 3 : 1));
  const request = () => {
    const rows = sent().map((/** @type {string} */ slot) => ({
      slot,
      [field]: filled(slot).map((one) => quantity(one, draft.unit)),
      marks: draft.typed[slot].marks,
      ...(what === "springs" ? { spring: unit.spring } : {}),
    }));
    return rows.length ? { gauge: {}, day: today(), write_in: draft.unit, [what]: rows } : undefined;
  };
  const form = judging({ key, calculation: kind, request, draft: () => draft, draw: () => draw() });
  const switching = unitSwitch(() => draw());
  /** @param {string} chosen */
  const changeUnit = (chosen) =>
    switching.choose(
      "unit",
      Object.values(draft.typed).flatMap((one) => one.points),
      draft.unit,
      chosen,
      (unit) => {
        draft = { ...draft, unit };
        form.changed();
      },
    );
  /** @param {string} slot @param {Partial<{points: string[], marks: string}>} change */
  const set = (slot, change) => {
    draft = { ...draft, typed: { ...draft.typed, [slot]: { ...draft.typed[slot], ...change } } };
    form.changed();
  };

  const save = () =>
    form.save(async (body, shown) => {
      sign.check();
      await write({ unit: id, kind, body, shown, replaces: corrected, draft: key });
      location.hash = `#/unit/${id}`;
    });

  /** @param {string} slot */
  const one = (slot) => {
    const typed = draft.typed[slot];
    const row = form.result?.[what].find((/** @type {any} */ found) => found.name === slot);
    const path = `${what}.${sent().indexOf(slot)}.`;
    const fault = form.bad?.field.startsWith(path) ? form.bad.reason : undefined;
    return html`<section class="card judged ${row?.verdict ?? ""}" aria-label=${slot}>
      <div class="row apart">
        <h2>${slot}</h2>
        ${row ? verdictMark(row.verdict) : nothing}
      </div>
      <fieldset>
        <legend>${label}, ${read.units.mm.find((unit) => unit.unit === draft.unit)?.label}</legend>
        <div class="readings">
          ${typed.points.map(
            (value, number) =>
              html`<input
                type="text"
                inputmode="decimal"
                autocomplete="off"
                .value=${value}
                aria-label=${`${slot} point ${number + 1}`}
                aria-invalid=${fault ? "true" : "false"}
                @input=${(/** @type {any} */ event) =>
                  set(slot, {
                    points: grown(typed.points.map((old, at) => (at === number ? event.target.value : old))),
                  })}
              />`,
          )}${errorLine(fault)}
        </div>
      </fieldset>
      ${choiceKeys({ name: `marks ${slot}`, label: "Heat, scoring or cracks", short: true, value: typed.marks, options: MARKS, choose: (marks) => set(slot, { marks }) })}
      ${
        row
          ? html`<p>${row.reason}</p>
              ${findingLines(row.findings.filter((/** @type {any} */ finding) => finding.text !== row.reason))}`
          : nothing
      }
    </section>`;
  };

  const draw = () =>
    render(
      html`<div class="full">
          ${backTo(`#/unit/${id}`, found.unit.name)}
          <h1>${corrected ? `Correct: ${title.toLowerCase()}` : title}</h1>
          <p class="quiet">${told}</p>
          ${worked(what === "springs" ? "spring" : "rings")}
        </div>
        ${what === "springs" ? html`<div class="full">${caution(html`<b>Only a spring that was relieved in a vice is safe to touch.</b> The maker's limits come first.`)}</div>` : nothing}
        <section class="card full">
          ${choiceField({ name: "unit", label: "Lengths in", value: draft.unit, options: read.units.mm.map((one) => /** @type {[string, string]} */ ([one.unit, one.label])), choose: changeUnit })}
          ${switching.question("unit", read.units.mm)}
        </section>
        ${slots.map(one)}
        <section class="card judged ${form.result?.verdict ?? ""}" aria-live="polite" aria-label="Verdict">
          ${
            form.result
              ? html`${verdictMark(form.result.verdict, true)}
                  <p>${form.result.reason}</p>`
              : html`<p class="quiet">Type what you measured.</p>`
          }
          ${form.bad && !form.bad.field.startsWith(`${what}.`) ? errorLine(form.bad.reason) : nothing}${errorLine(form.failed)}
        </section>
        <section class="card">
          ${sign.field("Measured by")} <button class="main big" ?disabled=${!form.result} @click=${save}>Save</button>
        </section>`,
      place,
    );
  place.classList.add("wide");
  draw();
  await form.judge();
}
