// @ts-check
// The devices that the workshop lets in: one more by a code, another name, or out again.

import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { NotPaired, Refused, askJson } from "../../log/access.js";
import { known } from "../../log/known.js";
import { focusOn } from "../form/focus.js";
import { backTo, choiceField, choiceKeys, textField, when } from "../form/fields.js";
import { rolesInWords } from "./pair.js";

const LOOK_EVERY_MS = 3000;

/** @typedef {{id: string, name: string, role: string, paired: string, seen: string, revoked: string | null, this: boolean}} Device */
/** @typedef {{code: string, role: string, seconds: number, address: string, addresses: string[], fingerprint: string, qr_svg: string, welcome: string, welcome_qr_svg: string}} Code */

/** @param {string} drawing in SVG */
const picture = (drawing) => `data:image/svg+xml,${encodeURIComponent(drawing)}`;

/** @type {import("../../app.js").Show} */
export async function show(place) {
  const roles = rolesInWords((await known("about")).kinds);
  /** @type {Device[] | undefined} */
  let devices;
  /** Why there is no list. */
  let why = "";
  let told = "";
  let role = "trackside";
  let address = "";
  /** @type {(Code & {ends: number, before: Set<string>}) | undefined} */
  let code;
  /** The one whose name is being changed, and the one that is about to be shut out. */
  const renaming = { id: "", name: "", error: "" };
  let leaving = "";
  let left = false;

  /** @param {unknown} error */
  const reason = (error) =>
    error instanceof Refused && error.status === 404
      ? "Slipbook serves this PC only. To let phones in, stop it and start it again with slipbook serve --lan."
      : /** @type {Error} */ (error).message;

  const look = async () => {
    try {
      ({ devices } = await askJson("/api/devices"));
      why = "";
      const fresh = code && devices?.find((one) => !code?.before.has(one.id));
      if (fresh) {
        told = `${fresh.name} is paired.`;
        code = undefined;
      }
    } catch (error) {
      why = reason(error);
      if (error instanceof NotPaired || error instanceof Refused) devices = undefined;
    }
    if (code && Date.now() > code.ends) {
      told = "The code has run out: make a new one.";
      code = undefined;
    }
    if (!left) draw();
  };

  /** @param {() => Promise<void>} act */
  const attempt = async (act) => {
    told = "";
    try {
      await act();
    } catch (error) {
      told = reason(error);
    }
    await look();
    if (document.activeElement === document.body) focusOn(place, "[aria-invalid=true]", "button.main");
  };

  const makeCode = () =>
    attempt(async () => {
      /** @type {Code} */
      const made = await askJson("/api/pairing", "POST", { role, ...(address ? { address } : {}) });
      code = { ...made, ends: Date.now() + made.seconds * 1000, before: new Set(devices?.map((one) => one.id)) };
    });

  const rename = () =>
    attempt(async () => {
      try {
        await askJson(`/api/devices/${renaming.id}`, "PATCH", { name: renaming.name });
        renaming.id = "";
      } catch (error) {
        if (!(error instanceof Refused) || !error.errors.length) throw error;
        renaming.error = error.errors[0].reason;
      }
    });

  /** @param {Device} one */
  const shutOut = (one) =>
    attempt(async () => {
      await askJson(`/api/devices/${one.id}`, "DELETE");
      leaving = "";
      told = `${one.name} is let in no more. What it wrote stays.`;
    });

  /** @param {Partial<typeof renaming>} now @param {string} [out] */
  const turnTo = (now, out = "") => {
    const was = renaming.id || leaving;
    Object.assign(renaming, { id: "", name: "", error: "" }, now);
    leaving = out;
    draw();
    focusOn(place, ...(now.id ? ["li input"] : out ? ["li button.main"] : [`[data-device="${was}"]`]));
  };

  /** @param {Device} one */
  const row = (one) =>
    html`<li class="card">
      <strong>${one.name}${one.this ? " (this one)" : ""}</strong>
      <p class="quiet">${roles[one.role] ?? one.role}</p>
      <p class="quiet">
        ${one.revoked ? `Shut out ${when(one.revoked)}.` : `Paired ${when(one.paired)}, here last ${when(one.seen)}.`}
      </p>
      ${
        renaming.id === one.id
          ? html`${textField({ name: `name ${one.id}`, label: "Name", value: renaming.name, error: renaming.error, type: (value) => (renaming.name = value) })}
              <div class="row">
                <button class="main" @click=${rename}>Save the name</button
                ><button @click=${() => turnTo({})}>Leave it</button>
              </div>`
          : leaving === one.id
            ? html`<p>
                  Shut out ${one.name}? It can be paired again, and what waits in its outbox stays there until then.
                </p>
                <div class="row">
                  <button class="main" @click=${() => shutOut(one)}>Shut it out</button
                  ><button @click=${() => turnTo({})}>Leave it in</button>
                </div>`
            : html`<div class="row">
                <button
                  data-device=${one.id}
                  aria-label=${`Rename ${one.name}`}
                  @click=${() => turnTo({ id: one.id, name: one.name })}
                >
                  Rename
                </button>
                ${one.revoked ? nothing : html`<button class="plain" aria-label=${`Shut out ${one.name}`} @click=${() => turnTo({}, one.id)}>Shut out</button>`}
              </div>`
      }
    </li>`;

  const codeCard = () =>
    code
      ? html`<section class="card" aria-label="Pairing code">
          <details>
            <summary>The phone is here for the first time</summary>
            <div class="inside">
              <p>It has to trust this PC's certificate before: this leads it to ${code.welcome}, which says how.</p>
              <img
                class="code"
                alt="QR code that leads a phone to the certificate"
                src=${picture(code.welcome_qr_svg)}
              />
              <p class="quiet">The fingerprint that it has to show: ${code.fingerprint}</p>
            </div>
          </details>
          <p>Point the phone's camera at this, or open Slipbook there, Settings, Pair this phone, and type the code.</p>
          <img class="code" alt="QR code that opens pairing on a phone" src=${picture(code.qr_svg)} />
          <p class="figure">${code.code}</p>
          <p class="quiet">
            Good for one phone until
            ${new Date(code.ends).toLocaleTimeString(undefined, { hour: "2-digit", minute: "2-digit" })}. It leads to
            ${code.address.split("#")[0]}
          </p>
          ${
            code.addresses.length > 1
              ? choiceField({
                  name: "address",
                  label: "If the phone finds nothing there, make a code for another address of this PC",
                  value: code.address.split("#")[0],
                  options: code.addresses.map(
                    (/** @type {string} */ one) => /** @type {[string, string]} */ ([one, one]),
                  ),
                  choose: (value) => {
                    address = value;
                    makeCode();
                  },
                })
              : nothing
          }
        </section>`
      : nothing;

  const draw = () =>
    render(
      html`${backTo("#/settings", "Settings")}
        <h1>Devices</h1>
        <p role="status">${told}</p>
        ${why ? html`<section class="card"><p class="error">${why}</p></section>` : nothing}
        ${
          devices
            ? html`<section class="card">
                  <h2>Let a phone in</h2>
                  ${choiceKeys({
                    name: "role",
                    label: "It works",
                    short: true,
                    value: role,
                    options: Object.keys(roles).map((one) => ({ value: one, words: one })),
                    choose: (value) => {
                      role = value;
                      draw();
                    },
                  })}
                  <p class="quiet">${roles[role]}</p>
                  <button class="main" @click=${makeCode}>Make a pairing code</button>
                </section>
                ${codeCard()}
                ${
                  devices.length
                    ? html`<ul class="list">
                        ${devices.map(row)}
                      </ul>`
                    : html`<p>No device was let in yet.</p>`
                }`
            : nothing
        }`,
      place,
    );

  await look();
  // While a code is open, somebody waits here for the phone to appear.
  const timer = setInterval(() => code && look(), LOOK_EVERY_MS);
  return () => {
    left = true;
    clearInterval(timer);
  };
}
