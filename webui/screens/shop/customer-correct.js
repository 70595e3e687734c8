// @ts-check
// A customer's entry, corrected: one that the workshop refused, for example.

import { isOf } from "../../log/entries.js";
import { customers } from "../../log/stands.js";
import { entry } from "../../log/store.js";
import { html, render } from "../../vendor/lit-html/lit-html.js";
import { backTo } from "../form/fields.js";
import { customerForm } from "./customer-form.js";

/** @type {import("../../app.js").Show} */
export async function show(place, [id]) {
  const [old, all] = await Promise.all([entry(id), customers()]);
  if (!isOf(old, "customer")) {
    location.hash = "#/customers";
    return;
  }
  // The first entry of a customer is known by its own id, and its correction too.
  const own = old.body.id || all.find(({ ids }) => ids.includes(old.id))?.id;
  let ready = false;
  const draw = () => {
    if (!ready) return;
    render(
      html`${backTo("#/outbox", "Outbox")}
        <h1>Correct a customer</h1>
        <section class="card">
          <p class="quiet">The entry as it was stays in the log, marked as corrected.</p>
          ${form.fields("Save the customer")}
        </section>`,
      place,
    );
  };
  const form = await customerForm({
    key: `customer/correct/${id}`,
    body: old.body,
    id: own,
    replaces: old.id,
    draw,
    saved: () => "#/outbox",
  });
  ready = true;
  draw();
}
