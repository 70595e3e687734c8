// @ts-check
// Plates: point, point, point, next plate by Enter; the plate in hand stays in sight, and every plate is judged as you
// go. The stack drawing is a way to any plate.

import { known } from "../../log/known.js";
import { lastSaved, settle } from "../../log/outbox.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { keepAwake } from "../form/awake.js";
import { keepBarClear, makeRoom } from "../form/bar-clear.js";
import { backTo } from "../form/fields.js";
import { lackCard } from "../form/lack.js";
import { bench } from "../frame/places.js";
import { inTurns, nextTurn } from "../frame/turns.js";
import { camera } from "../unit/photo.js";
import { receipt } from "../unit/receipt.js";
import { askWhichPlate, beginTyping, chosenOf, platesForm } from "./plates-form.js";
import { grid, inHand } from "./plates-grid.js";
import { how, now, rest, springCaution, stack, verdict } from "./plates-sections.js";
import { lookBack } from "./since-last.js";

/**
 * A photo of the plate in hand, and what was saved of it beside its key.
 * @param {import("./plates-form.js").PlatesForm} form
 */
async function photoOf(form) {
  const { id, sign, draw } = form;
  const { kinds } = await known("about");
  const saved = receipt(id, kinds, draw);
  let message = "";
  const key = camera({
    unit: id,
    about: () => ({ slot: chosenOf(form).slot }),
    sign,
    draw,
    done: async ({ slot }) => {
      message = `Photo of ${slot} saved.`;
      await saved.load();
      draw();
    },
  });
  return {
    view: () =>
      html`${key(`Photo of ${chosenOf(form).slot}`)}
        ${message ? html`<p role="status">${message}</p>` : nothing} ${saved.view((kind) => kind === "photo")}`,
    // What the form itself saved is told on the unit's page.
    leave: () => lastSaved(id)?.kind === "photo" && settle(),
  };
}

/** Its sections are drawn in so many turns: the plate in hand, what belongs to it, the verdict, the stack. */
const TURNS = 4;

/** @type {import("../../app.js").Show} */
export async function show(place, [id, corrected]) {
  const loading = platesForm(place, id, corrected, () => draw());
  const head = (/** @type {string} */ unit) =>
    html`<div class="full head">
      ${backTo(`#/unit/${id}`, unit)}
      <h1>${corrected ? "Correct measured plates" : "Measure plates"}</h1>
    </div>`;
  place.classList.add("wide", "check", "plates");
  const takeRoom = makeRoom();
  const { from, drawRest } = inTurns(TURNS);
  /** @type {Awaited<ReturnType<typeof photoOf>> | undefined} */
  let photo;
  /** @type {(unit: string, typing: unknown, beside: unknown) => unknown} */
  const view = (unit, typing, beside) =>
    html`${head(unit)}
      <div class="typing">${springCaution} ${typing}</div>
      ${beside}`;
  // Who comes for the first time reads the caution while the engine is on its way; it stays there as it is.
  render(view("Unit", nothing, nothing), place);
  const form = await loading;
  if (!form) {
    takeRoom();
    location.hash = `#/unit/${id}`;
    return;
  }
  // One form, laid out for a thumb or as a grid.
  const typing = () => {
    const [first, then] = bench.matches ? [grid, inHand] : [now, how];
    return html`${first(form)} ${from(2, () => then(form, photo?.view()))}
      ${from(3, () => html`${verdict(form)} ${rest(form)}`)}`;
  };
  const draw = () => {
    lookBack(form);
    render(
      form.lack
        ? html`${head(form.name)} ${lackCard(id, form.lack)}`
        : view(
            form.name,
            typing(),
            from(TURNS, () => stack(form)),
          ),
      place,
    );
  };
  const turned = () => {
    const typed = document.activeElement?.matches(".readings input");
    draw();
    if (typed) beginTyping(place);
  };
  draw();
  if (form.lack) return takeRoom;
  photo = await photoOf(form);
  await drawRest(draw);
  // What is judged is drawn in a turn of its own.
  await nextTurn();
  await form.answer.judge();
  await askWhichPlate(form);
  // Whoever has begun while the last sections came goes on where they are.
  if (!form.answer.result && !place.contains(document.activeElement)) beginTyping(place);
  bench.addEventListener("change", turned);
  const stop = [
    keepAwake(),
    keepBarClear(place),
    takeRoom,
    photo.leave,
    () => bench.removeEventListener("change", turned),
  ];
  return () => {
    for (const end of stop) end();
  };
}
