// @ts-check
// Stands first in the script that the build makes of the first screens, and brings the others from a second one. A
// checkout has no use for it: there every module is fetched by itself.

/** @typedef {Record<string, unknown>} Module what a module exports, by name */

/** Every module of the first script by its path. @type {Record<string, Module>} */
const shared = {};

/** What runs a module of the second script. @type {Record<string, () => Promise<Module>>} */
const parts = {};

/** @type {Promise<void> | undefined} */
let second;

function fetchSecond() {
  second ??= new Promise((resolve, reject) => {
    const script = document.createElement("script");
    script.src = "/later.js";
    script.onload = () => resolve();
    script.onerror = () => {
      // The next one who asks tries again.
      second = undefined;
      script.remove();
      reject(new Error("This part of the app could not be loaded."));
    };
    document.head.append(script);
  });
  return second;
}

Object.assign(globalThis, {
  slipbook: {
    shared,
    parts,
    /** Stands for `import()`. @param {string} path */
    part: async (path) => {
      // The first script may ask before it has come to its end, where it enters its modules.
      await undefined;
      if (shared[path]) return shared[path];
      if (!parts[path]) await fetchSecond();
      return parts[path]();
    },
  },
});
