// @ts-check
// The glossary: the trade's words and ours, in plain language.

import { html } from "../../vendor/lit-html/lit-html.js";

/** @typedef {{term: string, meaning: string, topic?: string}} Word */

/** @type {Word[]} */
export const WORDS = [
  {
    term: "adapter",
    meaning: "A piece between wrench and shaft that makes the wrench longer, shorter or bent.",
    topic: "adapter",
  },
  {
    term: "apparent friction",
    meaning:
      "The coefficient of friction that a measured torque comes to at the preload that the spring must be giving.",
    topic: "friction",
  },
  {
    term: "backlash",
    meaning: "How far the crown wheel can be turned to and fro against the pinion before a tooth touches.",
    topic: "refit",
  },
  { term: "bar", meaning: "A lever that is pulled by a scale or loaded by a weight.", topic: "bar" },
  { term: "beam wrench", meaning: "A torque wrench whose bending bar shows the torque against a scale." },
  {
    term: "bedding in",
    meaning: "New plates rub each other smooth in their first outing; the torque drops while they do.",
  },
  {
    term: "bench",
    meaning:
      "The workshop's PC or tablet, which may do everything. A phone at the track reads all, and writes all that " +
      "is not kept to the bench.",
  },
  {
    term: "bias ratio",
    meaning: "How many times the torque of the slipping wheel the other wheel can carry.",
    topic: "ramps",
  },
  {
    term: "breakaway torque",
    meaning:
      "The torque at which one output turns against the other, wheels off the ground and engine off: what the " +
      "preload feels like.",
    topic: "held",
  },
  {
    term: "budget",
    meaning: "The list of everything that makes a reading doubtful, each part with its size.",
    topic: "verdict",
  },
  { term: "case", meaning: "The housing that the crown wheel turns and that holds packs, rings and gears." },
  { term: "cavity", meaning: "The depth inside the case from the cover's face to the floor.", topic: "stack" },
  { term: "certificate", meaning: "The paper from a calibration: how far the tool was off, and how certain that is." },
  {
    term: "clock point",
    meaning: "A place round a plate, named like the hours, where it is measured.",
    topic: "plates",
  },
  {
    term: "coast ramp",
    meaning: "The side of the ramp that works when the engine holds the car back.",
    topic: "ramps",
  },
  {
    term: "correction",
    meaning: "A new entry that takes the place of an earlier one; both stay in the log.",
    topic: "log",
  },
  { term: "cover", meaning: "The lid that closes the case and squeezes the spring." },
  {
    term: "cross pin",
    meaning: "The pin that carries the small gears and pushes the ramp rings apart.",
    topic: "ramps",
  },
  {
    term: "crush",
    meaning: "How far the closed cover squeezes the spring: the height of the free stack less the cavity.",
    topic: "stack",
  },
  {
    term: "degrees of freedom",
    meaning: "How much a scatter can be believed: readings less the means that were taken of them.",
    topic: "verdict",
  },
  {
    term: "disc spring",
    meaning: "A steel ring pressed into a shallow cone. Squeezed flat it pushes back, and not in a straight line.",
    topic: "spring",
  },
  { term: "division", meaning: "The distance between two marks of a scale, as a quantity." },
  {
    term: "doubt",
    meaning: "How far the true value may lie from the one that was found. In the standards: measurement uncertainty.",
    topic: "verdict",
  },
  {
    term: "drag",
    meaning:
      "Torque that the wrench feels beside the packs: bearings, seals, a brake, the crown wheel and what it turns.",
    topic: "held",
  },
  { term: "drive ramp", meaning: "The side of the ramp that works when the engine pulls.", topic: "ramps" },
  {
    term: "entry",
    meaning: "One thing written into the log: a check, a measurement, a rebuild, a note.",
    topic: "log",
  },
  { term: "first move", meaning: "The peak of the torque just before the output begins to turn." },
  {
    term: "flatness",
    meaning: "How far a plate's rim stands off a surface plate, hollow side up: the thickest feeler that passes under.",
    topic: "plates",
  },
  {
    term: "friction plate",
    meaning:
      "A plate that carries the friction surface. In most units it turns with the output; which, is the unit's own.",
    topic: "friction",
  },
  {
    term: "go",
    meaning: "The verdict that it may run again: inside the limits by more than the doubt.",
    topic: "verdict",
  },
  {
    term: "grip",
    meaning: "How much of its load a tyre can push with: about 1 on dry tarmac, far less on wet grass.",
    topic: "traction",
  },
  {
    term: "guard band",
    meaning: "The strip on both sides of a limit in which a reading cannot say on which side the truth lies.",
    topic: "verdict",
  },
  { term: "hub ratio", meaning: "Turns of the output for one turn of the wheel, where the hub has gears." },
  { term: "judged on", meaning: "Which reading order and limits are for: steady turning or the first move." },
  {
    term: "kit",
    meaning: "The shop's wrenches, scales, micrometers and other gauges, with what is known of how good they are.",
    topic: "pasting",
  },
  {
    term: "lock",
    meaning: "The difference of torque that the packs can hold between the two outputs.",
    topic: "ramps",
  },
  {
    term: "locking value",
    meaning: "Difference over sum of the two output torques, mostly as a percentage. 0 is open, 100 % is solid.",
    topic: "ramps",
  },
  { term: "log", meaning: "The book of everything that was done and found, which only grows.", topic: "log" },
  {
    term: "measure again",
    meaning: "The verdict that the reading cannot say, or that the kit is not fit to.",
    topic: "verdict",
  },
  {
    term: "nut factor",
    meaning: "Torque over force and diameter of a screw: how much of the torque becomes clamp.",
    topic: "closing",
  },
  { term: "order", meaning: "The breakaway torque that the customer asked for, give or take." },
  { term: "outbox", meaning: "What the phone has saved and the workshop has not yet received.", topic: "log" },
  { term: "outing", meaning: "One time out with the car: a run, a session, a stage. What wear is counted in here." },
  { term: "output", meaning: "One of the two shafts or flanges that go to the wheels." },
  { term: "pack", meaning: "The plates of one side.", topic: "friction" },
  {
    term: "customer",
    meaning:
      "Whose a unit is, kept once with how to reach: units name the record, and their lists, sheets and calendar " +
      "say its name. An owner may stay a name that was typed.",
    topic: "papers",
  },
  {
    term: "pattern",
    meaning:
      "A build that the workshop sees again and again: a unit is made its pattern, and a new unit of it takes a " +
      "name and an owner alone. A pattern that changes offers its units the change, and forces none.",
    topic: "patterns",
  },
  {
    term: "permitted deviation",
    meaning: "How far a tool may be off and still meet its standard, in percent of the reading.",
  },
  {
    term: "prediction band",
    meaning: "Where the next reading will lie, nineteen times in twenty, if things go on as they have.",
    topic: "trend",
  },
  { term: "preload", meaning: "The axial force with which the spring squeezes the packs, in newtons.", topic: "stack" },
  { term: "pull scale", meaning: "A spring or electronic scale that is pulled and shows a force.", topic: "bar" },
  {
    term: "ramp angle",
    meaning: "Measured here from the plane of rotation, so a shallow ramp locks hard and one of 90° adds nothing.",
    topic: "ramps",
  },
  {
    term: "ramp ring",
    meaning: "One of the two rings between the packs, with V-shaped seats for the cross pins.",
    topic: "ramps",
  },
  { term: "replace", meaning: "The verdict that a part is past its limit.", topic: "plates" },
  {
    term: "rework",
    meaning: "The verdict that the torque is outside its limits by more than the doubt: the stack must be re-set.",
    topic: "verdict",
  },
  { term: "run in", meaning: "Said of plates that have bedded in, so that they wear evenly.", topic: "friction" },
  { term: "scatter", meaning: "How far repeated readings lie apart: their standard deviation." },
  {
    term: "separator plate",
    meaning:
      "A plate between two friction plates. It turns with the case where they turn with the output, and the other " +
      "way about.",
    topic: "friction",
  },
  { term: "service limits", meaning: "The torques between which a unit may run again; wider than the order." },
  { term: "set", meaning: "A spring that no longer comes back to its free height has set.", topic: "spring" },
  { term: "sheet", meaning: "The build sheet: one page about a unit, to hand over.", topic: "papers" },
  { term: "shelf", meaning: "The plates in stock, by class or by measured thickness.", topic: "shelf" },
  { term: "shim", meaning: "A thin ring that only adds thickness.", topic: "stack" },
  {
    term: "sliding face",
    meaning: "A place where a part that turns with the output rubs on one that turns with the case.",
    topic: "friction",
  },
  {
    term: "solid",
    meaning: "Locked so hard that both wheels turn as one. Of a spring: compressed flat.",
    topic: "ramps",
  },
  { term: "stack", meaning: "The whole chain from cover to floor: plates, rings, spring.", topic: "stack" },
  {
    term: "standing verdict",
    meaning: "What counts for a unit now: the worst of the last look at each of its parts since the rebuild.",
  },
  {
    term: "stated for",
    meaning: "The way of holding that order and limits are meant for. Readings taken the other way are converted.",
    topic: "held",
  },
  { term: "steady turning", meaning: "The torque after it has broken away, while it turns slowly." },
  { term: "taper", meaning: "The difference between a plate's thickest and thinnest point.", topic: "plates" },
  { term: "travel", meaning: "How far a disc spring is squeezed, as a share of what makes it flat.", topic: "spring" },
  { term: "unit", meaning: "One differential." },
  {
    term: "worked out",
    meaning: "Said of a figure that nobody measured: it follows from what was, with a doubt that goes with it.",
    topic: "worked-out",
  },
  {
    term: "answer",
    meaning:
      "What became of a part that a strip found bad: exchanged by a rebuild, put right, or left as it is and why.",
    topic: "found",
  },
  { term: "calendar", meaning: "What is due by day, at an address that a calendar program reads.", topic: "papers" },
  {
    term: "centre of gravity",
    meaning: "The point at which a car would balance. The higher it is, the more a corner shifts to the outer wheels.",
    topic: "car",
  },
  {
    term: "centre unit",
    meaning: "A unit between the axles: its outputs are the shafts to the front and to the rear.",
    topic: "sits",
  },
  {
    term: "change to try",
    meaning: "What was chosen to try against a complaint, kept with the unit until an outing says whether it helped.",
    topic: "complaint",
  },
  {
    term: "closing",
    meaning: "Putting a stripped unit together again, step by step, and signing for it.",
    topic: "closing",
  },
  {
    term: "complaint",
    meaning: "What a driver felt, as one of a list: from it a computed figure is looked for that may be behind it.",
    topic: "complaint",
  },
  {
    term: "contact pattern",
    meaning: "Where the teeth of crown wheel and pinion touch, as marking paste shows it.",
    topic: "contact",
  },
  {
    term: "crown wheel",
    meaning: "The large bevel gear that is screwed to the unit's case and driven by the pinion.",
    topic: "setting",
  },
  { term: "end float", meaning: "How far a gear can be pushed and pulled along its axis.", topic: "inspection" },
  { term: "face", meaning: "Of a tooth: the upper part of its side, towards the tip.", topic: "contact" },
  { term: "final drive", meaning: "Turns of the pinion for one turn of the crown wheel.", topic: "car" },
  {
    term: "flank",
    meaning:
      "Of a tooth: a side that touches the other gear; of a contact pattern, the lower part of that side, at the root.",
    topic: "contact",
  },
  { term: "heel", meaning: "The outer end of a crown wheel's tooth.", topic: "contact" },
  {
    term: "label",
    meaning: "A sticker with a name and a code that leads a phone to a unit, a bag of plates or a tool.",
    topic: "papers",
  },
  { term: "letterhead", meaning: "Name and address of the workshop, as they stand on its sheets.", topic: "papers" },
  {
    term: "like with like",
    meaning: "Of two checks: the same oil, warmth and tool, and neither fresh from a rebuild.",
    topic: "like",
  },
  {
    term: "load transfer",
    meaning: "What a corner takes from the inner wheels and puts onto the outer ones.",
    topic: "corner",
  },
  {
    term: "mark",
    meaning:
      "The number or sign by which a part is told from others of its kind. Small letters and capitals are the same.",
    topic: "marked",
  },
  { term: "marked part", meaning: "A part with a mark, whose life is followed from unit to unit.", topic: "marked" },
  {
    term: "marking paste",
    meaning: "A thin coloured coat on gear teeth, wiped off where they touch.",
    topic: "contact",
  },
  {
    term: "offer",
    meaning: "A change of a pattern, shown to a unit of it: to take, or to keep what it has.",
    topic: "patterns",
  },
  { term: "pinion", meaning: "The small bevel gear that drives the crown wheel.", topic: "setting" },
  { term: "pressure angle", meaning: "How far the side of a tooth leans from straight up.", topic: "setting" },
  { term: "rolling radius", meaning: "How far a loaded tyre rolls in one turn, over 2 π.", topic: "car" },
  {
    term: "run-out",
    meaning: "How far a turning part wobbles: the largest less the smallest reading in one turn.",
    topic: "inspection",
  },
  {
    term: "spiral angle",
    meaning: "How far the teeth of a bevel gear lie across the line to its middle.",
    topic: "setting",
  },
  {
    term: "stay",
    meaning:
      "The time that a marked part spent in one unit, from the entry that put it in to the one that took it out.",
    topic: "marked",
  },
  { term: "strip", meaning: "Taking a unit apart, step by step, and signing for it.", topic: "closing" },
  { term: "toe", meaning: "The inner end of a crown wheel's tooth.", topic: "contact" },
  { term: "track", meaning: "From wheel to wheel of an axle, middle of tread to middle of tread.", topic: "car" },
  {
    term: "turning torque",
    meaning: "What it takes to turn a shaft in its bearings once it turns: it tells how hard the shims press them.",
    topic: "setting",
  },
  { term: "wheelbase", meaning: "From axle to axle.", topic: "car" },
];

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
