// @ts-check
// A pasted table in a form: how it is read, what its rows are, what the engine says of each, and what is mended there.

import { BadInput, calc, warm } from "../../engine/door.js";
import { keepDraft, draft as kept } from "../../log/drafts.js";
import {
  choiceOf,
  columnsByCells,
  columnsByHeads,
  filledDown,
  headsIn,
  readTable,
  unitOfHead,
} from "../../tables/pasted.js";
import { reading } from "../form/fields.js";
import { signing } from "../form/signing.js";

/** @typedef {import("../../engine/door.js").Calculations} Calculations */
/** @typedef {"add" | "replace"} Mode */
/** @typedef {Record<string, string>} Cells by field, as pasted or mended */
/** Why a cell cannot be taken. @typedef {{field: string, reason: string}} Fault */

/**
 * What a column may hold.
 * @typedef {import("../../tables/pasted.js").Field & {
 *   label: string, unit?: string, signs?: Record<string, string>, units?: {unit: string, label: string}[],
 *   needed?: boolean, fromAbove?: boolean, source?: boolean, words?: Record<string, string>,
 * }} Field `unit` is that of a figure where neither head nor cell names one; `fromAbove` says that a blank cell takes
 *   what stands above it, as merged cells are pasted; a `source` is read into other fields, and not shown; `words` are
 *   those of its options
 */

/**
 * @typedef {object} Line a row of the table
 * @property {number} number its number in what was pasted
 * @property {Cells} cells
 */

/**
 * What can be done with a table of one kind.
 * @typedef {object} Kind
 * @property {string} key of the draft
 * @property {string} title
 * @property {[string, string]} back address and words
 * @property {string} place what it is called: "the shelf"
 * @property {string} by what signing is called here
 * @property {number} most rows
 * @property {Field[]} fields
 * @property {"shelf" | "kit"} calculation
 * @property {boolean} [onlyAdds] whether what no row names stays as it is in any case
 * @property {(name: string, cells: Cells) => string | undefined} [unitFor] the unit of a figure of this row, where rows
 *   differ; empty where it is not known yet, nothing where such a row has no such figure
 * @property {(lines: Line[], units: Record<string, string>, mended: Draft["mended"]) => string[]} complete fills what
 *   no column has into the cells, and says so
 * @property {(cells: Cells, units: Record<string, string>) => object} request a row alone, for the engine
 * @property {(path: string) => string} fieldOf the field that a path of the request is about
 * @property {(request: object, field: string) => object | undefined} without the request without an optional field
 * @property {(judged: Judged[], mode: Mode, ask: Ask) => Promise<Map<number, Fault>>} clashes what rows do to one
 *   another and to what is there, by their place
 * @property {(judged: Judged[], mode: Mode) => Change[]} changes
 * @property {(judged: Judged[], mode: Mode, tell: (done: number, all: number) => void) => Promise<string>} save
 */

/** @typedef {{what: "new" | "changed" | "gone" | "same" | "stays", name: string, words: string}} Change */
/** @typedef {(request: object) => Promise<{result?: object, fault?: BadInput}>} Ask */
/**
 * A row as the engine has it.
 * @typedef {Line & {request: object, result?: object, faults: Fault[], place: number}} Judged
 */

/**
 * @typedef {object} Draft
 * @property {string} text
 * @property {boolean} read whether it is shown as a table
 * @property {number} [heads] the row of heads, below nought for none, where somebody chose it
 * @property {string[]} [columns] the field of each, where somebody chose
 * @property {Record<string, string>} units by field, where somebody chose
 * @property {Record<string, string>} mended cells, by row and field
 * @property {number[]} left rows that are left out
 * @property {Mode} mode
 */

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {Kind} kind
 * @property {import("../form/fields.js").Reading} read
 * @property {import("../form/signing.js").Signing} sign
 * @property {Draft} draft
 * @property {() => void} redraw
 * @property {string} fault what is wrong with the table as a whole
 * @property {ReturnType<typeof readTable>} [table]
 * @property {number} heads
 * @property {string[]} columns
 * @property {Record<string, string>} units of each figure
 * @property {boolean} unfolded whether it is shown what the columns hold: something that is needed was not found
 * @property {string[]} notes what was filled in
 * @property {Judged[]} rows
 * @property {boolean} asking
 * @property {string} [of] the text that was read
 * @property {Set<number>} wrongFirst rows that were wrong when only these were asked for
 * @property {boolean} onlyWrong
 * @property {string} busy
 * @property {string} done what came of it
 */

/** @type {Draft} */
const EMPTY = { text: "", read: false, units: {}, mended: {}, left: [], mode: "add" };

/**
 * @param {HTMLElement} place
 * @param {(read: import("../form/fields.js").Reading) => Promise<Kind>} kindOf
 * @param {() => void} redraw
 */
export async function pasteForm(place, kindOf, redraw) {
  const [read, sign] = await Promise.all([reading(), signing(redraw)]);
  const kind = await kindOf(read);
  warm(kind.calculation);
  /** @type {Draft} */
  const draft = { ...EMPTY, ...(await kept(kind.key)) };
  /** @type {State} */
  const state = {
    place,
    kind,
    read,
    sign,
    draft,
    redraw,
    fault: "",
    heads: -1,
    columns: [],
    units: {},
    unfolded: false,
    notes: [],
    rows: [],
    asking: false,
    wrongFirst: new Set(),
    onlyWrong: false,
    busy: "",
    done: "",
  };
  if (draft.read) lookInto(state);
  return state;
}

/** @param {State} state */
function keep(state) {
  keepDraft(state.kind.key, state.draft).catch(() => {
    state.fault = "What is pasted here cannot be stored: free some space before you go on.";
    state.redraw();
  });
}

/** Something was typed or chosen. @param {State} state @param {Partial<Draft>} change */
export function change(state, change) {
  state.draft = { ...state.draft, ...change };
  state.done = "";
  if (state.draft.read) lookInto(state);
  keep(state);
  state.redraw();
}

/** A text is there: shown as a table if it is one. @param {State} state @param {string} text */
export function take(state, text) {
  state.onlyWrong = state.unfolded = false;
  change(state, { ...EMPTY, text, mode: state.draft.mode, read: true });
}

/**
 * What is wrong with a table before any row is looked at.
 * @param {State} state @param {string[][]} rows below its heads
 */
function wrongWith({ kind, table, heads }, rows) {
  if (!table?.rows.length) return "Nothing is in it: copy rows in your spreadsheet, and paste them here.";
  if (!rows.length && heads >= 0) return "These are heads, and no rows are below them: copy the rows as well.";
  if (rows.length > kind.most)
    return `This has ${rows.length} rows, and ${kind.place} takes ${kind.most} at most: paste fewer of them.`;
  return "";
}

/** Read the table anew, by what was chosen. @param {State} state */
function lookInto(state) {
  const { kind, draft } = state;
  if (state.table === undefined || state.of !== draft.text) state.table = readTable(draft.text);
  state.of = draft.text;
  const { rows: all, numbers } = state.table;
  const fields = kind.fields;
  state.heads = draft.heads ?? headsIn(all, fields);
  const rows = all.slice(state.heads + 1);
  const heads = all[state.heads] ?? [];
  state.fault = wrongWith(state, rows);
  if (state.fault) {
    state.draft = { ...draft, read: false };
    state.rows = [];
    return;
  }
  state.columns = draft.columns ?? (heads.length ? columnsByHeads(heads, fields) : columnsByCells(rows, fields));
  // Stays so while it is chosen.
  state.unfolded ||= fields.some(({ name, needed }) => needed && !state.columns.includes(name));
  state.units = {};
  for (const { name, unit, signs } of fields)
    if (signs) {
      const head = heads[state.columns.indexOf(name)] ?? "";
      state.units[name] = draft.units[name] ?? unitOfHead(head, signs) ?? unit ?? "";
    }
  const lines = rows.map((row, place) => lineOf(state, row, numbers[state.heads + 1 + place]));
  state.notes = [...fromAbove(state, lines), ...kind.complete(lines, state.units, draft.mended)];
  for (const line of lines)
    for (const { name } of fields) {
      const mended = draft.mended[`${line.number}.${name}`];
      if (mended !== undefined) line.cells[name] = mended;
    }
  const before = state.rows;
  state.rows = lines
    .filter(({ number }) => !draft.left.includes(number))
    .map((line, place) => {
      const request = kind.request(line.cells, state.units);
      const was = before.find(({ number }) => number === line.number);
      // Until the engine has looked at it anew a row stays as it was judged.
      return { ...line, request, place, result: undefined, faults: was?.faults ?? [] };
    });
  judge(state);
}

/** @param {State} state @param {string[]} row @param {number} number @returns {Line} */
function lineOf({ kind, columns }, row, number) {
  /** @type {Cells} */
  const cells = {};
  for (const { name, options } of kind.fields) {
    const cell = row[columns.indexOf(name)] ?? "";
    cells[name] = options ? choiceOf(cell, options) : cell;
    if (options) cells[`${name} as pasted`] = cell;
  }
  return { number, cells };
}

/** Fill what merged cells left blank. @param {State} state @param {Line[]} lines */
function fromAbove({ kind, columns }, lines) {
  return kind.fields.flatMap(({ name, label, fromAbove: is }) => {
    if (!is || !columns.includes(name)) return [];
    const { cells, filled } = filledDown(lines.map((line) => line.cells[name]));
    cells.forEach((cell, place) => {
      lines[place].cells[name] = cell;
    });
    return filled
      ? [
          `${filled === 1 ? "1 blank cell" : `${filled} blank cells`} of ${label} ` +
            `${filled === 1 ? "takes" : "take"} what stands above, as merged cells are pasted.`,
        ]
      : [];
  });
}

/** What the engine said to a request. @type {Map<string, Promise<{result?: object, fault?: BadInput}>>} */
const answers = new Map();

/** @param {Kind} kind @returns {Ask} */
const asking =
  ({ calculation }) =>
  (request) => {
    const question = `${calculation} ${JSON.stringify(request)}`;
    const known = answers.get(question);
    if (known) return known;
    const answer = calc(
      calculation,
      /** @type {Calculations["shelf"]["request"] & Calculations["kit"]["request"]} */ (request),
    ).then(
      (result) => ({ result }),
      (fault) => {
        if (fault instanceof BadInput) return { fault };
        answers.delete(question);
        throw fault;
      },
    );
    answers.set(question, answer);
    return answer;
  };

/**
 * Everything that is wrong with a row by itself: the engine names one thing at a time, so what may be left out is left
 * out until it finds no more.
 * @param {Kind} kind @param {object} request
 */
async function faultsOf(kind, request) {
  /** @type {Fault[]} */
  const faults = [];
  const ask = asking(kind);
  let rest = /** @type {object | undefined} */ (request);
  while (rest) {
    const { result, fault } = await ask(rest);
    if (!fault) return { faults, result: faults.length ? undefined : result };
    const field = kind.fieldOf(fault.field);
    if (faults.some((known) => known.field === field)) break;
    faults.push({ field, reason: fault.reason });
    rest = kind.without(rest, field);
  }
  return { faults, result: undefined };
}

let turn = 0;

/** Ask the engine about every row. @param {State} state */
async function judge(state) {
  const thisTurn = ++turn;
  const { kind, draft } = state;
  state.asking = true;
  try {
    const found = await Promise.all(state.rows.map(({ request }) => faultsOf(kind, request)));
    if (thisTurn !== turn) return;
    const judged = state.rows.map((row, place) => ({ ...row, ...found[place] }));
    const clashes = await kind.clashes(judged, draft.mode, asking(kind));
    if (thisTurn !== turn) return;
    state.rows = judged.map((row) => {
      const clash = clashes.get(row.place);
      return clash && !row.faults.length ? { ...row, faults: [clash], result: undefined } : row;
    });
  } catch (error) {
    if (thisTurn !== turn) return;
    state.fault = String(error);
  }
  state.asking = false;
  state.redraw();
}

/** Rows that cannot be taken. @param {State} state */
export const wrongRows = ({ rows }) => rows.filter(({ faults }) => faults.length);

/** Rows that are shown. @param {State} state */
export const shownRows = ({ rows, onlyWrong, wrongFirst }) =>
  onlyWrong ? rows.filter(({ number }) => wrongFirst.has(number)) : rows;

/**
 * Show all rows, or those alone that cannot be taken now; these stay while they are mended.
 * @param {State} state @param {boolean} only
 */
export function showOnly(state, only) {
  state.onlyWrong = only;
  state.wrongFirst = new Set(wrongRows(state).map(({ number }) => number));
  state.redraw();
}

/** @param {State} state @param {Judged} row @param {string} field @param {string} typed */
export const mend = (state, { number }, field, typed) =>
  change(state, { mended: { ...state.draft.mended, [`${number}.${field}`]: typed } });

/** @param {State} state @param {Judged[]} rows */
export const leaveOut = (state, rows) =>
  change(state, { left: [...state.draft.left, ...rows.map(({ number }) => number)] });

/**
 * Another meaning of a column; a field is in one column alone.
 * @param {State} state @param {number} column @param {string} field
 */
export function setColumn(state, column, field) {
  const columns = state.columns.map((name, place) => (place === column ? field : name === field ? "" : name));
  change(state, { columns });
}
