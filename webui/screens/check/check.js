// @ts-check
// A torque check: how it is held, with what, what was read, and the verdict while it is typed.

import { onChange } from "../../log/changes.js";
import { html, render } from "../../vendor/lit-html/lit-html.js";
import { keepAwake } from "../form/awake.js";
import { keepBarClear, makeRoom } from "../form/bar-clear.js";
import { backTo } from "../form/fields.js";
import { lackLine } from "../form/lack.js";
import { style } from "../form/style.js";
import { inTurns } from "../frame/turns.js";
import { enough } from "./check-draft.js";
import { drawnLarge } from "./check-drawing.js";
import { checkForm, newToolForm, reloadKit } from "./check-form.js";
import { circumstances, howHeld, readings, tool } from "./check-sections.js";
import { verdict } from "./check-verdict.js";

/** What is typed is drawn first, then the verdict, then under what circumstances. */
const TURNS = 3;

/** Room for a large drawing beside what is typed. */
const beside = matchMedia("(min-width: 760px)");

/** The first reading takes what is typed; the cautions above it stay in sight. @param {HTMLElement} place */
const beginReading = (place) =>
  /** @type {HTMLElement | null} */ (place.querySelector(".readings input"))?.focus({ preventScroll: true });

/** @type {import("../../app.js").Show} */
export async function show(place, [id, corrected]) {
  const styled = beside.matches ? style("lessons") : undefined;
  const form = await checkForm(id, corrected, () => draw());
  if (!form) {
    location.hash = `#/unit/${id}`;
    return;
  }
  const newTool = await newToolForm(form, () => beginReading(place));
  const { from, drawRest } = inTurns(TURNS);
  let began = false;
  const draw = () => {
    render(
      html`<div class="full head">
          ${backTo(`#/unit/${id}`, form.name)}
          <h1>${corrected ? "Correct a torque check" : "Torque check"}</h1>
          ${lackLine(id, form.lack)}
        </div>
        <div class="screen">${howHeld(form)} ${tool(form, newTool)} ${readings(form, place)}</div>
        ${from(2, () => html`<div class="screen beside">${drawnLarge(form)} ${verdict(form, place)}</div>`)}
        ${from(TURNS, () => html`<div class="screen">${circumstances(form, newTool)}</div>`)}`,
      place,
    );
    // A question that came up just now is brought out from behind the bar.
    const question = place.querySelector(".asked");
    if (question && !began) question.scrollIntoView({ block: "nearest" });
    began = Boolean(question);
  };

  await styled;
  place.classList.add("wide", "check");
  const takeRoom = makeRoom();
  const judged = form.answer.judge();
  // With something to judge, the form is there before the engine is.
  if (form.answer.asking) draw();
  await drawRest(draw);
  await judged;
  // All is as last time: the hand goes to the first reading at once, unless somebody has begun already.
  const isFree = !place.contains(document.activeElement);
  if (isFree && !enough(form.draft) && form.draft.held && form.draft.tool) beginReading(place);
  const letSleep = keepAwake();
  const stopMeasuring = keepBarClear(place);
  const stopListening = onChange(async () => {
    await reloadKit(form);
    draw();
  });
  return () => {
    letSleep();
    stopMeasuring();
    takeRoom();
    stopListening();
  };
}
