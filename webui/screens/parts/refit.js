// @ts-check
// Back into the axle: backlash, turning torque of the bearings and screw torque, each judged as it is typed.

import { html, render } from "../../vendor/lit-html/lit-html.js";
import { keepAwake } from "../form/awake.js";
import { backTo } from "../form/fields.js";
import { style } from "../form/style.js";
import { NAMES } from "./refit-draft.js";
import { refitForm } from "./refit-form.js";
import { carCaution, inOrder, part, saving, units, verdict } from "./refit-sections.js";
import { contactPart, movesPart, shimsPart } from "./setting-sections.js";

const OF_A_CENTRE = `A unit between the axles turns shafts to the front and to the rear. Where its housing has no crown
  wheel, leave backlash, contact pattern and crown-wheel screws empty, and go by its maker's order.`;

/** @type {import("../../app.js").Show} */
export async function show(place, [id, corrected]) {
  const [form] = await Promise.all([refitForm(id, corrected, () => draw()), style("refit")]);
  if (!form) {
    location.hash = `#/unit/${id}`;
    return;
  }
  const draw = () =>
    render(
      html`<div class="full">
          ${backTo(`#/unit/${id}`, form.name)}
          <h1>${corrected ? "Correct a refit" : form.sits.goes_back}</h1>
          <p class="quiet">
            ${form.fromLast ? "Limits and tools are those of last time. " : ""}Limits are the axle maker's. What you
            leave empty is not judged.
            ${form.sits.where === "centre" ? OF_A_CENTRE : ""}
          </p>
        </div>
        <div class="full">${carCaution} ${inOrder}</div>
        ${units(form)} ${NAMES.map((name) => part(form, name))} ${contactPart(form)} ${shimsPart(form)}
        <div class="screen beside">${movesPart(form)} ${verdict(form)} ${saving(form)}</div>`,
      place,
    );
  place.classList.add("wide");
  draw();
  await form.answer.judge();
  return keepAwake();
}
