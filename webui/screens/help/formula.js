// @ts-check
// Formulas as MathML, with the words that say the same made from the same pieces: the two cannot part.

import { html, mathml } from "../../vendor/lit-html/lit-html.js";

/** @typedef {{math: ReturnType<typeof mathml>, words: string}} Piece */
/** @typedef {Piece | string} Part a string is symbols with blanks between them; T_1 has an index */

const SIGNS = /** @type {Record<string, string>} */ ({
  "=": "equals",
  "+": "plus",
  "−": "minus",
  "·": "times",
  "/": "over",
  "≤": "at most",
  "≥": "at least",
  "<": "below",
  ">": "above",
  "±": "plus or minus",
  "(": "(",
  ")": ")",
  "|": "|",
  ",": ",",
  "∑": "sum of",
  "≠": "differs from",
});

/** @param {string} token @returns {Piece} */
function symbol(token) {
  if (token in SIGNS) return { math: mathml`<mo>${token}</mo>`, words: SIGNS[token] };
  if (/^[\d.]+$/.test(token)) return { math: mathml`<mn>${token}</mn>`, words: token };
  // What a function is of stands a little apart from it.
  if (["cos", "cot", "ln", "sin", "tan"].includes(token))
    return { math: mathml`<mi>${token}</mi><mspace width="0.17em"></mspace>`, words: token };
  const [name, index] = token.split("_");
  if (index === undefined) return { math: mathml`<mi>${name}</mi>`, words: name };
  const low = /^\d+$/.test(index) ? mathml`<mn>${index}</mn>` : mathml`<mi>${index}</mi>`;
  return { math: mathml`<msub><mi>${name}</mi>${low}</msub>`, words: `${name} ${index}` };
}

/** Pieces side by side. @param {...Part} parts @returns {Piece} */
export function row(...parts) {
  const pieces = parts.flatMap((part) =>
    typeof part === "string" ? part.split(" ").filter(Boolean).map(symbol) : [part],
  );
  return {
    math: mathml`<mrow>${pieces.map(({ math }) => math)}</mrow>`,
    words: pieces.map(({ words }) => words).join(" "),
  };
}

/** Words that mean more than one thing get brackets. @param {Piece} piece */
function bracketed(piece) {
  return piece.words.includes(" ") ? `(${piece.words})` : piece.words;
}

/** @param {Part} above @param {Part} below @returns {Piece} */
export function over(above, below) {
  const [a, b] = [row(above), row(below)];
  return { math: mathml`<mfrac>${a.math}${b.math}</mfrac>`, words: `${bracketed(a)} over ${bracketed(b)}` };
}

/** @param {Part} inner @returns {Piece} */
export function root(inner) {
  const piece = row(inner);
  return { math: mathml`<msqrt>${piece.math}</msqrt>`, words: `square root of ${bracketed(piece)}` };
}

/** @param {Part} base @param {string} power @returns {Piece} */
export function raised(base, power) {
  const piece = row(base);
  const suffix = power === "2" ? "squared" : `to the power ${power}`;
  return { math: mathml`<msup>${piece.math}<mn>${power}</mn></msup>`, words: `${bracketed(piece)} ${suffix}` };
}

/** A fraction in brackets, squared. @param {Part} above @param {Part} below */
export function squared(above, below) {
  return raised(row("(", over(above, below), ")"), "2");
}

/** A stretch of plain words inside a formula. @param {string} words @returns {Piece} */
export function plainWords(words) {
  return { math: mathml`<mspace width="0.2em"></mspace><mtext>${words}</mtext><mspace width="0.3em"></mspace>`, words };
}

/** A formula on a line of its own. @param {...Part} parts */
export function formula(...parts) {
  const { math, words } = row(...parts);
  return html`<p class="formula"><math display="block" aria-label=${words} alttext=${words}>${math}</math></p>`;
}

/** A symbol in a sentence or a table. @param {Part} part */
export function inline(part) {
  const { math, words } = row(part);
  return html`<math aria-label=${words} alttext=${words}>${math}</math>`;
}
