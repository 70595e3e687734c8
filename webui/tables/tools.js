// @ts-check
// Tools of the kit in a pasted table: ranges of scales, and figures that are the same however they are written.

/** More than any workshop has; each is judged and written by itself. */
export const MOST_TOOLS = 300;

/** From one figure to another, with a unit behind either. */
const FROM_TO = /^([\d.,]*\d)\s*([^\d-–—…]*?)\s*(?:-|–|—|…|\.{2,3}|\bto\b)\s*([\d.,]*\d)\s*(\D*)$/i;
/** Up to one figure. */
const UP_TO = /^(?:up\s+to|to|max\.?|≤|<)?\s*([\d.,]*\d)\s*(\D*)$/i;

/**
 * Where a scale starts and ends, as "20–200 N·m", "0 to 25" or "up to 150" say it.
 * @param {string} cell
 * @returns {{low: string, high: string} | undefined} nothing where it says no such thing
 */
export function rangeOf(cell) {
  const text = cell.trim();
  const [, from, sign, to, unit] = FROM_TO.exec(text) ?? [];
  if (from) return { low: `${from} ${sign || unit}`.trim(), high: `${to} ${unit || sign}`.trim() };
  const [, high, behind] = UP_TO.exec(text) ?? [];
  return high ? { low: "", high: `${high} ${behind}`.trim() } : undefined;
}

/**
 * @typedef {string | number | {typed?: string | number | null, unit?: string} | null | undefined} Figure
 */

/** @param {Figure} figure */
function inPlain(figure) {
  const { typed, unit } = typeof figure === "object" && figure ? figure : { typed: figure, unit: "" };
  const text = String(typed ?? "").trim();
  const number = /^[+\-−]?[\d.,]*\d$/.test(text) ? Number(text.replace(",", ".")) : Number.NaN;
  return { text, number, unit };
}

/**
 * Whether two figures say the same in the same unit, as 0,010 and 0.01 do.
 * @param {Figure} figure @param {Figure} written
 */
export function isSameFigure(figure, written) {
  const [a, b] = [inPlain(figure), inPlain(written)];
  if (Number.isNaN(a.number) || Number.isNaN(b.number)) return a.text === b.text;
  return a.number === b.number && (a.unit === b.unit || a.number === 0);
}
