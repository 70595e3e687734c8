// @ts-check
// Stands in for a unit's screen while the phone does not have the unit, and gives way as soon as it does.

import { onChange } from "../../log/changes.js";
import { DEVICE } from "../../log/device.js";
import { database, entriesOf } from "../../log/store.js";
import { html, render } from "../../vendor/lit-html/lit-html.js";
import { backTo } from "../form/fields.js";

/**
 * Whether the phone has the unit that an address is about; addresses of no unit are always at hand.
 * @param {string} path
 */
export async function isHere(path) {
  const id = /^\/unit\/([\w-]+)/.exec(path)?.[1];
  if (!id || id === "new" || id === "start") return true;
  // The list has something to show of it only where its definition is here; else its entries tell.
  const listed = await (await database()).get("listed", id);
  return Boolean(listed?.short) || (await entriesOf(id)).some((entry) => entry.kind === "unit");
}

/** @param {HTMLElement} place @param {string} path @param {() => void} again shows the screen that was asked for */
export function showNotHere(place, path, again) {
  render(
    html`${backTo("#/", "Units")}
      <section class="card" role="status">
        <h1>This unit is not on this ${DEVICE} yet</h1>
        <p>It comes by itself as soon as the workshop can be reached, and this page then opens.</p>
      </section>`,
    place,
  );
  const stop = onChange(async () => {
    if (!(await isHere(path))) return;
    stop();
    again();
  });
  return stop;
}
