// @ts-check
// Whose a unit is, in a form: a customer that is known, found by typing, or a name that is typed.

import { BadInput } from "../../engine/door.js";
import { saveCustomer } from "../../log/customers.js";
import { finder } from "../../log/find.js";
import { customers, ownerIn } from "../../log/stands.js";
import { reasonOf } from "../../log/storage-fault.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { errorLine, textField } from "../form/fields.js";
import { focusOn } from "../form/focus.js";

// More than these, and typing on finds one sooner than reading does.
const OFFERED = 6;

/**
 * The part of a form that says whose the unit is.
 * @typedef {object} OwnedForm
 * @property {{owner: string, customer_id: string}} draft
 * @property {(change: {owner: string, customer_id: string}) => void} put
 * @property {{error: (field: string) => string | undefined}} answer
 */

/**
 * @param {object} of
 * @param {() => OwnedForm} of.form
 * @param {import("../form/signing.js").Signing} of.sign
 * @param {() => void} of.draw
 * @param {string} [of.hint]
 */
export async function ownerChoice({ form, sign, draw, hint }) {
  let known = await customers();
  let fault = "";
  let busy = false;

  /** @param {string} name @param {string} [id] */
  const choose = (name, id = "") => {
    fault = "";
    form().put({ owner: name, customer_id: id });
  };

  /** The same by a key, which is gone then. @param {string} name @param {string} id */
  const press = (name, id) => {
    choose(name, id);
    draw();
    focusOn(document.body, '[data-field="owner"]');
  };

  const make = async () => {
    if (busy) return;
    busy = true;
    try {
      sign.check();
      const name = form().draft.owner.trim();
      const id = await saveCustomer({ name });
      known = await customers();
      press(name, id);
    } catch (error) {
      if (!(error instanceof BadInput)) fault = reasonOf(error);
      else if (error.field !== "who") fault = error.reason;
      draw();
    }
    busy = false;
  };

  const offers = () => {
    const { owner, customer_id } = form().draft;
    const linked = known.find(({ ids }) => ids.includes(customer_id));
    if (linked) return html`<p class="quiet">A customer: <a href="#/customers/${linked.id}">${linked.name}</a></p>`;
    if (!owner.trim()) return nothing;
    const fits = finder(owner);
    const found = known.filter(({ name, gone }) => !gone && fits(name)).slice(0, OFFERED);
    return html`<div class="row usual" role="group" aria-label="Customers">
      ${found.map(({ id, name }) => html`<button class="small" @click=${() => press(name, id)}>${name}</button>`)}
      <button class="small" @click=${make}>New customer: ${owner.trim()}</button>
    </div>`;
  };

  const below = () => {
    const offered = offers();
    return offered === nothing && !fault ? nothing : html`<div class="below">${offered} ${errorLine(fault)}</div>`;
  };

  return {
    field() {
      const { draft, answer } = form();
      return html`${textField({
        name: "owner",
        label: "Owner",
        hint,
        value: ownerIn(draft, known),
        error: answer.error("owner"),
        type: (typed) => choose(typed),
      })}
        ${below()}`;
    },
  };
}
