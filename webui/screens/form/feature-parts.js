// @ts-check
// Parts with features that are inspected, in the order in which a unit comes apart.

/** @type {[string, string][]} */
export const FEATURE_PARTS = [
  ["screws", "Screws"],
  ["cover", "Cover"],
  ["case", "Case"],
  ["journals", "Bearing journals"],
  ["rings", "Ramp rings"],
  ["cross_pins", "Cross pins"],
  ["bevel_gears", "Bevel gears"],
  ["thrust_washers", "Thrust washers"],
  ["splines", "Splines"],
  ["other", "Other parts"],
];
