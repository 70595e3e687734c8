// @ts-check
// Made by `npm run types` from the forms of server/engine and server/log: change those, and run it again.
// How few and how many they take, as far as a screen has to know before it asks.

/** Steady turning, read on a wrench, turned forward. */
export const READINGS = { least: 2, most: 50 };

/** Thickness round the plate. */
export const PLATE_POINTS = { least: 3, most: 24 };

/** Free height round the disc. */
export const SPRING_POINTS = { least: 3, most: 24 };

/** Depth worn into each ramp. */
export const RING_STEPS = { least: 1, most: 24 };

/** Backlash at several teeth. */
export const BACKLASH_POINTS = { least: 3, most: 60 };

/** Turning torque of the carrier bearings, repeated. */
export const BEARING_READINGS = { least: 2, most: 60 };

/** Torque of each crown-wheel screw. */
export const SCREW_READINGS = { least: 1, most: 60 };

/** What was tried before, the oldest first. */
export const TRIES = { least: 0, most: 20 };

/** Other units of the same pattern. */
export const OTHERS = { least: 0, most: 60 };

/** Plates in stock. */
export const COUNTED = { least: 0, most: 300 };

/** Who entered it: so many characters. */
export const LONGEST_NAME = 60;
