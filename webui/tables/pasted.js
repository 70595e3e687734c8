// @ts-check
// A table that somebody pasted out of a spreadsheet: its rows, its heads, and what each column and cell means. Whether
// a row can be taken is for the engine to say.

import dsv from "../vendor/d3-dsv/src/dsv.js";

/**
 * What a column may hold.
 * @typedef {object} Field
 * @property {string} name
 * @property {string[]} heads as people write above such a column, in small letters
 * @property {boolean} [figure] whether it is a quantity with a unit
 * @property {boolean} [whole] whether it is a whole number
 * @property {boolean} [day] whether it is a day
 * @property {string} [like] what its cells are like where no head says it, as a regular expression
 * @property {Record<string, string[]>} [options] each with words that mean it
 */

/**
 * Signs of units as people write them, each with the unit that a request knows.
 * @typedef {Record<string, string>} Signs
 */

const SEPARATORS = { "\t": "tabs", ";": "semicolons", ",": "commas", "|": "upright strokes" };
/** By the heads people tell what a table holds, and these stand near its top. */
const LOOKED_AT = 12;
/** By so many lines a separator is told from others. */
const SAMPLE = 60;
/** What people write where there is nothing to write. */
const NOTHING = new Set(["-", "–", "—", "n/a", "n.a.", "#n/a"]);
/** A thousandth of a millimetre, which no request knows, is written as millimetres. */
const MICROMETRES = new Set(["µm", "μm", "um", "micron", "microns", "micrometre", "micrometres"]);

/** @param {string} cell */
const tidy = (cell) => cell.replace(/[\s\u200b\ufeff]+/g, " ").trim();

/**
 * How well a sign parts the lines: into how many cells, and how many of them alike.
 * @param {string} text @param {string} sign
 */
function meritOf(text, sign) {
  const widths = dsv(sign)
    .parseRows(text)
    .map((/** @type {string[]} */ row) => row.length);
  /** @type {Map<number, number>} */
  const counts = new Map();
  for (const width of widths) counts.set(width, (counts.get(width) ?? 0) + 1);
  const parted = [...counts].filter(([width]) => width > 1).sort((a, b) => b[1] - a[1] || b[0] - a[0]);
  return parted[0] ?? [1, 0];
}

/** The sign between cells. @param {string} text */
function separatorOf(text) {
  const lines = text.split(/\r\n|\r|\n/).filter((line) => line.trim());
  // What a spreadsheet puts into the clipboard has tabs, whatever else is in its cells.
  if (lines.some((line) => line.includes("\t"))) return "\t";
  // Figures with a decimal comma, one below the other, are one column.
  if (lines.every((line) => /^[^,;|]*$|^[^;|,]*\d,\d[^;|,]*$/.test(line))) return "\t";
  const sample = lines.slice(0, SAMPLE).join("\n");
  const found = Object.keys(SEPARATORS).filter((sign) => sample.includes(sign));
  const merits = found.map((sign) => ({ sign, merit: meritOf(sample, sign) }));
  merits.sort((a, b) => b.merit[1] - a.merit[1] || b.merit[0] - a.merit[0]);
  return merits[0].sign;
}

/**
 * A text as rows of cells, without rows that are blank and without columns that are blank all the way down.
 * @param {string} text out of a clipboard, or of a CSV
 * @returns {{rows: string[][], numbers: number[], separated: string}} with the number that each row has in the text
 */
export function readTable(text) {
  const separator = separatorOf(text);
  /** @type {string[][]} */
  const all = dsv(separator)
    .parseRows(text.replace(/^\ufeff/, "").replaceAll("\0", ""))
    .map((/** @type {string[]} */ row) => row.map(tidy));
  const kept = all.map((row, number) => ({ row, number: number + 1 })).filter(({ row }) => row.some(Boolean));
  const width = kept.reduce((most, { row }) => Math.max(most, row.length), 0);
  const used = Array.from({ length: width }, (_, column) => column).filter((column) =>
    kept.some(({ row }) => row[column]),
  );
  return {
    rows: kept.map(({ row }) => used.map((column) => row[column] ?? "")),
    numbers: kept.map(({ number }) => number),
    separated: SEPARATORS[/** @type {keyof typeof SEPARATORS} */ (separator)],
  };
}

/** The words of a head, without its signs. @param {string} head */
const wordsOf = (head) =>
  ` ${head
    .toLowerCase()
    .replace(/[^\p{L}\p{N}±+/]+/gu, " ")
    .trim()} `;

/** How much of a head says that its column holds a field. @param {string} head @param {Field} field */
function fitOf(head, { heads }) {
  const words = wordsOf(head);
  return heads.reduce((best, known) => (words.includes(` ${known} `) ? Math.max(best, known.length) : best), 0);
}

/**
 * The columns by their heads: each field at most once, where its head fits best.
 * @param {string[]} heads
 * @param {Field[]} fields
 * @returns {string[]} the field of each column, empty where none fits
 */
export function columnsByHeads(heads, fields) {
  const fits = heads.flatMap((head, column) =>
    fields.map((field) => ({ column, name: field.name, fit: fitOf(head, field) })),
  );
  const columns = heads.map(() => "");
  for (const { column, name, fit } of fits.sort((a, b) => b.fit - a.fit))
    if (fit && !columns[column] && !columns.includes(name)) columns[column] = name;
  return columns;
}

/**
 * The row that holds the heads: of the first ones that with the most heads that are known.
 * @param {string[][]} rows
 * @param {Field[]} fields
 * @returns {number} its place among the rows, below nought where none is one
 */
export function headsIn(rows, fields) {
  const found = rows.slice(0, LOOKED_AT).map((row) => {
    // A row with figures is no row of heads.
    const figures = row.filter((cell) => isFigure(cell)).length;
    return figures ? 0 : columnsByHeads(row, fields).filter(Boolean).length;
  });
  const most = Math.max(0, ...found);
  return most ? found.indexOf(most) : -1;
}

/** @param {string} cell */
const isFigure = (cell) => /^[+\-−]?\d[\d.,]*\s*(\p{L}|µ|"|·)*$/u.test(cell);

/**
 * The columns by what they hold, where no head says it: words that are options, whole numbers, figures, and names.
 * @param {string[][]} rows
 * @param {Field[]} fields in the order in which they are guessed
 * @returns {string[]}
 */
export function columnsByCells(rows, fields) {
  const columns = (rows[0] ?? []).map(() => "");
  const share = (/** @type {number} */ column, /** @type {(cell: string) => boolean} */ is) => {
    const cells = rows.map((row) => row[column]).filter(Boolean);
    return cells.length > 0 && cells.filter(is).length > cells.length / 2;
  };
  const distinct = (/** @type {number} */ column) => new Set(rows.map((row) => row[column])).size;
  /** @type {[(field: Field) => boolean, (field: Field) => (cell: string) => boolean][]} */
  const kinds = [
    [
      ({ options }) => Boolean(options),
      ({ options = {} }) =>
        (cell) =>
          options[choiceOf(cell, options)] !== undefined,
    ],
    [({ day }) => Boolean(day), () => (cell) => /^\d{4}-\d\d-\d\d$/.test(dayOf(cell))],
    [
      ({ like }) => Boolean(like),
      ({ like = "" }) =>
        (cell) =>
          new RegExp(like, "i").test(cell),
    ],
    [({ figure, like }) => Boolean(figure && !like), () => (cell) => isFigure(cell) && !/^\d+$/.test(cell)],
    [({ whole }) => Boolean(whole), () => (cell) => /^\d+$/.test(cell)],
    [
      ({ options, figure, whole, day, like }) => !(options || figure || whole || day || like),
      () => (cell) => !isFigure(cell),
    ],
  ];
  for (const [isOfKind, looksLike] of kinds)
    for (const field of fields.filter(isOfKind)) {
      const fit = [...columns.keys()].filter((place) => !columns[place] && share(place, looksLike(field)));
      // Names may hold the words of an option as well, but differ from row to row, and stand first.
      const column = field.options ? fit.sort((a, b) => distinct(a) - distinct(b) || b - a)[0] : fit[0];
      if (column !== undefined) columns[column] = field.name;
    }
  return columns;
}

/** @param {string} sign */
const bare = (sign) => sign.replace(/[\s.]+/g, "").toLowerCase();

/**
 * The unit that a head names: in brackets, or as its last word.
 * @param {string} head
 * @param {Signs} signs
 * @returns {string | undefined} "um" for micrometres
 */
export function unitOfHead(head, signs) {
  const inBrackets = /[([{]([^)\]}]*)[)\]}]/.exec(head)?.[1];
  const last = head.split(/[\s,;:/]+/).at(-1) ?? "";
  return [inBrackets, last].map((sign) => unitOfSign(sign ?? "", signs)).find(Boolean);
}

/** @param {string} sign @param {Signs} signs */
function unitOfSign(sign, signs) {
  const written = bare(sign);
  if (MICROMETRES.has(written) && Object.values(signs).includes("mm")) return "um";
  return Object.hasOwn(signs, written) ? signs[written] : undefined;
}

/** The decimal sign three places to the left: a thousandth of a figure, as text. @param {string} typed */
function thousandth(typed) {
  const [, sign, whole, part = ""] = /^([+\-−]?)(\d+)(?:[.,](\d*))?$/.exec(typed) ?? [];
  if (whole === undefined) return undefined;
  const digits = whole.padStart(4, "0");
  const behind = `${digits.slice(-3)}${part}`.replace(/0+$/, "");
  return `${sign}${digits.slice(0, -3).replace(/^0+(?=\d)/, "")}${behind ? `.${behind}` : ""}`;
}

/**
 * A cell as a quantity: its own unit if it names one, else that of its column. What is no figure stays as it is
 * written, so that the engine refuses it.
 * @param {string} cell
 * @param {string} unit of its column
 * @param {Signs} signs
 * @returns {{typed: string, unit: string} | undefined} nothing where nothing is written
 */
export function quantityOf(cell, unit, signs) {
  if (!cell || NOTHING.has(cell.toLowerCase())) return undefined;
  const own = figureWithUnit(cell, signs);
  if (own) return own;
  return unit === "um" ? { typed: thousandth(cell) ?? cell, unit: "mm" } : { typed: cell, unit };
}

/**
 * A figure with the unit that is written behind it; nothing where none is.
 * @param {string} cell @param {Signs} signs
 */
export function figureWithUnit(cell, signs) {
  const [, figure, sign] = /^\s*([+\-−]?[\d.,]*\d[.,]?)\s*(\D+?)\s*$/.exec(cell) ?? [];
  const unit = sign === undefined ? undefined : unitOfSign(sign, signs);
  if (unit !== "um") return unit && { typed: figure, unit };
  return { typed: thousandth(figure) ?? figure, unit: "mm" };
}

/** A cell that holds a text or a plain number; empty where nothing is written. @param {string} cell */
export const textOf = (cell) => (NOTHING.has(cell.toLowerCase()) ? "" : cell);

/**
 * The option that a cell means, by one of its words; what means none stays as it is written.
 * @param {string} cell
 * @param {Record<string, string[]>} options
 */
export function choiceOf(cell, options) {
  if (Object.hasOwn(options, cell)) return cell;
  const words = wordsOf(cell);
  const found = Object.keys(options).filter((option) => options[option].some((word) => words.includes(` ${word} `)));
  return found.length === 1 ? found[0] : textOf(cell);
}

/**
 * A day as year-month-day, where it can be no other; else as it is written.
 * @param {string} cell
 */
export function dayOf(cell) {
  const iso = /^(\d{4})[-./](\d{1,2})[-./](\d{1,2})(?:[T ].*)?$/.exec(cell);
  if (iso) return written(iso[1], iso[2], iso[3]);
  const [, first, sign, second, year] = /^(\d{1,2})([./-])(\d{1,2})\.?[./-](\d{4})$/.exec(cell) ?? [];
  if (!year) return textOf(cell);
  // With points the day comes first everywhere; with strokes only a number above twelve says which is which.
  if (sign === "." || Number(first) > 12) return written(year, second, first);
  return Number(second) > 12 ? written(year, first, second) : cell;
}

/** @param {string} year @param {string} month @param {string} day */
const written = (year, month, day) => `${year}-${month.padStart(2, "0")}-${day.padStart(2, "0")}`;

/**
 * A column with its blank cells filled from above, as cells that were merged leave them; never across a blank top.
 * @param {string[]} cells
 * @returns {{cells: string[], filled: number}}
 */
export function filledDown(cells) {
  let above = "";
  let filled = 0;
  const all = cells.map((cell) => {
    if (!cell && above) filled += 1;
    above = cell || above;
    return cell || above;
  });
  return { cells: all, filled };
}

/**
 * What is in a file of text: UTF-8 if it can be that, UTF-16 where its first bytes say so, else Windows-1252.
 * @param {Uint8Array} bytes
 * @returns {string | undefined} nothing where it is a workbook, which is no text
 */
export function textOfFile(bytes) {
  const starts = (/** @type {number[]} */ ...mark) => mark.every((byte, place) => bytes[place] === byte);
  // PK, by which packed files begin, and the mark of workbooks of the old form.
  if (starts(0x50, 0x4b, 3, 4) || starts(0xd0, 0xcf, 0x11, 0xe0)) return undefined;
  if (starts(0xff, 0xfe)) return new TextDecoder("utf-16le").decode(bytes);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder("windows-1252").decode(bytes);
  }
}
