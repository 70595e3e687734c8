// @ts-check
// The engine's host on the phone: MicroPython running the server's own engine files.
// Messages in: {id, text}. Messages out: {ready} once, or {dead}; then for each {id, text}, or {id, failed}.

import { loadMicroPython } from "../vendor/micropython-webassembly-pyscript/micropython.mjs";

// Enough for a plan over a full shelf; MicroPython takes it from the browser's memory at the start.
const HEAP_BYTES = 32 * 1024 * 1024;

/**
 * @param {string} path
 * @returns {Promise<Response>}
 */
async function fetched(path) {
  const answer = await fetch(new URL(path, import.meta.url));
  if (!answer.ok) throw new Error(`${path}: ${answer.status}`);
  return answer;
}

/** @returns {Promise<(text: string) => string>} */
async function start() {
  const [python, files, shim] = await Promise.all([
    loadMicroPython({ heapsize: HEAP_BYTES }),
    fetched("./files.json").then((answer) => answer.json()),
    fetched("./typing.py").then((answer) => answer.text()),
  ]);
  python.FS.mkdir("/lib");
  python.FS.mkdir("/lib/engine");
  python.FS.writeFile("/lib/typing.py", shim);
  for (const [name, text] of Object.entries(files)) python.FS.writeFile(`/lib/engine/${name}`, text);
  python.runPython('import sys\nif "/lib" not in sys.path: sys.path.append("/lib")\nfrom engine import calc_text');
  return python.globals.get("calc_text");
}

const door = start();
door.then(
  () => postMessage({ ready: true }),
  (error) => postMessage({ dead: String(error?.message ?? error) }),
);

addEventListener("message", async ({ data }) => {
  const calc = await door.catch(() => undefined);
  if (!calc) return;
  try {
    postMessage({ id: data.id, text: calc(data.text) });
  } catch (error) {
    postMessage({ id: data.id, failed: String(/** @type {any} */ (error)?.message ?? error) });
  }
});
