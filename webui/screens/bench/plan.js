// @ts-check
// Plan a rebuild: the torque that is wanted, the shelf, and the best choice with its proof, as a picture.

import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { calc } from "../../engine/door.js";
import { draft as kept, keepDraft } from "../../log/drafts.js";
import { shelf, standing } from "../../log/stands.js";
import { entriesOf } from "../../log/store.js";
import { curvesDrawing } from "../../draw/curves.js";
import { stackDrawing } from "../../draw/stack.js";
import { focusOn } from "../form/focus.js";
import { heightBetween, thicknessNow } from "../unit/as-it-stands.js";
import { worked } from "../form/worked.js";
import { judging } from "../form/judging.js";
import { backTo, choiceField, errorLine, numberField, quantity, reading, unitSwitch } from "../form/fields.js";

/** @type {import("../../app.js").Show} */
export async function show(place, [id]) {
  const [read, found, pieces, entries] = await Promise.all([reading(), standing(id), shelf(), entriesOf(id)]);
  const definition = found.derived.checked;
  const live = entries.filter((entry) => !found.replaced[entry.id]);
  const height = heightBetween(live, found.rebuilt ? Date.parse(found.rebuilt.at) : -Infinity, Infinity);
  const unit = height ? { ...definition, spring: { ...definition.spring, l0_mm: height } } : definition;
  const key = `plan/${id}`;
  /** What was ordered, in a unit of torque. @param {string} unitOfTorque */
  const ordered = (unitOfTorque) => {
    const { factor, places } = read.units.nm.find((one) => one.unit === unitOfTorque) ?? read.units.nm[0];
    const say = (/** @type {number} */ nm) => (nm / factor).toFixed(Math.max(1, places));
    return { torque: say(unit.order.torque_nm), tolerance: say(unit.order.tolerance_nm), unit: unitOfTorque };
  };
  /** @type {{torque: string, tolerance: string, unit: string, keep: string[]}} */
  let draft = (await kept(key)) ?? { ...ordered(read.torqueUnit), keep: [] };
  const switching = unitSwitch(() => draw());

  /** What was ordered is written in the other unit; what somebody typed is asked about. @param {string} to */
  const changeUnit = (to) => {
    const order = ordered(draft.unit);
    if (draft.torque === order.torque && draft.tolerance === order.tolerance) set(ordered(to));
    else switching.choose("unit", [draft.torque, draft.tolerance], draft.unit, to, (chosen) => set({ unit: chosen }));
  };

  const request = () => {
    const plates = unit.chain.filter((/** @type {any} */ item) => item.part !== "spring" && item.part !== "ring");
    return {
      unit,
      fitted: plates.map((/** @type {any} */ item) => {
        const row = found.by_slot[item.slot];
        return {
          slot: item.slot,
          mm: thicknessNow(found, item.slot, item.new_mm),
          ...(draft.keep.includes(item.slot) ? { keep: true } : {}),
          ...(row?.verdict === "replace" ? { replace: true } : {}),
        };
      }),
      ...(found.torque ? { measured: { torque_nm: found.torque.value_nm, expanded_nm: found.torque.guard_nm } } : {}),
      wanted: {
        torque_nm: quantity(draft.torque, draft.unit) ?? "",
        tolerance_nm: quantity(draft.tolerance, draft.unit) ?? "",
      },
      shelf: pieces,
      write_in: read.torqueUnit,
      write_lengths_in: read.lengthUnit,
      // They can take many times as long as the plan, and are worked out when somebody asks for them.
      alternatives: false,
    };
  };
  /** The other ways to what `asked` wants, once they were asked for. @type {{asked: any, rows?: any[], failed?: string}} */
  let others = { asked: undefined };
  const lookFurther = async () => {
    const asked = form.judged;
    others = { asked };
    draw();
    focusOn(place, "#others");
    try {
      others = { asked, rows: (await calc("plan", { ...asked, alternatives: true })).alternatives };
    } catch (error) {
      others = { asked, failed: /** @type {Error} */ (error).message };
    }
    draw();
  };
  const form = judging({
    key,
    calculation: "plan",
    request: () => (pieces.length ? request() : undefined),
    draft: () => draft,
    draw: () => draw(),
  });
  /** @param {Partial<typeof draft>} change */
  const set = (change) => {
    draft = { ...draft, ...change };
    form.changed();
  };

  /** @param {any} result */
  const pictures = (result) => {
    const springHeight = unit.spring.l0_mm;
    const of = (
      /** @type {(row: any) => number} */ mm,
      /** @type {(row: any) => string | undefined} */ told,
      /** @type {(row: any) => string | undefined} */ mark,
    ) => {
      const rows = Object.fromEntries(result.stack.map((/** @type {any} */ row) => [row.slot, row]));
      return unit.chain
        .filter((/** @type {any} */ item) => item.part === "spring" || rows[item.slot])
        .map((/** @type {any} */ item) => {
          const row = rows[item.slot];
          return {
            slot: item.slot,
            part: item.part,
            thickness: row ? mm(row) : null,
            told: row ? told(row) : undefined,
            verdict: row ? mark(row) : undefined,
          };
        });
    };
    return html`<div class="pair">
      <div>
        <h3>Now</h3>
        ${stackDrawing({
          parts: of(
            (row) => row.was_mm ?? row.mm,
            () => undefined,
            () => undefined,
          ),
          springHeight,
          crush: result.now.crush_mm,
          say: read.length,
          half: true,
        })}
      </div>
      <div>
        <h3>Then</h3>
        ${stackDrawing({
          parts: of(
            (row) => row.mm,
            (row) => (row.action === "keep" ? undefined : read.length(row.mm)),
            (row) => (row.action === "keep" ? undefined : "rework"),
          ),
          springHeight,
          crush: result.crush_mm,
          say: read.length,
          half: true,
        })}
      </div>
    </div>`;
  };

  /** @param {any} result */
  const curve = (result) => {
    const points = result.curve;
    return curvesDrawing({
      series: [
        {
          name: "",
          points: points.map((/** @type {any} */ point) => ({ x: point.added_mm, y: read.torqueIn(point.torque_nm) })),
        },
      ],
      marks: [
        { x: 0, name: "now" },
        ...(result.possible ? [{ x: result.solids_mm - result.now.solids_mm, name: "planned" }] : []),
      ],
      zones: result.zones.map((/** @type {any} */ zone) => ({ from: zone.from_mm, to: zone.to_mm, name: zone.name })),
      band: {
        low: read.torqueIn(result.wanted_nm.torque_nm - result.wanted_nm.tolerance_nm),
        high: read.torqueIn(result.wanted_nm.torque_nm + result.wanted_nm.tolerance_nm),
      },
      xName: "thickness added, mm",
      yName: read.torqueLabel,
      words: "Breakaway torque against the thickness that is added to the stack.",
    });
  };

  /** @param {any} result */
  const answer = (result) => {
    if (!result.possible)
      return html`<section class="card judged rework" aria-live="polite">
        <h2>It cannot be had from this shelf</h2>
        <p>${result.proof.text}</p>
        ${
          result.ways.length
            ? html`<h3>What would make it possible</h3>
                <ul class="steps">
                  ${result.ways.map((/** @type {string} */ way) => html`<li>${way}</li>`)}
                </ul>`
            : nothing
        }
        ${
          result.alternatives.length
            ? html`<h3>Other ways</h3>
                ${alternatives(result.alternatives)}`
            : nothing
        }
      </section>`;
    const swaps = result.stack.filter((/** @type {any} */ row) => row.action !== "keep");
    return html`<section class="card" aria-live="polite">
        <h2>${result.proven ? "The best choice" : "A good choice"}</h2>
        <p class="figure">
          ${read.torque(result.torque_nm)}
          <small
            >may come out ${read.torqueFigure(result.spread_nm.low_nm)} to
            ${read.torqueFigure(result.spread_nm.high_nm)}</small
          >
        </p>
        ${
          swaps.length
            ? html`<table>
                <thead>
                  <tr>
                    <th scope="col">Place</th>
                    <th scope="col">Out</th>
                    <th scope="col">In</th>
                  </tr>
                </thead>
                <tbody>
                  ${swaps.map(
                    (/** @type {any} */ row) =>
                      html`<tr>
                        <th scope="row">${row.slot}</th>
                        <td>${row.was_mm ? read.length(row.was_mm) : "–"}</td>
                        <td>${row.action === "take_out" ? "taken out" : `${row.piece}, ${read.length(row.mm)}`}</td>
                      </tr>`,
                  )}
                </tbody>
              </table>`
            : html`<p>Nothing has to change.</p>`
        }
        <p class="quiet">${result.proof.text}</p>
        ${worked("plan", "How this is worked out, and what proven means")}
        ${result.warnings.map((/** @type {any} */ one) => html`<p class="finding doubt">${one.text}</p>`)}
        <button
          class="main"
          @click=${async () => {
            const fitted = swaps
              .filter((/** @type {any} */ row) => row.action !== "take_out")
              .map((/** @type {any} */ row) => ({ slot: row.slot, mm: String(row.mm), piece: row.piece }));
            await keepDraft(`rebuild/${id}`, {
              fitted,
              oil: "",
              spring: "",
              note: `To ${read.torque(result.wanted_nm.torque_nm)}: planned ${read.torque(result.torque_nm)}.`,
            });
            location.hash = `#/unit/${id}/rebuild`;
          }}
        >
          Rebuild it like this
        </button>
      </section>
      <section class="card">
        <h2>Now and then</h2>
        ${pictures(result)}${curve(result)}
      </section>
      <section class="card" aria-live="polite">${furtherWays()}</section>`;
  };

  const furtherWays = () => {
    const body = () => {
      if (others.asked !== form.judged)
        return html`<p class="quiet">A shim, another spring or another order of the plates.</p>
          <button @click=${lookFurther}>Work them out</button>`;
      if (others.failed) return errorLine(others.failed);
      if (!others.rows) return html`<p role="status">Working them out: a full shelf takes a phone some seconds.</p>`;
      return others.rows.length
        ? alternatives(others.rows)
        : html`<p>There is none: no shim and no other spring is in stock, and the plates go in no other order.</p>`;
    };
    // The heading stays while what is below it changes, and the focus on it.
    return html`<h2 id="others" tabindex="-1">Other ways</h2>
      ${body()}`;
  };

  /** @param {any[]} ways */
  const alternatives = (ways) =>
    ways.map(
      (one) =>
        html`<p class="finding">
          <b>${one.about}</b>:
          ${
            one.possible
              ? `${read.torque(one.torque_nm)} with ${one.changes} ${one.changes === 1 ? "change" : "changes"}`
              : "not possible from this shelf"
          }. <span class="quiet">Changes ${String(one.affects).replaceAll("_", " ")}.</span>
        </p>`,
    );

  const draw = () =>
    render(
      html`<div class="full">
          ${backTo(`#/unit/${id}`, found.unit.name)}
          <h1>Plan the rebuild</h1>
        </div>
        <div class="screen">
          <section class="card">
            <h2>Wanted</h2>
            <div class="pair">
              ${numberField({ name: "wanted.torque_nm", label: "Breakaway torque", value: draft.torque, error: form.error("wanted.torque_nm"), type: (torque) => set({ torque }) })}
              ${numberField({ name: "wanted.tolerance_nm", label: "Give or take", value: draft.tolerance, error: form.error("wanted.tolerance_nm"), type: (tolerance) => set({ tolerance }) })}
            </div>
            ${choiceField({ name: "unit", label: "Unit", value: draft.unit, options: read.units.nm.map((one) => /** @type {[string, string]} */ ([one.unit, one.label])), choose: changeUnit })}
            ${switching.question("unit", read.units.nm)}
            <p class="quiet">
              ${found.torque ? html`Reckoned from the last check, ${read.torque(found.torque.value_nm)}, and the plates as they were measured.` : "No check stands for this stack."}
            </p>
          </section>
          <section class="card">
            <h2>Plates that must stay</h2>
            <div class="keys">
              ${unit.chain
                .filter((/** @type {any} */ item) => item.part !== "spring" && item.part !== "ring")
                .map(
                  (/** @type {any} */ item) =>
                    html`<button
                      class="small"
                      aria-pressed=${draft.keep.includes(item.slot)}
                      @click=${() =>
                        set({
                          keep: draft.keep.includes(item.slot)
                            ? draft.keep.filter((slot) => slot !== item.slot)
                            : [...draft.keep, item.slot],
                        })}
                    >
                      ${draft.keep.includes(item.slot) ? "✓ " : ""}${item.slot}
                    </button>`,
                )}
            </div>
          </section>
          <section class="card">
            <h2>Shelf</h2>
            <p>
              ${pieces.length ? `${pieces.length} classes and pieces, ${pieces.reduce((/** @type {number} */ sum, /** @type {any} */ one) => sum + one.count, 0)} plates.` : "The shelf is empty: count it first."}
            </p>
            <a class="button" href="#/shelf">Count the shelf</a>
          </section>
        </div>
        <div class="screen">
          ${form.result ? answer(form.result) : nothing}
          ${form.bad ? html`<section class="card">${errorLine(form.bad.reason)}</section>` : nothing}${errorLine(form.failed)}
        </div>`,
      place,
    );
  place.classList.add("wide");
  draw();
  await form.judge();
}
