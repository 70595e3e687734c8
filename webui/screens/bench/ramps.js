// @ts-check
// Ramps and drive: lock on drive and coast for each way of fitting the rings, and what it does for traction.

import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { draft as kept } from "../../log/drafts.js";
import { standing } from "../../log/stands.js";
import { curvesDrawing } from "../../draw/curves.js";
import { wedgeDrawing } from "../../draw/wedge.js";
import { worked } from "../form/worked.js";
import { judging } from "../form/judging.js";
import { backTo, errorLine, numberField, quantity, reading } from "../form/fields.js";

const FITTED = /** @type {Record<string, string>} */ ({ as_is: "As fitted", turned_over: "Rings turned over" });

/** @type {import("../../app.js").Show} */
export async function show(place, [id]) {
  const [read, found] = await Promise.all([reading(), standing(id)]);
  const unit = found.derived.checked;
  const key = `ramps/${id}`;
  /** @type {Record<string, string>} */
  let draft = (await kept(key)) ?? { top: "", left_load: "", right_load: "", left_grip: "", right_grip: "", tyre: "" };

  const form = judging({
    key,
    calculation: "ramps",
    request: () =>
      unit.ramps
        ? {
            unit,
            points: 61,
            write_in: read.torqueUnit,
            ...(quantity(draft.top, read.torqueUnit) ? { most_nm: quantity(draft.top, read.torqueUnit) } : {}),
          }
        : undefined,
    draft: () => draft,
    draw: () => draw(),
  });
  const lock = () => form.result?.fittings[0].drive.locking_value;
  const axle = judging({
    key,
    calculation: "traction",
    request: () =>
      draft.left_load && draft.right_load && draft.tyre && form.result
        ? {
            left: { load_kg: draft.left_load, grip: draft.left_grip },
            right: { load_kg: draft.right_load, grip: draft.right_grip },
            tyre_radius_mm: draft.tyre,
            locking_value: Math.min(1, lock()),
            write_in: read.torqueUnit,
          }
        : undefined,
    draft: () => draft,
    draw: () => draw(),
  });
  /** @param {string} name @param {string} value */
  const set = (name, value) => {
    draft = { ...draft, [name]: value };
    form.changed();
    axle.judge();
  };

  /** @param {any} fitting */
  const one = (fitting) =>
    html`<section class="card">
      <h2>${FITTED[fitting.fitted] ?? fitting.fitted}</h2>
      <div class="pair">
        ${wedgeDrawing({ angle: fitting.drive.angle_deg, name: "drive" })}${wedgeDrawing({ angle: fitting.coast.angle_deg, name: "coast" })}
      </div>
      <table>
        <thead>
          <tr>
            <td></td>
            <th scope="col">Lock</th>
            <th scope="col">Bias ratio</th>
            <th scope="col">Ramps beat preload from</th>
          </tr>
        </thead>
        <tbody>
          ${["drive", "coast"].map((way) => {
            const side = fitting[way];
            return html`<tr>
              <th scope="row">${way}</th>
              <td>${side.solid ? "solid" : `${Math.round(100 * side.locking_value)} %`}</td>
              <td>${side.bias_ratio ? side.bias_ratio.toFixed(2) : "–"}</td>
              <td>${side.takes_over_nm === null ? "never" : read.torque(side.takes_over_nm)}</td>
            </tr>`;
          })}
        </tbody>
      </table>
      ${curvesDrawing({
        series: ["drive", "coast"].map((way) => ({
          name: way,
          dashed: way === "coast",
          points: fitting[way].curve.map((/** @type {any} */ point) => ({
            x: read.torqueIn(point.torque_nm),
            y: read.torqueIn(point.lock_nm),
          })),
        })),
        xName: `input torque at the case, ${read.torqueLabel}`,
        yName: `lock, ${read.torqueLabel}`,
        words: "Torque held between the outputs against input torque, on drive and on coast.",
      })}
    </section>`;

  const field = (/** @type {string} */ name, /** @type {string} */ label, /** @type {string} */ path) =>
    numberField({ name, label, value: draft[name], error: axle.error(path), type: (value) => set(name, value) });

  const draw = () =>
    render(
      html`<div class="full">
          ${backTo(`#/unit/${id}`, found.unit.name)}
          <h1>Ramps and drive</h1>
        </div>
        ${
          unit.ramps
            ? html`${
                form.result
                  ? html`<section class="card full">
                          <p>${form.result.text}</p>
                          ${form.result.warnings.map((/** @type {any} */ warning) => html`<p class="finding doubt">${warning.text}</p>`)}
                          <p class="quiet">
                            The lock is the difference of the two output torques over their sum; a shallower ramp locks
                            harder, and a ramp of 90° adds none.
                          </p>
                          ${worked("ramps")}
                        </section>
                        ${form.result.fittings.map(one)}`
                  : nothing
              }
                ${form.bad ? html`<section class="card">${errorLine(form.bad.reason)}</section>` : nothing}${errorLine(form.failed)}
                <section class="card">
                  <h2>What it does for traction</h2>
                  <div class="pair">
                    ${field("left_load", "Left wheel load, kg", "left.load_kg")}${field("right_load", "Right wheel load, kg", "right.load_kg")}
                    ${field("left_grip", "Left grip", "left.grip")}${field("right_grip", "Right grip", "right.grip")}
                  </div>
                  ${field("tyre", "Tyre radius, mm", "tyre_radius_mm")}
                  ${
                    axle.result
                      ? html`<p>${axle.result.text}</p>
                          <table>
                            <tbody>
                              ${[
                                ["open axle", axle.result.open_nm],
                                ["this unit", axle.result.unit_nm],
                                ["solid axle", axle.result.solid_nm],
                              ].map(
                                ([words, value]) =>
                                  html`<tr>
                                    <th scope="row">${words}</th>
                                    <td class="number">${read.torque(Number(value))}</td>
                                  </tr>`,
                              )}
                            </tbody>
                          </table>`
                      : html`<p class="quiet">Type loads, grip (1 is dry tarmac, 0.3 wet grass) and tyre radius.</p>`
                  }
                  ${axle.bad ? errorLine(axle.bad.reason) : nothing} ${worked("traction")}
                </section>`
            : html`<section class="card">
                <p>This unit's definition has no ramps.</p>
                <a class="button" href="#/unit/${id}/change">Add them</a>
              </section>`
        }`,
      place,
    );
  place.classList.add("wide");
  draw();
  await form.judge();
  await axle.judge();
}
