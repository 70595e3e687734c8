// @ts-check
// The pages of Help, each in a script of its own; they are listed in topics.js.

import { style } from "../form/style.js";

/** @typedef {{purpose: import("./topics.js").Words, page: (tools: import("./topics.js").Tools) =>
 *   Promise<import("./topics.js").Page>}} Lesson what a method is for, and the rest of its page */

/** By name. @type {Map<string | undefined, () => Promise<Lesson>>} */
const LESSONS = new Map([
  ["adapter", () => import("./adapter.js")],
  ["bar", () => import("./bar.js")],
  ["car", () => import("./car.js")],
  ["closing", () => import("./closing.js")],
  ["complaint", () => import("./complaint.js")],
  ["contact", () => import("./contact.js")],
  ["corner", () => import("./corner.js")],
  ["experience", () => import("./experience.js")],
  ["found", () => import("./found.js")],
  ["friction", () => import("./friction.js")],
  ["held", () => import("./held.js")],
  ["in-part", () => import("./in-part.js")],
  ["inspection", () => import("./inspection.js")],
  ["like", () => import("./like.js")],
  ["log", () => import("./log.js")],
  ["loss", () => import("./loss.js")],
  ["marked", () => import("./marked.js")],
  ["outings", () => import("./outings.js")],
  ["papers", () => import("./papers.js")],
  ["pasting", () => import("./pasting.js")],
  ["patterns", () => import("./patterns.js")],
  ["plan", () => import("./plan.js")],
  ["plates", () => import("./plates.js")],
  ["ramps", () => import("./ramps.js")],
  ["refit", () => import("./refit.js")],
  ["rings", () => import("./rings.js")],
  ["setting", () => import("./setting.js")],
  ["shelf", () => import("./shelf.js")],
  ["sits", () => import("./sits.js")],
  ["spring", () => import("./spring.js")],
  ["stack", () => import("./stack.js")],
  ["traction", () => import("./traction.js")],
  ["trend", () => import("./trend.js")],
  ["verdict", () => import("./verdict.js")],
  ["worked-out", () => import("./worked-out.js")],
]);

/**
 * What a page of Help shows, once there is also what it looks like; nothing of the index and of Words.
 * @param {string} [name]
 */
export async function lessonOf(name) {
  const [lesson] = await Promise.all([LESSONS.get(name)?.(), style("help"), style("lessons")]);
  return lesson;
}
