// @ts-check
// A customer's record in a form: its fields, and what is kept of what was typed.

import { saveCustomer } from "../../log/customers.js";
import { draft as kept } from "../../log/drafts.js";
import { LABELS } from "../../log/labels.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { saveKey } from "../form/act-key.js";
import { errorLine, textField } from "../form/fields.js";
import { formState } from "../form/form-state.js";
import { signing } from "../form/signing.js";

/** @typedef {import("../../log/customers.js").Body} Body */
/** @typedef {{name: string, phone: string, mail: string, address: string, note: string}} Draft */
/** @typedef {Awaited<ReturnType<typeof customerForm>>} CustomerForm */

/** @type {Draft} */
const EMPTY = { name: "", phone: "", mail: "", address: "", note: "" };

/** @type {{name: keyof Draft, kind?: string, hint?: string}[]} */
const FIELDS = [
  { name: "name" },
  { name: "phone" },
  { name: "mail" },
  { name: "address", kind: "long" },
  { name: "note", kind: "long" },
];

// Enter goes from one short field to the next; in a long one it begins a line.
const SHORT = FIELDS.filter(({ kind }) => kind !== "long");
const LONG = FIELDS.filter(({ kind }) => kind === "long");

/** What a record holds of that. @param {Body} [body] @returns {Draft} */
const draftOf = (body) => ({
  name: body?.name ?? "",
  phone: body?.phone ?? "",
  mail: body?.mail ?? "",
  address: body?.address ?? "",
  note: body?.note ?? "",
});

/**
 * @param {object} of
 * @param {string} of.key of the draft
 * @param {Body} [of.body] the record as it is now
 * @param {string} [of.id] the customer's own; none for a new one
 * @param {string} [of.replaces] the entry that is corrected
 * @param {() => void} of.draw
 * @param {(name: string, id: string) => string | Promise<void>} of.saved may say which screen comes then
 */
export async function customerForm({ key, body, id, replaces, draw, saved }) {
  const sign = await signing(draw);
  const typed = await kept(key);
  const form = formState({
    key,
    calculation: "customer",
    draft: { ...draftOf(body), ...typed },
    empty: () => draftOf(body),
    request: (draft, touched) => (touched || id ? { ...body, ...draft, ...(id ? { id } : {}) } : undefined),
    draw,
  });
  form.touched = Boolean(typed);
  form.answer.judge();

  const save = () =>
    form.answer.save(async (request) => {
      sign.check();
      const written = await saveCustomer(request, { replaces, draft: key });
      form.draft = { ...EMPTY };
      form.touched = false;
      await form.answer.judge();
      return saved(request.name, id ?? written);
    });

  /** @param {typeof FIELDS[number]} asked */
  const field = ({ name, kind, hint }) =>
    textField({
      name: `customer.${name}`,
      label: LABELS.customer[name],
      kind,
      hint,
      value: form.draft[name],
      error: form.answer.error(name),
      type: (value) => form.put({ [name]: value }),
    });
  const longOpen = Boolean(form.draft.address || form.draft.note);

  return {
    sign,
    /** What is typed is dropped. */ clear: () => form.clear(),
    /** @param {string} words of the key that saves */
    fields: (words) =>
      html`${SHORT.map(field)}
      <details ?open=${longOpen}>
        <summary>Postal address, and a note</summary>
        <div class="inside">${LONG.map(field)}</div>
      </details>
      ${errorLine(form.answer.failed)} ${sign.fieldIfUnknown("Entered by") ?? nothing}
        ${saveKey({ answer: form.answer, words, save, look: "main" })}`,
  };
}
