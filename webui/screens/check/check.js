// @ts-check
// A torque check: how is it held, with what, what was read, and the verdict while it is typed.

import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { draft as kept, dropDraft } from "../../log/drafts.js";
import { write } from "../../log/outbox.js";
import { kit, standing } from "../../log/stands.js";
import { entry, fact, onChange, remember } from "../../log/store.js";
import { checkGuard } from "../../draw/guard.js";
import { heldDrawing } from "../../draw/held.js";
import { checkRequest, draftOf, emptyCheck, enough, grown, placeOf } from "./draft.js";
import { judging } from "../form/judging.js";
import { keepAwake } from "../form/awake.js";
import {
  backTo,
  caution,
  choiceField,
  clearKey,
  choiceKeys,
  errorLine,
  findingLines,
  numberField,
  reading,
  textField,
  unitOf,
  unitSwitch,
  verdictMark,
} from "../form/fields.js";
import { signing } from "../form/signing.js";
import { toolForm } from "../form/tool.js";
import { worked } from "../form/worked.js";

const HELD = [
  { value: "bench_output_held", words: "Bench: one output held, case free" },
  { value: "bench_case_held", words: "Bench: case in the vice, other output free" },
  { value: "car_one_wheel_down", words: "Car: one wheel down, neutral" },
  { value: "car_both_wheels_up", words: "Car: both wheels up, in gear" },
].map((one) => ({ ...one, drawing: heldDrawing(one.value) }));

/** @type {Record<string, any>} */
const FELT = {
  bench_output_held:
    "The wrench feels the mean of both packs. Hold the unit so that it cannot jump out when it breaks away.",
  bench_case_held:
    "The wrench feels the sum of both packs: twice as much. Clamp the case by its flange, never by the cover screws.",
  car_one_wheel_down: html`The wrench feels the mean of both packs.
    <b>Gearbox in neutral, chock the wheels that stay down, car on a stand and not on the jack alone.</b> Nobody under
    the car, nobody in it.`,
  car_both_wheels_up: html`The wrench feels the sum of both packs: twice as much.
    <b>Both stands under load-bearing points, front wheels chocked, ignition off, gear engaged.</b> The other wheel
    turns backwards: keep hands and clothes away.`,
};

const DIRECTIONS = /** @type {const} */ (["forward", "reverse"]);

/** @type {import("../../app.js").Show} */
export async function show(place, [id, corrected]) {
  const key = corrected ? `check/${id}/${corrected}` : `check/${id}`;
  // All at once: a phone takes its time over each.
  const [read, found, known, begun, last, sign] = await Promise.all([
    reading(),
    standing(id),
    kit(),
    kept(key),
    corrected ? entry(corrected) : undefined,
    signing(() => draw()),
  ]);
  if (!found.unit) return void (location.hash = `#/unit/${id}`);
  let tools = known;
  const unit = found.derived.checked;
  const blank = emptyCheck(read.torqueUnit);
  /** @type {import("./draft.js").CheckDraft} */
  let draft = { ...blank, ...(begun ?? (last ? draftOf(last.body, blank) : await usual(blank, tools))) };
  /** @type {typeof draft | undefined} */
  let cleared;
  const switching = unitSwitch(() => draw());

  const form = judging({
    key,
    calculation: "breakaway",
    request: () => (enough(draft) ? checkRequest(draft, unit) : undefined),
    draft: () => draft,
    draw: () => draw(),
  });

  /** @param {Partial<import("./draft.js").CheckDraft>} change */
  const set = (change) => {
    draft = { ...draft, ...change };
    cleared = undefined;
    form.changed();
  };

  const quick = await toolForm({
    key: "kit/quick",
    tools: ["wrench", "scale"],
    read,
    sign,
    signed: true,
    draw: () => draw(),
    done: async (tool) => {
      tools = await kit();
      take(tool);
    },
  });

  const clear = async () => {
    cleared = draft;
    draft = await usual(blank, tools);
    await dropDraft(key);
    form.judge();
  };

  const save = () =>
    form.save(async (body, shown) => {
      sign.check();
      if (draft.toolId) await remember("checkTool", draft.toolId);
      await write({ unit: id, kind: "torque_check", body, shown, replaces: corrected, draft: key });
      location.hash = `#/unit/${id}`;
    });

  /** @param {"steady" | "first"} which @param {"forward" | "reverse"} direction */
  const readings = (which, direction) => {
    const field = `${which}_${draft.toolKind === "wrench" ? "nm" : "n"}.${direction}`;
    const values = draft[which][direction];
    const at = form.bad?.field.startsWith(`${field}.`)
      ? placeOf(values, Number(form.bad.field.split(".")[2]))
      : undefined;
    const whole =
      form.error(field) ?? (at === undefined && form.bad?.field.startsWith(`${field}.`) ? form.bad.reason : undefined);
    return html`<fieldset>
      <legend>${which === "first" ? "Peak at the first move, " : ""}${direction}</legend>
      <div class="readings">
        ${values.map(
          (value, number) =>
            html`<input
              type="text"
              inputmode="decimal"
              autocomplete="off"
              spellcheck="false"
              enterkeyhint="next"
              .value=${value}
              aria-label=${`${which === "first" ? "First move, " : ""}${direction} reading ${number + 1}`}
              aria-invalid=${at === number ? "true" : "false"}
              @input=${(/** @type {any} */ event) => {
                const typed = values.map((one, place) => (place === number ? event.target.value : one));
                set({ [which]: { ...draft[which], [direction]: grown(typed) } });
              }}
            />`,
        )}
        ${errorLine(at === undefined ? whole : form.bad?.reason)}
      </div>
    </fieldset>`;
  };

  /** @param {"adapter" | "bar" | "drag"} group @param {string} field @param {string} label @param {string} [hint] */
  const figure = (group, field, label, hint) => {
    const typed = /** @type {Record<string, string>} */ (draft[group]);
    return numberField({
      name: `${group}.${field}`,
      label,
      // A draft of an older version may know less.
      value: typed[field] ?? "",
      hint,
      error: form.error(`${group}.${field}`),
      type: (value) => set({ [group]: { ...typed, [field]: value } }),
    });
  };

  /** @param {string} chosen */
  const take = (chosen) => {
    const tool = tools.find((one) => one.id === chosen);
    const kind = tool?.tool === "scale" ? "scale" : "wrench";
    const unitOn = (/** @type {string} */ one) => (one === "wrench" ? draft.torqueUnit : draft.forceUnit);
    switching.choose("tool", typedReadings(), unitOn(draft.toolKind), unitOn(kind), () => {
      set({ toolId: chosen, tool: tool?.body[kind] ?? null, toolKind: kind });
      // Its own scale is read; figures that are typed already are asked about.
      const own = scaleUnit(tool?.body[kind], kind);
      const to = own[unitField(kind)];
      if (to) switching.choose("unit", typedReadings(), unitOn(kind), to, () => set(own));
    });
  };

  /** A scale reads what no wrench does: readings that are typed are asked about before they change their kind. */
  const typedReadings = () =>
    [draft.steady, draft.first].flatMap((readings) => [...readings.forward, ...readings.reverse]);

  const judged = () => {
    const result = form.result;
    if (!result)
      return html`<section class="card" aria-live="polite">
        <h2>Verdict</h2>
        ${form.bad ? errorLine(form.bad.field.includes("_n") && form.bad.field.split(".").length > 2 ? "Mend the reading that is marked." : form.bad.reason) : nothing}
        <p class="quiet">
          ${
            !draft.held
              ? "Say how it is held."
              : !draft.tool
                ? "Choose the tool."
                : "Type two readings or more; three each way are better."
          }
        </p>
      </section>`;
    return html`<section class="card judged ${result.verdict}" aria-live="polite" aria-label="Verdict">
      ${verdictMark(result.verdict, true)}
      <p>${result.reason}</p>
      ${checkGuard(result, read.torqueFigure, `${read.torque(result.value_nm)}, doubt ${read.torque(result.expanded_nm)}. ${result.reason}`)}
      ${findingLines(result.findings.filter((/** @type {any} */ one) => one.text !== result.reason))}
      ${
        result.helps.length
          ? html`<div>
              <h2>What would help most</h2>
              <ul class="steps">
                ${result.helps.map((/** @type {any} */ one) => html`<li>${one.text}</li>`)}
              </ul>
            </div>`
          : nothing
      }
      ${worked("verdict")}
      <details>
        <summary>Where the doubt comes from</summary>
        <div class="inside">
          <table>
            <thead>
              <tr>
                <th scope="col">Part</th>
                <th scope="col" class="number">u</th>
                <th scope="col" class="number">Share</th>
              </tr>
            </thead>
            <tbody>
              ${result.budget.map(
                (/** @type {any} */ part) =>
                  html`<tr>
                    <td>${part.meaning}</td>
                    <td class="number">${read.torque(part.u_nm)}</td>
                    <td class="number">${Math.round(100 * part.share)} %</td>
                  </tr>`,
              )}
            </tbody>
          </table>
          <p class="quiet">
            All together u = ${read.torque(result.u_nm)}, and ± ${read.torque(result.expanded_nm)} at 95 %. One output
            held it is ${read.torque(result.felt.one_output_held_nm)}, case held
            ${read.torque(result.felt.case_held_nm)}.
          </p>
        </div>
      </details>
    </section>`;
  };

  const draw = () => {
    const wrench = draft.toolKind === "wrench";
    const fitting = tools.filter((one) => one.tool !== "micrometer");
    const shown = wrench ? draft.torqueUnit : draft.forceUnit;
    render(
      html`<div class="full">
          ${backTo(`#/unit/${id}`, found.unit.name)}
          <h1>${corrected ? "Correct a torque check" : "Torque check"}</h1>
        </div>
        <div class="screen">
          <section class="card">
            ${choiceKeys({ name: "held", label: "How is it held?", value: draft.held, options: HELD, choose: (held) => set({ held }), error: form.error("held") })}
            ${draft.held ? caution(FELT[draft.held]) : nothing} ${worked("held", "Why it matters how it is held")}
          </section>
          <section class="card">
            ${
              fitting.length
                ? choiceField({
                    name: "tool",
                    label: "With what?",
                    value: draft.toolId,
                    options: [
                      ["", draft.tool && !draft.toolId ? `as before: ${draft.tool.name}` : "choose the tool"],
                      ...fitting.map((one) => /** @type {[string, string]} */ ([one.id, one.name])),
                    ],
                    choose: take,
                    error: form.bad && /^(wrench|scale)(\.|$)/.test(form.bad.field) ? form.bad.reason : undefined,
                  })
                : html`<p>No wrench is in the kit yet.</p>`
            }
            ${switching.question("tool", [...read.units.nm, ...read.units.n])}
            <details ?open=${quick.begun() || !fitting.length}>
              <summary>${fitting.length ? "Another wrench or scale" : "Your wrench or scale"}</summary>
              <div class="inside">${quick.fields()}</div>
            </details>
            ${
              wrench
                ? html`<details ?open=${Object.values(draft.adapter).some(Boolean)}>
                    <summary>Adapter on the wrench</summary>
                    <div class="inside fields">
                      ${figure("adapter", "wrench_mm", "Grip to drive, mm")}${figure("adapter", "adapter_mm", "Drive to shaft, mm")}
                      ${figure("adapter", "angle_deg", "Angle, degrees", "0 straight on, 90 square")}${figure("adapter", "doubt_mm", "Lengths may be off by, mm")}
                      ${figure("adapter", "doubt_deg", "Angle may be off by, degrees", "3 if left empty")}
                    </div>
                    ${worked("adapter")}
                  </details>`
                : html`${worked("bar")}
                    <div class="fields">
                      ${figure("bar", "length_mm", "Shaft to pull, mm", "square to the bar")}
                      ${figure("bar", "moment_nm", "The bar's own torque, N·m", "its weight, if it helps the pull")}${figure("bar", "doubt_mm", "Length may be off by, mm")}
                    </div>
                    ${errorLine(form.error("bar"))}`
            }
          </section>
          <section class="card">
            <div class="row apart">
              <h2>Readings, ${unit.judged_on === "steady" ? "steady turning" : "both kinds"}</h2>
              ${choiceField({
                name: "unit",
                label: "Unit",
                value: shown,
                options: read.units[wrench ? "nm" : "n"].map(
                  (one) => /** @type {[string, string]} */ ([one.unit, one.label]),
                ),
                choose: (value) =>
                  switching.choose("unit", typedReadings(), shown, value, (to) =>
                    set(wrench ? { torqueUnit: to } : { forceUnit: to }),
                  ),
              })}
            </div>
            ${switching.question("unit", read.units[wrench ? "nm" : "n"])}
            ${DIRECTIONS.map((direction) => readings("steady", direction))}
            <details ?open=${unit.judged_on === "first_move" || draft.first.forward.some(Boolean)}>
              <summary>Peak at the first move</summary>
              <div class="inside">${DIRECTIONS.map((direction) => readings("first", direction))}</div>
            </details>
          </section>
          ${
            form.result
              ? html`<p class="strip ${form.result.verdict}" aria-hidden="true">
                  ${verdictMark(form.result.verdict)}
                  <span>${read.torque(form.result.value_nm)} ± ${read.torqueFigure(form.result.expanded_nm)}</span>
                </p>`
              : nothing
          }
          <section class="card">
            ${choiceKeys({
              name: "temperature",
              label: "How warm is the unit?",
              short: true,
              value: draft.temperature,
              choose: (temperature) => set({ temperature }),
              options: ["cold", "warm", "hot"].map((value) => ({ value, words: value })),
            })}
            <div class="fields">
              ${numberField({ name: "circumstances.outings", label: "Outings since rebuild", value: draft.outings, whole: true, error: form.error("circumstances.outings"), type: (outings) => set({ outings }) })}
              ${textField({ name: "circumstances.oil", label: "Oil", value: draft.oil, type: (oil) => set({ oil }) })}
            </div>
            ${choiceKeys({
              name: "against",
              label: "Judge it against",
              short: true,
              value: draft.against,
              choose: (against) => set({ against: /** @type {any} */ (against) }),
              options: [
                { value: "service", words: "run-again limits" },
                { value: "order", words: "the order" },
              ],
            })}
            ${errorLine(form.error("limits.low_nm") ?? form.error("limits.high_nm"))}
            <details ?open=${Object.values(draft.drag).some(Boolean)}>
              <summary>Drag beside the packs</summary>
              <div class="inside fields">
                ${figure("drag", "case_nm", "On the case, N·m", "crown wheel, pinion, shaft")}${figure("drag", "wheel_nm", "On the turned wheel, N·m", "bearing, brake, seal")}
                ${figure("drag", "doubt_nm", "May be off by, N·m", "a quarter if left empty")}${errorLine(form.error("drag"))}
              </div>
            </details>
          </section>
        </div>
        <div class="screen beside">
          ${judged()}
          <section class="card">
            ${sign.field("Checked by")}
            <button class="main big" ?disabled=${!form.result} @click=${save}>Save the check</button>
            ${errorLine(form.failed)} ${clearKey(Boolean(cleared), clear, () => set(/** @type {any} */ (cleared)))}
          </section>
        </div>`,
      place,
    );
  };

  place.classList.add("wide");
  // With something to judge, the form is there before the engine is.
  if (enough(draft)) draw();
  await form.judge();
  const stop = [
    keepAwake(),
    onChange(async () => {
      tools = await kit();
      draw();
    }),
  ];
  return () => stop.forEach((one) => one());
}

/** As the last check on this phone was taken. @param {any} blank @param {any[]} tools */
async function usual(blank, tools) {
  const last = await fact("checkTool", "");
  const fitting = tools.filter((one) => one.tool !== "micrometer");
  // A kit with one wrench leaves nothing to choose.
  const tool = fitting.length === 1 ? fitting[0] : tools.find((one) => one.id === last);
  const kind = tool?.tool === "scale" ? "scale" : "wrench";
  return {
    ...blank,
    toolId: tool?.id ?? "",
    tool: tool?.body[kind] ?? null,
    toolKind: kind,
    ...scaleUnit(tool?.body[kind], kind),
  };
}

/** @param {"wrench" | "scale"} kind */
const unitField = (kind) => (kind === "wrench" ? "torqueUnit" : "forceUnit");

/** The unit that a tool's scale is written in. @param {any} tool @param {"wrench" | "scale"} kind @returns {Partial<Record<"torqueUnit" | "forceUnit", string>>} */
const scaleUnit = (tool, kind) => {
  const si = kind === "wrench" ? "nm" : "n";
  return tool ? { [unitField(kind)]: unitOf(tool[`high_${si}`], si) } : {};
};
