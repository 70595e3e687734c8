// @ts-check
// What the verdicts mean, how holding changes the reading, and what to beware of.

import { html, render } from "../vendor/lit-html/lit-html.js";
import { heldDrawing } from "../draw/held.js";
import { caution, verdictMark } from "./parts.js";

/** @type {import("../app.js").Show} */
export async function show(place) {
  render(
    html`<h1>Help</h1>
      <section class="card"><h2>What a verdict means</h2>
        <p>${verdictMark("go")} inside the limits by more than the doubt of the reading.</p>
        <p>${verdictMark("rework")} outside by more than the doubt. The parts may be good; the stack must be re-set.</p>
        <p>${verdictMark("replace")} a part is past its limit.</p>
        <p>${verdictMark("measure_again")} the reading is too uncertain to say, or the kit is unfit. Slipbook works out what would help most.</p>
        <p class="quiet">A unit's verdict is the worst of its parts'. The doubt is worked out by JCGM 100 (GUM); the guard band is the
          one-sided 95 % factor of ISO 14253-1 and JCGM 106, so a wrong “go” at a limit is said at most once in twenty.</p>
      </section>
      <section class="card"><h2>How it is held</h2>
        <div class="row">${heldDrawing("bench_output_held")}${heldDrawing("car_one_wheel_down")}</div>
        <p><b>One output held, case free.</b> The case follows at half the speed, so each pack slips at half the speed and the wrench feels
          the mean of the two packs. On the car: one driven wheel down, gearbox in neutral.</p>
        <p class="quiet">Turn the output by a small angle θ. Work of the wrench: T·θ. Work lost in the packs: T₁·θ/2 + T₂·θ/2. So T = (T₁ + T₂)/2.</p>
        <div class="row">${heldDrawing("bench_case_held")}${heldDrawing("car_both_wheels_up")}</div>
        <p><b>Case held, other output free.</b> The other output turns backwards, both packs slip at the full speed, and the wrench feels
          their sum: twice as much. On the car: both driven wheels up, in gear.</p>
        <p class="quiet">Work lost: T₁·θ + T₂·θ. So T = T₁ + T₂. Drag on a free case counts half, drag on the turned wheel counts whole.</p>
      </section>
      <section class="card"><h2>A good reading</h2>
        <ul class="steps"><li>Three readings each way, or more. Turn through a little first.</li>
          <li>Read the steady turning; write down the first move separately.</li>
          <li>Use a tool that reads in the upper four fifths of its scale and whose calibration holds.</li>
          <li>Compare like with like: oil, warmth and outings belong to the reading.</li></ul>
      </section>
      <section class="card"><h2>Before you open it</h2>
        ${caution(html`The disc spring pushes the cover with thousands of newtons. <b>Hold it closed in a vice before the screws are undone
          or tightened</b>, and cover your eyes.`)}
        ${caution(html`A car on stands: level ground, wheels chocked, stands under load-bearing points, nobody under it while you turn.`)}
        <p>The maker's figures and the local rules come first, and a qualified person signs where the rules ask for one. Every limit in
          Slipbook is yours to set; what is only common practice is marked as such.</p>
      </section>
      <section class="card"><h2>Without a connection</h2>
        <p>Everything works without one. What you save waits in the outbox and goes home by itself. Nothing is ever changed or deleted in
          the log: a correction is a new entry, and both stay to be seen.</p>
      </section>`,
    place,
  );
}
