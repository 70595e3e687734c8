// @ts-check
// A unit's sheet: one page in one of its templates, to be printed and handed over, with the way back to the unit.

import { keepOnPaper } from "../../draw/paper.js";
import { qrDrawing } from "../../draw/qr.js";
import { stackDrawing } from "../../draw/stack.js";
import { calc } from "../../engine/door.js";
import { isBuilt, letterhead, standing } from "../../log/stands.js";
import { entriesOf, fact, remember, today } from "../../log/store.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { actKey } from "../form/act-key.js";
import { backTo, choiceKeys, errorLine, reading, verdictMark } from "../form/fields.js";
import { download } from "../form/share.js";
import { style } from "../form/style.js";
import { codesLeadTo } from "../shop/codes-lead-to.js";
import { pictureOf } from "../shop/mark.js";
import { formsOf, pdfOf, shareSheet, sheetIsShared } from "./sheet-file.js";
import { sheetSent } from "./sheet-sent.js";
import { stackOf } from "./stack-of.js";

/** @typedef {import("../../engine/calculations.js").RequestOf<"sheet">} Asked */
/** @typedef {NonNullable<import("../../engine/calculations.js").ResultOf<"sheet">["sheet"]>} Sheet */
/** @typedef {NonNullable<Asked["template"]>} Template */
/** @typedef {import("../../log/papers.js").Paper} Paper */

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {string} id of the unit
 * @property {import("../form/fields.js").Reading} read
 * @property {import("../../log/stands.js").BuiltStanding} found
 * @property {import("../../engine/calculations.js").BodyOf<"letterhead"> | null} head
 * @property {Template} template
 * @property {Paper} paper
 * @property {Sheet} sheet
 * @property {Awaited<ReturnType<typeof sheetSent>>} sent that it was sent
 * @property {Awaited<ReturnType<typeof codesLeadTo>>} codes where its code leads
 * @property {string} fault why there is no PDF
 * @property {boolean} asking whether the workshop's PC is drawing one
 */

/** What stands on it. @param {Pick<State, "id" | "read" | "template">} state */
async function sheetOf({ id, read: { torqueUnit, lengthUnit }, template }) {
  const [entries, shop] = await Promise.all([entriesOf(id), entriesOf("")]);
  const request = { entries, shop, today: today(), template, write_in: torqueUnit, write_lengths_in: lengthUnit };
  return (await calc("sheet", request)).sheet;
}

/** @param {State} state @param {Template} template */
async function turnTo(state, template) {
  const sheet = await sheetOf({ ...state, template });
  if (sheet) Object.assign(state, { template, sheet, fault: "" });
  draw(state);
}

/** @param {State} state @param {Paper} paper */
async function takePaper(state, paper) {
  Object.assign(state, { paper, fault: "" });
  await remember("paper", paper);
  draw(state);
}

/** Save the sheet as the workshop's PC draws it. @param {State} state */
async function fetchSheet(state) {
  Object.assign(state, { asking: true, fault: "" });
  draw(state);
  try {
    const [name, type] = formsOf(state).pdf;
    download(new File([await pdfOf(state)], name, { type }));
  } catch (error) {
    const why = /** @type {Error} */ (error).message;
    state.fault = `The PDF is drawn by the workshop's PC. ${why} Printing from here works without it.`;
  }
  state.asking = false;
  draw(state);
}

/** What is not printed: for whom, on which paper, and the keys. @param {State} state */
function aboveThePaper(state) {
  return html`<div class="no-print above">
    ${backTo(`#/unit/${state.id}`, state.found.unit.name)}
    <div class="choose">
      ${choiceKeys({
        name: "template",
        label: "Who it is for",
        short: true,
        value: state.template,
        options: [
          { value: "customer", words: "customer" },
          { value: "workshop", words: "workshop" },
          { value: "inspection", words: "inspection list" },
        ],
        choose: (template) => turnTo(state, /** @type {Template} */ (template)),
      })}
      ${choiceKeys({
        name: "paper",
        label: "Paper",
        short: true,
        value: state.paper,
        options: [
          { value: "a4", words: "A4" },
          { value: "letter", words: "letter" },
        ],
        choose: (paper) => takePaper(state, /** @type {Paper} */ (paper)),
      })}
    </div>
    <div class="row">
      <button class="main" @click=${() => print()}>Print</button
      >${actKey({
        words: state.asking ? "Drawing…" : "As PDF",
        ready: !state.asking,
        act: () => fetchSheet(state),
      })}<button @click=${() => shareSheet(state)}>
        ${sheetIsShared(state) ? "Share the sheet" : "Save the sheet"}
      </button>
    </div>
    ${errorLine(state.fault)}
    ${
      state.codes.onlyHere
        ? html`<p class="quiet">
            The code leads to this computer only. For one that a phone in the workshop can follow, start Slipbook with
            --lan and print from its address.
          </p>`
        : nothing
    }
  </div>`;
}

/** Who hands it out. @param {State} state */
function headOf({ head }) {
  if (!head) return nothing;
  return html`<div class="row apart letterhead">
    <div>
      <p><b>${head.name}</b></p>
      ${(head.lines ?? "").split("\n").map((line) => html`<p class="quiet">${line}</p>`)}
    </div>
    ${head.mark ? html`<img class="mark-shown" alt="" src=${pictureOf(head.mark)} />` : nothing}
  </div>`;
}

/** The unit, its verdict, and why. @param {State} state */
function header({ id, sheet, codes }) {
  return html`<header class="row apart">
      <div>
        <h1>${sheet.name}</h1>
        <p>${sheet.owner}</p>
        <p class="quiet">${sheet.title}</p>
      </div>
      ${qrDrawing(`${codes.origin}/#/unit/${id}`, `The way back to ${sheet.name}`)}
    </header>
    ${
      sheet.verdict_text
        ? html`<div class="row apart">
              ${verdictMark(sheet.verdict, true)}
              <p class="figure">${sheet.figure}</p>
            </div>
            <p>${sheet.reason}</p>
            ${sheet.findings.map((text) => html`<p class="finding doubt">${text}</p>`)}`
        : nothing
    }`;
}

/** What is known. @param {Sheet} sheet */
const facts = ({ rows }) =>
  html`<table>
    <tbody>
      ${rows.map(
        ({ title, text }) =>
          html`<tr>
            <th scope="row">${title}</th>
            <td>${text}</td>
          </tr>`,
      )}
    </tbody>
  </table>`;

/** Every part but the springs, with its thicknesses, and cells to be filled in. @param {Sheet} sheet */
function parts({ headings, parts: rows, caption, by_hand }) {
  if (!rows.length) return nothing;
  const number = (/** @type {number} */ place) => (place > 1 ? "number" : "");
  return html`<div class="scroll" tabindex="0" role="region" aria-label="Parts of the stack">
    <table class="small ${by_hand.length ? "by-hand" : ""}">
      <caption>
        ${caption}
      </caption>
      <thead>
        <tr>
          ${headings.map((words, place) => html`<th scope="col" class=${number(place)}>${words}</th>`)}
        </tr>
      </thead>
      <tbody>
        ${rows.map(
          ({ cells: [slot, ...cells] }) =>
            html`<tr>
              <th scope="row">${slot}</th>
              ${cells.map((words, place) => html`<td class=${number(place + 1)}>${words}</td>`)}
            </tr>`,
        )}
      </tbody>
    </table>
  </div>`;
}

/** What is filled in by hand besides. @param {Sheet} sheet */
const byHand = ({ by_hand }) =>
  by_hand.length
    ? html`<dl class="by-hand">${by_hand.map((line) => html`<div><dt>${line}</dt><dd></dd></div>`)}</dl>`
    : nothing;

/** @param {State} state */
function page(state) {
  const { sheet, found, read } = state;
  const drawn = sheet.stack.length > 0 && !sheet.by_hand.length;
  return html`${aboveThePaper(state)} ${state.sent(sheet.owner)}
    <article class="sheet card ${state.paper}">
      ${headOf(state)} ${header(state)}
      <div class=${drawn ? "halves" : ""}>
        <div>${facts(sheet)}</div>
        ${drawn ? html`<div>${stackDrawing(stackOf(found, read.length))}</div>` : nothing}
      </div>
      ${parts(sheet)} ${byHand(sheet)}
      <p class="quiet beware">${sheet.caution}</p>
      <div class="row"><p class="quiet">Signed: ______________________</p><p class="quiet">Day: ____________</p></div>
    </article>`;
}

/** @param {State} state */
function draw(state) {
  render(page(state), state.place);
}

/** @type {import("../../app.js").Show} */
export async function show(place, [id]) {
  const [read, found, head, paper, codes] = await Promise.all([
    reading(),
    standing(id),
    letterhead(),
    fact("paper", "a4"),
    codesLeadTo(),
    style("sheet"),
  ]);
  const sheet = isBuilt(found) ? await sheetOf({ id, read, template: "customer" }) : undefined;
  if (!isBuilt(found) || !sheet) {
    location.hash = `#/unit/${id}`;
    return;
  }
  const sent = await sheetSent(id, found.unit.customer_id ?? "", () => draw(state));
  /** @type {State} */
  const state = {
    place,
    id,
    read,
    found,
    head,
    template: "customer",
    paper,
    sheet,
    sent,
    codes,
    fault: "",
    asking: false,
  };
  draw(state);
  return keepOnPaper(() => place.querySelector("article"));
}
