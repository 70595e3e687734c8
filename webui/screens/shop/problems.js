// @ts-check
// What the workshop's PC found wrong: a clock, shown to all; damage to its log, shown to whoever works at the bench.

import { fact } from "../../log/store.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";

/** What to tell of clocks and of the log, or nothing. */
export async function problemsBanner() {
  const [clocks, log] = await Promise.all([clocksBanner(), logBanner()]);
  return clocks === nothing && log === nothing ? nothing : html`${clocks} ${log}`;
}

async function clocksBanner() {
  const faults = await fact("clockTold", []);
  if (!faults.length) return nothing;
  return html`<section class="card judged measure_again" aria-label="Clocks">
    <h2>A clock is wrong</h2>
    ${faults.map((words) => html`<p>${words}</p>`)}
  </section>`;
}

async function logBanner() {
  const [problems, paired] = await Promise.all([fact("problems", []), fact("paired")]);
  if (!problems.length || paired?.role === "trackside") return nothing;
  return html`<section class="card judged measure_again" aria-label="The workshop's log">
    <h2>The workshop's log needs attention</h2>
    <p>Slipbook works on, and what you save is stored.</p>
    <details>
      <summary>${problems.length === 1 ? "What was found" : `What was found, ${problems.length}`}</summary>
      <div class="inside">
        <ul class="steps">
          ${problems.map((problem) => html`<li>${problem}</li>`)}
        </ul>
      </div>
    </details>
    <details>
      <summary>What to do</summary>
      <div class="inside">
        <ol class="steps">
          <li>At the workshop's PC run <code>slipbook check</code> on its data folder: it says what is damaged.</li>
          <li>Make a backup of the folder as it is, with <code>slipbook backup</code>, before anything else.</li>
          <li>
            Where entries could not be brought back, take them from the last backup before the damage; a phone that
            shows them can save the unit to a file, and the file is imported here.
          </li>
          <li>Look at the disk: files rarely go bad by themselves.</li>
        </ol>
      </div>
    </details>
  </section>`;
}
