// @ts-check
// Photos that another app shared: which unit, which part, what they show. Until then they wait here.

import { BadInput } from "../../engine/door.js";
import { DEVICE } from "../../log/device.js";
import { addPhoto } from "../../log/photos.js";
import { dropShared, putBack, sharedPhotos } from "../../log/shared.js";
import { standing } from "../../log/stands.js";
import { reasonOf } from "../../log/storage-fault.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { unitChoice } from "../check/choose.js";
import { actKey } from "../form/act-key.js";
import { backTo, choiceField, errorLine, textField } from "../form/fields.js";
import { signing } from "../form/signing.js";

/** @typedef {import("../../log/shared.js").Shared} Shared */
/** @typedef {{unit_id: string, unit: {name: string, owner?: string | null}}} Unit */

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {Shared[]} photos that wait, of which the first is shown
 * @property {Map<number, string>} addresses of the photos in this page
 * @property {Unit & {chain: {slot: string, part: string}[]}} [unit] that was chosen for the photo
 * @property {string} slot
 * @property {string} text what the photo shows
 * @property {string} fault
 * @property {string} message what came of the last tap
 * @property {boolean} busy
 * @property {Shared} [deleted] the photo that was deleted last, for a thumb that slipped
 * @property {import("../form/signing.js").Signing} sign
 * @property {() => unknown} choice the list of units
 */

const NO_ROOM =
  `The ${DEVICE} had no room for the photo that was shared. It is still where it was taken: free some space, and ` +
  "share it again.";

/** @param {HTMLElement} place @param {string[]} params @returns {Promise<State>} */
async function opened(place, [failed]) {
  const [photos, sign] = await Promise.all([sharedPhotos(), signing(() => draw(state))]);
  const typed = { slot: "", text: photos[0]?.text ?? "" };
  const messages = { fault: failed ? NO_ROOM : "", message: "", busy: false };
  const state = /** @type {State} */ ({ place, photos, addresses: new Map(), ...typed, ...messages, sign });
  state.choice = unitChoice(
    () => draw(state),
    (unit) => unitKey(state, unit),
  );
  return state;
}

/** @param {State} state @param {Shared} photo */
function addressOf({ addresses }, photo) {
  const address = addresses.get(photo.id) ?? URL.createObjectURL(photo.blob);
  addresses.set(photo.id, address);
  return address;
}

/** @param {State} state @param {Partial<State>} change */
function set(state, change) {
  Object.assign(state, change);
  draw(state);
}

/** Show the first of those that wait now. @param {State} state */
async function showNext(state) {
  const photos = await sharedPhotos();
  set(state, { photos, text: photos[0]?.text ?? "", slot: "" });
}

/** @param {State} state @param {Unit} unit */
async function chooseUnit(state, unit) {
  const { derived } = await standing(unit.unit_id);
  set(state, { unit: { ...unit, chain: derived?.checked?.chain ?? [] } });
}

/** @param {State} state */
async function keep(state) {
  const { unit, slot, text, photos } = state;
  if (state.busy || !unit) return;
  set(state, { busy: true, fault: "", message: "" });
  try {
    state.sign.check();
    await addPhoto(photos[0].blob, { unit: unit.unit_id, slot, text });
    // Only now, with its entry written, may it go from here.
    await dropShared(photos[0].id);
    state.message = `The photo is with ${unit.unit.name}.`;
    state.sign = await signing(() => draw(state));
    await showNext(state);
  } catch (failure) {
    if (!(failure instanceof BadInput && failure.field === "who")) state.fault = reasonOf(failure);
  }
  set(state, { busy: false });
}

/** @param {State} state */
async function deletePhoto(state) {
  const [deleted] = state.photos;
  Object.assign(state, { deleted, message: "", fault: "" });
  await dropShared(deleted.id);
  await showNext(state);
}

/** @param {State} state @param {Shared} deleted */
async function undoDelete(state, deleted) {
  await putBack(deleted);
  state.deleted = undefined;
  await showNext(state);
}

/** @param {State} state @param {Unit} unit */
const unitKey = (state, unit) =>
  html`<li>
    <button class="choice" @click=${() => chooseUnit(state, unit)}>
      ${unit.unit.name}${unit.unit.owner ? html` <span class="quiet">${unit.unit.owner}</span>` : nothing}
    </button>
  </li>`;

/** @param {State} state @param {{slot: string, part: string}[]} chain */
const partField = (state, chain) =>
  choiceField({
    name: "slot",
    label: "Which part?",
    value: state.slot,
    options: [["", "the unit as a whole"], ...chain.map(partOption)],
    choose: (slot) => set(state, { slot }),
  });

/** @param {{slot: string, part: string}} item @returns {[string, string]} */
const partOption = ({ slot, part }) => [slot, `${slot}, ${part}`];

/** @param {State} state @param {NonNullable<State["unit"]>} unit */
const aboutSection = (state, { unit, chain }) =>
  html`<section class="card">
    <div class="row apart">
      <h2>${unit.name}</h2>
      <button class="plain" @click=${() => set(state, { unit: undefined })}>Another unit</button>
    </div>
    ${partField(state, chain)}
    ${textField({
      name: "text",
      label: "What the photo shows",
      value: state.text,
      type: (text) => set(state, { text }),
    })}
    ${state.sign.fieldIfUnknown("Taken by")}${errorLine(state.fault)}
    ${actKey({
      words: state.busy ? "Shrinking…" : "Keep it with this unit",
      ready: !state.busy,
      act: () => keep(state),
      look: "main big",
    })}
  </section>`;

/** @param {State} state @param {Shared} photo */
const photoSections = (state, photo) =>
  html`<section class="card">
      <img class="photo shared" src=${addressOf(state, photo)} alt="The photo that was shared" />
      <p class="quiet">It stays on this ${DEVICE} until you choose its unit.</p>
      <button class="plain" @click=${() => deletePhoto(state)}>Delete it</button>
    </section>
    ${
      state.unit
        ? aboutSection(state, state.unit)
        : html`<h2>Which unit does it show?</h2>
            ${state.choice()}${errorLine(state.fault)}`
    }`;

/** @param {State} state */
function screen(state) {
  const { photos, message, deleted, fault } = state;
  return html`${backTo("#/", "Units")}
    <h1>${photos.length > 1 ? `${photos.length} shared photos` : "Shared photo"}</h1>
    ${message ? html`<p role="status">${message}</p>` : nothing}
    ${
      deleted
        ? html`<button @click=${() => undoDelete(state, deleted)}>Bring back the photo that was deleted</button>`
        : nothing
    }
    ${
      photos.length
        ? photoSections(state, photos[0])
        : html`<section class="card">
            <p>No shared photo waits for its unit.</p>
            ${errorLine(fault)}
          </section>`
    }`;
}

/** @param {State} state */
function draw(state) {
  render(screen(state), state.place);
}

/** @type {import("../../app.js").Show} */
export async function show(place, params) {
  const state = await opened(place, params);
  draw(state);
  return () => {
    for (const address of state.addresses.values()) URL.revokeObjectURL(address);
  };
}
