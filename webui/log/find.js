// @ts-check
// Finding by what somebody remembers: parts of words, in any order, accents and capitals ignored.

// Letters that no accent can be taken from.
const PLAIN = /** @type {Record<string, string>} */ ({
  ø: "o",
  æ: "ae",
  œ: "oe",
  ß: "ss",
  ł: "l",
  đ: "d",
  ð: "d",
  þ: "th",
});

/** A text as it is compared. @param {string} text */
const plain = (text) =>
  text
    .toLowerCase()
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .replace(/[øæœßłđðþ]/g, (letter) => PLAIN[letter]);

/**
 * Whether a text has every part of what is sought.
 * @param {string} sought parts of words; blank finds everything
 * @returns {(text: string) => boolean}
 */
export function finder(sought) {
  const parts = plain(sought).split(/\s+/).filter(Boolean);
  if (!parts.length) return () => true;
  return (text) => {
    const held = plain(text);
    return parts.every((part) => held.includes(part));
  };
}
