// @ts-check
// A pasted table as tools of the kit: each row that is new or says something else is an entry of its own.

import { BadInput } from "../../engine/door.js";
import { write } from "../../log/outbox.js";
import { kit } from "../../log/stands.js";
import { dayOf, textOf } from "../../tables/pasted.js";
import { firstOfName, paired, unnamed } from "../../tables/stock.js";
import { isSameFigure, MOST_TOOLS, rangeOf } from "../../tables/tools.js";
import { typedOf } from "../form/fields.js";
import { bodyOf, columnOf, FIGURES, fieldOf, meant, typedTool, usualUnit } from "../form/tool-typed.js";
import { blank, labelOf, toolsOf } from "./kit-rows.js";
import { FIELDS, joined, PERCENT_TOO, toolOf, WORDS, whatOf, without, wordsOf } from "./paste-kit-fields.js";

/** @typedef {import("../../log/stands.js").Tool} Tool */
/** @typedef {import("../form/tool-typed.js").TypedTool} TypedTool */
/** @typedef {import("../form/tool-typed.js").ToolKind} ToolKind */
/** @typedef {import("../form/tool-typed.js").Figure} Figure */
/** @typedef {import("./paste-form.js").Cells} Cells */
/** @typedef {import("./paste-form.js").Field} Field */
/** @typedef {import("./paste-form.js").Judged} Judged */
/** @typedef {import("./paste-form.js").Kind} Kind */

/** @param {ToolKind} tool @param {Figure} figure */
const isPercent = (tool, figure) => fieldOf(tool, figure)?.endsWith("_percent");

/** @param {number} count */
const cellsOf = (count) => (count === 1 ? "1 cell is" : `${count} cells are`);

/** One of each that is read in units of its own. */
const TOOLS = ["wrench beam", "scale weight", "micrometer"];

/** @param {import("../form/fields.js").Reading} read @returns {Promise<Kind>} */
export async function kitKind(read) {
  let tools = await kit();
  const labels = Object.fromEntries(
    Object.values(read.units).flatMap((all) => all.map(({ unit, label }) => [unit, label])),
  );
  const twinOf = (/** @type {string} */ name) => paired([{ name }], tools)[0].twin;

  /** @type {NonNullable<Kind["unitFor"]>} */
  function unitFor(name, cells) {
    const known = toolOf(cells.tool);
    const figure = /** @type {Figure} */ (name);
    if (!known) return "";
    if (!fieldOf(known.tool, figure)) return undefined;
    return isPercent(known.tool, figure) ? "percent" : usualUnit(read, known.tool);
  }

  /**
   * The tool as it will be: what is there already, with what the row says of it.
   * @param {Cells} cells @param {Record<string, string>} units
   * @returns {TypedTool | undefined} nothing where the row does not say what it is
   */
  function typedOfRow(cells, units) {
    const known = toolOf(cells.tool);
    if (!known) return undefined;
    const twin = twinOf(cells.name);
    const base = twin?.tool === known.tool ? typedTool(twin) : blank(known.tool);
    const figures = FIGURES.map((figure) => {
      const typed = meant(known.tool, figure, cells[figure] ?? "", units[figure] || (unitFor(figure, cells) ?? ""));
      return [figure, typed === undefined || isSameFigure(typed, base[figure]) ? base[figure] : typed];
    });
    return {
      ...base,
      name: base.name && twin ? base.name : textOf(cells.name),
      kind: known.kind,
      due: dayOf(cells.due) || base.due,
      .../** @type {Record<Figure, import("../form/fields.js").Typed>} */ (Object.fromEntries(figures)),
    };
  }

  /** @type {Kind["request"]} */
  const request = (cells, units) => {
    const typed = typedOfRow(cells, units);
    const id = twinOf(cells.name)?.id;
    return typed ? bodyOf(typed, id) : { tool: cells.tool ?? "" };
  };

  /** @type {Kind["complete"]} */
  function complete(lines, units, mended) {
    let known = 0;
    let left = 0;
    for (const { number, cells } of lines) {
      const twin = twinOf(cells.name);
      if (twin) known += 1;
      // Of a tool that is there, "torque wrench" is enough.
      const isWhole = Object.hasOwn(WORDS, cells.tool);
      if (twin && (!cells.tool || (!isWhole && toolOf(cells.tool)?.tool === twin.tool)))
        cells.tool = whatOf(typedTool(twin));
      if (!Object.hasOwn(WORDS, cells.tool) && cells.how) cells.tool = joined(cells.tool, cells.how);
      // What kind of tool it is may be said only here.
      const whole = { ...cells, tool: mended[`${number}.tool`] ?? cells.tool };
      // What is no range is left for the engine to refuse.
      const range = cells.range ? (rangeOf(cells.range) ?? { low: "", high: cells.range }) : undefined;
      const unit = units.range && labels[units.range];
      const within = (/** @type {string} */ figure) => (/\d$/.test(figure) && unit ? `${figure} ${unit}` : figure);
      if (range && unitFor("high", whole) !== undefined) {
        cells.low ||= within(range.low);
        cells.high ||= within(range.high);
      } else if (range) left += 1;
      left += FIGURES.filter((figure) => cells[figure] && unitFor(figure, whole) === undefined).length;
    }
    return [
      known ? `${toolsOf(known)} of it ${known === 1 ? "is" : "are"} in the kit: what a row leaves blank stays.` : "",
      left ? `The kit keeps no range of gauges, and no zero of wrenches and scales: ${cellsOf(left)} left out.` : "",
    ].filter(Boolean);
  }

  /** @type {Kind["clashes"]} */
  async function clashes(judged) {
    /** @type {Map<number, import("./paste-form.js").Fault>} */
    const found = new Map();
    const first = firstOfName(judged.map(({ cells }) => cells.name));
    judged.forEach(({ cells, faults, place }, at) => {
      const tell = (/** @type {string} */ reason) => found.set(place, { field: "name", reason });
      const before = first[at];
      const twins = tools.filter((tool) => paired([{ name: cells.name }], [tool])[0].twin);
      const [twin] = twins;
      if (faults.length) return;
      if (before !== undefined)
        tell(`Row ${judged[before].number} has this name as well: give each tool its own, or leave one of them out.`);
      else if (twins.length > 1)
        tell(`${twins.length} tools of the kit have this name: give each its own there first.`);
      else if (twin && twin.tool !== toolOf(cells.tool)?.tool)
        tell(`${twin.name} is in the kit, as ${wordsOf(whatOf(typedTool(twin)))}: give this row another name.`);
    });
    return found;
  }

  /** What a row says that does not stand: nothing of a tool that is there as it says. @param {Judged} row */
  function saysOf({ request: body, cells }) {
    const twin = twinOf(cells.name);
    if (!twin) return undefined;
    const [was, will] = [typedTool(twin), typedTool({ tool: twin.tool, body: /** @type {Tool["body"]} */ (body) })];
    const columns = /** @type {(Figure | "name" | "kind" | "due")[]} */ (["name", "kind", "due", ...FIGURES]);
    return columns
      .filter((column) => JSON.stringify(was[column]) !== JSON.stringify(will[column]))
      .map((column) => {
        const [before, after] = [was, will].map((typed) => typedOf(typed[column]).replace("_", " ") || "nothing");
        return `${labelOf(twin.tool, column)} ${before} → ${after}`;
      });
  }

  /** @type {Kind["changes"]} */
  const changes = (judged) => [
    ...judged.map((row) => {
      const says = saysOf(row);
      const words = WORDS[row.cells.tool] ?? "";
      /** @type {"new" | "same" | "changed"} */
      const what = !says ? "new" : says.length ? "changed" : "same";
      return { what, name: row.cells.name, words: says?.join(", ") || words };
    }),
    ...unnamed(
      judged.map(({ cells }) => ({ name: cells.name })),
      tools,
    ).map((tool) => ({
      what: /** @type {const} */ ("stays"),
      name: tool.name,
      words: wordsOf(whatOf(typedTool(tool))),
    })),
  ];

  /** @type {Kind["save"]} */
  async function save(judged, _, tell) {
    const before = JSON.stringify(tools);
    tools = await kit();
    if (JSON.stringify(tools) !== before)
      throw new BadInput("", "The kit was changed meanwhile: look at the rows again, then take them.");
    const all = judged.filter((row) => saysOf(row)?.length !== 0);
    try {
      for (const [done, { request: body, result }] of all.entries()) {
        tell(done, all.length);
        const whole = /** @type {import("../../engine/door.js").RequestOf<"kit">} */ (body);
        const shown = /** @type {import("../../engine/door.js").ResultOf<"kit">} */ (result);
        await write({ unit: "", kind: "kit", body: whole, shown });
      }
    } finally {
      tools = await kit();
    }
    return all.length
      ? `${toolsOf(all.length)} ${all.length === 1 ? "is" : "are"} saved.`
      : "All of it was there already.";
  }

  /** The units of a column: at first those that are usual for each kind of tool. @param {Field} field */
  function unitsOf({ name, signs }) {
    const percent = signs === PERCENT_TOO ? [{ unit: "percent", label: "%" }] : [];
    const usual = TOOLS.map((tool) => unitFor(name, { tool }));
    const label = [...new Set(usual.filter((unit) => unit !== undefined))]
      .map((unit) => labels[unit] ?? "%")
      .join(", ");
    return [{ unit: "", label }, ...percent, ...read.units.nm, ...read.units.n, ...read.units.mm];
  }

  return {
    key: "kit/paste",
    title: "Paste into the kit",
    back: ["#/kit", "Kit"],
    place: "the kit",
    by: "Your name",
    most: MOST_TOOLS,
    calculation: "kit",
    onlyAdds: true,
    fields: FIELDS.map((field) =>
      field.signs && !field.source ? { ...field, unit: "", units: unitsOf(field) } : field,
    ),
    unitFor,
    complete,
    request,
    fieldOf: (path) => {
      const column = columnOf(path);
      return column === "kind" ? "tool" : column;
    },
    without,
    clashes,
    changes,
    save,
  };
}
