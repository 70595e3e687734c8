// @ts-check
// How many entries wait, on the icon of the app, where the browser can write there.

let shownCount = -1;

/** @param {number} count */
export async function badge(count) {
  if (count === shownCount) return;
  shownCount = count;
  // Without leave to do so a browser refuses; the tab of the outbox says it as well.
  await (count ? navigator.setAppBadge?.(count) : navigator.clearAppBadge?.())?.catch(() => {});
}
