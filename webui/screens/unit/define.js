// @ts-check
// Take a unit in, or change one: what it is, its order and limits, its spring, its stack.

import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { draft as kept, dropDraft } from "../../log/drafts.js";
import { write } from "../../log/outbox.js";
import { standing } from "../../log/stands.js";
import { entry, newId } from "../../log/store.js";
import { stackDrawing } from "../../draw/stack.js";
import { focusOn } from "../form/focus.js";
import { judging } from "../form/judging.js";
import {
  backTo,
  choiceField,
  choiceKeys,
  clearKey,
  errorLine,
  numberField,
  reading,
  textField,
  typedOf,
  unitOf,
  unitSwitch,
} from "../form/fields.js";
import { quantityFields } from "../form/quantity.js";
import { signing } from "../form/signing.js";
import { style } from "../form/style.js";
import { chainFor, freeSlot, newUnit, unitDraft, unitRequest } from "./define-draft.js";

const LAYOUTS = [
  { value: "in_line", words: "one spring in line" },
  { value: "two_springs", words: "two springs, one at each end" },
  { value: "between_rings", words: "spring between the rings" },
];

const PARTS = /** @type {[string, string][]} */ ([
  ["friction", "friction plate"],
  ["separator", "separator plate"],
  ["shim", "shim"],
  ["ring", "ramp ring"],
  ["spring", "disc spring"],
]);

// From here on the stack is a table: the style says what it looks like.
const wide = matchMedia("(min-width: 900px)");

/** @type {import("../../app.js").Show} */
export async function show(place, [id, corrected]) {
  const [read] = await Promise.all([reading(), style("taking")]);
  const found = id ? await standing(id) : undefined;
  const old = corrected ? (await entry(corrected))?.body : found?.unit;
  if (id && !old) return void (location.hash = `#/unit/${id}`);
  const key = corrected ? `unit/${id}/${corrected}` : id ? `unit/${id}` : "unit/new";
  /** @type {any} */
  let draft = (await kept(key)) ?? (old ? unitDraft(old) : newUnit());
  const sign = await signing(() => draw());
  const switching = unitSwitch(() => draw());
  const quantity = quantityFields(read, switching);
  /** @type {typeof draft | undefined} */
  let cleared;
  let lengthUnit = unitOf(
    draft.chain.map((/** @type {any} */ item) => item.new_mm).find((/** @type {any} */ value) => value?.unit),
    found ? "mm" : read.lengthUnit,
  );
  const unfold = wide.matches;
  let begun = Boolean(id) || JSON.stringify(draft) !== JSON.stringify(newUnit());

  const form = judging({
    key,
    calculation: "unit",
    request: () => (begun ? unitRequest(draft) : undefined),
    draft: () => draft,
    draw: () => draw(),
  });

  /** Put a value at a path such as "order.torque_nm" or "chain.3.new_mm". @param {string} path @param {any} value */
  const set = (path, value) => {
    const names = path.split(".");
    const last = /** @type {string} */ (names.pop());
    const copy = structuredClone(draft);
    const group = names.reduce((/** @type {any} */ at, name) => at[name], copy);
    group[last] = value;
    draft = copy;
    begun = true;
    cleared = undefined;
    form.changed();
  };

  const clear = async () => {
    cleared = draft;
    draft = old ? unitDraft(old) : newUnit();
    begun = Boolean(id);
    await dropDraft(key);
    form.judge();
  };
  const get = (/** @type {string} */ path) =>
    path.split(".").reduce((/** @type {any} */ at, name) => at?.[name], draft);

  /** An error is shown once its field was touched, or everything red would greet a new unit. @param {string} path */
  const error = (path) => form.error(path);

  /** @param {string} path @param {string} label @param {string} [hint] @param {"nm" | "mm"} [si] */
  const quantityField = (path, label, hint, si) => {
    const value = get(path);
    if (!si)
      return numberField({
        name: path,
        label,
        hint,
        value: typedOf(value),
        error: error(path),
        type: (typed) => set(path, typed),
      });
    // What makers state, springs and rings, is in mm whatever a reader's own unit is.
    return quantity({
      name: path,
      label,
      si,
      value,
      put: (put) => set(path, put),
      preferred: si === "mm" ? "mm" : undefined,
      error: error(path),
      hint,
    });
  };
  /** @param {string} path @param {string} label @param {string} [hint] */
  const plain = (path, label, hint) => quantityField(path, label, hint);

  /** @param {(chain: any[]) => any[]} change */
  const restack = (change) => set("chain", change(structuredClone(draft.chain)));

  /** One unit of length serves the whole stack. @param {string} chosen */
  const stackUnit = (chosen) => {
    lengthUnit = chosen;
    const typed = (/** @type {any} */ value) => (typedOf(value).trim() ? { typed: typedOf(value), unit: chosen } : "");
    restack((chain) =>
      chain.map((item) => ({ ...item, new_mm: typed(item.new_mm), minimum_mm: typed(item.minimum_mm) })),
    );
  };

  /** @param {number} number @param {"new_mm" | "minimum_mm"} field @param {string} label */
  const thickness = (number, field, label) => {
    const path = `chain.${number}.${field}`;
    const value = get(path);
    // A definition from elsewhere may mix units: each figure keeps its own, and says so.
    const unit = typedOf(value).trim() ? unitOf(value, "mm") : lengthUnit;
    const hint = unit === lengthUnit ? undefined : `in ${read.units.mm.find((one) => one.unit === unit)?.label}`;
    return numberField({
      name: path,
      label,
      hint,
      value: typedOf(value),
      error: error(path),
      type: (typed) => set(path, typed.trim() ? { typed, unit } : ""),
    });
  };

  /** The part whose place, kind and keys a phone shows; a bench screen shows them all. */
  let open = -1;

  /**
   * Change the stack at a part, and leave the focus on the same key of the part that it is about then.
   * @param {string} key @param {number} to @param {(chain: any[]) => any} change
   */
  const alter = (key, to, change) => {
    restack((chain) => (change(chain), chain));
    if (open >= 0) open = to;
    draw();
    const row = `.part:nth-child(${to + 1}) `;
    focusOn(place, `${row}[data-key=${key}]`, `${row}[data-key=copy]`, "#add");
  };

  /** Enter and the arrows go along a column, as in any table. @param {KeyboardEvent} event */
  const along = (event) => {
    const step = /** @type {Record<string, number>} */ ({ ArrowDown: 1, ArrowUp: -1, Enter: event.shiftKey ? -1 : 1 })[
      event.key
    ];
    const at = /** @type {HTMLInputElement} */ (event.target);
    if (!step || at.localName !== "input" || !wide.matches) return;
    event.preventDefault();
    const column = /** @type {HTMLInputElement[]} */ ([
      ...place.querySelectorAll(
        `.part [data-cell=${/** @type {HTMLElement} */ (at.closest("[data-cell]")).dataset.cell}] input`,
      ),
    ]);
    column[column.indexOf(at) + step]?.select();
  };

  /** @param {any} item @param {number} number */
  const partRow = (item, number) => {
    const { slot } = item;
    const wrong = error(`chain.${number}.slot`) ?? error(`chain.${number}.part`);
    const key = (
      /** @type {string} */ name,
      /** @type {string} */ sign,
      /** @type {string} */ words,
      /** @type {string} */ told,
      /** @type {number} */ to,
      /** @type {(chain: any[]) => any} */ change,
      gone = false,
    ) =>
      html`<button data-key=${name} ?disabled=${gone} aria-label=${told} @click=${() => alter(name, to, change)}>
        ${sign}<span>${words}</span>
      </button>`;
    return html`<li class="card part ${open === number || wrong ? "open" : ""}">
      <div class="row apart top">
        <h3>${slot}, ${PARTS.find(([part]) => part === item.part)?.[1]}</h3>
        <button
          class="plain"
          aria-label="Change ${slot}"
          aria-expanded=${open === number}
          @click=${() => ((open = open === number ? -1 : number), draw())}
        >
          ${open === number ? "Close" : "Change"}
        </button>
      </div>
      <div data-cell="slot">
        ${textField({ name: `chain.${number}.slot`, label: `${slot} place`, value: slot, error: error(`chain.${number}.slot`), type: (value) => set(`chain.${number}.slot`, value) })}
      </div>
      <div data-cell="part">
        ${choiceField({ name: `chain.${number}.part`, label: `${slot} part`, value: item.part, options: PARTS, error: error(`chain.${number}.part`), choose: (value) => set(`chain.${number}.part`, value) })}
      </div>
      ${
        item.part === "spring"
          ? html`<p class="quiet">Its height comes from the spring's figures.</p>`
          : html`<div data-cell="new">${thickness(number, "new_mm", `${slot} thickness`)}</div>
              <div data-cell="limit">
                ${item.part === "ring" ? nothing : thickness(number, "minimum_mm", `${slot} limit`)}
              </div>`
      }
      <div class="row keys-of">
        ${key("up", "↑", "Up", `Move ${slot} up`, number - 1, (chain) => chain.splice(number - 1, 0, ...chain.splice(number, 1)), !number)}
        ${key("down", "↓", "Down", `Move ${slot} down`, number + 1, (chain) => chain.splice(number + 1, 0, ...chain.splice(number, 1)), number === draft.chain.length - 1)}
        ${key("copy", "+", "Another", `Another like ${slot}`, number + 1, (chain) => chain.splice(number + 1, 0, { ...item, slot: freeSlot(chain, slot.replace(/\d+$/, "") || "A") }))}
        ${key("out", "×", "Take out", `Take out ${slot}`, Math.min(number, draft.chain.length - 2), (chain) => chain.splice(number, 1))}
      </div>
      ${errorLine(error(`chain.${number}`))}
    </li>`;
  };

  /** Plates of a kind mostly share a thickness: type it once. @param {string} kind @param {string} label */
  const sameForAll = (kind, label) => {
    const first = draft.chain.findIndex((/** @type {any} */ item) => item.part === kind);
    if (first < 0) return nothing;
    return html`<button
      @click=${() => {
        const { new_mm: thickness, minimum_mm: limit } = draft.chain[first];
        restack((chain) =>
          chain.map((item) => (item.part === kind ? { ...item, new_mm: thickness, minimum_mm: limit } : item)),
        );
      }}
    >
      All ${label} as ${draft.chain[first].slot}
    </button>`;
  };

  const save = () =>
    form.save(async (body, shown) => {
      sign.check();
      const unit = id ?? (await newId());
      await write({ unit, kind: "unit", body, shown, replaces: corrected, draft: key });
      location.hash = `#/unit/${unit}`;
    });

  /** A field's path as people read it. @param {string} path */
  const inWords = (path) =>
    path
      .replace(/^chain\.(\d+)/, (_, number) => draft.chain[number].slot)
      .replace("new_mm", "thickness")
      .replace("minimum_mm", "limit")
      .replace(/_(nm|mm|deg)$/, "")
      .replaceAll(".", " › ")
      .replaceAll("_", " ") || "the unit as a whole";

  const figures = () => {
    const result = form.result;
    if (!result)
      return html`<section class="card sum" aria-live="polite">
        <h2>What it comes to</h2>
        ${
          form.bad
            ? html`${errorLine(form.bad.reason)}
                <p class="quiet">At: ${inWords(form.bad.field)}</p>`
            : html`<p class="quiet">Fill in the fields; the figures appear as you type.</p>`
        }
        ${errorLine(form.failed)}
      </section>`;
    const parts = result.checked.chain.map((/** @type {any} */ item) => ({
      slot: item.slot,
      part: item.part,
      thickness: item.new_mm,
    }));
    return html`<section class="card sum" aria-live="polite">
      <h2>What it comes to</h2>
      <p class="figure">${read.torque(result.breakaway_nm)}</p>
      <p class="quiet">
        breakaway with these parts; preload ${Math.round(result.preload_n)} N, crush ${read.length(result.crush_mm)},
        sliding faces ${result.faces.first} and ${result.faces.second}, ${Math.round(100 * result.travel)} % of the
        spring's travel.
      </p>
      ${result.warnings.map((/** @type {any} */ one) => html`<p class="finding doubt">${one.text}</p>`)}
      ${stackDrawing({ parts, springHeight: result.checked.spring.l0_mm, crush: result.crush_mm, say: read.length })}
    </section>`;
  };

  const draw = () =>
    render(
      html`<div class="full">
          ${backTo(id ? `#/unit/${id}` : "#/", found?.unit?.name ?? "Units")}
          <h1>${corrected ? "Correct the unit" : id ? "Change the unit" : "Take a unit in"}</h1>
          ${id ? nothing : html`<p class="quiet">Did another Slipbook save it to a file? <a href="#/import">Take in the file</a></p>`}
        </div>
        <div class="screen">
          <section class="card all what">
            <h2>What it is</h2>
            ${textField({ name: "name", label: "Name of the unit", value: draft.name, error: error("name"), type: (value) => set("name", value) })}
            ${textField({ name: "owner", label: "Owner", value: draft.owner, error: error("owner"), type: (value) => set("owner", value) })}
            ${textField({ name: "note", kind: "long", label: "Anything to know about it", value: draft.note, error: error("note"), type: (value) => set("note", value) })}
          </section>
          <section class="card">
            <h2>Order and limits</h2>
            <div class="fields">
              ${quantityField("order.torque_nm", "Breakaway ordered", undefined, "nm")}${quantityField("order.tolerance_nm", "Give or take", undefined, "nm")}
              ${quantityField("service.low_nm", "Runs again from", "the lowest torque between rebuilds", "nm")}${quantityField("service.high_nm", "Runs again up to", "may stay empty", "nm")}
            </div>
            ${choiceKeys({
              name: "stated_for",
              label: "These are stated for",
              short: true,
              value: draft.stated_for,
              choose: (value) => set("stated_for", value),
              options: [
                { value: "one_output_held", words: "one output held" },
                { value: "case_held", words: "case held (twice as much)" },
              ],
            })}
            ${choiceKeys({
              name: "judged_on",
              label: "And for",
              short: true,
              value: draft.judged_on,
              choose: (value) => set("judged_on", value),
              options: [
                { value: "steady", words: "steady turning" },
                { value: "first_move", words: "the first move" },
              ],
            })}
            ${plain("hub_ratio", "Hub reduction", "turns of the output for one turn of the wheel; 1 without")}
          </section>
          <section class="card">
            <h2>Spring</h2>
            <div class="fields">
              ${quantityField("spring.de_mm", "Outside diameter De", undefined, "mm")}${quantityField("spring.di_mm", "Inside diameter Di", undefined, "mm")}
              ${quantityField("spring.t_mm", "Thickness t", undefined, "mm")}${quantityField("spring.l0_mm", "Free height l0", "of one disc", "mm")}
              ${plain("spring.parallel", "Discs nested", "in parallel")}${plain("spring.series", "Nests in series", "at one place")}
            </div>
          </section>
          <section class="card rub">
            <h2>Friction, ramps, cover</h2>
            <div class="fields">
              ${quantityField("friction.inner_mm", "Rubbing ring, inside", "diameter", "mm")}${quantityField("friction.outer_mm", "Rubbing ring, outside", "diameter", "mm")}
              ${plain("friction.mu", "Friction of the plates", "0.1 is common practice, no source")}
            </div>
            <details ?open=${unfold || Boolean(draft.ramps.drive_deg)}>
              <summary>Ramps</summary>
              <div class="inside fields">
                ${quantityField("ramps.pin_radius_mm", "Pin radius", undefined, "mm")}${plain("ramps.drive_deg", "Drive ramp, degrees", "from the plane of rotation")}${plain("ramps.coast_deg", "Coast ramp, degrees")}
              </div>
            </details>
            <details ?open=${unfold || Boolean(draft.cover.screws)}>
              <summary>Cover screws</summary>
              <div class="inside fields">
                ${plain("cover.screws", "How many")}${quantityField("cover.screw_mm", "Thread", undefined, "mm")}${quantityField("cover.torque_nm", "Screw torque", undefined, "nm")}
                ${quantityField("cover.start_mm", "Gap at first thread", undefined, "mm")}
              </div>
            </details>
            <details ?open=${unfold}>
              <summary>Limits for every plate</summary>
              <div class="inside fields">
                ${quantityField("limits.taper_mm", "Taper", "common practice, no source", "mm")}${quantityField("limits.flatness_mm", "Out of flat", "common practice, no source", "mm")}
              </div>
            </details>
          </section>
        </div>
        <div class="screen">
          ${figures()}
          <section class="card all">
            <h2>The stack, from cover to floor</h2>
            ${choiceKeys({
              name: "layout",
              label: "Where does the spring sit?",
              short: true,
              value: draft.layout,
              error: error("layout"),
              options: LAYOUTS,
              choose: (layout) => {
                const untouched = draft.chain.every((/** @type {any} */ item) => !typedOf(item.new_mm));
                set("layout", layout);
                if (untouched) set("chain", chainFor(layout, 2));
              },
            })}
            <div class="fields">
              ${quantityField("cavity_mm", "Depth, cover face to floor", undefined, "mm")}
              ${choiceField({
                name: "stackUnit",
                label: "Thicknesses in",
                value: lengthUnit,
                options: read.units.mm.map((one) => /** @type {[string, string]} */ ([one.unit, one.label])),
                choose: (chosen) =>
                  switching.choose(
                    "stackUnit",
                    draft.chain.flatMap((/** @type {any} */ item) => [typedOf(item.new_mm), typedOf(item.minimum_mm)]),
                    lengthUnit,
                    chosen,
                    stackUnit,
                  ),
              })}
            </div>
            ${switching.question("stackUnit", read.units.mm)} ${errorLine(error("chain"))}
            <div class="row">
              ${sameForAll("friction", "friction plates")}${sameForAll("separator", "separators")}${sameForAll("ring", "rings")}
            </div>
            <details open>
              <summary>Parts, ${draft.chain.length}</summary>
              <div class="inside">
                <p class="heads" aria-hidden="true">
                  ${["Place", "Part", "Thickness", "Limit", "Up", "Down", "Copy", "Out"].map((head) => html`<b>${head}</b>`)}
                </p>
                <ol class="list" @keydown=${along}>
                  ${draft.chain.map(partRow)}
                </ol>
              </div>
            </details>
            <button
              id="add"
              @click=${() => {
                open = draft.chain.length;
                alter("copy", open, (chain) =>
                  chain.push({ slot: freeSlot(chain, "B"), part: "separator", new_mm: "", minimum_mm: "" }),
                );
                focusOn(place, ".part:last-child select");
              }}
            >
              Add a part at the floor
            </button>
          </section>
          <section class="card all">
            ${sign.fieldIfUnknown("Entered by")}
            <button class="main big" ?disabled=${!form.result} @click=${save}>
              ${id ? "Save the change" : "Take it in"}
            </button>
            ${clearKey(Boolean(cleared), clear, () => {
              draft = cleared;
              cleared = undefined;
              begun = true;
              form.changed();
            })}
          </section>
        </div>`,
      place,
    );
  place.classList.add("wide", "taking");
  draw();
  await form.judge();
}
