// @ts-check
// The sample book is marked above every screen, and left with one tap; the key that opens it.

import { leaveSamples } from "../../log/book.js";
import { reasonOf } from "../../log/storage-fault.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { actKey } from "../form/act-key.js";

/** Takes the place of the bar that says how the log stands: there is none. @param {HTMLElement} place */
export function samplesBar(place) {
  document.documentElement.dataset.book = "samples";
  // What another app shares belongs into a log.
  if (location.hash.startsWith("#/shared")) return leaveSamples(location.hash);
  render(
    html`<p><b>Sample book:</b> nothing here reaches your log</p>
      <button @click=${() => leaveSamples()}>Back to your log</button>`,
    place,
  );
}

/** A key that opens the sample book, and what it says meanwhile. @param {() => void} draw */
export function samplesKey(draw) {
  let busy = false;
  let fault = "";
  const show = async () => {
    [busy, fault] = [true, ""];
    draw();
    try {
      const { openSamples } = await import("../../log/samples.js");
      await openSamples();
    } catch (failure) {
      [busy, fault] = [false, reasonOf(failure)];
      draw();
    }
  };
  return () => html`${actKey({
    words: busy ? "Laying out the sample units…" : "Look at sample units",
    ready: !busy,
    act: show,
  })}
    ${fault ? html`<p class="error" role="alert">${fault}</p>` : nothing}`;
}
