// @ts-check
// What a figure that cannot be measured is worked out from, and the fields of each way.

/** @typedef {import("../../engine/calculations.js").WorkOutRequest["from"]} WayName */

/**
 * A field of the request, by its path.
 * @typedef {{path: string, label: string, si?: "nm" | "mm" | "n", hint?: string}} WayField
 */

/**
 * @typedef {object} Way
 * @property {WayName} name
 * @property {string} words
 * @property {string} how what is done for it
 * @property {import("../../draw/dimensions.js").SketchName} [sketch]
 * @property {WayField[]} fields
 */

/** @type {WayField[]} */
const TORQUE = [
  { path: "torque.torque_nm", label: "Torque measured", si: "nm", hint: "as order and limits are stated" },
  { path: "torque.expanded_nm", label: "Give or take (torque)", si: "nm", hint: "95 %; 5 % of it if empty" },
];

/** The ways of each figure, by its path in the definition. @type {Record<string, Way[]>} */
export const WAYS = {
  cavity_mm: [
    {
      name: "depth_from_gap",
      words: "gap under the cover",
      how: "Lay the cover loose on the whole stack and gauge the gap under it at three places: it is the crush itself.",
      sketch: "gap",
      fields: [
        { path: "gap.gap_mm", label: "Gap under the loose cover", si: "mm" },
        { path: "gap.within_mm", label: "Give or take (gap)", si: "mm", hint: "0.05 mm if empty: common practice" },
      ],
    },
    {
      name: "depth_from_torque",
      words: "one torque",
      how: "Torque and friction give the preload, and the spring's curve the crush. The friction has to be known.",
      fields: [
        ...TORQUE,
        { path: "friction.mu", label: "Friction known to be", hint: "the unit's own if empty" },
        { path: "friction.within", label: "Give or take (friction)", hint: "a fifth of it if empty: common practice" },
      ],
    },
    {
      name: "depth_from_builds",
      words: "two builds",
      how: "What a known thickness adds to the torque says how far the spring is squeezed, whatever the friction is.",
      fields: [
        { path: "builds.torque_nm", label: "Torque with this stack", si: "nm" },
        { path: "builds.expanded_nm", label: "Give or take (first)", si: "nm", hint: "95 %; 5 % of it if empty" },
        { path: "builds.thicker_mm", label: "The other was thicker by", si: "mm", hint: "below 0 if it was thinner" },
        { path: "builds.second_nm", label: "Torque of the other", si: "nm" },
        { path: "builds.second_expanded_nm", label: "Give or take (other)", si: "nm", hint: "5 % of it if empty" },
      ],
    },
  ],
  "spring.l0_mm": [
    {
      name: "height_from_load",
      words: "known load",
      how: "Squeeze the whole column in a press that shows its load, behind a guard, and measure its height there.",
      fields: [
        { path: "load.load_n", label: "Load of the press", si: "n" },
        { path: "load.within_percent", label: "Give or take (load), %", hint: "2 % if empty: common practice" },
        { path: "load.height_mm", label: "Height under that load", si: "mm", hint: "of all discs together" },
        { path: "load.within_mm", label: "Give or take (height)", si: "mm", hint: "0.05 mm if empty" },
      ],
    },
  ],
  "friction.mu": [
    {
      name: "friction_from_torque",
      words: "one torque",
      how: "Depth, plates and spring give the preload, and the torque over it is the friction.",
      fields: TORQUE,
    },
  ],
};
