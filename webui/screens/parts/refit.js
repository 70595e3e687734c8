// @ts-check
// Back into the axle: backlash, turning torque of the bearings and screw torque, each judged as it is typed.

import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { draft as kept, dropDraft } from "../../log/drafts.js";
import { known } from "../../log/known.js";
import { write } from "../../log/outbox.js";
import { kit, standing } from "../../log/stands.js";
import { entriesOf, entry } from "../../log/store.js";
import { keepAwake } from "../form/awake.js";
import { grown, placeOf } from "../form/readings.js";
import { judging } from "../form/judging.js";
import {
  backTo,
  caution,
  choiceField,
  clearKey,
  errorLine,
  findingLines,
  numberField,
  reading,
  unitSwitch,
  verdictMark,
} from "../form/fields.js";
import {
  emptyRefit,
  filled,
  NAMES,
  PARTS,
  refitDraft,
  refitRequest,
  unfinished,
  unitFor,
  wrenchFor,
} from "./refit-draft.js";
import { signing } from "../form/signing.js";
import { worked } from "../form/worked.js";

/** @typedef {import("./refit-draft.js").Name} Name */

/** @type {Record<Name, {title: string, told: string, reading: string, more: string}>} */
const WORDS = {
  backlash: {
    title: "Backlash",
    told: "Crown wheel against pinion, dial gauge square to a tooth at its heel, pinion held. Four teeth, a quarter turn apart.",
    reading: "tooth",
    more: "three teeth or more",
  },
  bearings: {
    title: "Turning torque of the bearings",
    told: "Carrier alone, pinion not meshing, turned slowly and steadily after a few turns to settle the bearings.",
    reading: "reading",
    more: "two readings or more",
  },
  screws: {
    title: "Crown-wheel screws",
    told: "Tightened crosswise in steps, clean threads, then each screw checked once.",
    reading: "screw",
    more: "one screw or more",
  },
};

/** @type {import("../../app.js").Show} */
export async function show(place, [id, corrected]) {
  const [read, found, tools, about, sign] = await Promise.all([
    reading(),
    standing(id),
    kit(),
    known("about"),
    signing(() => draw()),
  ]);
  const key = corrected ? `refit/${id}/${corrected}` : `refit/${id}`;
  const empty = emptyRefit(read.torqueUnit, read.lengthUnit);
  const old = await (corrected ? entry(corrected) : lastRefit(id, found.replaced));
  const fresh = () => (old ? refitDraft(old.body, empty, Boolean(corrected)) : structuredClone(empty));
  /** @type {import("./refit-draft.js").RefitDraft} */
  let draft = { ...empty, ...((await kept(key)) ?? fresh()) };
  /** @type {typeof draft | undefined} */
  let cleared;
  const wrenches = tools.filter((one) => one.tool === "wrench");
  const switching = unitSwitch(() => draw());

  const form = judging({
    key,
    calculation: "refit",
    request: () => refitRequest(draft),
    draft: () => draft,
    draw: () => draw(),
  });
  /** @param {Partial<typeof draft>} change */
  const put = (change) => {
    draft = { ...draft, ...change };
    cleared = undefined;
    form.changed();
  };
  /** @param {Name} name @param {Partial<import("./refit-draft.js").Part>} change */
  const set = (name, change) => put({ [name]: { ...draft[name], ...change } });

  const clear = async () => {
    cleared = draft;
    draft = fresh();
    await dropDraft(key);
    form.judge();
  };

  const save = () =>
    form.save(async (body, shown) => {
      if (unfinished(draft).length) return;
      sign.check();
      await write({ unit: id, kind: "refit", body, shown, replaces: corrected, draft: key });
      location.hash = `#/unit/${id}`;
    });

  /** @param {Name} name */
  const tool = (name) => {
    const typed = draft[name];
    const { si, tool: field } = PARTS[name];
    const error = form.error(`${name}.${field}.division_${si}`);
    const label = read.units[si].find((one) => one.unit === unitFor(draft, name))?.label;
    const division = numberField({
      name: `${name}.division`,
      label: `One division of the ${name === "backlash" ? "dial gauge" : "wrench"}, ${label}`,
      hint: name === "backlash" ? "0.01 mm if left empty" : "the smallest step you read",
      value: typed.division,
      error,
      type: (value) => set(name, { division: value }),
    });
    if (name === "backlash") return division;
    const before =
      typed.tool && !typed.toolId
        ? `as before: ${typed.tool.name || "a wrench that was typed"}`
        : "another: type its division";
    return html`${choiceField({
      name: `${name}.tool`,
      label: "Read on",
      value: typed.toolId,
      options: [["", before], ...wrenches.map((one) => /** @type {[string, string]} */ ([one.id, one.name]))],
      choose: (toolId) => {
        const chosen = wrenches.find((one) => one.id === toolId);
        set(name, {
          toolId,
          tool: chosen ? wrenchFor(chosen.body.wrench, about.permitted_percent) : null,
          division: "",
        });
      },
    })}${typed.tool ? errorLine(error) : division}`;
  };

  /** @param {Name} name */
  const part = (name) => {
    const typed = draft[name];
    const { si, field } = PARTS[name];
    const words = WORDS[name];
    const unit = unitFor(draft, name);
    const label = read.units[si].find((one) => one.unit === unit)?.label;
    const row = form.result?.checks.find((/** @type {any} */ one) => one.name === name);
    const at = form.bad?.field.startsWith(`${name}.${field}.`)
      ? placeOf(typed.readings, Number(form.bad.field.split(".")[2]))
      : undefined;
    const figure = (
      /** @type {"low" | "high" | "uneven"} */ which,
      /** @type {string} */ words,
      /** @type {string} */ hint = "",
    ) =>
      numberField({
        name: `${name}.${which}`,
        label: `${words}, ${label}`,
        hint,
        value: typed[which],
        error: form.error(`${name}.${which}_${si}`),
        type: (value) => set(name, { [which]: value }),
      });
    return html`<section class="card judged ${row?.verdict ?? ""}" aria-label=${words.title}>
      <div class="row apart">
        <h2>${words.title}</h2>
        ${row ? verdictMark(row.verdict) : nothing}
      </div>
      <p class="quiet">${words.told}</p>
      <fieldset>
        <legend>Read, ${label}</legend>
        <div class="readings">
          ${typed.readings.map(
            (value, number) =>
              html`<input
                type="text"
                inputmode="decimal"
                autocomplete="off"
                enterkeyhint="next"
                .value=${value}
                aria-label=${`${words.title}, ${words.reading} ${number + 1}`}
                aria-invalid=${at === number ? "true" : "false"}
                @input=${(/** @type {any} */ event) => set(name, { readings: grown(typed.readings.map((one, place) => (place === number ? event.target.value : one))) })}
              />`,
          )}
          ${errorLine(at === undefined ? form.error(`${name}.${field}`) : form.bad?.reason)}
        </div>
      </fieldset>
      ${unfinished(draft).includes(name) ? html`<p class="quiet" role="status">Type ${words.more}, or empty this part.</p>` : nothing}
      ${
        row
          ? html`<p>${row.reason}</p>
              ${findingLines(row.findings.filter((/** @type {any} */ one) => one.text !== row.reason))}`
          : nothing
      }
      <div class="pair">${figure("low", "At least")}${figure("high", "At most")}</div>
      ${name === "backlash" ? figure("uneven", "From tooth to tooth at most", "0.05 mm if left empty: common practice, no source") : nothing}
      ${tool(name)}
    </section>`;
  };

  /** @param {"mm" | "nm"} si @param {"lengthUnit" | "torqueUnit"} field @param {string} label */
  const unitField = (si, field, label) => {
    const names = NAMES.filter((name) => PARTS[name].si === si);
    const typed = names.flatMap((name) => [
      ...draft[name].readings,
      draft[name].low,
      draft[name].high,
      draft[name].uneven,
      draft[name].division,
    ]);
    return html`<div class="field">
      ${choiceField({
        name: field,
        label,
        value: draft[field],
        options: read.units[si].map((one) => /** @type {[string, string]} */ ([one.unit, one.label])),
        choose: (unit) => switching.choose(field, typed, draft[field], unit, (to) => put({ [field]: to })),
      })}
      ${switching.question(field, read.units[si])}
    </div>`;
  };

  const draw = () => {
    const short = unfinished(draft);
    const named = form.bad?.field.match(/^(\w+)\./)?.[1];
    render(
      html`<div class="full">
          ${backTo(`#/unit/${id}`, found.unit.name)}
          <h1>${corrected ? "Correct a refit" : "Back into the axle"}</h1>
          <p class="quiet">
            ${old && !corrected ? "Limits and tools are those of last time. " : ""}Limits are the axle maker's. What you
            leave empty is not judged.
          </p>
        </div>
        <div class="full">
          ${caution(html`<b>Car on stands under load-bearing points, wheels chocked, gearbox in neutral.</b> Fingers out of the teeth while it turns. The maker's figures and local rules come first.`)}
        </div>
        <section class="card full">
          <div class="pair">
            ${unitField("mm", "lengthUnit", "Lengths in")}${unitField("nm", "torqueUnit", "Torques in")}
          </div>
        </section>
        ${NAMES.map(part)}
        <div class="screen beside">
          <section class="card judged ${form.result?.verdict ?? ""}" aria-live="polite" aria-label="Verdict">
            ${
              form.result
                ? html`${verdictMark(form.result.verdict, true)}
                    <p>${form.result.reason}</p>`
                : html`<h2>Verdict</h2>
                    <p class="quiet">Type what you read.</p>`
            }
            ${form.bad ? errorLine(`${named && named in WORDS ? `${WORDS[/** @type {Name} */ (named)].title}: ` : ""}${form.bad.reason}`) : nothing}${errorLine(form.failed)}${worked("refit")}
          </section>
          <section class="card">
            ${sign.field("Refitted by")}
            ${short.length && form.result ? html`<p class="quiet">To finish first: ${short.map((name) => WORDS[name].title.toLowerCase()).join(", ")}.</p>` : nothing}
            <button class="main big" ?disabled=${!form.result || short.length > 0} @click=${save}>
              ${corrected ? "Save the correction" : "Save the refit"}
            </button>
            ${clearKey(Boolean(cleared), clear, () => put(/** @type {any} */ (cleared)))}
          </section>
        </div>`,
      place,
    );
  };
  place.classList.add("wide");
  draw();
  await form.judge();
  return keepAwake();
}

/** The last refit of a unit that stands. @param {string} id @param {Record<string, string>} replaced */
async function lastRefit(id, replaced) {
  const refits = (await entriesOf(id)).filter((one) => one.kind === "refit" && !replaced[one.id]);
  return refits.sort((a, b) => Date.parse(b.at) - Date.parse(a.at))[0];
}
