// @ts-check
// Says above a screen, before anything is typed there, that the workshop takes what it writes from the bench alone.

import { DEVICE } from "../../log/device.js";
import { keptOn, NOT_LET_IN, roleNow } from "../../log/kinds.js";
import { known } from "../../log/known.js";
import { html, render } from "../../vendor/lit-html/lit-html.js";

/** The name of the screen at an address, as kinds of entry have it. @param {string} path */
function screenAt(path) {
  if (path === "/unit/new" || path === "/unit/start") return "change";
  if (/^\/(unit\/[\w-]+\/another|patterns\/[\w-]+\/unit)$/.test(path)) return "change";
  if (path.startsWith("/patterns")) return "pattern";
  if (path.startsWith("/customers")) return "customer";
  // A class of plates is only looked at there.
  if (path.startsWith("/shelf/bag/")) return "";
  const [, first, , third] = path.split("/");
  return (first === "unit" ? third : first) ?? "";
}

/** What to say at an address, or nothing. @param {string} path */
async function words(path) {
  const [{ kinds }, role] = await Promise.all([known("about"), roleNow()]);
  const kept = keptOn(kinds, screenAt(path), role);
  if (!kept) return undefined;
  if (role === NOT_LET_IN)
    return html`This ${DEVICE} is not paired: what you write waits here until it is, and the workshop takes
      ${kept.nouns} only from one that is paired for the bench. <a href="#/pair">Pair it</a>`;
  return html`The workshop takes ${kept.nouns} from the bench alone, and this ${DEVICE} is paired for ${role}. What you
    write here waits in the <a href="#/outbox">outbox</a>, which says how it gets to the bench.`;
}

/**
 * @param {HTMLElement} main where screens are shown
 * @param {() => string} pathNow
 * @returns {() => Promise<void>} to be called whenever the screen or what this phone may do has changed
 */
export function benchNotice(main, pathNow) {
  let place = document.createElement("div");
  return async () => {
    const path = pathNow();
    const sentence = await words(path);
    if (path !== pathNow()) return;
    if (!sentence) return place.remove();
    // It went with the screen that it stood above.
    if (!place.isConnected) place = document.createElement("div");
    render(
      html`<aside class="card judged measure_again" role="note" aria-label=${`What this ${DEVICE} may write`}>
        <p>${sentence}</p>
      </aside>`,
      place,
    );
    if (main.firstElementChild !== place) main.prepend(place);
  };
}
