// @ts-check
// Tells this tab and the others that what is stored has changed.

const channel = new BroadcastChannel("slipbook-log");
/** @type {Set<() => void>} */
const listeners = new Set();
/** @type {ReturnType<typeof setTimeout> | undefined} */
let timer;
let due = Infinity;
const SOON_MS = 30;
// Many pages of a log may come in a row: screens are drawn for several of them at once.
export const SOME_MS = 1000;
channel.addEventListener("message", ({ data }) => tellListeners(data));

/** @param {number} within */
function tellListeners(within) {
  if (due <= performance.now() + within) return;
  clearTimeout(timer);
  due = performance.now() + within;
  timer = setTimeout(() => {
    due = Infinity;
    for (const listener of listeners) listener();
  }, within);
}

/** Tell all that show something of it. @param {number} [within] how soon, in ms */
export function changed(within = SOON_MS) {
  channel.postMessage(within);
  tellListeners(within);
}

/**
 * Call `listener` whenever what is stored has changed, here or in another tab; never twice at once: while it is at
 * work, any number of changes make one more call.
 * @param {() => unknown} listener
 */
export function onChange(listener) {
  let busy = false;
  let again = false;
  const call = async () => {
    again = true;
    if (busy) return;
    busy = true;
    try {
      while (again) {
        again = false;
        await listener();
      }
    } finally {
      busy = false;
    }
  };
  listeners.add(call);
  return () => listeners.delete(call);
}
