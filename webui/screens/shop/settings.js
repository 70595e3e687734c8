// @ts-check
// How each person reads and works on this phone.

import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { deviceId, fact, onChange, remember } from "../../log/store.js";
import { known } from "../../log/known.js";
import { installCard } from "./install.js";
import { allUnits, choiceKeys, textField } from "../form/fields.js";
import { problemsBanner } from "./problems.js";

/** What a person chooses, with what it is before that. @type {Record<string, string>} */
const CHOICES = { torqueUnit: "nm", lengthUnit: "mm", theme: "auto", keys: "usual" };
// These are read before anything is drawn, from where that needs no waiting.
const AT_ONCE = ["theme", "keys"];

/** @param {string} name @param {string} value */
async function use(name, value) {
  if (AT_ONCE.includes(name)) {
    localStorage.setItem(name, value);
    document.documentElement.dataset[name] = value;
  } else await remember(name, value);
}

/** @type {import("../../app.js").Show} */
export async function show(place) {
  const [units, about, device, paired] = await Promise.all([allUnits(), known("about"), deviceId(), fact("paired")]);
  let problems = await problemsBanner();
  /** What each person chose on this phone, by name. @type {Record<string, Record<string, string>>} */
  let people = await fact("people", {});
  /** @type {Record<string, string>} */
  const now = { who: await fact("who", "") };
  for (const [name, otherwise] of Object.entries(CHOICES))
    now[name] = AT_ONCE.includes(name) ? (localStorage.getItem(name) ?? otherwise) : await fact(name, otherwise);

  /** What this person chose is kept under the name. */
  const keep = () => {
    const name = now.who.trim();
    if (!name) return;
    people = { ...people, [name]: Object.fromEntries(Object.keys(CHOICES).map((choice) => [choice, now[choice]])) };
    return remember("people", people);
  };
  /** @param {string} name @param {string} value */
  const set = async (name, value) => {
    now[name] = value;
    await use(name, value);
    await keep();
    draw();
  };
  /** Somebody else takes the phone: as that person reads. @param {string} name */
  const turnTo = async (name) => {
    await keep();
    now.who = name;
    await remember("who", name);
    for (const [choice, otherwise] of Object.entries(CHOICES)) {
      now[choice] = people[name][choice] ?? otherwise;
      await use(choice, now[choice]);
    }
    draw();
  };
  const of = (/** @type {string} */ si) => units[si].map((one) => ({ value: one.unit, words: one.label }));
  const install = installCard(() => draw());
  const draw = () => {
    const others = Object.keys(people)
      .filter((name) => name !== now.who.trim())
      .sort();
    render(
      html`<h1>Settings</h1>
        ${problems}
        <section class="card">
          ${textField({
            name: "who",
            label: "Your name, as the log will show it",
            value: now.who,
            type: (typed) => {
              now.who = typed;
              remember("who", typed.trim()).catch(() => {});
            },
          })}
          ${
            others.length
              ? html`<fieldset>
                  <legend>Somebody else takes the phone</legend>
                  <div class="row">
                    ${others.map((name) => html`<button @click=${() => turnTo(name)}>${name}</button>`)}
                  </div>
                </fieldset>`
              : nothing
          }
          ${choiceKeys({ name: "torqueUnit", label: "Torque in", short: true, value: now.torqueUnit, options: of("nm"), choose: (value) => set("torqueUnit", value) })}
          ${choiceKeys({ name: "lengthUnit", label: "Length in", short: true, value: now.lengthUnit, options: of("mm"), choose: (value) => set("lengthUnit", value) })}
          <p class="quiet">What is being typed somewhere keeps the unit that it was begun in.</p>
          ${choiceKeys({
            name: "theme",
            label: "Light or dark",
            short: true,
            value: now.theme,
            choose: (value) => set("theme", value),
            options: [
              { value: "auto", words: "as the phone" },
              { value: "light", words: "light" },
              { value: "dark", words: "dark" },
            ],
          })}
          ${choiceKeys({
            name: "keys",
            label: "Keys and figures",
            short: true,
            value: now.keys,
            choose: (value) => set("keys", value),
            options: [
              { value: "usual", words: "usual" },
              { value: "big", words: "big, for gloves" },
            ],
          })}
          <p class="quiet">These are kept for ${now.who.trim() || "whoever uses this phone"}.</p>
        </section>
        ${install()}
        <section class="card">
          <h2>This phone</h2>
          <p class="quiet">Engine ${about.version}. Device ${device}.</p>
        </section>
        <section class="card">
          <h2>The workshop</h2>
          <p class="quiet">
            ${paired ? `Paired as ${paired.name}, ${paired.role}.` : "Not paired; at the workshop's own PC that is not needed."}
          </p>
          <div class="row">
            <a class="button" href="#/pair">Pair this phone</a><a class="button" href="#/devices">Devices</a>
          </div>
        </section>`,
      place,
    );
  };
  draw();
  const stop = onChange(async () => {
    problems = await problemsBanner();
    draw();
  });
  return () => {
    stop();
    keep();
  };
}
