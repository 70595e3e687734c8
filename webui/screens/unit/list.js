// @ts-check
// Every unit with its standing verdict, and what is due.

import { icon } from "../../draw/icons.js";
import { onChange } from "../../log/changes.js";
import { watch } from "../../log/delivery.js";
import { DEVICE } from "../../log/device.js";
import { grouped, inHand } from "../../log/in-hand.js";
import { inVice } from "../../log/in-vice.js";
import { nameOfPattern } from "../../log/pattern.js";
import { listing, patterns } from "../../log/stands.js";
import { reasonOf } from "../../log/storage-fault.js";
import { entry, fact, outbox } from "../../log/store.js";
import { repeat } from "../../vendor/lit-html/directives/repeat.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { errorLine, verdictMark, whenDay } from "../form/fields.js";
import { pullDown } from "../form/pull.js";
import { deliverHere, pulledLine } from "./list-news.js";
import { FEW, GROUPS, halfTyped, warnings } from "./list-notes.js";
import { findFields, matching } from "./list-search.js";

// A long list is drawn as far as anybody scrolls at once; the search finds the rest.
const PAGE = 60;

// So many rows come with one frame, and the others frame by frame after it: a slow phone draws them without a stutter.
const AT_ONCE = 12;

// From this width on the units are a table.
const WIDE = "(min-width: 800px)";

/** What is shown of a unit. @typedef {import("../../log/stands.js").Listed} Standing */

/**
 * @typedef {object} UnitList
 * @property {HTMLElement} place
 * @property {() => void} draw
 * @property {string} sought
 * @property {string} chosen which units are shown
 * @property {number} drawn so many
 * @property {number} room so many of these are there by this frame
 * @property {number} [growing] the frame that brings the next ones
 * @property {Found} [found] what was found last
 * @property {import("../../log/in-hand.js").Hand} hand what is in hand on this phone
 * @property {Map<string, import("../../log/in-hand.js").Group>} stay groups that units stay in
 * @property {import("../../log/stands.js").Pattern[]} patterns that units are built to
 * @property {Standing[]} [units] none until the first are worked out
 * @property {number} left units that are not worked out yet
 * @property {(import("../../log/store.js").Entry | undefined)[]} refused entries that the workshop did not take
 * @property {Awaited<ReturnType<typeof inVice>>} inVice what the guide on this phone left in a vice
 * @property {number} loading how often it is being read just now
 * @property {string} failed
 * @property {unknown} problems what tells of them
 * @property {string} delivery its state
 * @property {number} waiting entries that were not delivered yet
 * @property {"" | "some" | "enough"} pulled how far the list is pulled down
 * @property {boolean} asked whether somebody asked for a delivery here
 * @property {() => unknown} [welcome] what an empty book shows
 * @property {import("./units-table.js").Table} [table] where there is room for one
 */

/** Units, and out of what they were chosen and sought. @typedef {{of: unknown[], found: Standing[]}} Found */
/** A heading of the list, or a unit. @typedef {{group: import("../../log/in-hand.js").Group} | Standing} Line */

/** The list as it was left, for whoever comes back to it. */
const before = {
  sought: "",
  chosen: "",
  drawn: PAGE,
  top: 0,
  opened: "",
  query: "",
  units: /** @type {Standing[] | undefined} */ (undefined),
  hand: /** @type {UnitList["hand"]} */ ({ typed: new Map(), used: [] }),
  stay: /** @type {UnitList["stay"]} */ (new Map()),
};

/** @param {Standing} standing @param {UnitList} list */
function row(standing, list) {
  const { unit_id, unit, verdict, looked_at, due } = standing;
  const own = [unit.owner, nameOfPattern(unit, list.patterns)].filter(Boolean).map((words) => `${words} · `);
  const checked = looked_at ? `last checked ${whenDay(looked_at)}` : "not checked yet";
  const typed = halfTyped(standing, list);
  return html`<li>
    <a href="#/unit/${unit_id}">
     <span class="about"><strong>${unit.name}</strong>
      ${typed ? html`<span class="typed">${typed}</span>` : nothing}
      <span class="quiet">${own}${checked}${due.length ? html`<br />Due: ${due[0].text}` : nothing}</span>
      ${warnings(standing, list).map((words) => html`<span class="error">${words}</span>`)}
     </span>${verdictMark(verdict)}
    </a>
  </li>`;
}

/** Whether units may still come by themselves. @param {UnitList} list */
const looking = ({ units, delivery, loading }) => delivery === "busy" || !units || Boolean(loading);

/** Why the list is empty. @param {UnitList} list */
function empty(list) {
  const { units, chosen, sought, delivery, welcome } = list;
  const none = `No unit${chosen ? " of these" : ""} has “${sought}” in its name, owner or pattern.`;
  if (units?.length) return html`<p>${sought ? none : "No unit is among these."}</p>`;
  if (looking(list)) return html`<section class="card"><p>Looking for units…</p></section>`;
  const why =
    delivery === "unpaired"
      ? html`No unit is on this ${DEVICE} yet. <a href="#/pair">Pair it with the workshop</a> to fetch its log.`
      : delivery === "idle"
        ? "There are no units yet: add the first one."
        : "There are no units yet. Add one, or connect to the workshop once to fetch its log.";
  return html`<section class="card">
    <p>${why}</p>
    ${welcome?.()}
  </section>`;
}

const justCheck = html`<a class="button" href="#/unit/start">${icon("torque")}Just check torque</a>`;

// The welcome of an empty book has keys of its own.
const addUnit = html`<a class="button" href="#/unit/new">${icon("plus")}Add a unit</a>`;

/** @param {UnitList} list @param {number} all so many match */
function moreKey(list, all) {
  const { drawn, draw, place } = list;
  if (all <= drawn) return nothing;
  const more = () => {
    list.drawn += PAGE;
    list.room = drawn + AT_ONCE;
    draw();
    /** @type {HTMLElement | undefined} */ (place.querySelectorAll(".list a")[drawn])?.focus();
  };
  return html`<button @click=${more}>Show ${Math.min(PAGE, all - drawn)} more of ${all}</button>`;
}

/** So many rows are drawn by this frame. @param {UnitList} list */
const roomOf = ({ drawn, room }) => Math.min(drawn, room);

/** Whether more rows come by themselves. @param {UnitList} list */
const grows = (list) => roomOf(list) < Math.min(list.drawn, list.found?.found.length ?? 0);

/** Show what is chosen and sought, from its top. @param {UnitList} list @param {Partial<UnitList>} change */
function seek(list, change) {
  Object.assign(list, change, { drawn: PAGE, room: AT_ONCE });
  list.draw();
}

/** What the screen holds between its head and its foot. @param {UnitList} list */
function middle(list) {
  const { left, problems, failed, table } = list;
  const units = () => {
    const found = matching(list);
    const fields = findFields(list, (change) => seek(list, change));
    return html`${fields} ${found.length ? rows(found, list) : empty(list)} ${moreKey(list, found.length)}`;
  };
  return html`${left ? html`<p role="status">Working out the verdicts: ${left} more to come…</p>` : nothing}
    ${problems} ${errorLine(failed)} ${begunUnit(list)} ${table ? table.draw(list, () => empty(list)) : units()}`;
}

/** Draw the list, and with each frame some more of it. @param {UnitList} list */
function drawList(list) {
  list.place.classList.toggle("broad", Boolean(list.table));
  const held = document.activeElement;
  render(view(list), list.place);
  // A row that was moved lost the focus by that.
  if (held instanceof HTMLElement && held !== document.activeElement && held.isConnected)
    held.focus({ preventScroll: true });
  if (list.growing || !grows(list)) return;
  list.growing = requestAnimationFrame(() => {
    list.growing = undefined;
    list.room += list.table?.atOnce ?? AT_ONCE;
    drawList(list);
  });
}

/**
 * What is in hand first, as far as it is drawn, each group after its heading; what was sought, by name.
 * @param {Standing[]} found
 * @param {UnitList} list
 * @returns {Line[]}
 */
function lines(found, list) {
  const all = list.sought.trim() ? [] : [...grouped(found, list.hand, list.stay)];
  const withHeads = (list.units ?? []).length > FEW && all.length > 1;
  let room = roomOf(list);
  if (!all.length) return found.slice(0, room);
  return all.flatMap(([group, units]) => {
    const shown = units.slice(0, room);
    room -= shown.length;
    return withHeads && shown.length ? [{ group }, ...shown] : shown;
  });
}

/** @param {Standing[]} found @param {UnitList} list */
const rows = (found, list) =>
  html`<ul class="list cards units" aria-busy=${grows(list) ? "true" : "false"}>
    ${
      // One list for all groups: what comes meanwhile, a heading too, moves a row and never puts another unit under a
      // finger that is down.
      repeat(
        lines(found, list),
        (/** @type {Line} */ line) => ("group" in line ? line.group : line.unit_id),
        (/** @type {Line} */ line) =>
          "group" in line ? html`<li class="group"><h2>${GROUPS[line.group]}</h2></li>` : row(line, list),
      )
    }
  </ul>`;

/** A unit that was begun and is not saved. @param {UnitList} list */
const begunUnit = ({ hand }) =>
  hand.typed.has("new")
    ? html`<p><a class="button" href="#/unit/new">${icon("plus")}Go on with the unit that you began</a></p>`
    : nothing;

/** Whether what stands above the foot grows no more, at least within a screen. @param {UnitList} list */
const settled = (list) => (list.units?.length ? !list.left || list.units.length > FEW : !looking(list));

/** @param {UnitList} list */
const foot = (list) =>
  html`<p class="quiet row">
      <a class="back" href="#/customers">Customers</a> <a class="back" href="#/patterns">Patterns</a>
      <a class="back" href="#/history">History</a>
      <a class="back" href="#/import">Import a unit from a file</a>
    </p>
    ${list.waiting ? nothing : html`<p><button @click=${() => deliverHere(list)}>Fetch new entries now</button></p>`}`;

/** @param {UnitList} list */
const view = (list) =>
  html`${pulledLine(list)}<div class="row apart">
      <h1>Units</h1>
      <span class="row atop">
        ${list.units?.length ? justCheck : nothing}
        ${list.units && !list.units.length && !list.failed ? nothing : addUnit}
      </span>
    </div>
    ${middle(list)} ${settled(list) ? foot(list) : nothing}`;

/** A table where it is wide. @param {UnitList} list @param {boolean} wide @param {string} [query] it was left with */
async function setWide(list, wide, query) {
  list.table?.address.stop();
  list.table = wide ? await (await import("./units-table.js")).openTable(query) : undefined;
  list.drawn = wide ? Number.POSITIVE_INFINITY : PAGE;
  list.found = undefined;
}

/** Rarely are there any: what tells of them is loaded only then. @param {UnitList} list */
async function lookForProblems(list) {
  const [damage, clocks] = await Promise.all([fact("problems", []), fact("clockTold", [])]);
  const some = damage.length > 0 || clocks.length > 0;
  list.problems = some ? await (await import("../shop/problems.js")).problemsBanner() : nothing;
  list.draw();
}

/** @param {UnitList} list */
async function load(list) {
  list.loading += 1;
  list.failed = "";
  try {
    const all = await outbox();
    const refused = all.filter((waiting) => waiting.refused);
    list.waiting = all.filter((waiting) => !waiting.refused).length;
    [list.inVice, list.hand, list.patterns] = await Promise.all([inVice(), handNow(list), patterns()]);
    list.refused = await Promise.all(refused.map(({ id }) => entry(id)));
    list.units = await listing((found, all) => {
      list.units = found;
      list.left = all - found.length;
      list.draw();
    });
    list.left = 0;
  } catch (error) {
    list.failed = reasonOf(error);
  }
  list.loading -= 1;
  list.draw();
  welcomeNow(list);
  lookForProblems(list);
}

/** Rarely is a book empty: its welcome is loaded only then, once no unit may come. @param {UnitList} list */
async function welcomeNow(list) {
  if (!list.units || list.units.length || list.welcome || looking(list)) return;
  try {
    const { welcome } = await import("./welcome.js");
    list.welcome ??= await welcome(list.draw);
  } catch (error) {
    // The next look tries again.
    list.failed = reasonOf(error);
  }
  list.draw();
}

/** What is in hand: half typed as it is now, and used last as it was, where units stay. @param {UnitList} list */
async function handNow({ stay, hand }) {
  const now = await inHand();
  return stay.size ? { ...now, used: hand.used } : now;
}

/** Keep the list as it is left. @param {UnitList} list @param {HTMLElement} place */
function leaveAt({ sought, chosen, drawn, units = [], hand, stay, table }, place) {
  const row = place.querySelector(":is(.units a, a.open):focus");
  const [opened, query] = [row?.getAttribute("href") ?? "", table?.query() ?? before.query];
  Object.assign(before, { sought, chosen, drawn, units, hand, opened, query, top: scrollY, stay: new Map() });
  // Somebody who was further down, or had sought, finds everything where it was; at the top, what is in hand comes up.
  if (!scrollY && !sought && !chosen && !query) return;
  for (const [group, found] of grouped(units, hand, stay))
    for (const { unit_id } of found) before.stay.set(unit_id ?? "", group);
}

/** @type {import("../../app.js").Show} */
export async function show(place) {
  const { sought, chosen, drawn, top, opened, query, units, hand, stay } = before;
  /** @type {UnitList} */
  const list = {
    place,
    draw: () => drawList(list),
    sought,
    chosen,
    drawn,
    // Somebody who comes back finds the place where it was.
    room: top || opened ? PAGE : AT_ONCE,
    units: units?.length ? units : undefined,
    hand,
    stay,
    left: 0,
    loading: 0,
    refused: [],
    inVice: new Map(),
    patterns: [],
    failed: "",
    problems: nothing,
    delivery: "busy",
    waiting: 0,
    pulled: "",
    asked: false,
  };
  const stopListening = onChange(() => load(list));
  const stopWatching = watch(({ state }) => {
    const isOver = list.delivery === "busy" && state !== "busy";
    list.delivery = state;
    // What it brought is looked for before anybody is told that there is nothing.
    if (isOver && list.units && !list.units.length) return load(list);
    list.draw();
    welcomeNow(list);
  });
  const stopPulling = pullDown({
    pulled: (far) => {
      list.pulled = far;
      list.draw();
    },
    act: () => deliverHere(list),
  });
  const wide = matchMedia(WIDE);
  let setting = setWide(list, wide.matches, query);
  // One turn after the other: a table is read before it is there, and what was turned last counts.
  const turned = () => {
    setting = setting.then(() => setWide(list, wide.matches)).then(list.draw);
  };
  wide.addEventListener("change", turned);
  await setting;
  list.drawn = wide.matches ? list.drawn : drawn;
  const loaded = load(list);
  // Where nothing stays, what is in hand is asked for first, or the rows would move under a thumb.
  if (!stay.size) await Promise.race([loaded, inHand().then((now) => (list.hand = now))]);
  if (list.units) list.draw();
  place.dataset.top = String(top);
  const row = /** @type {HTMLElement | null} */ (place.querySelector(`:is(.units a, a.open)[href="${opened}"]`));
  if (opened) row?.focus({ preventScroll: true });
  return () => {
    if (list.growing) cancelAnimationFrame(list.growing);
    leaveAt(list, place);
    wide.removeEventListener("change", turned);
    list.table?.address.stop();
    stopListening();
    stopWatching();
    stopPulling();
  };
}
