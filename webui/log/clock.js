// @ts-check
// What this phone knows of its own clock: when it last met the workshop's, and by how much it has been seen to fall.

import { changed } from "./changes.js";
import { group, number, perhaps, text } from "./shape.js";
import { database, fact, now, remember } from "./store.js";

/**
 * What is kept of the clock between looks.
 * @typedef {object} Kept
 * @property {number} highest the latest time that it has shown, in ms since 1970
 * @property {number} fell_s by how many seconds it has been seen to fall, in all
 * @property {string} [met] what it showed when it last met the workshop's PC
 * @property {number} [off_s] by how many seconds it was slow then
 * @property {number} [met_fell_s] by how much it had been seen to fall by then
 */

// A phone that asks for the time in the network sets its clock by less than this.
const JUMP_MS = 60000;

/** By how many seconds it had fallen when this page looked last; another tab may see the same fall. */
let counted = Infinity;

/** How far the clock was ahead of this page's own ticks, which nobody can set; they may stand still in sleep. */
let lead = -Infinity;

/** By how many ms the clock fell since the last look. @param {number} highest @param {number} shows */
function fallen(highest, shows) {
  const ahead = shows - performance.now();
  const fall = Math.max(lead - ahead, highest - shows);
  const fell = fall > JUMP_MS && fall < Infinity ? fall : 0;
  lead = fell ? ahead : Math.max(lead, ahead);
  return fell;
}

/** Look at the clock, and note whether it fell. @returns {Promise<Kept>} */
export async function lookAtClock() {
  const transaction = (await database()).transaction("facts", "readwrite");
  // Only this writes it.
  const before = /** @type {Kept | undefined} */ (await transaction.store.get("clock"));
  const shows = Date.now();
  const kept = before ?? { highest: -Infinity, fell_s: 0 };
  const seen = fallen(kept.highest, shows);
  // What another tab has counted meanwhile is not counted twice.
  const fell = Math.max(0, Math.round(seen / 1000) - Math.max(0, kept.fell_s - counted));
  const after = { ...kept, highest: seen ? shows : Math.max(kept.highest, shows), fell_s: kept.fell_s + fell };
  counted = after.fell_s;
  // On a full phone nothing can be noted: entries go home all the same.
  await Promise.all([transaction.store.put(after, "clock"), transaction.done]).catch(() => {});
  return after;
}

/** What an entry that is written now says of the clock. */
export async function clockOfEntry() {
  const { highest, ...known } = await lookAtClock();
  return known;
}

const isMeeting = group({
  clock: perhaps(group({ off_s: number, text })),
  pc_clock: perhaps(text),
});

/** @typedef {{clock?: {off_s: number, text: string} | null, pc_clock?: string}} Meeting */

/** The address at which the workshop's PC says how it is, and how this phone's clock is beside its own. */
export const healthAddress = () => `/api/health?sent=${encodeURIComponent(now())}`;

/** Whether an answer says of clocks what it may. @param {unknown} value @returns {value is Meeting} */
export const isMet = (value) => isMeeting(value);

/** Note what the workshop's PC said of clocks. @param {Meeting} said */
export async function noteMeeting({ clock, pc_clock }) {
  const kept = await lookAtClock();
  const met = { ...kept, met: now(), off_s: clock?.off_s ?? 0, met_fell_s: kept.fell_s };
  const faults = [clock?.text, pc_clock].flatMap((words) => (words ? [words] : []));
  const isNews = JSON.stringify(faults) !== JSON.stringify(await fact("clockTold", []));
  try {
    if (clock) await remember("clock", met);
    if (isNews) await remember("clockTold", faults);
  } catch {
    // On a full phone nothing can be noted.
    return;
  }
  if (isNews) changed();
}
