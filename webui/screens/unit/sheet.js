// @ts-check
// The build sheet: one page a unit, to be printed and handed over, with the way back to the unit.

import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { standing } from "../../log/stands.js";
import { entriesOf, today } from "../../log/store.js";
import { qrDrawing } from "../../draw/qr.js";
import { stackDrawing } from "../../draw/stack.js";
import { figuresNow } from "./as-it-stands.js";
import { backTo, reading, verdictMark, whenDay } from "../form/fields.js";
import { style } from "../form/style.js";
import { stackOf } from "./page.js";

/** @type {import("../../app.js").Show} */
export async function show(place, [id]) {
  const [read, found, entries] = await Promise.all([reading(), standing(id), entriesOf(id), style("sheet")]);
  const { unit, derived, torque, rebuilt } = found;
  const now = await figuresNow(found);
  const si = derived.checked;
  const live = entries.filter((entry) => !found.replaced[entry.id]).sort((a, b) => Date.parse(b.at) - Date.parse(a.at));
  const lastRebuild = live.find((entry) => entry.kind === "rebuild");
  const closed = live.find((entry) => entry.kind === "close");
  const plates = si.chain.filter((/** @type {any} */ item) => item.part !== "spring");
  const row = (/** @type {string} */ words, /** @type {any} */ value) =>
    value
      ? html`<tr>
          <th scope="row">${words}</th>
          <td>${value}</td>
        </tr>`
      : nothing;
  const { origin, hostname } = location;
  const onlyHere = /^(localhost|127\.|\[::1\])/.test(hostname);
  // The unit stands once, above the table.
  const figure = (/** @type {number} */ mm) => read.length(mm).replace(/ .*/, "");
  const lengthLabel = read.units.mm.find((one) => one.unit === read.lengthUnit)?.label;

  render(
    html`<div class="row apart no-print">
        ${backTo(`#/unit/${id}`, unit.name)}<button class="main" @click=${() => print()}>Print</button>
      </div>
      ${onlyHere ? html`<p class="quiet no-print">The code leads to this computer only. For one that a phone in the workshop can follow, start Slipbook with --lan and print from its address.</p>` : nothing}
      <article class="sheet card">
        <header class="row apart">
          <div>
            <h1>${unit.name}</h1>
            <p>${unit.owner}</p>
            <p class="quiet">Build sheet, ${whenDay(today())}</p>
          </div>
          ${qrDrawing(`${origin}/#/unit/${id}`, `The way back to ${unit.name}`)}
        </header>
        <div class="row apart">
          ${verdictMark(found.verdict, true)}
          <p class="figure">${torque ? read.torque(torque.value_nm) : "not checked"}</p>
        </div>
        <p>${found.reason}</p>
        <div class="halves">
          <div>
            <table>
              <tbody>
                ${row("Ordered", `${read.torque(si.order.torque_nm)} ± ${read.torque(si.order.tolerance_nm)}, ${si.judged_on === "steady" ? "steady turning" : "first move"}, ${si.stated_for === "case_held" ? "case held" : "one output held"}`)}
                ${row("Runs again", `${read.torque(si.service.low_nm)}${si.service.high_nm ? ` to ${read.torque(si.service.high_nm)}` : " and above"}`)}
                ${row("Checked", torque ? `${whenDay(torque.at)} by ${torque.who}, guard band ${read.torque(torque.guard_nm)}` : "")}
                ${row("Rebuilt", rebuilt ? `${whenDay(rebuilt.at)}${lastRebuild ? ` by ${lastRebuild.who}` : ""}` : "")}
                ${row("Done", lastRebuild?.body.note)} ${row("Oil", lastRebuild?.body.oil)}
                ${row("Closed", closed ? `${whenDay(closed.at)}, signed ${closed.body.signed}` : "")}
                ${row("Spring", `${si.spring.de_mm} × ${si.spring.di_mm} × ${si.spring.t_mm}, free height ${si.spring.l0_mm} mm${si.spring.parallel > 1 ? `, ${si.spring.parallel} nested` : ""}`)}
                ${row("Crush, preload", `${read.length(now.crush_mm)}, ${now.preload_n === null ? "none" : `${Math.round(now.preload_n)} N`} with these plates; ${read.length(derived.crush_mm)}, ${Math.round(derived.preload_n)} N when new`)}
                ${row("Ramps", si.ramps ? `drive ${si.ramps.drive_deg}°, coast ${si.ramps.coast_deg}°` : "")}
                ${row("Sliding faces", `${derived.faces.first} and ${derived.faces.second}`)}
                ${row("Cover", si.cover ? `${si.cover.screws} × M${si.cover.screw_mm} at ${read.torque(si.cover.torque_nm)}` : "")}
                ${row("Next", found.due.length ? found.due.map((/** @type {any} */ one) => one.text).join(" ") : "Check torque at each meeting; open it once a season (common practice).")}
              </tbody>
            </table>
          </div>
          <div>${stackDrawing(stackOf(found, now, read.length))}</div>
        </div>
        <div class="scroll" tabindex="0" role="region" aria-label="Parts of the stack">
          <table class="small">
            <caption>
              Thicknesses in ${lengthLabel}
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
              ${plates.map((/** @type {any} */ item) => {
                const measured = found.by_slot[item.slot];
                return html`<tr>
                  <th scope="row">${item.slot}</th>
                  <td>${item.part}</td>
                  <td class="number">${figure(found.fitted[item.slot] ?? item.new_mm)}</td>
                  <td class="number">${measured ? figure(measured.lowest_mm) : "–"}</td>
                  <td class="number">${item.minimum_mm ? figure(item.minimum_mm) : "–"}</td>
                </tr>`;
              })}
            </tbody>
          </table>
        </div>
        <p class="quiet">
          A disc spring under load can hurt: hold it closed in a vice before the cover screws are touched. The maker's
          figures and the local rules come first. Signed: ______________________
        </p>
      </article>`,
    place,
  );
}
