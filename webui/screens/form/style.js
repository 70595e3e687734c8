// @ts-check
// A style that one kind of screen alone has: nothing else waits for it.

/** @type {Map<string, Promise<void>>} */
const sheets = new Map();

/** Resolves once a style sheet of this name counts. @param {string} name */
export function style(name) {
  const found = sheets.get(name);
  if (found) return found;
  /** @type {Promise<void>} */
  const loaded = new Promise((resolve, reject) => {
    const link = Object.assign(document.createElement("link"), {
      rel: "stylesheet",
      href: `/style/${name}.css`,
    });
    link.onload = () => resolve();
    link.onerror = () => reject(new Error("The style of this screen could not be loaded."));
    document.head.append(link);
  });
  sheets.set(name, loaded);
  // The next one who asks tries again.
  loaded.catch(() => sheets.delete(name));
  return loaded;
}
