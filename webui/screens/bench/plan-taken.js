// @ts-check
// A plan that was taken: its plates are reserved on the shelf until the unit is rebuilt, or the plan is withdrawn.

import { calc } from "../../engine/door.js";
import { keepDraft } from "../../log/drafts.js";
import { write } from "../../log/outbox.js";
import { shelfNow } from "../../log/stands.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { whenDay } from "../form/fields.js";

/** @typedef {NonNullable<import("../../log/stands.js").BuiltStanding["shelf"]["plan"]>} Taken */
/** @typedef {import("../../engine/calculations.js").BodyOf<"planned">} Body */
/** @typedef {import("../unit/trials.js").Trial} Trial */
/** @typedef {{slot: string, piece: string, mm: number, bought?: boolean}} ToFit */

/**
 * Take a plan: reserve its plates.
 * @param {string} unit
 * @param {Body} body
 */
export async function takePlan(unit, body) {
  const [shown, { knows }] = await Promise.all([calc("planned", body), shelfNow(unit)]);
  await write({ unit, kind: "planned", body, shown, alsoKnows: knows.counts });
}

/** Withdraw it: a note in its place says so, and both stay in the log. @param {string} unit @param {Taken} taken */
export const withdrawPlan = (unit, { id }) =>
  write({
    unit,
    kind: "note",
    body: { text: "The plan was withdrawn." },
    shown: { verdict: null },
    replaces: id,
  });

/** What a plan means to fit, as a rebuild is typed. @param {ToFit[]} parts */
export const toFit = (parts) =>
  parts.map(({ slot, mm, piece, bought }) => ({
    slot,
    mm: String(mm),
    piece,
    minimum_mm: "",
    ...(bought ? { bought } : {}),
  }));

/** Why a rebuild goes by a plan. @param {{at: string}} plan */
export const plannedNote = ({ at }) => `As planned on ${whenDay(at)}.`;

/**
 * Begin the entry of a rebuild with what is to be fitted.
 * @param {string} unit @param {ToFit[]} parts @param {string} note
 * @param {Trial} [trial] the change that it makes
 */
export async function beginRebuild(unit, parts, note, trial) {
  const why = trial ? `${note} To try: ${trial.change}. ${trial.reason}` : note;
  const trials = trial ? [trial.id] : [];
  await keepDraft(`rebuild/${unit}`, { fitted: toFit(parts), oil: "", spring: "", note: why, out: {}, trials });
  location.hash = `#/unit/${unit}/rebuild`;
}

/**
 * Begin it with a choice of a plan.
 * @param {string} unit @param {import("../form/fields.js").Reading} read
 * @param {import("./plan.js").Possible} result @param {import("./plan.js").Choice} choice @param {Trial} [trial]
 */
export function beginFrom(unit, read, { bedding, wanted_nm }, { stack, torque_nm }, trial) {
  const aimed = bedding?.aimed ? ` Aimed ${read.torque(bedding.above_nm)} above it for bedding in.` : "";
  const note = `To ${read.torque(wanted_nm.torque_nm)}: planned ${read.torque(torque_nm)}.${aimed}`;
  const parts = stack.filter(({ action }) => action !== "keep");
  return beginRebuild(unit, parts, note, trial);
}

/**
 * @param {Taken | null} taken
 * @param {import("../form/fields.js").Reading} read
 * @param {() => void} rebuild
 * @param {() => void} withdraw
 */
export function takenSection(taken, read, rebuild, withdraw) {
  if (!taken) return nothing;
  return html`<section class="card" id="taken">
    <h2>Planned, not rebuilt yet</h2>
    <p class="quiet">Taken on ${whenDay(taken.at)} by ${taken.who}. The shelf keeps these plates for it:</p>
    <ul class="steps">
      ${taken.fitted.map(
        ({ slot, piece, mm, bought }) =>
          html`<li>${slot}: ${piece}, ${read.length(mm)}${bought ? ", to buy first" : nothing}</li>`,
      )}
    </ul>
    <button class="main" @click=${rebuild}>Rebuild it as planned</button>
    <button class="plain" @click=${withdraw}>Withdraw this plan</button>
  </section>`;
}
