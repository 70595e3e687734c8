// @ts-check
// Plates: the stack drawing is the form. Tap a plate, type its points; every plate is judged as you go.

import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { draft as kept, dropDraft } from "../../log/drafts.js";
import { write } from "../../log/outbox.js";
import { kit, standing } from "../../log/stands.js";
import { entry, fact, remember, today } from "../../log/store.js";
import { stackDrawing } from "../../draw/stack.js";
import { keepAwake } from "../form/awake.js";
import { grown, placeOf } from "../form/readings.js";
import { judging } from "../form/judging.js";
import {
  backTo,
  caution,
  choiceField,
  choiceKeys,
  clearKey,
  errorLine,
  findingLines,
  numberField,
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
  { value: "heavy", words: "heavy: blue, cracked, deep" },
];

// Where a plate has no limit of its own: common practice, no source.
const USUAL_WEAR = 0.92;

/** @typedef {{points: string[], gap: string, marks: string}} Typed */

/** @returns {Typed} */
const untouched = () => ({ points: ["", "", ""], gap: "", marks: "none" });

/** @param {Typed} [typed] */
const pointsIn = (typed) => (typed?.points ?? []).filter((one) => one.trim());

/** @type {import("../../app.js").Show} */
export async function show(place, [id, corrected]) {
  const [read, found, tools, usual] = await Promise.all([reading(), standing(id), kit(), fact("micrometer", "")]);
  if (!found.unit) return void (location.hash = `#/unit/${id}`);
  const unit = found.derived.checked;
  const key = corrected ? `plates/${id}/${corrected}` : `plates/${id}`;
  const micrometers = tools.filter((one) => one.tool === "micrometer");
  const measured = unit.chain.filter((/** @type {any} */ item) => item.part !== "ring" && item.part !== "spring");
  const old = corrected ? (await entry(corrected))?.body : undefined;
  /** @type {{toolId: string, tool: any, lengthUnit: string, chosen: string, plates: Record<string, Typed>}} */
  let draft = (await kept(key)) ?? {
    toolId: micrometers.some((one) => one.id === usual) ? usual : (micrometers[0]?.id ?? ""),
    tool: old?.micrometer,
    lengthUnit: old ? unitOf(old.plates[0]?.points_mm[0], "mm") : read.lengthUnit,
    chosen: measured[0].slot,
    plates: Object.fromEntries(
      (old?.plates ?? []).map((/** @type {any} */ plate) => [
        plate.slot,
        { points: plate.points_mm.map(typedOf), gap: typedOf(plate.gap_mm), marks: plate.marks ?? "none" },
      ]),
    ),
  };
  const sign = await signing(() => draw());
  /** @type {typeof draft | undefined} */
  let cleared;
  const switching = unitSwitch(() => draw());

  /** Slots in the order in which they are sent; only whole ones are. */
  const sent = () => measured.filter((/** @type {any} */ item) => pointsIn(draft.plates[item.slot]).length >= 3);
  const micrometer = () => tools.find((one) => one.id === draft.toolId)?.body.micrometer ?? draft.tool ?? {};

  const request = () => {
    const whole = sent();
    if (!whole.length) return undefined;
    return JSON.parse(
      JSON.stringify({
        micrometer: micrometer(),
        day: today(),
        write_in: draft.lengthUnit,
        limits: unit.limits,
        plates: whole.map((/** @type {any} */ item) => {
          const typed = draft.plates[item.slot];
          return {
            slot: item.slot,
            part: item.part,
            new_mm: item.new_mm,
            minimum_mm: item.minimum_mm ?? Math.round(1000 * USUAL_WEAR * item.new_mm) / 1000,
            points_mm: pointsIn(typed).map((one) => quantity(one, draft.lengthUnit)),
            gap_mm: quantity(typed.gap, draft.lengthUnit),
            marks: typed.marks,
          };
        }),
      }),
    );
  };

  const form = judging({ key, calculation: "plates", request, draft: () => draft, draw: () => draw() });

  /** @param {Partial<Typed>} change */
  const set = (change) => {
    const typed = draft.plates[draft.chosen] ?? untouched();
    draft = { ...draft, plates: { ...draft.plates, [draft.chosen]: { ...typed, ...change } } };
    cleared = undefined;
    form.changed();
  };

  const clear = async () => {
    cleared = draft;
    draft = { ...draft, plates: {} };
    await dropDraft(key);
    form.judge();
  };

  /** @param {string} slot */
  const choose = (slot) => {
    draft = { ...draft, chosen: slot };
    form.changed();
    place.querySelector("#points")?.scrollIntoView({ block: "nearest" });
    /** @type {HTMLInputElement | null} */ (place.querySelector("#points input"))?.focus({ preventScroll: true });
  };

  const save = () =>
    form.save(async (body, shown) => {
      sign.check();
      await remember("micrometer", draft.toolId);
      await write({ unit: id, kind: "plate_check", body, shown, replaces: corrected, draft: key });
      location.hash = `#/unit/${id}`;
    });

  const onePlate = () => {
    const item = measured.find((/** @type {any} */ one) => one.slot === draft.chosen) ?? measured[0];
    const typed = draft.plates[item.slot] ?? untouched();
    const number = sent().indexOf(item);
    const path = `plates.${number}`;
    const mine = number >= 0 && form.bad?.field.startsWith(`${path}.`) ? form.bad : undefined;
    const at = mine?.field.startsWith(`${path}.points_mm.`)
      ? placeOf(typed.points, Number(mine.field.split(".")[3]))
      : undefined;
    const row = form.result?.plates.find((/** @type {any} */ one) => one.slot === item.slot);
    const here = measured.indexOf(item);
    const done = sent();
    const next = [...measured.slice(here + 1), ...measured.slice(0, here)].find((one) => !done.includes(one));
    const limit = item.minimum_mm ?? USUAL_WEAR * item.new_mm;
    return html`<section class="card judged ${row?.verdict ?? ""}" id="points" aria-label=${`Plate ${item.slot}`}>
      <div class="row apart">
        <h2>${item.slot}, ${item.part} plate</h2>
        ${row ? verdictMark(row.verdict) : nothing}
      </div>
      <p class="quiet">
        New ${read.length(item.new_mm)}, limit
        ${read.length(limit)}${item.minimum_mm ? "" : " (common practice, no source: use the maker's figure)"}. Three
        points or more round the plate.
      </p>
      <div class="row apart">
        <b>Thickness</b> ${choiceField({
          name: "lengthUnit",
          label: "Unit",
          value: draft.lengthUnit,
          options: read.units.mm.map((one) => /** @type {[string, string]} */ ([one.unit, one.label])),
          choose: (chosen) =>
            switching.choose(
              "lengthUnit",
              Object.values(draft.plates).flatMap((one) => [...one.points, one.gap]),
              draft.lengthUnit,
              chosen,
              (lengthUnit) => {
                draft = { ...draft, lengthUnit };
                form.changed();
              },
            ),
        })}
      </div>
      ${switching.question("lengthUnit", read.units.mm)}
      <div class="readings">
        ${typed.points.map(
          (value, place) =>
            html`<input
              type="text"
              inputmode="decimal"
              autocomplete="off"
              enterkeyhint="next"
              .value=${value}
              aria-label=${`${item.slot} point ${place + 1}`}
              aria-invalid=${at === place ? "true" : "false"}
              @input=${(/** @type {any} */ event) => set({ points: grown(typed.points.map((one, number) => (number === place ? event.target.value : one))) })}
            />`,
        )}
        ${errorLine(mine?.reason)}
      </div>
      ${
        row
          ? html`<p>${row.reason}</p>
              ${findingLines(row.findings.filter((/** @type {any} */ one) => one.text !== row.reason))}`
          : nothing
      }
      ${numberField({ name: "gap", label: "Thickest feeler that passes under it", value: typed.gap, hint: `on a surface plate, in ${read.units.mm.find((one) => one.unit === draft.lengthUnit)?.label}`, type: (gap) => set({ gap }) })}
      ${choiceKeys({ name: "marks", label: "Heat or scoring", short: true, value: typed.marks, options: MARKS, choose: (marks) => set({ marks }) })}
      ${next ? html`<button @click=${() => choose(next.slot)}>Next: ${next.slot}</button>` : nothing}
    </section>`;
  };

  const draw = () => {
    const parts = unit.chain.map((/** @type {any} */ item) => {
      const row = form.result?.plates.find((/** @type {any} */ one) => one.slot === item.slot);
      const count = pointsIn(draft.plates[item.slot]).length;
      const told = row ? read.length(row.lowest_mm) : count ? `${count} typed` : undefined;
      return {
        slot: item.slot,
        part: item.part,
        thickness: item.part === "spring" ? null : item.new_mm,
        verdict: row?.verdict,
        told,
      };
    });
    const left = measured.length - sent().length;
    render(
      html`<div class="full">
          ${backTo(`#/unit/${id}`, found.unit.name)}
          <h1>${corrected ? "Correct measured plates" : "Measure plates"}</h1>
        </div>
        <div class="screen">
          ${caution(
            html`The spring is under load. <b>Hold it closed in a vice before you touch the cover screws</b>, cover your
              eyes, keep fingers out of the stack. The maker's figures come first.`,
          )}
          <section class="card">
            <h2>Tap a plate</h2>
            ${stackDrawing({ parts, springHeight: unit.spring.l0_mm, crush: null, say: read.length, choose, chosen: draft.chosen })}
          </section>
        </div>
        <div class="screen beside">
          ${onePlate()}
          <section class="card judged ${form.result?.verdict ?? ""}" aria-live="polite" aria-label="Verdict">
            ${
              form.result
                ? html`${verdictMark(form.result.verdict, true)}
                    <p>${form.result.reason}</p>`
                : html`<h2>Verdict</h2>
                    <p class="quiet">Type three points or more of a plate.</p>`
            }
            ${form.bad ? errorLine(`${whichPlate(form.bad.field)}${form.bad.reason}`) : nothing}${errorLine(form.failed)}
            ${worked("plates")}
            ${left ? html`<p class="quiet">${left} of ${measured.length} not measured yet; they keep what was measured before.</p>` : nothing}
          </section>
          <section class="card">
            ${
              micrometers.length
                ? choiceField({
                    name: "micrometer",
                    label: "Micrometer",
                    value: draft.toolId,
                    options: micrometers.map((one) => /** @type {[string, string]} */ ([one.id, one.name])),
                    choose: (toolId) => {
                      draft = { ...draft, toolId };
                      form.changed();
                    },
                  })
                : html`<p class="quiet">
                    No micrometer is in the kit: one of 0.01 mm and ± 0.004 mm is assumed (ISO 3611).
                    <a href="#/kit">Add yours</a>
                  </p>`
            }
            ${sign.field("Measured by")}
            <button class="main big" ?disabled=${!form.result} @click=${save}>Save the plates</button>
            ${clearKey(Boolean(cleared), clear, () => {
              draft = /** @type {any} */ (cleared);
              cleared = undefined;
              form.changed();
            })}
          </section>
        </div>`,
      place,
    );
  };

  /** Names the plate that an error is about. @param {string} field */
  const whichPlate = (field) => {
    const item = field.startsWith("plates.") ? sent()[Number(field.split(".")[1])] : undefined;
    return item ? `${item.slot}: ` : "";
  };

  place.classList.add("wide");
  draw();
  await form.judge();
  return keepAwake();
}
