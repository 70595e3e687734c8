// @ts-check
// The devices that the workshop lets in: one more by a code, another name, or out again.

import { askJson, NotPaired, Refused } from "../../log/access.js";
import { closedTo, inWords } from "../../log/kinds.js";
import { known } from "../../log/known.js";
import { anything, group, list, number, perhaps, text, yesNo } from "../../log/shape.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { backTo, choiceField, choiceKeys, textField, when, withCapital } from "../form/fields.js";
import { focusOn } from "../form/focus.js";
import { rolesInWords } from "./pair.js";

const LOOK_EVERY_MS = 3000;

/**
 * @typedef {object} Device
 * @property {string} id
 * @property {string} name
 * @property {string} role
 * @property {string} paired when it was
 * @property {string} seen when it was here last
 * @property {string | null} [revoked] when it was shut out
 * @property {boolean} this whether it is the one that asks
 */

/** @type {import("../../log/shape.js").Fits<Device>} */
const isDevice = group({
  id: text,
  name: text,
  role: text,
  paired: text,
  seen: text,
  revoked: perhaps(text),
  this: yesNo,
});
const areDevices = group({ devices: list(isDevice) });

/**
 * @typedef {object} Code
 * @property {string} code
 * @property {string} role
 * @property {number} seconds that it is good for
 * @property {string} address that it leads to
 * @property {string[]} addresses of this PC
 * @property {string} fingerprint of the certificate; empty, as all of it, if phones trust it already
 * @property {string} qr_svg
 * @property {string} welcome address that leads to the certificate
 * @property {string} welcome_qr_svg
 */

/** @type {import("../../log/shape.js").Fits<Code>} */
const isCode = group({
  code: text,
  role: text,
  seconds: number,
  address: text,
  addresses: list(text),
  fingerprint: text,
  qr_svg: text,
  welcome: text,
  welcome_qr_svg: text,
});

/**
 * @typedef {object} State
 * @property {HTMLElement} place
 * @property {Record<string, import("../../log/kinds.js").Kind>} kinds of entry
 * @property {Record<string, string>} roles what each role may do
 * @property {Device[]} [devices]
 * @property {string} fault why there is no list
 * @property {string} message what came of the last tap
 * @property {string} role that the next code lets in with
 * @property {string} address that the next code leads to, if one was chosen
 * @property {Code & {ends: number, before: Set<string>}} [code] that is open, with the devices before it
 * @property {{id: string, name: string, error: string}} renaming the device whose name is being changed
 * @property {string} shuttingOut id of the device that is about to be shut out
 * @property {boolean} left whether the screen was left
 */

/** A source for an image. @param {string} drawing in SVG */
const picture = (drawing) => `data:image/svg+xml,${encodeURIComponent(drawing)}`;

/** @param {unknown} error */
const reasonOf = (error) =>
  error instanceof Refused && error.status === 404
    ? "Slipbook serves this PC only. To let phones in, stop it and start it again with slipbook serve --lan."
    : /** @type {Error} */ (error).message;

/** Read the list anew, and see what became of an open code. @param {State} state */
async function refresh(state) {
  try {
    state.devices = (await askJson("/api/devices", areDevices)).devices;
    state.fault = "";
    const paired = state.code && state.devices.find(({ id }) => !state.code?.before.has(id));
    if (paired) {
      state.message = `${paired.name} is paired.`;
      state.code = undefined;
    }
  } catch (error) {
    state.fault = reasonOf(error);
    if (error instanceof NotPaired || error instanceof Refused) state.devices = undefined;
  }
  if (state.code && Date.now() > state.code.ends) {
    state.message = "The code has run out: make a new one.";
    state.code = undefined;
  }
  if (!state.left) draw(state);
}

/** Do something, say what came of it, and read the list anew. @param {State} state @param {() => Promise<void>} act */
async function attempt(state, act) {
  state.message = "";
  try {
    await act();
  } catch (error) {
    state.message = reasonOf(error);
  }
  await refresh(state);
  if (document.activeElement === document.body) focusOn(state.place, "[aria-invalid=true]", "button.main");
}

/** @param {State} state */
function makeCode(state) {
  return attempt(state, async () => {
    const { role, address } = state;
    // Whoever came in by the last code may not be in the list yet, and did not use this one.
    state.devices = (await askJson("/api/devices", areDevices)).devices;
    const code = await askJson("/api/pairing", isCode, "POST", { role, ...(address ? { address } : {}) });
    const before = new Set(state.devices.map(({ id }) => id));
    state.code = { ...code, ends: Date.now() + code.seconds * 1000, before };
  });
}

/** @param {State} state */
function rename(state) {
  const { renaming } = state;
  return attempt(state, async () => {
    try {
      await askJson(`/api/devices/${renaming.id}`, anything, "PATCH", { name: renaming.name });
      renaming.id = "";
    } catch (error) {
      if (!(error instanceof Refused) || !error.errors.length) throw error;
      renaming.error = error.errors[0].reason;
    }
  });
}

/** @param {State} state @param {Device} device */
function shutOut(state, { id, name }) {
  return attempt(state, async () => {
    await askJson(`/api/devices/${id}`, anything, "DELETE");
    state.shuttingOut = "";
    state.message = `${name} is shut out. What it wrote stays.`;
  });
}

/**
 * Begin to rename or shut out a device, or leave off.
 * @param {State} state @param {{rename?: Device, shutOut?: Device}} begun
 */
function turnTo(state, begun) {
  const before = state.renaming.id || state.shuttingOut;
  state.renaming = { id: begun.rename?.id ?? "", name: begun.rename?.name ?? "", error: "" };
  state.shuttingOut = begun.shutOut?.id ?? "";
  draw(state);
  if (begun.rename) focusOn(state.place, "li input");
  else if (begun.shutOut) focusOn(state.place, "li button.main");
  else focusOn(state.place, `[data-device="${before}"]`);
}

/** @param {State} state @param {Device} device */
const renameFields = (state, { id }) =>
  html`${textField({
    name: `name ${id}`,
    label: "Name",
    value: state.renaming.name,
    error: state.renaming.error,
    type: (name) => {
      state.renaming.name = name;
    },
  })}
    <div class="row">
      <button class="main" @click=${() => rename(state)}>Save the name</button
      ><button @click=${() => turnTo(state, {})}>Cancel</button>
    </div>`;

/** @param {State} state @param {Device} device */
const shutOutQuestion = (state, device) =>
  html`<p>Shut out ${device.name}? It can be paired again, and what waits in its outbox stays there until then.</p>
    <div class="row">
      <button class="main" @click=${() => shutOut(state, device)}>Shut it out</button
      ><button @click=${() => turnTo(state, {})}>Leave it in</button>
    </div>`;

/** @param {State} state @param {Device} device */
const deviceKeys = (state, device) =>
  html`<div class="row">
    <button
      data-device=${device.id}
      aria-label=${`Rename ${device.name}`}
      @click=${() => turnTo(state, { rename: device })}
    >
      Rename
    </button>
    ${
      device.revoked
        ? nothing
        : html`<button
            class="plain"
            aria-label=${`Shut out ${device.name}`}
            @click=${() => turnTo(state, { shutOut: device })}
          >
            Shut out
          </button>`
    }
  </div>`;

/** @param {State} state @param {Device} device */
function deviceCard(state, device) {
  const { id, name, role, revoked, paired, seen } = device;
  const actions = state.renaming.id === id ? renameFields : state.shuttingOut === id ? shutOutQuestion : deviceKeys;
  return html`<li class="card">
    <strong>${name}${device.this ? " (this one)" : ""}</strong>
    <p class="quiet">${state.roles[role] ?? role}</p>
    <p class="quiet">${revoked ? `Shut out ${when(revoked)}.` : `Paired ${when(paired)}, here last ${when(seen)}.`}</p>
    ${actions(state, device)}
  </li>`;
}

/** How a phone that was never here comes to trust the PC. @param {Code} code */
const firstTime = ({ welcome, welcome_qr_svg, fingerprint }) =>
  html`<details>
    <summary>The phone is here for the first time</summary>
    <div class="inside">
      <p>First it has to trust this PC's certificate: this code leads it to ${welcome}, which says how.</p>
      <img class="code" alt="QR code that leads a phone to the certificate" src=${picture(welcome_qr_svg)} />
      <p class="quiet">The fingerprint that it has to show: ${fingerprint}</p>
    </div>
  </details>`;

/** @param {State} state @param {Code} code */
function addressField(state, { address, addresses }) {
  if (addresses.length <= 1) return nothing;
  return choiceField({
    name: "address",
    label: "If the phone finds nothing there, make a code for another address of this PC",
    value: address.split("#")[0],
    options: addresses.map((known) => [known, known]),
    choose: (chosen) => {
      state.address = chosen;
      makeCode(state);
    },
  });
}

/** @param {State} state */
function codeSection(state) {
  const { code } = state;
  if (!code) return nothing;
  const until = new Date(code.ends).toLocaleTimeString(undefined, { hour: "2-digit", minute: "2-digit" });
  return html`<section class="card" aria-label="Pairing code">
    ${code.welcome ? firstTime(code) : nothing}
    <p>Point the phone's camera at this, or open Slipbook there, Settings, Pair this phone, and type the code.</p>
    <img class="code" alt="QR code that opens pairing on a phone" src=${picture(code.qr_svg)} />
    <p class="figure">${code.code}</p>
    <p class="quiet">Good for one phone until ${until}. It leads to ${code.address.split("#")[0]}</p>
    ${addressField(state, code)}
  </section>`;
}

/** What a role may not write, one by one. @param {ReturnType<typeof closedTo>} closed */
const closedList = (closed) =>
  closed.length
    ? html`<details>
        <summary>What is kept to the bench</summary>
        <div class="inside">
          ${closed.map(({ area, kinds }) => html`<p><b>${withCapital(area)}:</b> ${inWords(kinds)}.</p>`)}
        </div>
      </details>`
    : nothing;

/** @param {State} state */
const letInSection = (state) =>
  html`<section class="card">
    <h2>Let a phone in</h2>
    ${choiceKeys({
      name: "role",
      label: "Its role",
      short: true,
      value: state.role,
      options: Object.keys(state.roles).map((role) => ({ value: role, words: role })),
      choose: (role) => {
        state.role = role;
        draw(state);
      },
    })}
    <p class="quiet">${state.roles[state.role]}</p>
    ${closedList(closedTo(state.kinds, state.role))}
    <button class="main" @click=${() => makeCode(state)}>Make a pairing code</button>
  </section>`;

/** @param {State} state @param {Device[]} devices */
const deviceList = (state, devices) =>
  devices.length
    ? html`<ul class="list">
        ${devices.map((device) => deviceCard(state, device))}
      </ul>`
    : html`<p>No device was let in yet.</p>`;

/** @param {State} state */
const screen = (state) =>
  html`${backTo("#/settings", "Settings")}
    <h1>Devices</h1>
    <p role="status">${state.message}</p>
    ${state.fault ? html`<section class="card"><p class="error">${state.fault}</p></section>` : nothing}
    ${
      state.devices ? html`${letInSection(state)} ${codeSection(state)} ${deviceList(state, state.devices)}` : nothing
    }`;

/** @param {State} state */
function draw(state) {
  render(screen(state), state.place);
}

/** @type {import("../../app.js").Show} */
export async function show(place) {
  const { kinds } = await known("about");
  /** @type {State} */
  const state = {
    place,
    kinds,
    roles: rolesInWords(kinds),
    fault: "",
    message: "",
    role: "trackside",
    address: "",
    renaming: { id: "", name: "", error: "" },
    shuttingOut: "",
    left: false,
  };
  await refresh(state);
  // While a code is open, somebody waits here for the phone to appear.
  const timer = setInterval(() => state.code && refresh(state), LOOK_EVERY_MS);
  return () => {
    state.left = true;
    clearInterval(timer);
  };
}
