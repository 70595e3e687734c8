// @ts-check
// Marked parts, as every screen calls them, and the way to the page of each.

/** @typedef {import("../../log/stands.js").MarkedPart["part"]} Part */

/** What a marked part can be. @type {[Part, string][]} */
export const MARKED = [
  ["spring", "Spring"],
  ["ring", "Ramp ring"],
  ["friction", "Friction plate"],
  ["separator", "Separator plate"],
  ["bevel_gears", "Bevel gear, or a set"],
  ["cross_pins", "Cross pin, or a set"],
  ["thrust_washers", "Thrust washer, or a set"],
  ["splines", "Splined part"],
  ["case", "Case"],
  ["cover", "Cover"],
  ["journals", "Bearing journal"],
  ["screws", "Screw set"],
  ["other", "Another part"],
];

/** Where a part that came out is. @type {Record<"stock" | "scrap" | "away", string>} */
export const OUT_TO = { stock: "kept in stock", scrap: "scrapped", away: "left for another workshop" };

/** What a marked part is called. @param {string} part */
export const partWords = (part) => MARKED.find(([name]) => name === part)?.[1].split(",")[0] ?? "Part";

/** Where the page of a marked part is. @param {{part: string, key: string}} marked */
export const toMarked = ({ part, key }) => `#/marked/${part}/${encodeURIComponent(key)}`;
