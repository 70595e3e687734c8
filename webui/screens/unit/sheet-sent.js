// @ts-check
// That a sheet was sent: when, how and by whom, written down on the sheet's own screen.

import { isOf } from "../../log/entries.js";
import { write } from "../../log/outbox.js";
import { entriesOf, today } from "../../log/store.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { saveKey } from "../form/act-key.js";
import { choiceKeys, errorLine, textField, whenDay } from "../form/fields.js";
import { formState } from "../form/form-state.js";
import { signing } from "../form/signing.js";
import { HOW } from "./entry-views.js";

/** @typedef {keyof typeof HOW} How */
/** @typedef {{day: string, how: How | "", note: string}} Draft */

/** @returns {Draft} */
const fresh = () => ({ day: today(), how: "", note: "" });

/**
 * @param {string} unit
 * @param {string} customer the customer whose it is; empty where that is a name alone
 * @param {() => void} draw
 */
export async function sheetSent(unit, customer, draw) {
  const sign = await signing(draw);
  const read = async () => (await entriesOf(unit)).flatMap((entry) => (isOf(entry, "sheet_sent") ? [entry] : []));
  let sent = await read();
  let message = "";
  const form = formState({
    key: `sheet-sent/${unit}`,
    calculation: "sheet_sent",
    draft: fresh(),
    empty: fresh,
    request: ({ how, ...rest }, touched) =>
      touched && how ? { ...rest, how, ...(customer ? { customer_id: customer } : {}) } : undefined,
    draw,
  });

  const save = () =>
    form.answer.save(async (body, shown) => {
      sign.check();
      await write({ unit, kind: "sheet_sent", body, shown, draft: form.key });
      sent = await read();
      message = "It is in the log.";
      await form.clear();
      form.cleared = undefined;
      draw();
    });

  const often = () => (sent.length ? `: ${sent.length === 1 ? "once" : `${sent.length} times`}` : "?");

  /** Who has it, and since when. @param {string} owner */
  return (owner) =>
    html`<details class="no-print">
      <summary>
        Sent to ${owner || "the customer"}${often()}
      </summary>
      <div class="inside">
        ${
          sent.length
            ? html`<ul class="steps">
                ${sent.map(
                  ({ id, who, body }) =>
                    html`<li>
                      <a href="#/unit/${unit}/entry/${id}">${whenDay(body.day)}</a> ${HOW[body.how]}, by ${who}
                      ${body.note ? html`<span class="quiet">${body.note}</span>` : nothing}
                    </li>`,
                )}
              </ul>`
            : nothing
        }
        ${choiceKeys({
          name: "sent.how",
          label: "How it was sent",
          short: true,
          value: form.draft.how,
          options: /** @type {How[]} */ (Object.keys(HOW)).map((value) => ({ value, words: HOW[value] })),
          choose: (how) => {
            message = "";
            form.put({ how: /** @type {How} */ (how) });
          },
        })}
        ${textField({
          name: "sent.day",
          label: "When, year-month-day",
          value: form.draft.day,
          error: form.answer.error("day"),
          type: (day) => form.put({ day }),
        })}
        ${textField({
          name: "sent.note",
          label: "Anything to know about it",
          value: form.draft.note,
          error: form.answer.error("note"),
          type: (note) => form.put({ note }),
        })}
        ${errorLine(form.answer.failed)} ${sign.fieldIfUnknown("Sent by") ?? nothing}
        ${saveKey({ answer: form.answer, words: "Log that it was sent", save, look: "" })}
        <p role="status">${message}</p>
      </div>
    </details>`;
}
