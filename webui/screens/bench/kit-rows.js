// @ts-check
// The kit as a table that is typed into: its rows, each a draft and judged by itself, and what can be done with them.

import { BadInput, calc } from "../../engine/door.js";
import { draftKeys, dropDraft, draft as kept } from "../../log/drafts.js";
import { LABELS } from "../../log/labels.js";
import { write } from "../../log/outbox.js";
import { group, record, text } from "../../log/shape.js";
import { kit } from "../../log/stands.js";
import { reasonOf } from "../../log/storage-fault.js";
import { newId } from "../../log/store.js";
import { typedOf } from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { judging } from "../form/judging.js";
import { asMeant, bodyOf, columnOf, fieldOf, GAUGES, isGauge, typedTool } from "../form/tool-typed.js";

/** @typedef {import("../../log/stands.js").Tool} Tool */
/** @typedef {import("../form/tool-typed.js").TypedTool} TypedTool */
/** @typedef {import("../form/tool-typed.js").ToolKind} ToolKind */
/** @typedef {Exclude<keyof TypedTool, "tool">} Column */

/**
 * What is kept of a row that somebody types in.
 * @typedef {object} Kept
 * @property {string} id of the tool that it changes; empty for a new one
 * @property {TypedTool} base the tool as it stood when it was begun
 * @property {Partial<TypedTool>} cells those that were typed into
 */
/** @typedef {Kept & {key: string, form: import("../form/judging.js").Judging<"kit">}} Begun */
/**
 * A row of the table: a tool, one that was begun, or the empty row in which the next one is begun.
 * @typedef {{key: string, name: string, typed: TypedTool, tool?: Tool, begun?: Begun}} Row
 */

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {string} [corrected] the entry that is corrected
 * @property {Record<string, string>} unitLabels
 * @property {import("../form/fields.js").Reading} read
 * @property {Record<string, number>} permitted deviation in per cent, by kind of tool
 * @property {Tool[]} tools
 * @property {string} message what came of the last tap
 * @property {Tool} [removed] the tool that was removed last, for a thumb that slipped
 * @property {Kept} [typedInIt] what was typed in its row
 * @property {import("../form/signing.js").Signing} sign
 * @property {Awaited<ReturnType<typeof import("../form/tool.js").toolForm>>} form
 * @property {() => void} redraw
 * @property {Map<string, Begun>} begun rows that somebody types in, by their key: the tool's id, or a new one
 * @property {Record<string, string>} next keys of the rows that are begun next, by family
 * @property {string} inHand key of the row that the focus was in last
 * @property {string} fresh key of the new row that is still typed
 * @property {string} busy
 * @property {Kept[]} [cleared] what was typed before it was cleared, with its keys
 */

/**
 * Tools that are asked for the same figures stand in one table.
 * @type {{name: string, title: string, one: string, tools: ToolKind[]}[]}
 */
export const FAMILIES = [
  { name: "wrench", title: "Torque wrenches", one: "torque wrench", tools: ["wrench"] },
  { name: "scale", title: "Pull scales and weights", one: "pull scale or weight", tools: ["scale"] },
  { name: "gauge", title: "Gauges", one: "gauge", tools: /** @type {ToolKind[]} */ (Object.keys(GAUGES)) },
];

const AT = "kit/row/";

/** A tool of which nothing is typed. @param {ToolKind} tool @returns {TypedTool} */
export const blank = (tool) => ({
  tool,
  name: "",
  kind: "",
  low: "",
  high: "",
  division: "",
  deviation: "",
  certificate: "",
  zero: "",
  due: "",
});

/** What stands beside a cell of a tool in its form. @param {ToolKind} tool @param {Column} column */
export function labelOf(tool, column) {
  const fields = /** @type {Record<string, string>} */ ({ due: "calibration_due", name: "name", kind: "kind" });
  const field = fields[column] ?? fieldOf(tool, /** @type {import("../form/tool-typed.js").Figure} */ (column));
  // What kind of gauge it is, is asked with no words of its own.
  return /** @type {Record<string, string>} */ (LABELS.kit)[`${tool}.${field}`] ?? "Kind";
}

const isKept = group({ id: text, base: record, cells: record });

/** Rows that were begun and not saved. @param {State} state */
export async function takeUp(state) {
  const keys = (await draftKeys()).filter((key) => key.startsWith(AT));
  for (const key of keys) await lookAt(state, key.slice(AT.length));
  for (const { name } of FAMILIES) state.next[name] = await newId();
}

/** What is kept of a row, by this tab or another. @param {State} state @param {string} key */
async function lookAt(state, key) {
  const content = await kept(AT + key);
  if (!isKept(content) || state.begun.has(key)) return;
  const { id, base, cells } = /** @type {Kept} */ (/** @type {unknown} */ (content));
  const begun = begin(state, key, { id, base: { ...blank(base.tool), ...base }, cells });
  if (isChanged(state, begun)) begun.form.judge();
  else forget(state, begun);
}

/** @param {State} state @param {string} key @param {Kept} kept @returns {Begun} */
function begin(state, key, kept) {
  const begun = /** @type {Begun} */ ({ ...kept, key });
  begun.form = judging({
    key: AT + key,
    calculation: "kit",
    request: () => requestOf(typedIn(state, begun), begun.id),
    draft: () => ({ id: begun.id, base: begun.base, cells: begun.cells }),
    draw: state.redraw,
  });
  state.begun.set(key, begun);
  return begun;
}

/**
 * Which gauge it is has to be chosen, whatever the row began with.
 * @param {TypedTool} typed @param {string} id
 */
const requestOf = (typed, id) =>
  isGauge(typed.tool) && !id && !typed.kind ? { tool: "" } : bodyOf(asMeant(typed), id);

/** The tool as it stands now, without what is typed; as it was where it is in use no more. */
function standing(/** @type {State} */ { tools }, /** @type {Begun} */ { id, base }) {
  const tool = tools.find((known) => known.id === id);
  return tool ? typedTool(tool) : base;
}

/** @param {State} state @param {Begun} begun @returns {TypedTool} */
const typedIn = (state, begun) => ({ ...standing(state, begun), ...begun.cells });

/** @param {unknown} before @param {unknown} after */
const isSame = (before, after) => JSON.stringify(before) === JSON.stringify(after);

/** Whether a row says anything that does not stand. @param {State} state @param {Begun} begun */
function isChanged(state, begun) {
  if (!begun.id) return true;
  return !isSame(typedIn(state, begun), standing(state, begun)) || !state.tools.some(({ id }) => id === begun.id);
}

/** @param {State} state @param {Begun} begun */
function forget(state, { key }) {
  state.begun.delete(key);
  dropDraft(AT + key).catch(() => {});
}

/** The kit as it stands now; a row that says nothing else any more, as another tab saved it, is done with. */
export async function refresh(/** @type {State} */ state) {
  state.tools = await kit();
  for (const begun of [...state.begun.values()]) if (!isChanged(state, begun)) forget(state, begun);
}

/** The rows of a family, the empty one at last. @param {State} state @param {typeof FAMILIES[number]} family */
export function rowsOf(state, { name, one, tools }) {
  const { begun, next } = state;
  const known = state.tools.filter(({ tool }) => tools.includes(tool));
  const others = [...begun.values()].filter(
    ({ id, base }) => tools.includes(base.tool) && !state.tools.some((tool) => tool.id === id),
  );
  /** @type {Omit<Row, "name">[]} */
  const rows = [
    ...known.map((tool) => ({ key: tool.id, typed: typedTool(tool), tool, begun: begun.get(tool.id) })),
    ...others.map((row) => ({ key: row.key, typed: row.base, begun: row })),
    ...(next[name] ? [{ key: next[name], typed: blank(tools[0]) }] : []),
  ];
  return rows.map((row) => {
    const typed = row.begun ? typedIn(state, row.begun) : row.typed;
    const unnamed = row.begun ? `Unnamed ${one}` : `New ${one}`;
    return { ...row, typed, name: typed.name.trim() || (row.tool?.name ?? unnamed) };
  });
}

/** Something was typed into a row. @param {State} state @param {Row} row @param {Partial<TypedTool>} change */
export function put(state, { key, tool, typed, begun: known }, change) {
  const begun = known ?? begin(state, key, { id: tool?.id ?? "", base: typed, cells: {} });
  begun.cells = { ...begun.cells, ...change };
  state.message = "";
  state.cleared = undefined;
  if (!isChanged(state, begun)) {
    forget(state, begun);
    return state.redraw();
  }
  if (!known && !begun.id) beginNext(state, begun);
  begun.form.changed();
}

/** Below a new row that was begun there is another one. @param {State} state @param {Begun} begun */
async function beginNext(state, begun) {
  const { name } = familyOf(begun);
  state.fresh = begun.key;
  state.next[name] = "";
  state.next[name] = await newId();
  state.redraw();
}

/** @param {Begun} begun */
const familyOf = ({ base }) => FAMILIES.find(({ tools }) => tools.includes(base.tool)) ?? FAMILIES[0];

/** A row has the focus. @param {State} state @param {string} key */
export function enter(state, key) {
  if (!key || state.inHand === key) return;
  state.inHand = key;
  state.redraw();
  // Another tab may have begun something in it.
  if (!state.begun.has(key)) lookAt(state, key);
}

/** A new row is judged once it is left. @param {State} state @param {string} to key of the row that is gone to */
export function leave(state, to) {
  if (!state.fresh || to === state.fresh) return;
  state.fresh = "";
  // A row that is taken away loses the focus in the midst of being drawn.
  queueMicrotask(state.redraw);
}

/**
 * What keeps a row from being saved, and in which cell; one that was just begun is not called wrong.
 * @param {State} state @param {Row} row
 */
export function wrongIn({ fresh }, { key, begun }) {
  const bad = key === fresh ? undefined : begun?.form.bad;
  return bad && { column: columnOf(bad.field), reason: bad.reason };
}

/**
 * What somebody else did to a tool while its row was typed in.
 * @param {Row} row
 */
export function meanwhile({ tool, typed, begun }) {
  if (!begun?.id) return [];
  if (!tool) return ["It was removed from the kit meanwhile: saving it puts it back."];
  const stands = typedTool(tool);
  const columns = /** @type {Column[]} */ (Object.keys(begun.cells));
  return columns
    .filter((column) => !isSame(stands[column], begun.base[column]) && !isSame(stands[column], typed[column]))
    .map(
      (column) =>
        `${labelOf(tool.tool, column)} was changed meanwhile, to ${typedOf(stands[column]) || "nothing"}: ` +
        "what is typed here replaces it.",
    );
}

/** Take a new row away, or a tool out of the kit. @param {State} state @param {Row} row */
export function takeAway(state, { begun, tool }) {
  if (tool) return setGone(state, tool, "yes");
  if (!begun) return;
  forget(state, begun);
  state.redraw();
  focusOn(
    state.place,
    `[data-row="${state.next[FAMILIES.find((family) => family.tools.includes(begun.base.tool))?.name ?? ""]}"] input`,
  );
}

/** Remove a tool from the kit, or put it back. @param {State} state @param {Tool} tool @param {"yes" | "no"} gone */
export async function setGone(state, tool, gone) {
  const typed = state.begun.get(tool.id);
  try {
    state.sign.check();
    const body = { ...tool.body, id: tool.id, gone };
    await write({ unit: "", kind: "kit", body, shown: await calc("kit", body) });
    if (gone === "yes") {
      state.removed = tool;
      state.typedInIt = typed;
      if (typed) forget(state, typed);
    } else {
      state.removed = undefined;
      if (state.typedInIt) begin(state, tool.id, state.typedInIt).form.changed();
      state.typedInIt = undefined;
    }
    state.message =
      gone === "yes"
        ? `${tool.name} is no longer in use; its checks stay in the log.`
        : `${tool.name} is in use again.`;
  } catch (error) {
    if (error instanceof BadInput) return state.redraw();
    state.message = `This could not be saved: ${reasonOf(error)}`;
  }
  state.tools = await kit();
  state.redraw();
  focusOn(state.place, "#put-back", `[data-tool="${tool.id}"] input`, `[data-tool="${tool.id}"]`);
}

/** @param {State} state */
export function clear(state) {
  const all = [...state.begun.values()];
  state.cleared = all;
  state.message = "";
  for (const begun of all) forget(state, begun);
  state.redraw();
}

/** @param {State} state */
export function undoClear(state) {
  const all = /** @type {Begun[]} */ (state.cleared ?? []);
  state.cleared = undefined;
  for (const { key, id, base, cells } of all) begin(state, key, { id, base, cells }).form.changed();
}

/** @param {number} count */
export const toolsOf = (count) => (count === 1 ? "1 tool" : `${count} tools`);

/**
 * Write every row that can be taken, each as an entry of its own that takes its draft with it; the others stay.
 * @param {State} state
 */
export async function save(state) {
  if (state.busy) return;
  try {
    state.sign.check();
  } catch (error) {
    if (error instanceof BadInput) return;
    throw error;
  }
  state.fresh = "";
  state.cleared = undefined;
  const all = [...state.begun.values()];
  let count = 0;
  let failed = false;
  for (const begun of all) {
    state.busy = `Saving ${toolsOf(all.length)}…`;
    const isWritten = !failed && (await saveRow(state, begun));
    if (isWritten) count += 1;
    else failed ||= Boolean(begun.form.failed);
  }
  state.busy = "";
  await refresh(state);
  const left = state.begun.size;
  state.message = [
    count ? `${toolsOf(count)} saved.` : "",
    left && !failed ? `${toolsOf(left)} cannot be taken yet, and the cell says why.` : "",
  ].join(" ");
  state.redraw();
  if (left) focusOn(state.place, "tr [aria-invalid=true]");
}

/** @param {State} state @param {Begun} begun @returns {Promise<boolean>} whether its entry is written */
async function saveRow(state, begun) {
  let isWritten = false;
  await begun.form.save(async (body, shown) => {
    await write({ unit: "", kind: "kit", body, shown, draft: AT + begun.key });
    state.begun.delete(begun.key);
    isWritten = true;
  });
  // It is a tool of the kit from now on, while others are still written.
  if (isWritten) state.tools = await kit();
  return isWritten;
}
