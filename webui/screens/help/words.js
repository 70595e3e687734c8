// @ts-check
// The glossary: the trade's words and ours, in plain language.

import { html } from "../../vendor/lit-html/lit-html.js";

/** @typedef {{term: string, told: string, topic?: string}} Word */

/** @type {Word[]} */
const LISTED = [
  {
    term: "adapter",
    told: "A piece between wrench and shaft that makes the wrench longer, shorter or bent.",
    topic: "adapter",
  },
  {
    term: "apparent friction",
    told: "The coefficient of friction that a measured torque comes to at the preload that the spring must be giving.",
    topic: "friction",
  },
  {
    term: "backlash",
    told: "How far the crown wheel can be turned to and fro against the pinion before a tooth touches.",
    topic: "refit",
  },
  { term: "bar", told: "A lever that is pulled by a scale or loaded by a weight.", topic: "bar" },
  { term: "beam wrench", told: "A torque wrench whose bending bar shows the torque against a scale." },
  {
    term: "bedding in",
    told: "New plates rub each other smooth in their first outing; the torque drops while they do.",
  },
  {
    term: "bench",
    told: "The workshop's PC or tablet, which may do everything. A phone at the track reads all, and writes all that is not kept to the bench.",
    topic: "log",
  },
  {
    term: "bias ratio",
    told: "How many times the torque of the slipping wheel the other wheel can carry.",
    topic: "ramps",
  },
  {
    term: "breakaway torque",
    told: "The torque at which one output turns against the other, wheels off the ground and engine off: what the preload feels like.",
    topic: "held",
  },
  {
    term: "budget",
    told: "The list of everything that makes a reading doubtful, each part with its size.",
    topic: "verdict",
  },
  { term: "case", told: "The housing that the crown wheel turns and that holds packs, rings and gears." },
  { term: "cavity", told: "The depth inside the case from the cover's face to the floor.", topic: "stack" },
  { term: "certificate", told: "The paper from a calibration, which says how good a tool really is." },
  { term: "clock point", told: "A place round a plate, named like the hours, where it is measured.", topic: "plates" },
  { term: "coast ramp", told: "The side of the ramp that works when the engine holds the car back.", topic: "ramps" },
  {
    term: "correction",
    told: "A new entry that takes the place of an earlier one; both stay in the log.",
    topic: "log",
  },
  { term: "cover", told: "The lid that closes the case and squeezes the spring." },
  { term: "cross pin", told: "The pin that carries the small gears and pushes the ramp rings apart.", topic: "ramps" },
  {
    term: "crush",
    told: "How far the closed cover squeezes the spring: the height of the free stack less the cavity.",
    topic: "stack",
  },
  {
    term: "degrees of freedom",
    told: "How much a scatter can be believed: readings less the means that were taken of them.",
    topic: "verdict",
  },
  {
    term: "disc spring",
    told: "A steel ring pressed into a shallow cone. Squeezed flat it pushes back, and not in a straight line.",
    topic: "spring",
  },
  { term: "division", told: "The distance between two marks of a scale, as a quantity." },
  {
    term: "doubt",
    told: "How far the true value may lie from the one that was found. In the standards: measurement uncertainty.",
    topic: "verdict",
  },
  {
    term: "drag",
    told: "Torque that the wrench feels beside the packs: bearings, seals, a brake, the crown wheel and what it turns.",
    topic: "held",
  },
  { term: "drive ramp", told: "The side of the ramp that works when the engine pulls.", topic: "ramps" },
  { term: "entry", told: "One thing written into the log: a check, a measurement, a rebuild, a note.", topic: "log" },
  { term: "first move", told: "The peak of the torque just before the output begins to turn." },
  {
    term: "flatness",
    told: "How far a plate on a surface plate stands off it: the thickest feeler that passes under.",
    topic: "plates",
  },
  {
    term: "friction plate",
    told: "A plate that turns with the output and carries the friction surface.",
    topic: "friction",
  },
  {
    term: "go",
    told: "The verdict that it may run again: inside the limits by more than the doubt.",
    topic: "verdict",
  },
  {
    term: "grip",
    told: "How much of its load a tyre can push with: about 1 on dry tarmac, far less on wet grass.",
    topic: "traction",
  },
  {
    term: "guard band",
    told: "The strip on both sides of a limit in which a reading cannot say on which side the truth lies.",
    topic: "verdict",
  },
  { term: "hub ratio", told: "Turns of the output for one turn of the wheel, where the hub has gears." },
  { term: "judged on", told: "Which reading order and limits are for: steady turning or the first move." },
  { term: "kit", told: "The shop's wrenches, scales and micrometers, with what is known of how good they are." },
  { term: "lock", told: "The difference of torque that the packs can hold between the two outputs.", topic: "ramps" },
  {
    term: "locking value",
    told: "Difference over sum of the two output torques, mostly as a percentage. 0 is open, 100 % is solid.",
    topic: "ramps",
  },
  { term: "log", told: "The book of everything that was done and found, which only grows.", topic: "log" },
  {
    term: "measure again",
    told: "The verdict that the reading cannot say, or that the kit is not fit to.",
    topic: "verdict",
  },
  {
    term: "nut factor",
    told: "Torque over force and diameter of a screw: how much of the torque becomes clamp.",
    topic: "closing",
  },
  { term: "order", told: "The breakaway torque that the customer asked for, give or take." },
  { term: "outbox", told: "What the phone has saved and the workshop has not yet received.", topic: "log" },
  { term: "outing", told: "One time out with the car: a run, a session, a stage. What wear is counted in here." },
  { term: "output", told: "One of the two shafts or flanges that go to the wheels." },
  { term: "pack", told: "The plates of one side.", topic: "friction" },
  {
    term: "permitted deviation",
    told: "How far a tool may be off and still meet its standard, in percent of the reading.",
  },
  {
    term: "prediction band",
    told: "Where the next reading will lie, nineteen times in twenty, if things go on as they have.",
    topic: "trend",
  },
  { term: "preload", told: "The axial force with which the spring squeezes the packs, in newtons.", topic: "stack" },
  { term: "pull scale", told: "A spring or electronic scale that is pulled and shows a force.", topic: "bar" },
  {
    term: "ramp angle",
    told: "Measured here from the plane of rotation, so a shallow ramp locks hard and one of 90° adds nothing.",
    topic: "ramps",
  },
  {
    term: "ramp ring",
    told: "One of the two rings between the packs, with V-shaped seats for the cross pins.",
    topic: "ramps",
  },
  { term: "replace", told: "The verdict that a part is past its limit.", topic: "plates" },
  {
    term: "rework",
    told: "The verdict that the torque is outside its limits by more than the doubt: the stack must be re-set.",
    topic: "verdict",
  },
  { term: "run in", told: "Said of plates that have bedded in, so that they wear evenly.", topic: "friction" },
  { term: "scatter", told: "How far repeated readings lie apart: their standard deviation." },
  {
    term: "separator plate",
    told: "A plate that turns with the case, between two friction plates.",
    topic: "friction",
  },
  { term: "service limits", told: "The torques between which a unit may run again; wider than the order." },
  { term: "set", told: "A spring that no longer comes back to its free height has set.", topic: "spring" },
  { term: "sheet", told: "The build sheet: one page about a unit, to hand over." },
  { term: "shelf", told: "The plates in stock, by class or by measured thickness.", topic: "plan" },
  { term: "shim", told: "A thin ring that only adds thickness.", topic: "stack" },
  {
    term: "sliding face",
    told: "A place where a part that turns with the output rubs on one that turns with the case.",
    topic: "friction",
  },
  { term: "solid", told: "Locked so hard that both wheels turn as one. Of a spring: pressed flat.", topic: "ramps" },
  { term: "stack", told: "The whole chain from cover to floor: plates, rings, spring.", topic: "stack" },
  {
    term: "standing verdict",
    told: "What counts for a unit now: the worst of the last look at each of its parts since the rebuild.",
  },
  {
    term: "stated for",
    told: "The way of holding that order and limits are meant for. Readings taken the other way are converted.",
    topic: "held",
  },
  { term: "steady turning", told: "The torque after it has broken away, while it turns slowly." },
  { term: "taper", told: "The difference between a plate's thickest and thinnest point.", topic: "plates" },
  { term: "travel", told: "How far a disc spring is squeezed, as a share of what makes it flat.", topic: "spring" },
  { term: "unit", told: "One differential." },
];

export const WORDS = [...LISTED].sort((a, b) => a.term.localeCompare(b.term, "en"));

/** How a term is written in an address. @param {string} term */
export function slugOf(term) {
  return term.replaceAll(" ", "-");
}

/** @param {string} slug */
export function wordOf(slug) {
  return WORDS.find((word) => slugOf(word.term) === slug);
}

/** A term in a sentence, as the way to its meaning. @param {string} term @param {string} [written] */
export function word(term, written = term) {
  return html`<a class="term" href="#/help/words/${slugOf(term)}">${written}</a>`;
}
