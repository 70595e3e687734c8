// @ts-check
// Changes to try: what a unit's page says of them and of what was felt, and the question whether one helped.

import { BadInput, calc } from "../../engine/door.js";
import { write } from "../../log/outbox.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { choiceKeys, whenDay } from "../form/fields.js";

/** @typedef {import("../../log/stands.js").UnitStanding} UnitStanding */
/** @typedef {UnitStanding["trials"][number]} Trial */
/** @typedef {import("../../engine/calculations.js").BodyOf<"unit">} Definition */

/** What became of a change, in the engine's words. */
const HELPED = [
  { value: "gone", words: "it is gone" },
  { value: "better", words: "better" },
  { value: "same", words: "no change" },
  { value: "worse", words: "worse" },
  { value: "unclear", words: "cannot tell" },
];

/** What it is for. @param {Trial} trial */
const against = ({ felt }) => (felt ? `, against “${felt}”` : "");

/** Withdraw it: a note in its place says so, and both stay in the log. @param {string} unit @param {Trial} trial */
const withdraw = (unit, { id }) =>
  write({
    unit,
    kind: "note",
    body: { text: "The change to try was withdrawn." },
    shown: { verdict: null },
    replaces: id,
  });

/** Where a change that is chosen is made, by what is changed. @param {string} id of the unit @param {Trial} trial */
function wayOn(id, { lever }) {
  if (lever === "oil") return html`<a class="button" href="#/unit/${id}/service">Log service</a>`;
  if (lever === "preload") return html`<a class="button" href="#/unit/${id}/plan">Plan the rebuild</a>`;
  return html`<a class="button" href="#/unit/${id}/rebuild">Rebuild</a>`;
}

/**
 * What can be done about a change now.
 * @param {string} id of the unit @param {UnitStanding} found @param {Trial} trial
 */
function keysOf(id, { last_outing }, trial) {
  if (trial.state === "chosen")
    return html`<div class="actions">
      ${wayOn(id, trial)}
      <button class="plain" aria-label=${`Withdraw: ${trial.change}`} @click=${() => withdraw(id, trial)}>
        Withdraw
      </button>
    </div>`;
  if (trial.state === "run" && last_outing)
    return html`<a class="button" href="#/unit/${id}/outing/${last_outing.id}">Say whether it helped</a>`;
  return nothing;
}

/** @param {string} id of the unit @param {UnitStanding} found @param {Trial} trial */
const trialItem = (id, found, trial) =>
  html`<li>
    <p><b>${trial.change}</b>${against(trial)}. ${trial.text}</p>
    <p class="quiet">${trial.reason} Chosen on ${whenDay(trial.at)} by ${trial.who || "no name given"}.</p>
    ${trial.notes.map((note) => html`<p class="finding doubt">${note}</p>`)}
    ${
      trial.defined
        ? nothing
        : html`<p class="finding doubt">
            The unit's figures still have another torque ordered, or other ramps:
            <a href="#/unit/${id}/change">change the unit</a>.
          </p>`
    }
    ${keysOf(id, found, trial)}
  </li>`;

/** What was felt last, as long as that is of this build. @param {string} id @param {UnitStanding} found */
function feltLast(id, { felt }) {
  const [last] = felt;
  if (!last || last.rebuilt) return nothing;
  return html`<p>On ${whenDay(last.at)}: ${last.felt.map(({ text }) => text).join("; ")}.</p>
    <a class="button" href="#/unit/${id}/complaint/${last.id}">From complaint to change</a>`;
}

/** What was felt of a unit and what is tried about it. @param {{id: string, found: UnitStanding}} page */
export function trialsSection({ id, found }) {
  const rows = found.trials.filter(({ stays }) => stays);
  const isFelt = found.felt.some(({ rebuilt }) => !rebuilt);
  if (!rows.length && !isFelt) return nothing;
  return html`<section class="card" aria-labelledby="trials">
    <h2 id="trials">What the driver felt</h2>
    ${feltLast(id, found)}
    ${
      rows.length
        ? html`<h3>Changes to try</h3>
            <ul class="list">
              ${rows.map((trial) => trialItem(id, found, trial))}
            </ul>`
        : nothing
    }
  </section>`;
}

/** What an outing said of changes that were tried. @param {UnitStanding} found @param {string} outing */
export const saidBy = ({ trials }, outing) =>
  trials.flatMap((trial) =>
    trial.answers.filter(({ id }) => id === outing).map(({ text }) => `${trial.change}: ${text}`),
  );

/**
 * The question whether a change helped, for each that was made.
 * @param {Trial[]} trials
 * @param {Record<string, string>} helped the answers, by change
 * @param {(helped: Record<string, string>) => void} put
 */
export function helpedSection(trials, helped, put) {
  if (!trials.length) return nothing;
  return html`<section class="card" aria-labelledby="helped">
    <h2 id="helped">Did it help?</h2>
    ${trials.map(
      (trial) =>
        html`${choiceKeys({
          name: `outing.helped.${trial.id}`,
          label: `${trial.change}${against(trial)}`,
          short: true,
          value: helped[trial.id] ?? "",
          options: HELPED,
          choose: (answer) => put({ ...helped, [trial.id]: answer }),
        })}
        ${trial.notes.map((note) => html`<p class="finding doubt">${note}</p>`)}`,
    )}
    <p class="quiet">May stay empty: the next outing asks again.</p>
  </section>`;
}

/**
 * Changes that may be made with what is logged here, a key each.
 * @param {Trial[]} trials
 * @param {string[]} ids ids of those that were
 * @param {(made: string[]) => void} put
 */
export function madeSection(trials, ids, put) {
  if (!trials.length) return nothing;
  return html`<section class="card" aria-labelledby="made">
    <h2 id="made">Changes chosen to try</h2>
    <p class="quiet">Mark what was made with this. The next outing asks whether it helped.</p>
    ${trials.map((trial) => {
      const isMade = ids.includes(trial.id);
      return html`<button
        class="felt"
        aria-pressed=${isMade ? "true" : "false"}
        @click=${() => put(isMade ? ids.filter((id) => id !== trial.id) : [...ids, trial.id])}
      >
        ${isMade ? "✓ " : ""}Made: ${trial.change}${against(trial)}
      </button>`;
    })}
    ${
      ids[1]
        ? html`<p class="finding doubt">Two changes at once share one answer: better make one at a time.</p>`
        : nothing
    }
  </section>`;
}

/** Changes that can be marked as made in an entry: what is not made yet, or in this one. */
/** @param {UnitStanding} found @param {string[]} ids @param {(trial: Trial) => boolean} fits */
export const canBeMade = ({ trials }, ids, fits) =>
  trials.filter((trial) => ids.includes(trial.id) || (trial.state === "chosen" && fits(trial)));

/** The definition with a change in it, as far as a definition has it. @param {Definition} unit @param {Trial} trial */
function withChange(unit, { lever, torque_nm, drive_deg, coast_deg, pair }) {
  const { ramps, order, other_ramps } = unit;
  if (lever === "preload" && order && torque_nm !== null) return { ...unit, order: { ...order, torque_nm } };
  if (!ramps) return unit;
  if (lever === "drive_ramp" && drive_deg !== null) return { ...unit, ramps: { ...ramps, drive_deg } };
  if (lever === "coast_ramp" && coast_deg !== null) return { ...unit, ramps: { ...ramps, coast_deg } };
  if (lever === "turned_over")
    return { ...unit, ramps: { ...ramps, drive_deg: ramps.coast_deg, coast_deg: ramps.drive_deg } };
  const other = (other_ramps ?? []).find(({ name }) => name === pair);
  if (lever !== "pair" || !other) return unit;
  // The rings that come out lie on the shelf in place of those that go in.
  const out = { ...other, name: "as it was", drive_deg: ramps.drive_deg, coast_deg: ramps.coast_deg };
  return {
    ...unit,
    ramps: { ...ramps, drive_deg: other.drive_deg, coast_deg: other.coast_deg },
    other_ramps: (other_ramps ?? []).map((fitting) => (fitting === other ? out : fitting)),
  };
}

/**
 * The unit's definition follows changes that were made: its order, or its ramps. What the engine refuses stays as it
 * is, and the unit's page says that it lacks the change.
 * @param {string} id of the unit @param {UnitStanding} found @param {string[]} ids
 */
export async function followDefinition(id, { unit, trials }, ids) {
  const changed = trials
    .filter((trial) => ids.includes(trial.id) && trial.state === "chosen")
    .reduce(withChange, /** @type {Definition} */ (unit));
  if (changed === unit) return;
  try {
    await write({ unit: id, kind: "unit", body: changed, shown: await calc("unit", changed) });
  } catch (error) {
    if (!(error instanceof BadInput)) throw error;
  }
}
