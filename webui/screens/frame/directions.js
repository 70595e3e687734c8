// @ts-check
// Text that is written from right to left stands in lines that are written from left to right, and turns nothing round
// that stands beside it: neither a name in Hebrew or Arabic, nor a control character that came with a text that was
// pasted. What is stored stays as it was typed; this is about what is shown, in whatever sentence or table.

// Letters from right to left, and the marks that count as one (Unicode Standard Annex 9: R, AL, AN).
const RIGHT_TO_LEFT = "\\u0590-\\u08ff\\u200f\\ufb1d-\\ufdff\\ufe70-\\ufefc\\u{10800}-\\u{10fff}\\u{1e800}-\\u{1efff}";
// What turns round all up to the end of its paragraph, where nothing closes it.
const OPENS_OR_CLOSES = /[\u202a-\u202e\u2066-\u2069]/gu;
const CONCERNED = new RegExp(`[${RIGHT_TO_LEFT}\\u202a-\\u202e\\u2066-\\u2069]`, "u");
// Words of one name; a figure or a comma between two may be of the sentence.
const NAMES = new RegExp(
  `[${RIGHT_TO_LEFT}](?:[ \\xa0'"’\\u0300-\\u036f\\-]*[${RIGHT_TO_LEFT}\\u0300-\\u036f])*`,
  "gu",
);
const FROM_RIGHT = "\u2067";
const END = "\u2069";

/**
 * A text whose parts from right to left stand alone, so that all beside them keeps its place.
 * @param {string} text
 */
export function steady(text) {
  if (!CONCERNED.test(text)) return text;
  return text.replace(OPENS_OR_CLOSES, "").replace(NAMES, (name) => `${FROM_RIGHT}${name}${END}`);
}

/** @param {Text} text What is written here comes back as a change, and is steady then. */
function steadyText(text) {
  const shown = steady(text.data);
  if (shown !== text.data) text.data = shown;
}

/** @param {Node} root */
function steadyAll(root) {
  if (root instanceof Text) return steadyText(root);
  // Far faster than a visit of each element.
  const walker = document.createTreeWalker(root, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) steadyText(/** @type {Text} */ (walker.currentNode));
}

/** Keep all text steady that is ever shown. @param {Node} root of what is shown */
export function keepSteady(root) {
  steadyAll(root);
  new MutationObserver((changes) => {
    for (const { type, target, addedNodes } of changes) {
      if (type === "characterData") steadyAll(target);
      else for (const node of addedNodes) steadyAll(node);
    }
  }).observe(root, { childList: true, characterData: true, subtree: true });
}
