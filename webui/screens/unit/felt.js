// @ts-check
// What a driver felt, as keys: plain complaints, each with when and where it shows.

import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { choiceKeys } from "../form/fields.js";

/** @typedef {NonNullable<import("../../engine/calculations.js").BodyOf<"outing">["felt"]>[number]} Complaint */
/** @typedef {Complaint["what"]} Felt */
/** What was felt as it is marked; blank for at any time, and for everywhere. */
/** @typedef {{what: Felt, when: string, corners: string}} Marked */

/** Plain complaints, in the engine's words. @type {Record<Felt, string>} */
const FELT = {
  pushes: "Pushes wide at the front",
  loose: "Rear steps out",
  spins: "Inside wheel spins",
  snaps: "Lets go all at once",
  hops: "Clicks or hops in tight turns",
  judders: "Judders or chatters",
  bangs: "Bangs or clunks",
  whines: "Whines or rumbles",
  pulls: "Pulls to one side",
};

const WHEN = [
  { value: "", words: "any time" },
  { value: "power", words: "on power" },
  { value: "lift", words: "on lift-off" },
  { value: "braking", words: "braking" },
  { value: "entry", words: "turning in" },
  { value: "straight", words: "straight on" },
];

const CORNERS = [
  { value: "", words: "everywhere" },
  { value: "slow", words: "slow corners" },
  { value: "fast", words: "fast corners" },
];

/** What is marked, of complaints that are in the log. @param {Complaint[]} felt @returns {Marked[]} */
export const markedOf = (felt) =>
  felt.map(({ what, when, corners }) => ({ what, when: when ?? "", corners: corners ?? "" }));

/** A complaint as the engine takes it. @param {Marked} marked */
export const complaintOf = ({ what, when, corners }) =>
  /** @type {import("../../engine/calculations.js").AsTyped<Complaint>} */ ({
    what,
    ...(when ? { when } : {}),
    ...(corners ? { corners } : {}),
  });

/**
 * When and where a complaint shows.
 * @param {Marked[]} felt @param {(felt: Marked[]) => void} put @param {Marked} one
 */
function whenFelt(felt, put, { what, when, corners }) {
  const change = (/** @type {Partial<Marked>} */ to) =>
    put(felt.map((other) => (other.what === what ? { ...other, ...to } : other)));
  return html`<div class="felt-when">
    ${choiceKeys({
      name: `outing.when.${what}`,
      label: `${FELT[what]}: when`,
      short: true,
      value: when,
      options: WHEN,
      choose: (chosen) => change({ when: chosen }),
    })}
    ${choiceKeys({
      name: `outing.corners.${what}`,
      label: `${FELT[what]}: where`,
      short: true,
      value: corners,
      options: CORNERS,
      choose: (chosen) => change({ corners: chosen }),
    })}
  </div>`;
}

/** What is marked, in a line. @param {Marked[]} felt */
export const feltInWords = (felt) => felt.map(({ what }) => FELT[what]).join("; ") || "Nothing marked";

/**
 * A key for each complaint.
 * @param {Marked[]} felt what is marked
 * @param {(felt: Marked[]) => void} put
 */
export function feltKeys(felt, put) {
  const turn = (/** @type {Felt} */ what) => {
    const others = felt.filter((complaint) => complaint.what !== what);
    put(others.length < felt.length ? others : [...felt, { what, when: "", corners: "" }]);
  };
  return /** @type {Felt[]} */ (Object.keys(FELT)).map((what) => {
    const complaint = felt.find((row) => row.what === what);
    return html`<button class="felt" aria-pressed=${complaint ? "true" : "false"} @click=${() => turn(what)}>
        ${complaint ? "✓ " : ""}${FELT[what]}
      </button>
      ${complaint ? whenFelt(felt, put, complaint) : nothing}`;
  });
}
