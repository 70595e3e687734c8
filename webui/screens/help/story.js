// @ts-check
// What was done to a unit of an example: entries that the engine has judged, as it judges a person's.

/** @typedef {import("../../engine/calculations.js").Calculations} Calculations */
/** Kind of entry; day of May 2026 and hour, as 03T09; and what was typed. @typedef {[string, string, object]} Done */

/**
 * @param {import("./topics.js").Tools["calc"]} calc
 * @param {string} unit
 * @param {Done[]} done in the order in which it was done
 */
export async function story(calc, unit, done) {
  const { kinds } = await calc("about", {});
  return Promise.all(
    done.map(async ([kind, when, body], place) => {
      const calculation = /** @type {keyof Calculations} */ (kinds[kind].calculation);
      const shown = await calc(calculation, /** @type {Calculations[typeof calculation]["request"]} */ (body));
      return { id: `${unit} ${place + 1}`, unit, kind, at: `2026-05-${when}:00:00+02:00`, who: "Example", body, shown };
    }),
  );
}
