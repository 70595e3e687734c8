// @ts-check
// A figure that cannot be measured, worked out beside its field: what was measured instead, a live answer with its
// doubt, and a key that takes it. What is taken is marked as worked out until somebody types what was measured.

import { dimensionDrawing } from "../../draw/dimensions.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { saveKey } from "../form/act-key.js";
import {
  choiceKeys,
  errorLine,
  numberField,
  percent,
  typedOf,
  unitOf,
  warningLines,
  workedOutLine,
} from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { worked } from "../form/worked.js";
import { withValue } from "./define-draft.js";
import { quantityOf } from "./define-fields.js";
import { MARKS } from "./work-out-draft.js";
import { readLog, takeFromLog } from "./work-out-log.js";
import { WAYS } from "./work-out-ways.js";

/** @typedef {import("./define-form.js").DefineForm} DefineForm */
/** @typedef {import("./define-draft.js").UnitDraft} UnitDraft */
/** @typedef {import("./define-chain.js").Figure} Figure */
/** @typedef {import("./work-out-ways.js").Way} Way */
/** @typedef {import("./work-out-ways.js").WayField} WayField */

const KEY = "Cannot be measured? Work it out";

/** @param {DefineForm} form @param {Partial<UnitDraft["working"]>} change */
const work = (form, change) => form.turnTo({ working: { ...form.draft.working, ...change } });

/** Put what came of it into its field, with its mark, if anything did. @param {DefineForm} form */
async function take(form) {
  await form.working.judge();
  const { result } = form.working;
  if (!result) return false;
  const { field, fill, mark } = result;
  const filled = withValue(form.draft, field, fill.unit ? fill : fill.typed);
  const marks = { ...filled.worked_out, [MARKS[field]]: mark };
  form.put({ ...filled, worked_out: marks, working: { ...filled.working, from: "" } });
  form.draw();
  focusOn(form.place, `[data-field="${field}"]`);
  return true;
}

/** @param {DefineForm} form @param {WayField} field */
function wayField(form, { path, label, si, hint }) {
  const name = `working.${path}`;
  const value = form.draft.working.typed[path];
  const put = (/** @type {Figure} */ typed) =>
    work(form, { typed: { ...form.draft.working.typed, [path]: typed }, fromLog: "" });
  const error = form.working.error(path);
  if (si === "nm" || si === "mm") return quantityOf(form, { name, label, si, value, put, error, hint });
  const unit = unitOf(value, "n");
  const force = si && { units: form.read.units.n, unit, choose: (/** @type {string} */ to) => put(inUnit(value, to)) };
  const type = (/** @type {string} */ typed) => put(si ? { typed, unit } : typed);
  return numberField({ name, label, hint, value: typedOf(value), error, type, ...force });
}

/** The same figure, in another unit. @param {Figure} value @param {string} unit */
const inUnit = (value, unit) => ({ typed: typedOf(value), unit });

/** What the answer's doubt is made of. @param {{meaning: string, share: number}[]} doubt */
const madeOf = (doubt) =>
  html`<details>
    <summary>Where the doubt comes from</summary>
    <ul class="list inside">
      ${doubt.map(({ meaning, share }) => html`<li>${meaning}: ${percent(share)}</li>`)}
    </ul>
  </details>`;

/** What came of it so far. @param {DefineForm} form @param {Way} way */
function answerOf(form, { fields }) {
  const { result, bad, failed } = form.working;
  const atField = bad && fields.some(({ path }) => path === bad.field);
  return html`<div aria-live="polite" class="answer">
      ${
        result
          ? html`<p><b>${result.text}</b></p>
              ${warningLines(result.warnings)} ${madeOf(result.doubt)}`
          : nothing
      }
      ${bad && !atField ? errorLine(bad.reason) : nothing} ${errorLine(failed)}
    </div>
    <div class="row">
      ${saveKey({
        answer: form.working,
        words: "Use this",
        ready: Boolean(result),
        save: () => take(form),
        look: "main",
      })}
      <button class="plain" @click=${() => work(form, { from: "" })}>Close</button>
    </div>`;
}

/** Takes what the log has for a way. @param {DefineForm} form @param {import("./work-out-log.js").FromLog} figure */
const logKey = (form, figure) =>
  form.draft.working.fromLog === figure.from
    ? html`<p class="quiet">From the log: ${figure.basis}, with the plates as they are built.</p>`
    : html`<button class="small" @click=${() => work(form, takeFromLog(form, figure))}>
        From the log: ${figure.basis}
      </button>`;

/** @param {DefineForm} form @param {Way[]} ways @param {Way} way */
function opened(form, ways, way) {
  return html`<section class="work-out" aria-label="Work it out">
    ${
      ways.length > 1
        ? choiceKeys({
            name: "working.from",
            label: "From what?",
            short: true,
            value: way.name,
            options: ways.map(({ name, words }) => ({ value: name, words })),
            choose: (from) => work(form, { from }),
          })
        : nothing
    }
    <p class="quiet">${way.how}</p>
    ${form.working.inLog.filter(({ from }) => from === way.name).map((figure) => logKey(form, figure))}
    ${way.sketch ? dimensionDrawing({ name: way.sketch, typed: form.focused.replace("working.", "") }) : nothing}
    <div class="fields">${way.fields.map((field) => wayField(form, field))}</div>
    ${answerOf(form, way)} ${worked("worked-out")}
  </section>`;
}

/**
 * Beside the field of a figure that can be worked out: its mark, and the key that opens the way there.
 * @param {DefineForm} form @param {string} path of the figure
 */
export function workOut(form, path) {
  const ways = WAYS[path];
  if (!ways) return nothing;
  const open = ways.find(({ name }) => name === form.draft.working.from);
  const mark = form.answer.result?.worked_out.find(({ field }) => field === path);
  const begin = async () => {
    work(form, { from: ways[0].name });
    form.draw();
    focusOn(form.place, `[data-field="working.${ways[0].fields[0].path}"]`);
    await readLog(form);
    form.draw();
  };
  return html`${mark ? workedOutLine(mark) : nothing}
  ${open ? opened(form, ways, open) : html`<button class="small" @click=${begin}>${KEY}</button>`}`;
}
