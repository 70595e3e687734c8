// @ts-check
// Whether what came from outside, over the network, in a file or from an older version, has the shape that is needed.

/**
 * @template Content
 * @typedef {(value: unknown) => value is Content} Fits
 */

/** @type {Fits<string>} */
export const text = (value) => typeof value === "string";

/** @type {Fits<number>} */
export const number = (value) => typeof value === "number";

/** @type {Fits<boolean>} */
export const yesNo = (value) => typeof value === "boolean";

/** Something with names in it. @type {Fits<Record<string, unknown>>} */
export const record = (value) => typeof value === "object" && value !== null && !Array.isArray(value);

/** Whatever it is. @type {Fits<unknown>} */
export const anything = (_value) => true;

/**
 * @template Content
 * @param {Fits<Content>} fits
 * @returns {Fits<Content[]>}
 */
export const list = (fits) => (value) => Array.isArray(value) && value.every(fits);

/**
 * The same, where it may be missing, or be nothing.
 * @template Content
 * @param {Fits<Content>} fits
 * @returns {Fits<Content | null | undefined>}
 */
export const perhaps = (fits) => (value) => value === undefined || value === null || fits(value);

/**
 * Something with these names in it, and maybe others.
 * @template {object} Content
 * @param {{[Name in keyof Content]: Fits<Content[Name]>}} fields
 * @returns {Fits<Content>}
 */
export function group(fields) {
  const fit = /** @type {[string, Fits<unknown>][]} */ (Object.entries(fields));
  /** @param {unknown} value @returns {value is Content} */
  const fits = (value) => record(value) && fit.every(([name, fits]) => fits(value[name]));
  return fits;
}
