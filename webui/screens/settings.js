// @ts-check
// How this person reads and works on this phone.

import { html, render } from "../vendor/lit-html/lit-html.js";
import { deviceId, fact, remember } from "../log/store.js";
import { known } from "../log/known.js";
import { allUnits, choiceKeys, textField } from "./parts.js";

/** @type {import("../app.js").Show} */
export async function show(place) {
  const [units, about, device, paired] = await Promise.all([allUnits(), known("about"), deviceId(), fact("paired")]);
  const names = { who: "", torqueUnit: "nm", lengthUnit: "mm" };
  /** @type {Record<string, string>} */
  const now = Object.fromEntries(await Promise.all(Object.entries(names).map(async ([name, otherwise]) => [name, await fact(name, otherwise)])));
  now.theme = localStorage.getItem("theme") ?? "auto";

  /** @param {string} name @param {string} value */
  const set = async (name, value) => {
    now[name] = value;
    if (name === "theme") {
      localStorage.setItem(name, value);
      document.documentElement.dataset.theme = value;
    } else await remember(name, value);
    draw();
  };
  const of = (/** @type {string} */ si) => units[si].map((one) => ({ value: one.unit, words: one.label }));
  const draw = () =>
    render(
      html`<h1>Settings</h1>
        <section class="card">
          ${textField({ name: "who", label: "Your name, as the log shall have it", value: now.who, type: (typed) => set("who", typed) })}
          ${choiceKeys({ name: "torqueUnit", label: "Torque in", short: true, value: now.torqueUnit, options: of("nm"), choose: (value) => set("torqueUnit", value) })}
          ${choiceKeys({ name: "lengthUnit", label: "Length in", short: true, value: now.lengthUnit, options: of("mm"), choose: (value) => set("lengthUnit", value) })}
          ${choiceKeys({ name: "theme", label: "Light or dark", short: true, value: now.theme, choose: (value) => set("theme", value),
            options: [{ value: "auto", words: "as the phone" }, { value: "light", words: "light" }, { value: "dark", words: "dark" }] })}
        </section>
        <section class="card"><h2>This phone</h2><p class="quiet">Engine ${about.version}. Device ${device}.</p></section>
        <section class="card"><h2>The workshop</h2>
          <p class="quiet">${paired ? `Paired as ${paired.name}, ${paired.role}.` : "Not paired; at the workshop's own PC that is not needed."}</p>
          <div class="row"><a class="button" href="#/pair">Pair this phone</a><a class="button" href="#/devices">Devices</a></div></section>`,
      place,
    );
  draw();
}
