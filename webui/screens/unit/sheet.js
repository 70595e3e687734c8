// @ts-check
// The build sheet: one page a unit, to be printed and handed over, with the way back to the unit.

import { qrDrawing } from "../../draw/qr.js";
import { stackDrawing } from "../../draw/stack.js";
import { isOf } from "../../log/entries.js";
import { isBuilt, standing } from "../../log/stands.js";
import { entriesOf, today } from "../../log/store.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { backTo, newtons, reading, verdictMark, whenDay } from "../form/fields.js";
import { style } from "../form/style.js";
import { stackOf } from "./stack-of.js";

/** @typedef {NonNullable<Awaited<ReturnType<typeof sheetOf>>>} Sheet */
/** @typedef {import("../../engine/calculations.js").Kinds} Kinds */

/** What the sheet is about; nothing where the unit is not on this phone. @param {string} id the unit */
async function sheetOf(id) {
  const [read, found, entries] = await Promise.all([reading(), standing(id), entriesOf(id)]);
  if (!isBuilt(found)) return undefined;
  /** @template {keyof Kinds} Kind @param {Kind} kind */
  const newest = (kind) => {
    const entry = entries.find((one) => one.id === found.newest[kind]);
    return isOf(entry, kind) ? entry : undefined;
  };
  return {
    id,
    read,
    found,
    /** The unit as it is built now. */ now: found.built,
    /** The definition in SI. */ unit: found.derived.checked,
    lastRebuild: newest("rebuild"),
    closing: newest("close"),
  };
}

const USUAL_NEXT = "Check torque at each meeting; open it once a season (common practice).";

/** What was ordered, found and done. @param {Sheet} sheet @returns {[string, string | null | undefined][]} */
function history({ found, unit, read, lastRebuild, closing }) {
  const { torque, rebuilt } = found;
  const { order, service } = unit;
  const judged = unit.judged_on === "steady" ? "steady turning" : "first move";
  const held = unit.stated_for === "case_held" ? "case held" : "one output held";
  const high = service.high_nm ? ` to ${read.torque(service.high_nm)}` : " and above";
  const guard = typeof torque?.guard_nm === "number" ? `, guard band ${read.torque(torque.guard_nm)}` : "";
  return [
    ["Ordered", `${read.torque(order.torque_nm)} ± ${read.torque(order.tolerance_nm)}, ${judged}, ${held}`],
    ["Limits for running", `${read.torque(service.low_nm)}${high}`],
    ["Checked", torque && `${whenDay(torque.at)} by ${torque.who}${guard}`],
    ["Rebuilt", rebuilt && `${whenDay(rebuilt.at)}${lastRebuild ? ` by ${lastRebuild.who}` : ""}`],
    ["Work done", lastRebuild?.body.note],
    ["Oil", lastRebuild?.body.oil],
    ["Closed", closing && `${whenDay(closing.at)}, signed ${closing.body.signed}`],
  ];
}

/** What is due next. @param {Sheet} sheet @returns {[string, string]} */
function next({ found: { due } }) {
  return ["Next", due.length ? due.map(({ text }) => text).join(" ") : USUAL_NEXT];
}

const INTO_AXLE =
  "Crown-wheel screws, carrier bearings, backlash, tooth contact; then recheck. Screws in cured compound or " +
  "tightened by angle are not clicked again.";

/** How it is built. @param {Sheet} sheet @returns {[string, string | null | undefined][]} */
function build({ found, now, unit, read }) {
  const { crush_mm, preload_n, faces } = found.derived;
  const { spring, ramps, cover } = unit;
  const { parallel = 1 } = spring;
  const disc = `${spring.de_mm} × ${spring.di_mm} × ${spring.t_mm}, free height ${spring.l0_mm} mm`;
  const facing = unit.chain
    .filter(({ cone_to }) => cone_to)
    .map(({ slot, cone_to }) => `; ${slot}: its point faces the ${cone_to}`);
  const preload = now.preload_n === null ? "none" : newtons(now.preload_n);
  // An entry of another version may lack what only that version worked out.
  const asNew =
    crush_mm === undefined || preload_n === undefined
      ? ""
      : `; ${read.length(crush_mm)}, ${newtons(preload_n)} when new`;
  return [
    ["Spring", `${disc}${parallel > 1 ? `, ${parallel} nested` : ""}${facing.join("")}`],
    ["Crush, preload", `${read.length(now.crush_mm)}, ${preload} with these plates${asNew}`],
    ["Ramps", ramps && `coast ${ramps.coast_deg}° (into a corner), drive ${ramps.drive_deg}° (out of it)`],
    ["Sliding faces", faces && `${faces.first} and ${faces.second}`],
    ["Cover", cover && `${cover.screws} × M${cover.screw_mm} at ${read.torque(cover.torque_nm)}`],
    ["Into the axle", INTO_AXLE],
  ];
}

/** Only what is known gets a row. @param {[string, string | null | undefined][]} rows */
const table = (rows) =>
  html`<table>
    <tbody>
      ${rows
        .filter(([, value]) => value)
        .map(
          ([title, value]) =>
            html`<tr>
              <th scope="row">${title}</th>
              <td>${value}</td>
            </tr>`,
        )}
    </tbody>
  </table>`;

/** @param {Sheet} sheet */
function header({ id, found, read }) {
  const { unit, torque, verdict, reason, findings } = found;
  const value = torque?.value_nm;
  return html`<header class="row apart">
      <div>
        <h1>${unit.name}</h1>
        <p>${unit.owner}</p>
        <p class="quiet">Build sheet, ${whenDay(today())}</p>
      </div>
      ${qrDrawing(`${location.origin}/#/unit/${id}`, `The way back to ${unit.name}`)}
    </header>
    <div class="row apart">
      ${verdictMark(verdict, true)}
      <p class="figure">${typeof value === "number" ? read.torque(value) : "not checked"}</p>
    </div>
    <p>${reason}</p>
    ${findings.filter(({ text }) => text !== reason).map(({ text }) => html`<p class="finding doubt">${text}</p>`)}`;
}

/** Every part but the springs, with its thicknesses. @param {Sheet} sheet */
function parts({ now, read }) {
  // The unit of length stands once, above the table.
  const figure = (/** @type {number | null} */ mm) => (mm ? read.length(mm).replace(/ .*/, "") : "–");
  const lengthLabel = read.units.mm.find((length) => length.unit === read.lengthUnit)?.label;
  const rows = now.places.map(
    (place) =>
      html`<tr>
        <th scope="row">${place.slot}</th>
        <td>${place.part}</td>
        <td class="number">${figure(place.new_mm)}</td>
        <td class="number">${figure(place.lowest_mm)}</td>
        <td class="number">${figure(place.usual_minimum ? null : place.minimum_mm)}</td>
      </tr>`,
  );
  return html`<div class="scroll" tabindex="0" role="region" aria-label="Parts of the stack">
    <table class="small">
      <caption>
        Thicknesses in ${lengthLabel}. ${now.measured_text}
      </caption>
      <thead>
        <tr>
          <th scope="col">Place</th>
          <th scope="col">Part</th>
          <th scope="col" class="number">Fitted</th>
          <th scope="col" class="number">Measured</th>
          <th scope="col" class="number">Limit</th>
        </tr>
      </thead>
      <tbody>
        ${rows}
      </tbody>
    </table>
  </div>`;
}

/** What is not printed: the way back, the key, and where the code leads. @param {Sheet} sheet */
function aboveThePaper({ id, found }) {
  const onlyHere = /^(localhost|127\.|\[::1\])/.test(location.hostname);
  return html`<div class="row apart no-print">
      ${backTo(`#/unit/${id}`, found.unit.name)}<button class="main" @click=${() => print()}>Print</button>
    </div>
    ${
      onlyHere
        ? html`<p class="quiet no-print">
            The code leads to this computer only. For one that a phone in the workshop can follow, start Slipbook with
            --lan and print from its address.
          </p>`
        : nothing
    }`;
}

/** @type {import("../../app.js").Show} */
export async function show(place, [id]) {
  const [sheet] = await Promise.all([sheetOf(id), style("sheet")]);
  if (!sheet) {
    location.hash = `#/unit/${id}`;
    return;
  }
  render(
    html`${aboveThePaper(sheet)}
      <article class="sheet card">
        ${header(sheet)}
        <div class="halves">
          <div>${table([...history(sheet), ...build(sheet), next(sheet)])}</div>
          <div>${stackDrawing(stackOf(sheet.found, sheet.read.length))}</div>
        </div>
        ${parts(sheet)}
        <p class="quiet">
          A disc spring under load can hurt: hold it closed in a vice before the cover screws are touched. The maker's
          figures and the local rules come first. Signed: ______________________
        </p>
      </article>`,
    place,
  );
}
