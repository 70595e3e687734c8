// @ts-check
// A pasted table as rows of the shelf.

import { calc } from "../../engine/door.js";
import { dropDraft, keepDraft, draft as kept } from "../../log/drafts.js";
import { LABELS } from "../../log/labels.js";
import { COUNTED } from "../../log/limits.js";
import { write } from "../../log/outbox.js";
import { shelfNow } from "../../log/stands.js";
import { UNIT_SIGNS } from "../../log/unit-signs.js";
import { quantityOf, textOf } from "../../tables/pasted.js";
import { firstOfName, isOneClass, isSame, paired, together, unnamed } from "../../tables/stock.js";
import { sayIn } from "../form/fields.js";
import { asTyped } from "./shelf-form.js";

/** @typedef {import("./paste-form.js").Field} Field */
/** @typedef {import("./paste-form.js").Judged} Judged */
/** @typedef {import("./paste-form.js").Kind} Kind */
/** @typedef {import("./shelf-form.js").Piece} Piece */
/** @typedef {import("../../engine/door.js").ResultOf<"shelf">["pieces"][number]} Checked */

/** @type {Omit<Field, "signs" | "unit" | "units">[]} */
const FIELDS = [
  {
    name: "name",
    label: LABELS.shelf["pieces..name"],
    needed: true,
    heads: ["name", "class", "piece", "label", "article", "item", "id", "designation", "description", "part no"],
  },
  {
    name: "part",
    label: LABELS.shelf["pieces..part"],
    needed: true,
    fromAbove: true,
    heads: ["part", "kind", "type", "plate", "plate type", "sort"],
    options: {
      friction: ["friction", "frictions", "lined", "clutch"],
      separator: ["separator", "separators", "steel", "steels", "plain", "intermediate"],
      shim: ["shim", "shims", "spacer", "spacers"],
    },
  },
  {
    name: "mm",
    label: LABELS.shelf["pieces..mm"],
    figure: true,
    needed: true,
    heads: ["thickness", "thick", "measured", "mm", "size", "dimension"],
  },
  {
    name: "count",
    label: LABELS.shelf["pieces..count"],
    whole: true,
    heads: [
      "how many",
      "count",
      "qty",
      "quantity",
      "number",
      "pieces",
      "pcs",
      "in stock",
      "stock",
      "on hand",
      "amount",
    ],
  },
  {
    name: "minimum_mm",
    label: LABELS.shelf["pieces..minimum_mm"],
    figure: true,
    heads: ["limit", "wear limit", "minimum", "min", "minimum thickness", "min thickness", "discard"],
  },
  {
    name: "lowest_stock",
    label: LABELS.shelf["pieces..lowest_stock"],
    heads: ["lowest stock", "minimum stock", "min stock", "stock min", "reorder", "reorder level", "min qty", "keep"],
  },
  {
    name: "within_mm",
    label: LABELS.shelf["pieces..within_mm"],
    figure: true,
    heads: ["may be off by", "off by", "tolerance", "tol", "±", "+/", "uncertainty"],
  },
  {
    name: "new_mm",
    label: LABELS.shelf["pieces..new_mm"],
    figure: true,
    heads: ["when new", "new", "new thickness", "thickness new", "thickness when new", "nominal"],
  },
  {
    name: "lowest_mm",
    label: LABELS.shelf["pieces..lowest_mm"],
    figure: true,
    heads: ["lowest point", "lowest", "thinnest", "lowest thickness", "min measured"],
  },
  {
    name: "family",
    label: LABELS.shelf["pieces..family"],
    heads: ["plate family", "family", "lugs", "splines", "lugs or splines"],
  },
];

const LENGTHS = FIELDS.filter(({ figure }) => figure).map(({ name }) => name);

/** @param {import("./paste-form.js").Cells} cells @param {Record<string, string>} units */
function pieceOf(cells, units) {
  const values = FIELDS.map(({ name }) => [
    name,
    LENGTHS.includes(name) ? quantityOf(cells[name], units[name], UNIT_SIGNS.mm) : textOf(cells[name]) || undefined,
  ]);
  return Object.fromEntries(values.filter(([, value]) => value !== undefined));
}

/** Rows without a name are called by their kind and thickness. @param {import("./paste-form.js").Line[]} lines */
function complete(lines) {
  if (lines.some(({ cells }) => cells.name)) return [];
  for (const { cells } of lines) if (cells.mm) cells.name = `${cells.part || "plate"} ${cells.mm}`;
  return ["No column holds names: each row is called by its part and thickness."];
}

/** The only row of a request, as the engine has it. @param {Judged} row */
const checked = (row) => /** @type {{pieces: Checked[]} | undefined} */ (row.result)?.pieces[0];

/** @param {Judged} row @returns {Piece} */
const typed = (row) => /** @type {{pieces: Piece[]}} */ (row.request).pieces[0];

/** A request with another number of the same piece. @param {Piece} piece @param {number} count */
const counted = (piece, count) => ({ ...piece, count: String(count) });

/**
 * @param {import("../form/fields.js").Reading} read
 * @returns {Promise<Kind>}
 */
export async function shelfKind(read) {
  const now = await shelfNow();
  const onShelf = await asTyped(now);
  const rows = now.rows;
  const length = (/** @type {number} */ mm) => sayIn(read.units, "mm", read.lengthUnit, mm);
  const pairs = (/** @type {Judged[]} */ judged) =>
    paired(
      judged.map((row) => ({ row, name: row.cells.name })),
      rows.map((row, place) => ({ name: row.name, row, piece: onShelf[place] })),
    );

  /**
   * What the row makes of what is there.
   * @param {{row: {row: Judged}, twin?: {row: (typeof rows)[number], piece: Piece}}} pair
   * @returns {Piece}
   */
  const added = ({ row: { row }, twin }) =>
    twin ? counted({ ...twin.piece, ...typed(row) }, together(twin.row.count, checked(row)?.count ?? 0)) : typed(row);

  /** @type {Kind["clashes"]} */
  async function clashes(judged, mode, ask) {
    /** @type {Map<number, import("./paste-form.js").Fault>} */
    const found = new Map();
    const first = firstOfName(judged.map(({ cells }) => cells.name));
    const tell = async (/** @type {number} */ place, /** @type {object[]} */ pieces) => {
      const { fault } = await ask({ pieces });
      if (fault) found.set(place, { field: fault.field.split(".")[2] ?? "name", reason: fault.reason });
    };
    // Names that are alike but for case and blanks are one name to people.
    const all = judged.map(async (row, place) => {
      if (first[place] !== undefined && !row.faults.length) await tell(place, [typed(row), typed(row)]);
    });
    if (mode === "add")
      all.push(
        ...pairs(judged).map(async ({ row: own, twin }) => {
          const row = own.row;
          const piece = checked(row);
          if (!twin || !piece) return;
          if (isOneClass(piece, twin.row)) return tell(row.place, [added({ row: own, twin })]);
          const was = `${twin.row.part ?? "a plate"} of ${length(twin.row.mm)}`;
          found.set(row.place, {
            field: "name",
            reason:
              `${twin.row.name} is on the shelf, as ${was}: ` +
              "give this row another name, or the same part and thickness.",
          });
        }),
      );
    await Promise.all(all);
    return found;
  }

  /** @type {Kind["changes"]} */
  const changes = (judged, mode) => [
    ...pairs(judged).map(({ row: { row }, twin }) => {
      const count = checked(row)?.count ?? 0;
      if (!twin) return /** @type {const} */ ({ what: "new", name: row.cells.name, words: `${count}` });
      const after = mode === "add" ? together(twin.row.count, count) : count;
      const what = isSame(twin.row.count, after) ? /** @type {const} */ ("same") : /** @type {const} */ ("changed");
      return { what, name: twin.row.name, words: `${twin.row.count} → ${after}` };
    }),
    ...(mode === "replace"
      ? unnamed(
          judged.map(({ cells }) => ({ name: cells.name })),
          rows,
        ).map(({ name, count }) => ({
          what: /** @type {const} */ ("gone"),
          name,
          words: `${count}`,
        }))
      : []),
  ];

  /** @type {Kind["save"]} */
  async function save(judged, mode) {
    const pieces = mode === "add" ? pairs(judged).map(added) : judged.map(typed);
    // A shelf that was never counted is counted as a whole.
    const only = mode === "add" && onShelf.length > 0;
    const body = /** @type {import("../../engine/door.js").RequestOf<"shelf">} */ ({
      pieces,
      ...(only ? { only_these: true } : {}),
    });
    if (only) await wholeShelf(pieces);
    const shown = await calc("shelf", body);
    await write({ unit: "", kind: "shelf", body, shown, alsoKnows: now.knows.moves });
    await mergeDraft(pieces, onShelf, mode);
    const rowsAre = judged.length === 1 ? "1 row is" : `${judged.length} rows are`;
    return `${rowsAre} on the shelf.`;
  }

  /** Refuse what would be too much for one shelf. @param {Piece[]} pieces */
  async function wholeShelf(pieces) {
    const others = unnamed(pieces, onShelf);
    await calc(
      "shelf",
      /** @type {import("../../engine/door.js").RequestOf<"shelf">} */ ({ pieces: [...others, ...pieces] }),
    );
  }

  return {
    key: "shelf/paste",
    title: "Paste onto the shelf",
    back: ["#/shelf", "Shelf"],
    place: "the shelf",
    by: "Counted by",
    most: COUNTED.most,
    calculation: "shelf",
    fields: FIELDS.map((field) =>
      field.figure ? { ...field, signs: UNIT_SIGNS.mm, unit: read.lengthUnit, units: read.units.mm } : field,
    ),
    complete,
    request: (cells, units) => ({ pieces: [pieceOf(cells, units)] }),
    fieldOf: (path) => path.split(".")[2] ?? "name",
    without,
    clashes,
    changes,
    save,
  };
}

/** @param {object} request @param {string} field */
function without(request, field) {
  if (FIELDS.some(({ name, needed }) => name === field && needed)) return undefined;
  const [piece] = /** @type {{pieces: Record<string, unknown>[]}} */ (request).pieces;
  const { [field]: _, ...rest } = piece;
  return { pieces: [rest] };
}

/**
 * A count that somebody has begun to type goes on with what is there now: else it would take the pasted rows away
 * again. What was typed stands.
 * @param {Piece[]} pieces that were pasted
 * @param {Piece[]} before what was there
 * @param {import("./paste-form.js").Mode} mode
 */
async function mergeDraft(pieces, before, mode) {
  const begun = /** @type {{pieces?: Piece[]} | undefined} */ (await kept("shelf"));
  if (!begun?.pieces) return;
  if (mode === "replace") return dropDraft("shelf");
  const untouched = new Set(before.map((piece) => JSON.stringify(piece)));
  const now = await asTyped(await shelfNow());
  const pasted = now.filter(({ name }) => pieces.some((piece) => piece.name.trim() === name));
  const joined = paired(begun.pieces, pasted).map(({ row, twin }) =>
    twin && untouched.has(JSON.stringify(row)) ? twin : row,
  );
  await keepDraft("shelf", { ...begun, pieces: [...joined, ...unnamed(begun.pieces, pasted)] });
}
