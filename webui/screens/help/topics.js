// @ts-check
// The pages of Help, in the order of the job.

/** @typedef {import("../form/fields.js").Template} Template */
/** @typedef {import("../form/fields.js").Words} Words */

/**
 * What stands on its page below what it is for, once the engine has worked out its figures.
 * @typedef {object} Page
 * @property {Template} figures its drawings
 * @property {Template} working how it is worked out
 * @property {{title: string, text: Template}} [deeper] for those who want to follow it step by step
 * @property {[import("./formula.js").Part, string, string][]} [symbols] symbol, meaning, unit
 * @property {Template} example with figures from the engine
 * @property {Words[]} limits when not to trust it
 * @property {Words[]} sources
 * @property {string[]} words terms of the glossary that it uses
 */

/**
 * @typedef {object} Tools
 * @property {typeof import("../../engine/door.js").calc} calc the engine
 * @property {import("../form/fields.js").Reading} read how this person reads figures
 */

/**
 * @typedef {object} Topic
 * @property {string} name
 * @property {string} title
 * @property {string} about
 * @property {() => Promise<{purpose: Words, page: (tools: Tools) => Promise<Page>}>} load what it is for, and the rest
 */

/** @type {{title: string, topics: Topic[]}[]} */
export const GROUPS = [
  {
    title: "Torque",
    topics: [
      {
        name: "held",
        title: "How it is held",
        about: "why the same unit reads once or twice its torque",
        load: () => import("./held.js"),
      },
      {
        name: "adapter",
        title: "Wrench with an adapter",
        about: "what a longer or bent wrench really puts on",
        load: () => import("./adapter.js"),
      },
      {
        name: "bar",
        title: "Pull scale or weight on a bar",
        about: "torque from a force and a length",
        load: () => import("./bar.js"),
      },
      {
        name: "verdict",
        title: "Verdict and guard band",
        about: "what go means, and why it says measure again",
        load: () => import("./verdict.js"),
      },
    ],
  },
  {
    title: "Parts",
    topics: [
      {
        name: "in-part",
        title: "A unit known in part",
        about: "what each figure gives, and what a torque stands in for",
        load: () => import("./in-part.js"),
      },
      {
        name: "sits",
        title: "Where it sits",
        about: "front axle, rear axle, or between the axles",
        load: () => import("./sits.js"),
      },
      {
        name: "plates",
        title: "Measuring plates",
        about: "lowest point, taper, flatness, limit",
        load: () => import("./plates.js"),
      },
      {
        name: "stack",
        title: "Stack and crush",
        about: "from thickness to how far the spring is squeezed",
        load: () => import("./stack.js"),
      },
      {
        name: "spring",
        title: "Disc spring",
        about: "its curve, its danger zones, and when it has set",
        load: () => import("./spring.js"),
      },
      {
        name: "friction",
        title: "Faces and friction",
        about: "from preload to torque",
        load: () => import("./friction.js"),
      },
      {
        name: "worked-out",
        title: "What cannot be measured",
        about: "depth, free height and friction worked out, with their doubt",
        load: () => import("./worked-out.js"),
      },
      {
        name: "rings",
        title: "Ramp rings and pins",
        about: "how deep a step may be worn",
        load: () => import("./rings.js"),
      },
      {
        name: "inspection",
        title: "Inspecting other parts",
        about: "gears, pins, washers, case and screws, and what a gauge may be off by",
        load: () => import("./inspection.js"),
      },
      {
        name: "marked",
        title: "Marked parts",
        about: "what goes with a part from unit to unit",
        load: () => import("./marked.js"),
      },
    ],
  },
  {
    title: "Over the season",
    topics: [
      {
        name: "loss",
        title: "Where the preload went",
        about: "plates, spring or friction",
        load: () => import("./loss.js"),
      },
      {
        name: "like",
        title: "Two checks side by side",
        about: "oil, warmth, wrench: what makes two readings unlike",
        load: () => import("./like.js"),
      },
      {
        name: "trend",
        title: "Trend and next opening",
        about: "when the limit will be met",
        load: () => import("./trend.js"),
      },
      {
        name: "outings",
        title: "Outings and service",
        about: "what is counted, and what is due by it",
        load: () => import("./outings.js"),
      },
      {
        name: "plan",
        title: "Planning a rebuild",
        about: "the fewest plates to change, and what proven means",
        load: () => import("./plan.js"),
      },
      {
        name: "shelf",
        title: "The shelf keeps itself",
        about: "what rebuilds take and return, what a count settles, what to buy",
        load: () => import("./shelf.js"),
      },
      {
        name: "experience",
        title: "From builds so far",
        about: "a plan without the spring, and wear before the first trend",
        load: () => import("./experience.js"),
      },
      {
        name: "closing",
        title: "Strip and close",
        about: "what the vice and the screws must hold",
        load: () => import("./closing.js"),
      },
      {
        name: "found",
        title: "What a strip found",
        about: "part by part, what to order, and what became of it",
        load: () => import("./found.js"),
      },
      {
        name: "refit",
        title: "Back into the axle",
        about: "backlash, bearings, screws",
        load: () => import("./refit.js"),
      },
      {
        name: "setting",
        title: "Setting a crown wheel",
        about: "which shims to move, and what tries teach",
        load: () => import("./setting.js"),
      },
      {
        name: "contact",
        title: "Contact pattern",
        about: "where the paste is wiped off, and what to move",
        load: () => import("./contact.js"),
      },
    ],
  },
  {
    title: "On the road",
    topics: [
      { name: "ramps", title: "Ramps", about: "lock on drive and on coast", load: () => import("./ramps.js") },
      { name: "traction", title: "Traction", about: "what two wheels put down", load: () => import("./traction.js") },
      {
        name: "car",
        title: "A car's figures",
        about: "weights, tyres, engine and gears, measured or usual",
        load: () => import("./car.js"),
      },
      {
        name: "corner",
        title: "In a corner",
        about: "nose out, tail out, and which wheel slides",
        load: () => import("./corner.js"),
      },
      {
        name: "complaint",
        title: "From complaint to change",
        about: "the figure behind what a driver felt, and what to change",
        load: () => import("./complaint.js"),
      },
    ],
  },
  {
    title: "The book",
    topics: [
      {
        name: "log",
        title: "Log, corrections, outbox",
        about: "why nothing is lost and nothing is rubbed out",
        load: () => import("./log.js"),
      },
      {
        name: "patterns",
        title: "Patterns",
        about: "what a new unit takes, and what a change offers",
        load: () => import("./patterns.js"),
      },
      {
        name: "papers",
        title: "Customers, sheets, labels, calendar",
        about: "what leaves the book, and what stands on it",
        load: () => import("./papers.js"),
      },
      {
        name: "pasting",
        title: "Tables and pasting",
        about: "kit and shelf as tables, and what becomes of a pasted one",
        load: () => import("./pasting.js"),
      },
    ],
  },
];

/** @param {string} name */
export function topicOf(name) {
  return GROUPS.flatMap((group) => group.topics).find((topic) => topic.name === name);
}
