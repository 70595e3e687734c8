// @ts-check
// Stands first in the script that the build makes of the first screens, and brings the others from their own scripts. A
// checkout has no use for it: there every module is fetched by itself.

/** @typedef {Record<string, unknown>} Module what a module exports, by name */

/** Every module of the first script by its path. @type {Record<string, Module>} */
const shared = {};

/** What runs a module of another script that is here, by its path. @type {Record<string, () => Module>} */
const parts = {};

/** The names of all other scripts. @type {string[]} */
const scripts = [];

/** Those that are here or on their way, by name. @type {Record<string, Promise<void>>} */
const fetched = {};

/** @param {string} name of a script */
function fetchScript(name) {
  fetched[name] ??= new Promise((resolve, reject) => {
    const script = document.createElement("script");
    script.src = `/${name}`;
    script.onload = () => resolve();
    script.onerror = () => {
      // The next one who asks tries again.
      delete fetched[name];
      script.remove();
      reject(new Error("This part of the app could not be loaded."));
    };
    document.head.append(script);
  });
  return fetched[name];
}

/** A module that is here; it runs when it is first wanted. @param {string} path */
const run = (path) => shared[path] ?? parts[path]();

Object.assign(globalThis, {
  slipbook: {
    shared,
    parts,
    scripts,
    run,
    /**
     * Stands for `import()`.
     * @param {string} path
     * @param {string[]} names of the scripts that it needs, as the build puts them there; by hand all of them
     */
    part: async (path, ...names) => {
      // The first script may ask before it has come to its end, where it enters its modules.
      await undefined;
      if (!shared[path]) await Promise.all((names.length ? names : scripts).map(fetchScript));
      return run(path);
    },
  },
});
