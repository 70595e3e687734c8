// @ts-check
// Labels with a code for units, bags of plates and tools: what gets one, on which sheet, and the PDF that is printed.

import { askJson, Refused, request } from "../../log/access.js";
import { group, list, text } from "../../log/shape.js";
import { fact, remember } from "../../log/store.js";
import { live } from "../../vendor/lit-html/directives/live.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { actKey } from "../form/act-key.js";
import { backTo, choiceKeys, errorLine, idOf, numberField, withCapital } from "../form/fields.js";
import { download } from "../form/share.js";
import { style } from "../form/style.js";
import { worked } from "../form/worked.js";
import { codesLeadTo } from "./codes-lead-to.js";

const isGroup = group({ name: text, words: text, labels: list(group({ key: text, title: text, lines: list(text) })) });
const areLabels = group({ groups: list(isGroup), sheets: list(group({ name: text, words: text })) });

const CUSTOM = "custom";

/** Fields of a sheet by its own measures. @type {[keyof Measures, string, string][]} name, label and hint */
const MEASURES = [
  ["across", "Labels in a row", ""],
  ["down", "Rows", ""],
  ["width_mm", "Width of a label, mm", ""],
  ["height_mm", "Height of a label, mm", ""],
  ["gap_across_mm", "Gap between labels in a row, mm", "none if empty"],
  ["gap_down_mm", "Gap between rows, mm", "none if empty"],
  ["left_mm", "Edge on the left, mm", "as on the right if empty"],
  ["top_mm", "Edge at the top, mm", "as at the bottom if empty"],
];

/** @typedef {import("../../log/papers.js").LabelSheet} LabelSheet */
/** @typedef {LabelSheet["custom"]} Measures */

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {import("../../log/store.js").LengthUnit} lengths
 * @property {Awaited<ReturnType<typeof labelsThere>>} [there]
 * @property {Record<string, string>} copies how many of each, as typed, by its key; those that are not there get none
 * @property {LabelSheet} paper
 * @property {string} start
 * @property {boolean} onlyHere whether no phone can follow a code that is printed here
 * @property {boolean} asking
 * @property {number} turn counts what was asked about the fields: only the answer to the last counts
 * @property {Record<string, string>} errors by field; that of a label's copies by `copies.` and the label's key
 * @property {string} fault
 * @property {string} done
 */

/** @param {string} lengths */
const labelsThere = (lengths) => askJson(`/api/labels?lengths=${lengths}`, areLabels);

/** @param {State} state */
async function read(state) {
  state.asking = true;
  draw(state);
  try {
    state.there = await labelsThere(state.lengths);
  } catch (error) {
    state.fault = `Labels are drawn by the workshop's PC. ${/** @type {Error} */ (error).message}`;
  }
  state.asking = false;
  draw(state);
}

/** @param {State} state @param {Partial<LabelSheet>} change */
function setPaper(state, change) {
  state.paper = { ...state.paper, ...change };
  remember("labelSheet", state.paper).catch(() => {});
  look(state);
}

/** @param {State} state @param {Record<string, string | undefined>} change what is undefined gets no label */
function choose(state, change) {
  const all = Object.entries({ ...state.copies, ...change });
  state.copies = Object.fromEntries(all.flatMap(([key, many]) => (many === undefined ? [] : [[key, many]])));
  state.done = "";
  look(state);
}

/** What is asked for, in the order of the lists. @param {State} state */
function labelRequest({ there, copies, paper, start, lengths }) {
  const keys = there?.groups.flatMap(({ labels }) => labels.map(({ key }) => key)) ?? [];
  const { sheet, custom, page, outline } = paper;
  const filled = Object.fromEntries(Object.entries(custom).filter(([, typed]) => typed.trim()));
  return {
    labels: keys.filter((key) => key in copies).map((key) => ({ key, copies: copies[key] })),
    sheet,
    ...(sheet === CUSTOM ? { custom: { page, ...filled } } : {}),
    start: start || "1",
    outline,
    lengths,
  };
}

/**
 * What a refusal says, by field.
 * @param {Refused} refused
 * @param {ReturnType<typeof labelRequest>} request
 */
const errorsOf = (refused, { labels }) =>
  Object.fromEntries(
    refused.errors.map(({ field, reason }) => {
      const place = /^labels\.(\d+)\.copies$/.exec(field)?.[1];
      return [place ? `copies.${labels[Number(place)].key}` : field, reason];
    }),
  );

/** @param {unknown} body */
const json = (body) => ({
  method: "POST",
  headers: { "Content-Type": "application/json" },
  body: JSON.stringify(body),
});

/** What is typed is read at once; what is still to be filled in is said by the key. @param {State} state */
async function look(state) {
  state.errors = {};
  state.turn += 1;
  draw(state);
  const { turn } = state;
  const wanted = labelRequest(state);
  try {
    await request("/api/labels/look", json(wanted));
  } catch (error) {
    // Typed on, or asked for in the meantime; and what cannot be asked now is said by the key.
    if (!(error instanceof Refused) || turn !== state.turn) return;
    const typed = typedIn(state);
    const all = Object.entries(errorsOf(error, wanted));
    state.errors = Object.fromEntries(all.filter(([field]) => typed[field]?.trim()));
    draw(state);
  }
}

/** What is typed in each field. @param {State} state @returns {Record<string, string>} */
const typedIn = ({ copies, paper, start }) => ({
  start,
  ...Object.fromEntries(Object.entries(paper.custom).map(([name, typed]) => [`custom.${name}`, typed])),
  ...Object.fromEntries(Object.entries(copies).map(([key, typed]) => [`copies.${key}`, typed])),
});

/** @param {State} state */
async function print(state) {
  Object.assign(state, { asking: true, errors: {}, fault: "", done: "", turn: state.turn + 1 });
  draw(state);
  const wanted = labelRequest(state);
  try {
    const answer = await request("/api/labels", json(wanted));
    download(new File([await answer.blob()], "labels.pdf", { type: "application/pdf" }));
    state.done = "labels.pdf is with this browser's downloads. Print it at its actual size, not fitted to the page.";
  } catch (error) {
    if (error instanceof Refused) state.errors = errorsOf(error, wanted);
    if (!Object.keys(state.errors).length) state.fault = /** @type {Error} */ (error).message;
  }
  state.asking = false;
  draw(state);
  state.place.querySelector("[aria-invalid=true], [role=alert]")?.scrollIntoView({ block: "center" });
}

/** What is on a label, in a row that breaks between its lines alone. @param {string[]} lines */
const piecesOf = (lines) =>
  lines.map((line, number) => html`<span>${line}${number < lines.length - 1 ? " ·" : ""}</span> `);

/** @param {State} state @param {{key: string, title: string, lines: string[]}} label */
function labelRow(state, { key, title, lines }) {
  const many = state.copies[key];
  const error = state.errors[`copies.${key}`];
  const id = idOf(`copies.${key}`);
  return html`<li class="row apart label-row">
    <label class="tick"
      ><input
        type="checkbox"
        .checked=${live(many !== undefined)}
        @change=${(/** @type {{target: HTMLInputElement}} */ event) =>
          choose(state, { [key]: event.target.checked ? "1" : undefined })}
      /><span><b>${title}</b><br /><span class="quiet said">${piecesOf(lines)}</span></span></label
    >
    ${
      many === undefined
        ? nothing
        : html`<label class="many"
            ><span class="quiet">copies</span
            ><input
              type="text"
              inputmode="numeric"
              aria-label=${`Copies of ${title}`}
              aria-invalid=${error ? "true" : "false"}
              aria-describedby=${error ? id : nothing}
              .value=${live(many)}
              @input=${(/** @type {{target: HTMLInputElement}} */ event) =>
                choose(state, { [key]: event.target.value })}
          /></label>`
    }
    ${errorLine(error, id)}
  </li>`;
}

/** @param {State} state @param {NonNullable<State["there"]>["groups"][number]} group */
function groupSection(state, { name, words, labels }) {
  const all = (/** @type {string | undefined} */ many) => Object.fromEntries(labels.map(({ key }) => [key, many]));
  return html`<section class="card" aria-labelledby=${name}>
    <div class="row apart">
      <h2 id=${name}>${withCapital(words)}</h2>
      ${
        labels.length
          ? html`<span class="row"
              ><button class="small" aria-label=${`All ${words}`} @click=${() => choose(state, all("1"))}>All</button
              ><button
                class="small plain"
                aria-label=${`None of the ${words}`}
                @click=${() => choose(state, all(undefined))}
              >
                None
              </button></span
            >`
          : nothing
      }
    </div>
    ${
      labels.length
        ? html`<ul class="list">
            ${labels.map((label) => labelRow(state, label))}
          </ul>`
        : html`<p class="quiet">There are none yet.</p>`
    }
  </section>`;
}

/** @param {State} state */
function measures(state) {
  const { paper, errors } = state;
  if (paper.sheet !== CUSTOM) return nothing;
  return html`${choiceKeys({
    name: "page",
    label: "Page",
    short: true,
    value: paper.page,
    options: [
      { value: "a4", words: "A4" },
      { value: "letter", words: "letter" },
    ],
    choose: (page) => setPaper(state, { page: /** @type {import("../../log/papers.js").Paper} */ (page) }),
  })}
    <div class="measures">
      ${MEASURES.map(([name, label, hint]) =>
        numberField({
          name: `custom.${name}`,
          label,
          hint: hint || undefined,
          value: paper.custom[name],
          error: errors[`custom.${name}`],
          type: (typed) => setPaper(state, { custom: { ...paper.custom, [name]: typed } }),
        }),
      )}
    </div>
    ${errorLine(errors.custom)}`;
}

/** @param {State} state */
function sheetSection(state) {
  const { there, paper, errors } = state;
  // As keys and not as a list: the words of a sheet need more than one line where the text is large.
  // A size stays on one line.
  const inKey = (/** @type {string} */ words) =>
    words.replace(/(\S+) × (\S+) (mm|labels)/g, "$1\u00a0×\u00a0$2\u00a0$3");
  const known = there?.sheets.map(({ name, words }) => ({ value: name, words: inKey(words) })) ?? [];
  return html`<section class="card" aria-labelledby="sheet-of-labels">
    <h2 id="sheet-of-labels">The sheet of labels</h2>
    <div class="sheets">
      ${choiceKeys({
        name: "sheet",
        label: "Measures",
        short: true,
        value: paper.sheet,
        options: [...known, { value: CUSTOM, words: "other measures" }],
        error: errors.sheet,
        choose: (sheet) => setPaper(state, { sheet }),
      })}
    </div>
    ${measures(state)}
    ${numberField({
      name: "start",
      label: "Start at label",
      whole: true,
      hint: "of a sheet that was begun, counted line by line",
      value: state.start,
      error: errors.start,
      type: (start) => {
        state.start = start;
        look(state);
      },
    })}
    ${choiceKeys({
      name: "outline",
      label: "A line round each, to cut plain paper by",
      short: true,
      value: paper.outline,
      options: [
        { value: "no", words: "no" },
        { value: "yes", words: "yes" },
      ],
      choose: (outline) => setPaper(state, { outline: outline === "yes" ? "yes" : "no" }),
    })}
  </section>`;
}

/** What is wrong with the choice of labels. @param {State} state */
const wrongChoice = ({ errors }) =>
  Object.entries(errors)
    .filter(([field]) => field.startsWith("labels"))
    .map(([, reason]) => errorLine(reason));

/** @param {State} state */
function screen(state) {
  const { there, asking, fault, done, onlyHere } = state;
  return html`${backTo("#/settings", "Settings")}
    <h1>Labels</h1>
    <p class="quiet">
      The code on a label opens the unit, the class of plates or the tool on each phone that knows the workshop, without
      a network too.
      ${onlyHere ? "Here it leads to this computer only: start Slipbook with --lan, so that phones can follow it." : ""}
      ${worked("papers", "How a sheet of labels is laid out")}
    </p>
    ${errorLine(fault)} ${there ? there.groups.map((group) => groupSection(state, group)) : nothing}
    ${there ? sheetSection(state) : nothing}
    ${asking ? html`<p role="status">Asking the workshop's PC… <progress></progress></p>` : nothing}
    ${
      there
        ? html`${wrongChoice(state)}${actKey({
            words: "Make the labels",
            ready: !asking,
            act: () => print(state),
            look: "main big",
          })}
            <p role="status">${done}</p>`
        : nothing
    }`;
}

/** @param {State} state */
function draw(state) {
  render(screen(state), state.place);
}

/** @type {LabelSheet} */
const USUAL = {
  sheet: "a4_3x8",
  page: "a4",
  outline: "no",
  custom: {
    across: "",
    down: "",
    width_mm: "",
    height_mm: "",
    gap_across_mm: "",
    gap_down_mm: "",
    left_mm: "",
    top_mm: "",
  },
};

/** @type {import("../../app.js").Show} */
export async function show(place) {
  const [lengths, kept, { onlyHere }] = await Promise.all([
    fact("lengthUnit", "mm"),
    fact("labelSheet"),
    codesLeadTo(),
    style("labels"),
  ]);
  /** @type {State} */
  const state = {
    place,
    lengths,
    copies: {},
    paper: { ...USUAL, ...kept, custom: { ...USUAL.custom, ...kept?.custom } },
    start: "1",
    onlyHere,
    asking: false,
    turn: 0,
    errors: {},
    fault: "",
    done: "",
  };
  await read(state);
}
