// @ts-check
// Keeps the screen on while hands are busy, where the browser can.

/** @returns {() => void} lets it sleep again */
export function keepAwake() {
  /** @type {WakeLockSentinel | undefined} */
  let lock;
  let over = false;
  const ask = async () => {
    if (document.visibilityState !== "visible") return;
    lock = await navigator.wakeLock?.request("screen").catch(() => undefined);
    // Somebody left the screen before the browser had answered.
    if (over) lock?.release();
  };
  ask();
  document.addEventListener("visibilitychange", ask);
  return () => {
    over = true;
    document.removeEventListener("visibilitychange", ask);
    lock?.release();
  };
}
