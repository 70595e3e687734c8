// @ts-check
// An empty book is a welcome: what it is for, what can be done now, and the two questions that matter once.

import { icon } from "../../draw/icons.js";
import { stackDrawing } from "../../draw/welcome.js";
import { remember } from "../../log/store.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { choiceKeys, reading } from "../form/fields.js";
import { look } from "../form/look.js";
import { samplesKey } from "../shop/samples.js";

/** @typedef {import("../../log/store.js").TorqueUnit} TorqueUnit */

/** @param {unknown} samples the key of the sample units */
const keys = (samples) => html`<div class="actions">
  <a class="button main" href="#/unit/start">${icon("torque")}Check a torque now</a>
  <a class="button" href="#/unit/new">${icon("plus")}Add a whole unit</a>
  ${samples}
</div>`;

/**
 * The welcome, once it is known how this person reads.
 * @param {() => void} draw
 * @returns {Promise<() => unknown>}
 */
export async function welcome(draw) {
  const { units, torqueUnit } = await reading();
  const chosen = { torqueUnit, keys: localStorage.getItem("keys") ?? "usual" };
  const samples = samplesKey(draw);
  const useUnit = async (/** @type {string} */ value) => {
    chosen.torqueUnit = /** @type {TorqueUnit} */ (value);
    await remember("torqueUnit", chosen.torqueUnit);
    draw();
  };
  const useKeys = (/** @type {string} */ value) => {
    chosen.keys = value;
    localStorage.setItem("keys", value);
    look();
    draw();
  };
  return () => html`${stackDrawing()}
    <p><strong>Slipbook keeps the book of your plate-type limited-slip differentials: what they were checked at, what is
      worn, and what comes next.</strong></p>
    ${keys(samples())}
    <p>
      To check a torque takes a name, the lowest torque that is allowed, and a wrench. The rest of a unit is filled in
      whenever it is known.
    </p>
    <p class="quiet">Sample units are in a book of their own: nothing that you try there comes into yours.</p>
    ${choiceKeys({
      name: "torqueUnit",
      label: "Torque in",
      short: true,
      value: chosen.torqueUnit,
      options: units.nm.map(({ unit, label }) => ({ value: unit, words: label })),
      choose: useUnit,
    })}
    ${choiceKeys({
      name: "keys",
      label: "Keys and figures",
      short: true,
      value: chosen.keys,
      options: [
        { value: "usual", words: "usual" },
        { value: "big", words: "big, for gloves" },
      ],
      choose: useKeys,
    })}
    <p class="quiet">Both can be changed in Settings.</p>`;
}
