// @ts-check
// A torque check: how it is held, with what, what was read, and the verdict while it is typed.

import { onChange } from "../../log/store.js";
import { html, render } from "../../vendor/lit-html/lit-html.js";
import { keepAwake } from "../form/awake.js";
import { backTo } from "../form/fields.js";
import { enough } from "./check-draft.js";
import { checkForm, newToolForm, reloadKit } from "./check-form.js";
import { circumstances, howHeld, readings, saving, tool } from "./check-sections.js";
import { verdict, verdictStrip } from "./check-verdict.js";

/** @type {import("../../app.js").Show} */
export async function show(place, [id, corrected]) {
  const form = await checkForm(id, corrected, () => draw());
  if (!form) {
    location.hash = `#/unit/${id}`;
    return;
  }
  const newTool = await newToolForm(form);
  const draw = () =>
    render(
      html`<div class="full">
          ${backTo(`#/unit/${id}`, form.name)}
          <h1>${corrected ? "Correct a torque check" : "Torque check"}</h1>
        </div>
        <div class="screen">
          ${howHeld(form)} ${tool(form, newTool)} ${readings(form)} ${verdictStrip(form)} ${circumstances(form)}
        </div>
        <div class="screen beside">${verdict(form)} ${saving(form)}</div>`,
      place,
    );

  place.classList.add("wide");
  // With something to judge, the form is there before the engine is.
  if (enough(form.draft)) draw();
  await form.answer.judge();
  const letSleep = keepAwake();
  const stopListening = onChange(async () => {
    await reloadKit(form);
    draw();
  });
  return () => {
    letSleep();
    stopListening();
  };
}
