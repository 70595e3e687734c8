// @ts-check
// The answer to a plan: the good choices, one of them with its proof and pictures, or why there is none; what to buy,
// and the other ways.

import { curvesDrawing } from "../../draw/curves.js";
import { stackDrawing } from "../../draw/stack.js";
import { live } from "../../vendor/lit-html/directives/live.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { errorLine, warningLines } from "../form/fields.js";
import { worked } from "../form/worked.js";

/** A part of the stack as planned. @typedef {import("../../engine/calculations.js").PlannedPart} Row */
/** @typedef {import("./plan.js").Plan} Plan */
/** @typedef {import("./plan.js").Possible} Possible */
/** @typedef {import("./plan.js").Choice} Choice */

/**
 * @template {Plan} Result
 * @typedef {object} AnswerOf
 * @property {Result} result the engine's plan
 * @property {import("../form/fields.js").Reading} read
 * @property {import("./plan.js").Definition} unit
 * @property {number} looked which choice is looked at
 * @property {(number: number) => void} look
 * @property {import("./plan.js").OtherWays} [others] the other ways to this result, once they were asked for
 * @property {() => void} findOtherWays
 * @property {(result: Possible, choice: Choice) => void} beginRebuild
 * @property {(body: import("./plan-taken.js").Body) => void} take
 */

const TITLES = { most_certain: "Most certain", between: "In between", fewest: "Fewest plates" };

/** @param {AnswerOf<Plan>} of */
export function answer({ result, ...of }) {
  return result.possible ? possible({ ...of, result }) : notPossible({ ...of, result });
}

/** @param {AnswerOf<Exclude<Plan, Possible>>} of */
const notPossible = (of) => {
  const { result, read } = of;
  return html`<section class="card judged rework" aria-live="polite">
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
      ${warningLines(result.warnings)}
      ${
        result.alternatives.length
          ? html`<h3>Other ways</h3>
              ${alternatives(read, result.alternatives)}`
          : nothing
      }
    </section>
    ${buying(of)}`;
};

/** @param {AnswerOf<Possible>} of */
function possible(of) {
  const choice = of.result.choices[of.looked];
  return html`${choices(of)}
    <section class="card" aria-live="polite">${chosen(of, choice)}</section>
    <section class="card pictures">
      <h2>Before and after</h2>
      ${pictures(of, choice)}${curve(of, choice)}
    </section>
    ${buying(of)}
    <section class="card" aria-live="polite">
      <h2 id="others" tabindex="-1">Other ways</h2>
      ${otherWays(of)}
    </section>`;
}

/** The good choices: one tap looks at one, one tap takes one. @param {AnswerOf<Possible>} of */
const choices = (of) =>
  html`<section class="card">
    <fieldset class="planned">
      <legend><h2>Choices</h2></legend>
      ${of.result.choices.map((choice, number) => choiceRow(of, choice, number))}
    </fieldset>
    ${of.result.provable?.can_prove ? html`<p class="quiet">${of.result.provable.text}</p>` : nothing}
  </section>`;

/** @param {AnswerOf<Possible>} of @param {Choice} choice @param {number} number */
function choiceRow({ result, looked, look, beginRebuild }, choice, number) {
  const title = TITLES[choice.kind];
  return html`<div class="one">
    <label>
      <input
        type="radio"
        name="choice"
        value=${number}
        .checked=${live(number === looked)}
        @change=${() => look(number)}
      />
      <strong>${title}</strong>
      <span>${choice.chance_text}.</span>
      <small>${choice.text}</small>
    </label>
    <button
      class="small"
      aria-label=${`Take it: ${title}. ${choice.text}`}
      @click=${() => beginRebuild(result, choice)}
    >
      Take it
    </button>
  </div>`;
}

/**
 * A choice as the entry of a plan has it.
 * @param {Possible} result @param {Choice} choice
 * @returns {import("./plan-taken.js").Body}
 */
function bodyOf({ wanted_nm }, { stack, torque_nm }) {
  const fitted = stack.flatMap(({ action, slot, part, piece, mm, minimum_mm, usual_minimum }) =>
    action === "keep" || part === "ring" || part === "spring" || !mm
      ? []
      : [{ slot, part, piece, mm, ...(usual_minimum || minimum_mm === null ? {} : { minimum_mm }) }],
  );
  return { fitted, torque_nm, wanted_nm: wanted_nm.torque_nm };
}

/** @param {AnswerOf<Possible>} of @param {Choice} choice */
function chosen({ result, read, beginRebuild, take }, choice) {
  const swaps = choice.stack.filter((row) => row.action !== "keep");
  return html`<h2>${TITLES[choice.kind]}</h2>
    <p class="figure">${read.torque(choice.torque_nm)} <small>${choice.chance_text}</small></p>
    ${warningLines(choice.warnings)}
    ${swaps.length ? swapTable(read, swaps) : html`<p>Nothing has to change.</p>`}
    <button class="main" @click=${() => beginRebuild(result, choice)}>Rebuild it like this</button>
    ${
      swaps.length
        ? html`<button class="plain" @click=${() => take(bodyOf(result, choice))}>
            Take it for later: reserve its plates
          </button>`
        : nothing
    }
    <p class="quiet">${choice.proof}</p>
    <p class="quiet">${result.proof.text}</p>
    ${worked("plan", "How this is worked out, and what proven means")}`;
}

/**
 * What the shelf lacks.
 * @param {AnswerOf<Plan>} of
 */
const buying = ({ result: { buy, wanted_nm }, read, take }) =>
  buy
    ? html`<section class="card">
        <h2>To buy</h2>
        <ul class="steps">
          ${buy.pieces.map(({ name, mm, count }) => html`<li>${count} × ${name}, ${read.length(mm)}</li>`)}
        </ul>
        <p class="quiet">${buy.text}</p>
        <button
          @click=${() => take({ fitted: buy.fitted, torque_nm: buy.torque_nm, wanted_nm: wanted_nm.torque_nm })}
        >
          Take this plan: onto the buying list
        </button>
      </section>`
    : nothing;

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
            <td class="whole">${was_mm ? read.length(was_mm) : "–"}</td>
            <td>${piece}, ${read.length(mm)}</td>
          </tr>`,
      )}
    </tbody>
  </table>`;

/**
 * The stack as a picture; parts that the plan leaves out of account are not drawn.
 * @param {AnswerOf<Possible>} of
 * @param {Choice} choice
 * @param {number | null} crush mm; none where nothing is known of the spring
 * @param {(row: Row) => {thickness: number, told?: string, verdict?: string}} shown
 */
function stackPicture({ unit, read, result }, choice, crush, shown) {
  /** @type {Record<string, Row>} */
  const rows = Object.fromEntries(choice.stack.map((row) => [row.slot, row]));
  const parts = (unit.chain ?? [])
    .filter(({ part, slot }) => part === "spring" || rows[slot])
    .map(({ part, slot }) => ({
      slot,
      part,
      ...(rows[slot] ? shown(rows[slot]) : { thickness: null }),
    }));
  const workedOut = result.warnings.map(({ name }) => ({ name: name.replace("worked_out_", "") }));
  const springHeight = unit.spring?.l0_mm ?? null;
  return stackDrawing({ parts, springHeight, crush, workedOut, say: read.length, half: true });
}

/** The torque of a stack, where it stands beside what is typed. @param {import("../form/fields.js").Reading} read */
const torqueBeside = (read, /** @type {number | null} */ torque_nm) =>
  torque_nm === null ? nothing : html`<b class="figure">${read.torque(torque_nm)}</b>`;

/** @param {AnswerOf<Possible>} of @param {Choice} choice */
function pictures(of, choice) {
  const { result, read } = of;
  const planned = (/** @type {Row} */ { mm, action }) =>
    action === "keep" ? { thickness: mm } : { thickness: mm, told: read.length(mm), verdict: "rework" };
  return html`<div class="pair">
    <div>
      <h3>Before${torqueBeside(read, result.now.torque_nm)}</h3>
      ${stackPicture(of, choice, result.now.crush_mm, ({ was_mm, mm }) => ({ thickness: was_mm ?? mm }))}
    </div>
    <div>
      <h3>After${torqueBeside(read, choice.torque_nm)}</h3>
      ${stackPicture(of, choice, choice.crush_mm, planned)}
    </div>
  </div>`;
}

/** @param {AnswerOf<Possible>} of @param {Choice} choice */
function curve({ result, read }, choice) {
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
      { x: choice.added_mm, name: "planned" },
    ],
    zones,
    band: { low: read.torqueIn(low_nm), high: read.torqueIn(high_nm) },
    xName: "thickness added, mm",
    yName: read.torqueLabel,
    words: "Breakaway torque against the thickness that is added to the stack.",
  });
}

/** What stands below their heading, which stays and keeps the focus. @param {AnswerOf<Possible>} of */
function otherWays({ result, others, read, findOtherWays }) {
  const ways =
    result.by === "builds"
      ? "Wider bounds or a shim: what another spring or order gives, no build has shown."
      : "Wider bounds, a shim, another spring or another order of the plates.";
  if (!others)
    return html`<p class="quiet">${ways}</p>
      <button @click=${findOtherWays}>Work them out</button>`;
  if (others.failed) return errorLine(others.failed);
  if (!others.rows) return html`<p role="status">Working them out: a full shelf takes a phone some seconds.</p>`;
  return others.rows.length ? alternatives(read, others.rows) : html`<p>There are none.</p>`;
}

/** @param {import("../form/fields.js").Reading} read @param {import("./plan.js").Alternative[]} ways */
function alternatives(read, ways) {
  return ways.map((way) => {
    const changes = (/** @type {number} */ count) => `${count} ${count === 1 ? "change" : "changes"}`;
    const outcome = way.possible
      ? `${read.torque(way.torque_nm)} with ${changes(way.changes)}, ${way.chance_text}`
      : "not possible from this shelf";
    return html`<p class="finding">
      <b>${way.about}</b>: ${outcome}. <span class="quiet">Changes ${way.affects.replaceAll("_", " ")}.</span>
    </p>`;
  });
}
