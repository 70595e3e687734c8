// @ts-check
// The engine's host on the phone: MicroPython running the server's own engine files.
// Messages in: {id, text}. Messages out: {ready} once, or {dead}; then for each {id, text, grown}, or {id, failed}.

import { loadMicroPython } from "../vendor/micropython-webassembly-pyscript/micropython.mjs";

// MicroPython sweeps its whole heap after every call, so it begins small; a plan over a full shelf makes it grow by
// itself.
const HEAP_BYTES = 1024 * 1024;
// It never shrinks again: where one sweep takes longer than this, a fresh worker is better than ever longer calls.
const SLOW_SWEEP_MS = 8;
// Only what took a while can have made it grow.
const A_WHILE_MS = 100;

/**
 * @param {string} path
 * @returns {Promise<Response>}
 */
async function fetched(path) {
  const answer = await fetch(new URL(path, import.meta.url));
  if (!answer.ok) throw new Error(`${path}: ${answer.status}`);
  return answer;
}

/** @returns {Promise<{calc: (text: string) => string, sweep: () => void}>} */
async function start() {
  /** @type {(answer: Response) => Promise<Record<string, string>>} */
  const named = (answer) => answer.json();
  const [python, files, shim] = await Promise.all([
    loadMicroPython({ heapsize: HEAP_BYTES }),
    fetched("./files.json").then(named),
    fetched("./typing.py").then((answer) => answer.text()),
  ]);
  python.FS.mkdir("/lib");
  python.FS.mkdir("/lib/engine");
  python.FS.writeFile("/lib/typing.py", shim);
  const rooms = new Set(Object.keys(files).flatMap((name) => (name.includes("/") ? [name.split("/")[0]] : [])));
  for (const room of rooms) python.FS.mkdir(`/lib/engine/${room}`);
  for (const [name, text] of Object.entries(files)) python.FS.writeFile(`/lib/engine/${name}`, text);
  python.runPython(
    'import gc, sys\nif "/lib" not in sys.path: sys.path.append("/lib")\nfrom engine import calc_text\n' +
      "def sweep(): gc.collect()",
  );
  return { calc: python.globals.get("calc_text"), sweep: python.globals.get("sweep") };
}

const door = start();
door.then(
  () => postMessage({ ready: true }),
  (error) => postMessage({ dead: String(error?.message ?? error) }),
);

/** @param {{sweep: () => void}} engine */
function sweepMs({ sweep }) {
  // The call itself ends with a sweep as well, so this is two of them.
  const start = performance.now();
  sweep();
  return (performance.now() - start) / 2;
}

let grown = false;

addEventListener("message", async (/** @type {MessageEvent<{id: number, text: string}>} */ { data }) => {
  const engine = await door.catch(() => undefined);
  if (!engine) return;
  try {
    const start = performance.now();
    const text = engine.calc(data.text);
    grown ||= performance.now() - start > A_WHILE_MS && sweepMs(engine) > SLOW_SWEEP_MS;
    postMessage({ id: data.id, text, grown });
  } catch (error) {
    postMessage({ id: data.id, failed: error instanceof Error ? error.message : String(error) });
  }
});
