// @ts-check
// The stack of a definition while it is typed: what it begins with, and which of its parts are alike.

/** As it was typed, in a unit or without, or as the log has it. @typedef {import("../form/fields.js").Typed} Figure */

/**
 * A part of the stack; of a disc spring also which side its point faces. `alike` counts the thicknesses in which its
 * kind comes: parts of one number are typed together.
 * @typedef {{slot: string, part: string, new_mm: Figure, minimum_mm: Figure, cone_to?: string | null,
 *   alike?: number}} Part
 */

/**
 * A stack of a layout, separators at both ends of each pack.
 * @param {string} layout
 * @param {number} friction plates a side
 * @returns {Part[]}
 */
export function chainFor(layout, friction) {
  const part = (/** @type {string} */ slot, /** @type {string} */ kind) => ({
    slot,
    part: kind,
    new_mm: "",
    minimum_mm: "",
    alike: 0,
  });
  const pack = (/** @type {string} */ side) =>
    Array.from({ length: 2 * friction + 1 }, (_, place) =>
      part(`${side}${place + 1}`, place % 2 ? "friction" : "separator"),
    );
  const [first, second] = [part("R1", "ring"), part("R2", "ring")];
  if (layout === "between_rings") return [...pack("A"), first, part("S1", "spring"), second, ...pack("B")];
  return [
    part("S1", "spring"),
    ...pack("A"),
    first,
    second,
    ...pack("B"),
    ...(layout === "two_springs" ? [part("S2", "spring")] : []),
  ];
}

/** A slot's name that the stack does not have yet. @param {Part[]} chain @param {string} side */
export function freeSlot(chain, side) {
  const taken = new Set(chain.map((item) => item.slot));
  for (let number = 1; ; number++) if (!taken.has(`${side}${number}`)) return `${side}${number}`;
}

/** Thicknesses and limit of a part, to tell those that are alike. @param {Part} item */
const figuresOf = ({ new_mm, minimum_mm }) => JSON.stringify([new_mm, minimum_mm]);

/**
 * The stack with each part's number among those of its kind: as it was given, or by what is typed of it.
 * @param {Part[]} chain
 * @returns {Part[]}
 */
export function withAlike(chain) {
  /** @type {Record<string, string[]>} */
  const seen = {};
  return chain.map((item) => {
    seen[item.part] ??= [];
    const kinds = seen[item.part];
    const figures = figuresOf(item);
    if (!kinds.includes(figures)) kinds.push(figures);
    return { ...item, alike: item.alike ?? kinds.indexOf(figures) };
  });
}

/** Places at the ends of a pack, as the stack has them. @param {Part[]} chain @param {number} place */
function isAtAnEnd(chain, place) {
  const isPlate = (/** @type {number} */ beside) => chain[beside] && !["ring", "spring"].includes(chain[beside].part);
  return !isPlate(place - 1) || !isPlate(place + 1);
}

/**
 * The places of a kind's parts that are nearest to the ramp rings, in the pack before them and in the one behind.
 * @param {Part[]} chain
 * @param {string} part
 */
function nearTheRings(chain, part) {
  const kinds = chain.map((item) => item.part);
  const behind = kinds.lastIndexOf("ring");
  return [kinds.slice(0, kinds.indexOf("ring")).lastIndexOf(part), kinds.indexOf(part, behind)];
}

/**
 * The stack with a kind of part in two thicknesses: separators most often have others at the ends of a pack than
 * between, friction plates others at the rings. Whoever has it otherwise moves single plates.
 * @param {Part[]} chain
 * @param {string} part
 * @returns {Part[]}
 */
export function inTwo(chain, part) {
  const places = chain.flatMap((item, place) => (item.part === part ? [place] : []));
  const between = places.filter((place) => !isAtAnEnd(chain, place));
  const others = part === "separator" && between.length ? between : nearTheRings(chain, part);
  const second = part === "ring" ? places.slice(1) : others;
  const blank = { alike: 1, new_mm: "", minimum_mm: "" };
  return chain.map((item, place) =>
    item.part === part ? { ...item, ...(second.includes(place) ? blank : { alike: 0 }) } : item,
  );
}

/**
 * The stack with a part among those of another number, and as thick as they are.
 * @param {Part[]} chain @param {number} place @param {number} alike
 * @returns {Part[]}
 */
export function movedTo(chain, place, alike) {
  const like = chain.find((item) => item.part === chain[place].part && item.alike === alike);
  const figures = like ? { new_mm: like.new_mm, minimum_mm: like.minimum_mm } : { new_mm: "", minimum_mm: "" };
  return chain.map((item, other) => (other === place ? { ...item, ...figures, alike } : item));
}

/**
 * Slots of a pack named by their order once more, where they were.
 * @param {Part[]} chain @param {string} side
 */
function renamed(chain, side) {
  let number = 0;
  return chain.map((item) =>
    new RegExp(`^${side}\\d+$`).test(item.slot) ? { ...item, slot: `${side}${++number}` } : item,
  );
}

/** Friction plates of a pack, as its slots are named. @param {Part[]} chain @param {string} side */
const frictionOf = (chain, side) => chain.filter(({ slot, part }) => slot.startsWith(side) && part === "friction");

/** How many friction plates each pack has: as many as the first. @param {Part[]} chain */
export const frictionAside = (chain) => frictionOf(chain, "A").length;

/**
 * The stack with a friction plate more on each side and a separator beside it, each like its like in the same pack.
 * @param {Part[]} chain
 * @returns {Part[]}
 */
export function withMore(chain) {
  return ["A", "B"].reduce((stack, side) => {
    const [first, friction, inner] = stack.filter(({ slot }) => slot.startsWith(side));
    const separator = inner?.part === "separator" ? inner : first;
    const added = [friction, separator].map((item) => ({ ...item, slot: `${side}0` }));
    return renamed(
      stack.flatMap((item) => (item === first ? [item, ...added] : [item])),
      side,
    );
  }, chain);
}

/**
 * The same with a friction plate less and a separator less on each side, while each pack has more than one.
 * @param {Part[]} chain
 * @returns {Part[]}
 */
export function withFewer(chain) {
  return ["A", "B"].reduce((stack, side) => {
    if (!frictionOf(stack, side).slice(1).length) return stack;
    const [, friction, separator] = stack.filter(({ slot }) => slot.startsWith(side));
    return renamed(
      stack.filter((item) => item !== friction && item !== separator),
      side,
    );
  }, chain);
}
