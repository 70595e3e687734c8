// @ts-check
// The units as a table, where the screen is wide enough: sorted, chosen and grouped, all of it kept in the address.

import { finder } from "../../log/find.js";
import { grouped } from "../../log/in-hand.js";
import { known } from "../../log/known.js";
import { nameOfPattern } from "../../log/pattern.js";
import { chosenFrom, inGroups, readView, sorted, valuesOf, withFilter, writeView } from "../../tables/arrange.js";
import { unitColumns, unitFilters, unitGroup, worstFirst } from "../../tables/units.js";
import { repeat } from "../../vendor/lit-html/directives/repeat.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { isChosen, keepingView, viewNow } from "../form/address.js";
import { choiceField, reading, VERDICTS, verdictMark, whenDay } from "../form/fields.js";
import { alongRows, headRow, openRow } from "../form/heads.js";
import { style } from "../form/style.js";
import { FEW, GROUPS, halfTyped, warnings } from "./list-notes.js";

/** @typedef {import("../../log/stands.js").Listed} Listed */
/** @typedef {import("../../tables/arrange.js").View} View */
/** @typedef {import("./list.js").UnitList} UnitList */
/** @typedef {{name: string, title: string, rows: Listed[]}} Group */
/** @typedef {{group: Group, room: number}} Part a group and how many of its rows are drawn */
/**
 * What the table needs besides the list.
 * @typedef {object} Table
 * @property {import("../form/fields.js").Reading} read
 * @property {readonly string[]} verdicts from best to worst
 * @property {ReturnType<typeof keepingView>} address
 * @property {View} view
 * @property {number} atOnce so many rows come with one frame
 * @property {{of: unknown[], groups: Group[]}} [found]
 * @property {() => string} query what it shows, as an address has it
 * @property {(list: UnitList, empty: () => unknown) => unknown} draw
 */

/** So many rows come with one frame. */
const ROWS_AT_ONCE = 40;

/** The filter that is typed. */
const SOUGHT = "q";
/** Not grouped, not even by what is in hand. */
const FLAT = "none";

/** Whether any unit is built to a pattern. @param {UnitList} list */
const hasPatterns = ({ units }) => Boolean(units?.some(({ unit }) => unit.pattern));

/** @param {Table} table @param {boolean} patterned @returns {import("../form/heads.js").Head[]} */
const headsOf = ({ read }, patterned) => [
  { name: "unit", label: "Unit" },
  { name: "verdict", label: "Verdict", downFirst: true },
  { name: "torque", label: "Torque", unit: read.torqueLabel, number: true, hint: "as the last check found it" },
  { name: "order", label: "Order", unit: read.torqueLabel, number: true },
  { name: "outings", label: "Outings", number: true, downFirst: true, hint: "since the rebuild, as noted" },
  { name: "left", label: "Left", number: true, hint: "outings before a limit may be met, at the earliest" },
  { name: "due", label: "Due now" },
  { name: "owner", label: "Owner", side: "less" },
  ...(patterned ? [{ name: "pattern", label: "Pattern", side: "least" }] : []),
  { name: "last", label: "Last checked", downFirst: true, side: "date" },
  { name: "by", label: "By", side: "least" },
];

/** Units that are chosen, in order and groups, once for all frames. @param {UnitList} list @param {Table} table */
function arranged(list, table) {
  const { units, hand, stay, patterns } = list;
  const of = [units, hand, patterns, table.view];
  if (!table.found || of.some((part, place) => part !== table.found?.of[place]))
    table.found = {
      of,
      groups: groupsOf(units ?? [], table, (unit) => nameOfPattern(unit.unit, patterns), hand, stay),
    };
  return table.found.groups;
}

/**
 * @param {Listed[]} units @param {Table} table @param {(unit: Listed) => string} patternOf
 * @param {UnitList["hand"]} hand @param {UnitList["stay"]} stay
 * @returns {Group[]}
 */
function groupsOf(units, { view, verdicts }, patternOf, hand, stay) {
  const sought = view.filters[SOUGHT] ?? "";
  const has = finder(sought);
  const found = chosenFrom(units, view.filters, unitFilters).filter((listed) =>
    has(`${listed.unit.name} ${listed.unit.owner} ${patternOf(listed)} ${listed.looked_by}`),
  );
  const rows = sorted(found, unitColumns(verdicts, patternOf), view.sort);
  const nameOf = unitGroup(view.group, patternOf);
  if (nameOf) {
    const order = view.group === "verdict" ? worstFirst(verdicts) : undefined;
    return inGroups(rows, nameOf, order).map((group) => ({ ...group, title: titleOf(view.group, group.name) }));
  }
  const flat = view.group === FLAT || sought.trim();
  const inHand = flat ? [] : [...grouped(rows, hand, stay)];
  // One group alone keeps its name: its rows stay where they are, with the focus, when another comes.
  if (inHand.length)
    return inHand.map(([name, of]) => ({ name, title: inHand.length > 1 ? GROUPS[name] : "", rows: of }));
  return rows.length ? [{ name: "", title: "", rows }] : [];
}

/** What a group without a name is called. @type {Record<string, string>} */
const NAMELESS = { owner: "No owner", pattern: "No pattern", verdict: "Not judged" };

/** @param {string} by @param {string} name */
const titleOf = (by, name) => (name ? (by === "verdict" ? VERDICTS[name] : name) : NAMELESS[by]);

/** @param {UnitList} list @param {Table} table @param {View} view @param {boolean} [typing] */
function show(list, table, view, typing = false) {
  table.view = view;
  table.address.keep(view, typing);
  list.room = ROWS_AT_ONCE;
  list.draw();
}

/** @param {UnitList} list @param {Table} table */
function filters(list, table) {
  const { units = [], patterns } = list;
  const { view } = table;
  if (units.length <= FEW && !writeView(view)) return nothing;
  const patternNames = new Map(units.map(({ unit }) => [unit.pattern?.id ?? "", nameOfPattern(unit, patterns)]));
  /**
   * @param {string} name @param {string} label @param {string} blank what units without a value are called
   * @param {(value: string) => string} [nameOf]
   */
  const choice = (name, label, blank, nameOf) => {
    const values = valuesOf(units, unitFilters[name], nameOf);
    const chosen = view.filters[name];
    // A value before which nothing else stands may be anything, a blank one too.
    const options = values.map(({ value, name: words, count }) => [`=${value}`, `${value ? words : blank}, ${count}`]);
    // Where all have the same there is nothing to choose.
    if (values.length <= 1 && chosen === undefined) return nothing;
    const gone = chosen !== undefined && !values.some(({ value }) => value === chosen);
    return choiceField({
      name: `table.${name}`,
      label,
      value: chosen === undefined ? "" : `=${chosen}`,
      options: /** @type {[string, string][]} */ ([
        ["", "all"],
        ...options,
        ...(gone ? [[`=${chosen}`, `${chosen}, 0`]] : []),
      ]),
      choose: (value) => show(list, table, withFilter(view, name, value ? value.slice(1) : undefined)),
    });
  };
  const seek = (/** @type {string} */ sought, /** @type {boolean} */ typing) =>
    show(list, table, withFilter(table.view, SOUGHT, sought || undefined), typing);
  return html`<div class="filters" role="search" aria-label="Units">
    <div class="field">
      <label for="search">Find</label>
      <input
        id="search"
        type="search"
        .value=${view.filters[SOUGHT] ?? ""}
        @input=${(/** @type {{target: HTMLInputElement}} */ { target }) => seek(target.value, true)}
        @change=${(/** @type {{target: HTMLInputElement}} */ { target }) => seek(target.value, false)}
      />
    </div>
    ${choice("verdict", "Verdict", "not judged", (value) => VERDICTS[value] ?? value)}
    ${choice("due", "Due", "nothing due", () => "something due")} ${choice("owner", "Owner", "no owner")}
    ${choice("pattern", "Pattern", "no pattern", (id) => patternNames.get(id) || id)}
    ${choiceField({
      name: "table.group",
      label: "Group by",
      value: view.group,
      options: [
        ["", "what is in hand"],
        [FLAT, "nothing"],
        ["owner", "owner"],
        ["pattern", "pattern"],
        ["verdict", "verdict"],
      ],
      choose: (group) => show(list, table, { ...view, group }),
    })}
  </div>`;
}

/** How many are shown, and the way back to all. @param {UnitList} list @param {Table} table @param {number} shown */
function counted(list, table, shown) {
  const { units = [] } = list;
  const { view } = table;
  const chosen = Object.keys(view.filters).length;
  const whole = units.length === 1 ? "1 unit" : `${units.length} units`;
  const all = () => {
    show(list, table, { ...view, filters: {} });
    document.getElementById("search")?.focus();
  };
  return html`<p class="counted">
    <span role="status">${shown === units.length ? whole : `${shown} of ${whole}`}</span>
    ${chosen ? html`<button class="small" @click=${all}>Show all units</button>` : nothing}
  </p>`;
}

/** @param {Listed["order"]} order @param {Table} table */
function orderOf(order, { read }) {
  if (!order) return "–";
  const low = read.torqueFigure(order.low_nm);
  return order.high_nm === null ? `from ${low}` : `${low}–${read.torqueFigure(order.high_nm)}`;
}

/** @param {Listed} found @param {UnitList} list @param {Table} table @param {boolean} patterned */
function row(found, list, table, patterned) {
  const { unit_id, unit, verdict, due, looked_at, looked_by, torque_nm, outings, outings_left } = found;
  const typed = halfTyped(found, list);
  return html`<tr>
    <th scope="row">
      <a class="open" href="#/unit/${unit_id}">${unit.name}</a>
      ${unit.owner ? html`<span class="typed below-owner">${unit.owner}</span>` : nothing}
      ${typed ? html`<span class="typed">${typed}</span>` : nothing}
      ${warnings(found, list).map((warning) => html`<span class="error">${warning}</span>`)}
    </th>
    <td>${verdictMark(verdict)}</td>
    <td class="number">${torque_nm === null ? "–" : table.read.torqueFigure(torque_nm)}</td>
    <td class="number">${orderOf(found.order, table)}</td>
    <td class="number">${outings ?? "–"}</td>
    <td class="number">${outings_left === null ? "–" : Math.floor(outings_left)}</td>
    <td class="some">${due.map(({ title }) => title).join(", ") || "–"}</td>
    <td class="less name">${unit.owner || "–"}</td>
    ${patterned ? html`<td class="least name">${nameOfPattern(unit, list.patterns) || "–"}</td>` : nothing}
    <td class="date">
      ${looked_at ? whenDay(looked_at) : "never"}<span class="below-by">${looked_by}</span>
    </td>
    <td class="least name">${looked_by || "–"}</td>
  </tr>`;
}

/** @param {Group} group @param {number} room @param {UnitList} list @param {Table} table */
const groupRows = ({ name, title, rows }, room, list, table) =>
  html`<tbody @click=${openRow}>
    ${
      title
        ? html`<tr class="group">
            <th scope="rowgroup" colspan=${headsOf(table, hasPatterns(list)).length}>
              ${title}<span class="quiet"> ${rows.length}</span>
            </th>
          </tr>`
        : nothing
    }
    ${repeat(
      rows.slice(0, room),
      (/** @type {Listed} */ { unit_id }) => `${name}/${unit_id}`,
      (/** @type {Listed} */ unit) => row(unit, list, table, hasPatterns(list)),
    )}
  </tbody>`;

/**
 * The table with what it is chosen by.
 * @param {UnitList} list
 * @param {Table} table
 * @param {() => unknown} empty said where there is no unit at all
 */
function unitsTable(list, table, empty) {
  const groups = arranged(list, table);
  const all = groups.flatMap(({ rows }) => rows).length;
  list.found = { of: [], found: groups.flatMap(({ rows }) => rows) };
  if (!list.units?.length) return empty();
  const heads = headsOf(table, hasPatterns(list));
  let room = list.room;
  const drawn = groups.flatMap((group) => {
    const part = { group, room };
    room -= group.rows.length;
    return part.room > 0 ? [part] : [];
  });
  const sort = (/** @type {View["sort"]} */ sorting) => {
    // Who asks for an order wants one order.
    const group = table.view.group || (sorting ? FLAT : "");
    show(list, table, { ...table.view, sort: sorting, group });
  };
  return html`<div class="tabled" @keydown=${alongRows}>
    ${filters(list, table)} ${counted(list, table, all)}
    ${
      all
        ? html`<table class="ledger" aria-label="Units" aria-busy=${list.room < all ? "true" : "false"}>
            <thead>
              ${headRow(heads, table.view.sort, sort)}
            </thead>
            ${repeat(
              drawn,
              (/** @type {Part} */ { group }) => group.name,
              (/** @type {Part} */ { group, room }) => groupRows(group, room, list, table),
            )}
          </table>`
        : html`<p>No unit is among these.</p>`
    }
  </div>`;
}

/**
 * @param {string} [query] what it was left with, where the address chooses nothing
 * @returns {Promise<Table>}
 */
export async function openTable(query = "") {
  const [read, { verdicts }] = await Promise.all([reading(), known("about"), style("tables")]);
  const address = keepingView();
  const view = isChosen() ? viewNow() : readView(query);
  address.keep(view);
  /** @type {Table} */
  const table = {
    read,
    verdicts,
    address,
    view,
    atOnce: ROWS_AT_ONCE,
    query: () => writeView(table.view),
    draw: (list, empty) => unitsTable(list, table, empty),
  };
  return table;
}
