// @ts-check
// The engine's host on the phone: MicroPython running the server's own engine files.
// Messages in: {name, id, text}, or {name} for a calculation that will be asked. Messages out: {ready} once, or {dead};
// then for each text {id, text, grown}, or {id, failed}.

import { loadMicroPython } from "../vendor/micropython-webassembly-pyscript/micropython.mjs";

// MicroPython sweeps its whole heap after every call, so it begins small; a plan over a full shelf makes it grow by
// itself.
const HEAP_BYTES = 1024 * 1024;
// It never shrinks again: where one sweep takes longer than this, a fresh worker is better than ever longer calls.
const SLOW_SWEEP_MS = 8;
// Only what took a while can have made it grow.
const A_WHILE_MS = 100;
// The engine reads what a calculation needs when it is asked for it, and the rest once nobody has asked for so long.
const QUIET_MS = 4000;

/**
 * @param {string} path
 * @returns {Promise<Response>}
 */
async function fetched(path) {
  const answer = await fetch(new URL(path, import.meta.url));
  if (!answer.ok) throw new Error(`${path}: ${answer.status}`);
  return answer;
}

/**
 * @typedef {object} Engine
 * @property {(text: string) => string} calc
 * @property {(name: string) => void} readFor
 * @property {() => boolean} readMore
 * @property {() => void} sweep
 */

/**
 * Files that came in one: a line with the size of each by its name, then their contents.
 * @param {Uint8Array} joined
 * @returns {[string, Uint8Array][]}
 */
function apart(joined) {
  const end = joined.indexOf(10);
  const sizes = JSON.parse(new TextDecoder().decode(joined.subarray(0, end)));
  let start = end + 1;
  return Object.entries(sizes).map(([name, size]) => {
    start += size;
    return [name, joined.subarray(start - size, start)];
  });
}

/** @returns {Promise<Engine>} */
async function start() {
  const [python, joined] = await Promise.all([
    loadMicroPython({ heapsize: HEAP_BYTES }),
    fetched("./files.bin").then((answer) => answer.arrayBuffer()),
  ]);
  const folders = new Set();
  python.FS.mkdir("/lib");
  for (const [name, data] of apart(new Uint8Array(joined))) {
    const parts = `/lib/${name}`.split("/");
    const file = parts.pop() ?? "";
    const folder = parts.join("/");
    if (!folders.has(folder)) python.FS.mkdirTree(folder);
    folders.add(folder);
    // The last: these bytes are its own, and need not be copied.
    python.FS.createDataFile(folder, file, data, true, false, true);
  }
  python.runPython(
    'import gc, sys\nif "/lib" not in sys.path: sys.path.append("/lib")\n' +
      "from engine import calc_text, read_for, read_more\n" +
      "def sweep(): gc.collect()",
  );
  return {
    calc: python.globals.get("calc_text"),
    readFor: python.globals.get("read_for"),
    readMore: python.globals.get("read_more"),
    sweep: python.globals.get("sweep"),
  };
}

/**
 * What a browser reads once to write days and to put names in order, it keeps for its pages as well: read here, while
 * the engine is on its way, it does not hold up a page, which took a phone 130 ms.
 */
function readWays() {
  new Intl.DateTimeFormat(undefined, { day: "numeric", month: "short" });
  new Intl.Collator(undefined, { numeric: true });
}

const door = start();
readWays();
door.then(
  () => postMessage({ ready: true }),
  (error) => postMessage({ dead: String(error?.message ?? error) }),
);

/** @param {Engine} engine */
function sweepMs({ sweep }) {
  // The call itself ends with a sweep as well, so this is two of them.
  const start = performance.now();
  sweep();
  return (performance.now() - start) / 2;
}

let grown = false;

/** @type {ReturnType<typeof setTimeout> | undefined} */
let quiet;

/** Reads the rest of the engine piece by piece, so that a call never waits for more than one. @param {Engine} engine */
function readOn(engine) {
  try {
    if (engine.readMore()) quiet = setTimeout(readOn, 0, engine);
  } catch {
    // Whoever asks for it is told.
  }
}

/** @param {Engine} engine @param {{id: number, text: string}} asked */
function answer(engine, { id, text }) {
  const start = performance.now();
  const result = engine.calc(text);
  grown ||= performance.now() - start > A_WHILE_MS && sweepMs(engine) > SLOW_SWEEP_MS;
  postMessage({ id, text: result, grown });
}

addEventListener("message", async (/** @type {MessageEvent<{name: string, id: number, text?: string}>} */ { data }) => {
  const engine = await door.catch(() => undefined);
  if (!engine) return;
  clearTimeout(quiet);
  const { name, id, text } = data;
  try {
    // Apart from the call, since what is read for the first time takes a while too.
    engine.readFor(name);
    if (text !== undefined) answer(engine, { id, text });
  } catch (error) {
    if (text !== undefined) postMessage({ id, failed: error instanceof Error ? error.message : String(error) });
  }
  quiet = setTimeout(readOn, QUIET_MS, engine);
});
