// @ts-check
// The answer to a plan: the best choice with its proof and pictures, or why there is none, and the other ways.

import { curvesDrawing } from "../../draw/curves.js";
import { stackDrawing } from "../../draw/stack.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { errorLine, warningLines } from "../form/fields.js";
import { worked } from "../form/worked.js";

/** A part of the stack as planned. @typedef {import("../../engine/calculations.js").PlannedPart} Row */
/** @typedef {import("./plan.js").Plan} Plan */
/** @typedef {import("./plan.js").Choice} Choice */

/**
 * @template {Plan} Result
 * @typedef {object} AnswerOf
 * @property {Result} result the engine's plan
 * @property {import("../form/fields.js").Reading} read
 * @property {import("./plan.js").Definition} unit
 * @property {import("./plan.js").OtherWays} [others] the other ways to this result, once they were asked for
 * @property {() => void} findOtherWays
 * @property {(choice: Choice) => void} beginRebuild
 */

/** @param {AnswerOf<Plan>} of */
export function answer({ result, ...of }) {
  return result.possible ? choice({ ...of, result }) : notPossible({ ...of, result });
}

/** @param {AnswerOf<Exclude<Plan, Choice>>} of */
const notPossible = ({ result, read }) =>
  html`<section class="card judged rework" aria-live="polite">
    <h2>Not possible from this shelf</h2>
    <p>${result.proof.text}</p>
    ${
      result.ways.length
        ? html`<h3>What would make it possible</h3>
            <ul class="steps">
              ${result.ways.map((way) => html`<li>${way}</li>`)}
            </ul>`
        : nothing
    }
    ${
      result.alternatives.length
        ? html`<h3>Other ways</h3>
            ${alternatives(read, result.alternatives)}`
        : nothing
    }
  </section>`;

/** @param {AnswerOf<Choice>} of */
const choice = (of) =>
  html`<section class="card" aria-live="polite">${chosen(of)}</section>
    <section class="card">
      <h2>Before and after</h2>
      ${pictures(of)}${curve(of)}
    </section>
    <section class="card" aria-live="polite">
      <h2 id="others" tabindex="-1">Other ways</h2>
      ${otherWays(of)}
    </section>`;

/** @param {AnswerOf<Choice>} of */
function chosen({ result, read, beginRebuild }) {
  const swaps = result.stack.filter((row) => row.action !== "keep");
  const { low_nm, high_nm } = result.spread_nm;
  return html`<h2>${result.proven ? "The best choice" : "A good choice"}</h2>
    <p class="figure">
      ${read.torque(result.torque_nm)}
      <small>may come out ${read.torqueFigure(low_nm)} to ${read.torqueFigure(high_nm)}</small>
    </p>
    ${swaps.length ? swapTable(read, swaps) : html`<p>Nothing has to change.</p>`}
    <p class="quiet">${result.proof.text}</p>
    ${worked("plan", "How this is worked out, and what proven means")}
    ${warningLines(result.warnings)}
    <button class="main" @click=${() => beginRebuild(result)}>Rebuild it like this</button>`;
}

/** @param {import("../form/fields.js").Reading} read @param {Row[]} swaps */
const swapTable = (read, swaps) =>
  html`<table>
    <thead>
      <tr>
        <th scope="col">Place</th>
        <th scope="col">Out</th>
        <th scope="col">In</th>
      </tr>
    </thead>
    <tbody>
      ${swaps.map(
        ({ slot, was_mm, piece, mm }) =>
          html`<tr>
            <th scope="row">${slot}</th>
            <td>${was_mm ? read.length(was_mm) : "–"}</td>
            <td>${piece}, ${read.length(mm)}</td>
          </tr>`,
      )}
    </tbody>
  </table>`;

/**
 * The stack as a picture; parts that the plan leaves out of account are not drawn.
 * @param {AnswerOf<Choice>} of
 * @param {number} crush mm
 * @param {(row: Row) => {thickness: number, told?: string, verdict?: string}} shown
 */
function stackPicture({ result, unit, read }, crush, shown) {
  /** @type {Record<string, Row>} */
  const rows = Object.fromEntries(result.stack.map((row) => [row.slot, row]));
  const parts = unit.chain
    .filter(({ part, slot }) => part === "spring" || rows[slot])
    .map(({ part, slot }) => ({
      slot,
      part,
      ...(rows[slot] ? shown(rows[slot]) : { thickness: null }),
    }));
  return stackDrawing({ parts, springHeight: unit.spring.l0_mm, crush, say: read.length, half: true });
}

/** @param {AnswerOf<Choice>} of */
function pictures(of) {
  const { result, read } = of;
  const planned = (/** @type {Row} */ { mm, action }) =>
    action === "keep" ? { thickness: mm } : { thickness: mm, told: read.length(mm), verdict: "rework" };
  return html`<div class="pair">
    <div>
      <h3>Before</h3>
      ${stackPicture(of, result.now.crush_mm, ({ was_mm, mm }) => ({ thickness: was_mm ?? mm }))}
    </div>
    <div>
      <h3>After</h3>
      ${stackPicture(of, result.crush_mm, planned)}
    </div>
  </div>`;
}

/** @param {AnswerOf<Choice>} of */
function curve({ result, read }) {
  const { low_nm, high_nm } = result.wanted_nm;
  const points = result.curve.map((point) => ({
    x: point.added_mm,
    y: read.torqueIn(point.torque_nm),
  }));
  const zones = result.zones.map((zone) => ({
    from: zone.from_mm,
    to: zone.to_mm,
    name: zone.name,
  }));
  return curvesDrawing({
    series: [{ name: "", points }],
    marks: [
      { x: 0, name: "now" },
      { x: result.added_mm, name: "planned" },
    ],
    zones,
    band: { low: read.torqueIn(low_nm), high: read.torqueIn(high_nm) },
    xName: "thickness added, mm",
    yName: read.torqueLabel,
    words: "Breakaway torque against the thickness that is added to the stack.",
  });
}

/** What stands below their heading, which stays while this changes and keeps the focus. @param {AnswerOf<Choice>} of */
function otherWays({ others, read, findOtherWays }) {
  if (!others)
    return html`<p class="quiet">A shim, another spring or another order of the plates.</p>
      <button @click=${findOtherWays}>Work them out</button>`;
  if (others.failed) return errorLine(others.failed);
  if (!others.rows) return html`<p role="status">Working them out: a full shelf takes a phone some seconds.</p>`;
  return others.rows.length
    ? alternatives(read, others.rows)
    : html`<p>There are none: no shim and no other spring is in stock, and the plates fit in no other order.</p>`;
}

/** @param {import("../form/fields.js").Reading} read @param {import("./plan.js").Alternative[]} ways */
function alternatives(read, ways) {
  return ways.map((way) => {
    const outcome = way.possible
      ? `${read.torque(way.torque_nm)} with ${way.changes} ${way.changes === 1 ? "change" : "changes"}`
      : "not possible from this shelf";
    return html`<p class="finding">
      <b>${way.about}</b>: ${outcome}. <span class="quiet">Changes ${way.affects.replaceAll("_", " ")}.</span>
    </p>`;
  });
}
