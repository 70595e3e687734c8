// @ts-check
// The change that is chosen: what is changed and why, into the log as a change to try.

import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { saveKey } from "../form/act-key.js";
import { caution, choiceField, errorLine, figureIn, numberField, quantity, textField } from "../form/fields.js";
import { complaintOf } from "../unit/felt.js";

/** @typedef {import("./complaint.js").State} State */
/** @typedef {import("../../engine/calculations.js").BodyOf<"trial">["lever"]} Lever */

/**
 * A change as it is chosen or typed.
 * @typedef {object} Chosen
 * @property {Lever} lever
 * @property {string} pair
 * @property {number | string | null} torque N·m as a number, as the engine gave it; a text as it is typed
 * @property {string} drive
 * @property {string} coast
 * @property {string} faces
 * @property {import("../unit/felt.js").Marked | null} complaint
 * @property {string} reason
 */

/** What can be changed. @type {[Lever, string][]} */
const LEVERS = [
  ["preload", "Another preload"],
  ["turned_over", "Rings turned over"],
  ["pair", "Another pair of its ramps"],
  ["drive_ramp", "Another drive ramp"],
  ["coast_ramp", "Another coast ramp"],
  ["faces", "Another number of faces"],
  ["oil", "Other oil or plates"],
];

/** @type {Chosen} */
const OWN = {
  lever: "preload",
  pair: "",
  torque: "",
  drive: "",
  coast: "",
  faces: "",
  complaint: null,
  reason: "",
};

/**
 * The figure by which each change is stated.
 * @param {Chosen} chosen @param {import("../form/fields.js").Reading} read
 */
function stated({ lever, pair, torque, drive, coast, faces }, read) {
  if (lever === "preload")
    return { torque_nm: typeof torque === "number" ? torque : quantity(torque ?? "", read.torqueUnit) };
  if (lever === "pair") return { pair };
  if (lever === "drive_ramp") return { drive_deg: drive };
  if (lever === "coast_ramp") return { coast_deg: coast };
  return lever === "faces" ? { faces } : {};
}

/**
 * The change as the engine takes it.
 * @param {Chosen} chosen @param {string} outing @param {import("../form/fields.js").Reading} read
 */
export function trialRequest(chosen, outing, read) {
  const { lever, complaint, reason } = chosen;
  return {
    lever,
    ...stated(chosen, read),
    ...(complaint ? { complaint: complaintOf(complaint) } : {}),
    ...(outing && complaint ? { outing } : {}),
    reason,
  };
}

/**
 * The field of the figure that states it.
 * @param {State} state @param {Chosen} chosen @param {(chosen: Chosen) => void} put
 */
function figureField({ choice, read, found }, chosen, put) {
  const { lever, torque } = chosen;
  const field = (
    /** @type {"torque" | "drive" | "coast" | "faces"} */ name,
    /** @type {string} */ path,
    /** @type {string} */ label,
    /** @type {string} */ value,
  ) =>
    numberField({
      name: `trial.${name}`,
      label,
      value,
      error: choice.error(path),
      type: (typed) => put({ ...chosen, [name]: typed }),
    });
  if (lever === "preload") {
    const shown = typeof torque === "number" ? figureIn(read.units, "nm", read.torqueUnit, torque, 1) : (torque ?? "");
    return field("torque", "torque_nm", `Breakaway torque to order, ${read.torqueLabel}`, shown);
  }
  if (lever === "drive_ramp") return field("drive", "drive_deg", "Drive ramp, °", chosen.drive);
  if (lever === "coast_ramp") return field("coast", "coast_deg", "Coast ramp, °", chosen.coast);
  if (lever === "faces") return field("faces", "faces", "Sliding faces, both packs", chosen.faces);
  if (lever !== "pair") return nothing;
  const pairs = found.built.unit.other_ramps ?? [];
  return choiceField({
    name: "trial.pair",
    label: "Pair of ramps",
    value: chosen.pair,
    error: choice.error("pair"),
    options: [["", "choose one"], ...pairs.map(({ name }) => /** @type {[string, string]} */ ([name, name]))],
    choose: (pair) => put({ ...chosen, pair }),
  });
}

/** Where the change goes from here. @param {Lever} lever */
function whereItGoes(lever) {
  if (lever === "oil") return "Service asks whether it was made.";
  if (lever === "preload") return "The plan aims at it, and the rebuild asks whether it was made.";
  return "The rebuild asks whether it was made, and the unit's ramps follow.";
}

/**
 * @param {State} state
 * @param {(chosen: Chosen | null) => void} choose
 * @param {() => Promise<boolean>} save
 */
export function chosenSection(state, choose, save) {
  const { draft, choice, sign } = state;
  const { chosen } = draft;
  const [first] = draft.felt;
  if (!chosen)
    return html`<section class="card">
      <button @click=${() => choose({ ...OWN, complaint: first ?? null })}>Choose a change of your own</button>
    </section>`;
  return html`<section class="card" aria-labelledby="chosen">
    <h2 id="chosen" tabindex="-1">The change to try</h2>
    ${choiceField({
      name: "trial.lever",
      label: "What is changed",
      value: chosen.lever,
      options: LEVERS,
      choose: (lever) => choose({ ...chosen, lever: /** @type {Lever} */ (lever) }),
    })}
    ${figureField(state, chosen, choose)}
    ${textField({
      name: "trial.reason",
      label: "Why",
      kind: "long",
      value: chosen.reason,
      error: chosen.reason ? choice.error("reason") : undefined,
      type: (reason) => choose({ ...chosen, reason }),
    })}
    ${caution(
      html`<b>Springs are under load when the unit is opened, and a car stands on stands.</b> Change one thing at a
        time, and try it where there is room to go wrong.`,
    )}
    ${sign.fieldIfUnknown() ?? nothing} ${errorLine(choice.failed)}
    ${saveKey({ answer: choice, words: "Save the change to try", save })}
    <p class="quiet">${whereItGoes(chosen.lever)} The outing after it asks whether it helped.</p>
    <button class="plain" @click=${() => choose(null)}>Choose none</button>
  </section>`;
}
