// @ts-check
// Imports a history that was kept in a spreadsheet: the workshop looks into it, and writes it once that is accepted.

import { onChange } from "../../log/changes.js";
import { deliver } from "../../log/delivery.js";
import { kit } from "../../log/stands.js";
import { fact } from "../../log/store.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { actKey } from "../form/act-key.js";
import { backTo, choiceField, errorLine, textField } from "../form/fields.js";
import { choicesOf, importHistory, lookInto, packed, unitsThere } from "./history-file.js";

/** @typedef {import("./history-file.js").Settings} Settings */
/** @typedef {import("./history-file.js").Look} Look */

// More than anybody reads.
const LISTED = 100;

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {number} turn counts what was asked: only the newest answer is shown
 * @property {Record<string, Record<string, string>>} choices by field
 * @property {{id: string, name: string}[]} units
 * @property {import("../../log/stands.js").Tool[]} tools
 * @property {Settings} settings
 * @property {Record<string, string>} tool chosen of the kit, by kind
 * @property {Look} [look]
 * @property {string} busy what is being done
 * @property {string} fault
 * @property {string} done what was imported
 */

/** No answer is shown any more: the screen was left. */
const LEFT = Number.POSITIVE_INFINITY;

/** @param {string} who @returns {Settings} */
const nothingChosen = (who) => ({
  file: "",
  data: "",
  sheet: "",
  unit: "",
  names: [],
  torque_unit: "",
  length_unit: "",
  decimal: "either",
  days: "",
  held: "",
  hidden: false,
  who,
});

/** @param {State} state @param {string} busy @param {() => Promise<void>} act */
async function attempt(state, busy, act) {
  const turn = ++state.turn;
  Object.assign(state, { busy, fault: "" });
  draw(state);
  let fault = "";
  try {
    await act();
  } catch (error) {
    fault = /** @type {Error} */ (error).message;
  }
  if (turn !== state.turn) return;
  Object.assign(state, { busy: "", fault });
  draw(state);
}

/** Look into the file anew, after something was chosen. @param {State} state @param {Partial<Settings>} [changes] */
function again(state, changes = {}) {
  state.settings = { ...state.settings, ...changes };
  state.done = "";
  return attempt(state, `Reading ${state.settings.file}…`, async () => {
    state.look = undefined;
    state.look = await lookInto(state.settings);
  });
}

/** @param {State} state @param {HTMLInputElement} input */
async function choose(state, input) {
  const [file] = input.files ?? [];
  if (!file) return;
  const data = await packed(file);
  input.value = "";
  await again(state, { file: file.name, data, sheet: "", columns: undefined, names: [] });
}

/** @param {State} state */
function accept(state) {
  const { look, settings } = state;
  if (!look) return undefined;
  return attempt(state, "Importing…", async () => {
    const { stored, there } = await importHistory(settings, look.preview);
    state.done = `${counted(stored, "entry was", "entries were")} imported; ${there} were in the log already.`;
    state.look = undefined;
    // The book shows them before somebody goes there to look for them.
    await deliver();
  });
}

/** @param {number} number @param {string} singular @param {string} plural */
const counted = (number, singular, plural) => (number === 1 ? `1 ${singular}` : `${number} ${plural}`);

/** @param {string} words */
const doneSection = (words) =>
  html`<p role="status">${words}</p>
    <a class="button" href="#/">To the units</a>`;

/** @param {State} state */
const fileSection = (state) => html`<section class="card">
  <p>
    Torque checks, plates that were measured and notes, as CSV or as a workbook (.xlsx): a row for each, with its day.
    Nothing is written before you have seen what comes of it.
  </p>
  ${textField({
    name: "who",
    label: "Who imports it",
    value: state.settings.who,
    type: (who) => {
      state.settings.who = who;
    },
  })}
  <label class="button photo ${state.look ? "" : "main"}"
    >${state.look ? "Choose another file" : "Choose the file"}<input
      type="file"
      accept=".csv,.txt,.xlsx,text/csv"
      @change=${(/** @type {{target: HTMLInputElement}} */ event) => choose(state, event.target)}
  /></label>
  ${state.busy ? html`<p role="status">${state.busy}</p><progress aria-label="How far it is"></progress>` : nothing}
  ${errorLine(state.fault)} ${state.done ? doneSection(state.done) : nothing}
</section>`;

/**
 * A choice of what the file leaves open, with what is missing beside it.
 * @param {State} state
 * @param {"torque_unit" | "length_unit" | "days" | "held" | "unit" | "decimal"} name
 * @param {string} label
 * @param {[string, string][]} options
 */
const settingField = (state, name, label, options) =>
  choiceField({
    name,
    label,
    value: state.settings[name],
    options: name === "decimal" ? options : [["", "not said"], ...options],
    choose: (value) => again(state, { [name]: value }),
    error: state.look?.asks.find(({ field }) => field === name)?.reason,
  });

/** @param {State} state @param {"wrench" | "micrometer"} name @param {string} label */
function toolField(state, name, label) {
  const tools = state.tools.filter(({ tool }) => tool === name);
  return choiceField({
    name,
    label,
    value: state.tool[name] ?? "",
    options: [["", tools.length ? "not said" : "none is in the kit yet"], ...tools.map(optionOf)],
    choose: (id) => {
      state.tool[name] = id;
      again(state, { [name]: tools.find((tool) => tool.id === id)?.body[name] ?? undefined });
    },
    error: state.look?.asks.find(({ field }) => field === name)?.reason,
  });
}

/** @param {{id: string, name: string}} thing @returns {[string, string]} */
const optionOf = ({ id, name }) => [id, name];

/** @param {State} state */
function settingsSection(state) {
  const { choices, units, look, settings } = state;
  const optionsOf = (/** @type {string} */ name) => Object.entries(choices[name] ?? {});
  const who = look?.asks.find(({ field }) => field === "who")?.reason;
  return html`<section class="card">
    <h2>How it is read</h2>
    <p class="quiet">${look?.written_in}; headings in row ${look?.heading_row}.</p>
    ${
      look?.sheets.length
        ? choiceField({
            name: "sheet",
            label: "Sheet",
            value: look.sheet,
            options: look.sheets.map((sheet) => [sheet, sheet]),
            choose: (sheet) => again(state, { sheet, columns: undefined }),
          })
        : nothing
    }
    <div class="fields half">
      ${settingField(state, "unit", "Unit, where no column names it", units.map(optionOf))}
      ${settingField(state, "torque_unit", "Torques without a unit are in", optionsOf("torque_unit"))}
      ${settingField(state, "length_unit", "Thicknesses without a unit are in", optionsOf("length_unit"))}
      ${settingField(state, "decimal", "Decimal sign", optionsOf("decimal"))}
      ${
        settings.days || look?.asks.some(({ field }) => field === "days")
          ? settingField(state, "days", "Days in figures", optionsOf("days"))
          : nothing
      }
      ${settingField(state, "held", "How it was held", optionsOf("held"))} ${toolField(state, "wrench", "Wrench")}
      ${toolField(state, "micrometer", "Micrometer")}
      ${choiceField({
        name: "hidden",
        label: "Rows that the spreadsheet hides",
        value: settings.hidden ? "yes" : "",
        options: [
          ["", "leave them out"],
          ["yes", "read them too"],
        ],
        choose: (value) => again(state, { hidden: value === "yes" }),
      })}
    </div>
    ${errorLine(who)}
    ${who ? html`<button @click=${() => again(state)}>Go on</button>` : nothing}
  </section>`;
}

/** @param {State} state @param {number} number @param {Partial<import("./history-file.js").Column>} changes */
function changeColumn(state, number, changes) {
  const columns = (state.look?.columns ?? []).map(({ number, means, place }) => ({ number, means, place }));
  const changed = columns.map((column) => (column.number === number ? { ...column, ...changes } : column));
  again(state, { columns: changed.filter(({ means }) => means) });
}

/** @param {State} state @param {Look["columns"][number]} column */
const columnField = (state, { number, heading, means, place, samples }) => html`<div>
  ${choiceField({
    name: `column.${number}`,
    label: heading || `Column ${number}`,
    value: means,
    options: [["", "leave it out"], ...Object.entries(state.choices.means ?? {})],
    choose: (chosen) => changeColumn(state, number, { means: chosen }),
  })}
  ${
    means === "thickness"
      ? html`<label
          >Of the plate at
          <input
            .value=${place}
            placeholder="one for all rows"
            @change=${(/** @type {{target: HTMLInputElement}} */ event) =>
              changeColumn(state, number, { place: event.target.value })}
        /></label>`
      : nothing
  }
  <p class="quiet">${samples.join(" · ") || "empty"}</p>
</div>`;

/** @param {State} state */
const columnsSection = (state) => html`<section class="card">
  <h2>What the columns hold</h2>
  ${errorLine(state.look?.asks.find(({ field }) => field === "columns")?.reason)}
  <div class="fields half">${state.look?.columns.map((column) => columnField(state, column))}</div>
</section>`;

/** @param {State} state */
function namesSection(state) {
  const { look, units, settings } = state;
  // One that was chosen stays there to be chosen otherwise.
  const chosen = settings.names.map(({ called, unit }) => ({ called, chosen: unit }));
  const open = (look?.unknown_units ?? []).slice(0, LISTED).map((called) => ({ called, chosen: "" }));
  if (!chosen.length && !open.length) return nothing;
  const choose = (/** @type {string} */ called, /** @type {string} */ unit) => {
    const others = settings.names.filter((one) => one.called !== called);
    return again(state, { names: unit ? [...others, { called, unit }] : others });
  };
  return html`<section class="card">
    <h2>Units with another name here</h2>
    ${[...chosen, ...open].map(({ called, chosen }) =>
      choiceField({
        name: `name.${called}`,
        label: called,
        value: chosen,
        options: [["", "not here: leave its rows out"], ...units.map(optionOf)],
        choose: (unit) => choose(called, unit),
      }),
    )}
  </section>`;
}

/** @param {string} heading @param {{row: number, column?: string, reason: string}[]} rows @param {string} [style] */
const rowsSection = (heading, rows, style = "") =>
  rows.length
    ? html`<section class="card">
        <h2>${heading}</h2>
        <ul class="steps">
          ${rows
            .slice(0, LISTED)
            .map(
              ({ row, column, reason }) =>
                html`<li class=${style}><b>Row ${row}${column ? `, ${column}` : ""}.</b> ${reason}</li>`,
            )}
        </ul>
        ${rows.length > LISTED ? html`<p class="quiet">And ${rows.length - LISTED} more.</p>` : nothing}
      </section>`
    : nothing;

/** @param {Look} look */
function entriesSection({ entries, there }) {
  const fresh = entries.filter((entry) => !entry.there);
  return html`<section class="card">
    <h2>What would be imported</h2>
    <p>${counted(fresh.length, "entry", "entries")}; ${there} are in the log already.</p>
    <ul class="steps">
      ${fresh
        .slice(0, LISTED)
        .map(({ row, day, name, who, says }) => html`<li><b>${day}, ${name}</b> (row ${row}, ${who}): ${says}</li>`)}
    </ul>
    ${fresh.length > LISTED ? html`<p class="quiet">And ${fresh.length - LISTED} more.</p>` : nothing}
  </section>`;
}

/** @param {State} state */
function screen(state) {
  const { look } = state;
  return html`${backTo("#/", "Units")}
    <h1>Import a history</h1>
    ${fileSection(state)}
    ${
      look
        ? html`${settingsSection(state)} ${columnsSection(state)} ${namesSection(state)}
          ${rowsSection(counted(look.mistakes.length, "mistake", "mistakes"), look.mistakes, "error")}
          ${look.asks.length ? nothing : entriesSection(look)}
          ${rowsSection(counted(look.left_out.length, "row is left out", "rows are left out"), look.left_out)}
          ${
            look.new
              ? html`${actKey({
                  words: `Import ${counted(look.new, "entry", "entries")}`,
                  ready: !state.busy,
                  act: () => accept(state),
                  look: "main big",
                })}`
              : nothing
          }`
        : nothing
    }`;
}

/** @param {State} state */
function draw(state) {
  render(screen(state), state.place);
}

/** What may be chosen is shown once it is known, whatever was asked meanwhile. @param {State} state */
async function learn(state) {
  try {
    [state.choices, state.units] = await Promise.all([choicesOf(), unitsThere()]);
  } catch (error) {
    state.fault ||= /** @type {Error} */ (error).message;
  }
  if (state.turn !== LEFT) draw(state);
}

/** @type {import("../../app.js").Show} */
export async function show(place) {
  const [tools, who] = await Promise.all([kit(), fact("who", "")]);
  /** @type {State} */
  const state = {
    place,
    turn: 0,
    choices: {},
    units: [],
    tools,
    settings: nothingChosen(who),
    tool: {},
    busy: "",
    fault: "",
    done: "",
  };
  draw(state);
  learn(state);
  const stop = onChange(async () => {
    state.tools = await kit();
    draw(state);
  });
  return () => {
    stop();
    state.turn = LEFT;
  };
}
