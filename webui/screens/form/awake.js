// @ts-check
// Keeps the screen on while hands are busy, where the browser can.

/** @returns {() => void} lets it sleep again */
export function keepAwake() {
  /** @type {WakeLockSentinel | undefined} */
  let lock;
  const ask = async () => {
    if (document.visibilityState === "visible")
      lock = await navigator.wakeLock?.request("screen").catch(() => undefined);
  };
  ask();
  document.addEventListener("visibilitychange", ask);
  return () => {
    document.removeEventListener("visibilitychange", ask);
    lock?.release();
  };
}
