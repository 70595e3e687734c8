// @ts-check
// The workshop's letterhead: what stands at the top of the sheets that it hands out.

import { draft as kept } from "../../log/drafts.js";
import { isOf } from "../../log/entries.js";
import { LABELS } from "../../log/labels.js";
import { write } from "../../log/outbox.js";
import { letterhead } from "../../log/stands.js";
import { entry } from "../../log/store.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { saveKey } from "../form/act-key.js";
import { backTo, errorLine, textField } from "../form/fields.js";
import { judging } from "../form/judging.js";
import { signing } from "../form/signing.js";
import { style } from "../form/style.js";
import { pictureOf } from "./mark.js";

// Larger than a mark is ever printed.
const MARK_PX = { width: 480, height: 180 };
const QUALITY = 0.8;

/** @typedef {{name: string, lines: string, mark: string}} Draft */

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {string} [corrected] the entry that is corrected
 * @property {Draft} draft
 * @property {import("../form/signing.js").Signing} sign
 * @property {import("../form/judging.js").Judging<"letterhead">} form
 * @property {string} fault with the picture
 * @property {boolean} saved
 */

/** @param {State} state @param {Partial<Draft>} change */
function set(state, change) {
  state.draft = { ...state.draft, ...change };
  state.saved = false;
  state.form.changed();
}

/** A picture as small as it is printed. @param {File} file @returns {Promise<string>} in base64 */
async function small(file) {
  const picture = await createImageBitmap(file);
  const scale = Math.min(1, MARK_PX.width / picture.width, MARK_PX.height / picture.height);
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(picture.width * scale);
  canvas.height = Math.round(picture.height * scale);
  const pen = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
  pen.fillStyle = "#fff";
  pen.fillRect(0, 0, canvas.width, canvas.height);
  pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
  return canvas.toDataURL("image/jpeg", QUALITY).replace(/^[^,]*,/, "");
}

/** @param {State} state @param {HTMLInputElement} input */
async function choose(state, input) {
  const [file] = input.files ?? [];
  if (!file) return;
  state.fault = "";
  try {
    set(state, { mark: await small(file) });
  } catch {
    state.fault = "This picture cannot be read: choose it as JPEG or PNG.";
    draw(state);
  }
  input.value = "";
}

/** @param {State} state */
const save = (state) =>
  state.form.save(async (body, shown) => {
    state.sign.check();
    await write({ unit: "", kind: "letterhead", body, shown, replaces: state.corrected, draft: "letterhead" });
    state.saved = true;
    draw(state);
  });

/** @param {State} state */
function markFields(state) {
  const { mark } = state.draft;
  return html`${mark ? html`<p><img class="mark-shown" alt="The mark" src=${pictureOf(mark)} /></p>` : nothing}
    <div class="row">
      <label class="button photo"
        >${mark ? "Choose another mark" : "Choose a mark, a picture"}<input
          type="file"
          accept="image/*"
          @change=${(/** @type {{target: HTMLInputElement}} */ event) => choose(state, event.target)}
      /></label>
      ${mark ? html`<button @click=${() => set(state, { mark: "" })}>Without a mark</button>` : nothing}
    </div>
    ${errorLine(state.fault || state.form.error("mark"))}`;
}

/** @param {State} state */
function draw(state) {
  const { draft, form, sign } = state;
  render(
    html`${backTo("#/settings", "Settings")}
      <h1>Letterhead</h1>
      <section class="card">
        <p class="quiet">It stands at the top of the sheets that the workshop hands out.</p>
        ${textField({
          name: "name",
          label: LABELS.letterhead.name,
          value: draft.name,
          error: form.error("name"),
          type: (name) => set(state, { name }),
        })}
        ${textField({
          name: "lines",
          kind: "long",
          label: LABELS.letterhead.lines,
          value: draft.lines,
          error: form.error("lines"),
          type: (lines) => set(state, { lines }),
        })}
        ${markFields(state)} ${sign.field("Saved by")} ${errorLine(form.failed)}
        ${saveKey({ answer: form, words: "Save the letterhead", save: () => save(state) })}
        ${state.saved ? html`<p role="status">It is saved.</p>` : nothing}
      </section>`,
    state.place,
  );
}

/** @type {import("../../app.js").Show} */
export async function show(place, [id]) {
  const [now, sign, old, typed] = await Promise.all([
    letterhead(),
    signing(() => draw(state)),
    id ? entry(id) : undefined,
    kept("letterhead"),
    style("sheet"),
  ]);
  const body = isOf(old, "letterhead") ? old.body : now;
  const draft = { name: body?.name ?? "", lines: body?.lines ?? "", mark: body?.mark ?? "", ...typed };
  const corrected = isOf(old, "letterhead") ? old.id : undefined;
  const state = /** @type {State} */ ({ place, corrected, draft, sign, fault: "", saved: false });
  state.form = judging({
    key: "letterhead",
    calculation: "letterhead",
    request: () => (state.draft.name ? { ...state.draft } : undefined),
    draft: () => state.draft,
    draw: () => draw(state),
  });
  draw(state);
  await state.form.judge();
}
