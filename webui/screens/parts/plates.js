// @ts-check
// Plates: the stack drawing is the form. Tap a plate, type its points; every plate is judged as you go.

import { html, render } from "../../vendor/lit-html/lit-html.js";
import { keepAwake } from "../form/awake.js";
import { backTo } from "../form/fields.js";
import { platesForm } from "./plates-form.js";
import { chosenPlate, saving, springCaution, stack, verdict } from "./plates-sections.js";

/** @type {import("../../app.js").Show} */
export async function show(place, [id, corrected]) {
  const form = await platesForm(place, id, corrected, () => draw());
  if (!form) {
    location.hash = `#/unit/${id}`;
    return;
  }
  const draw = () =>
    render(
      html`<div class="full">
          ${backTo(`#/unit/${id}`, form.name)}
          <h1>${corrected ? "Correct measured plates" : "Measure plates"}</h1>
        </div>
        <div class="screen">${springCaution} ${stack(form)}</div>
        <div class="screen beside">${chosenPlate(form)} ${verdict(form)} ${saving(form)}</div>`,
      place,
    );
  place.classList.add("wide");
  draw();
  await form.answer.judge();
  return keepAwake();
}
