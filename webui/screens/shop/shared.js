// @ts-check
// Photos that another app shared: which unit, which part, what they show. Until then they wait here.

import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { addPhoto } from "../../log/photos.js";
import { dropShared, putBack, sharedPhotos } from "../../log/shared.js";
import { standing } from "../../log/stands.js";
import { unitChoice } from "../check/choose.js";
import { backTo, choiceField, errorLine, textField } from "../form/fields.js";
import { signing } from "../form/signing.js";

/** @type {import("../../app.js").Show} */
export async function show(place, [failed]) {
  let photos = await sharedPhotos();
  /** @type {Map<number, string>} */
  const addresses = new Map();
  let sign = await signing(() => draw());
  /** @type {any} */
  let unit;
  let slot = "";
  let text = photos[0]?.text ?? "";
  let fault = failed
    ? "The phone had no room for the photo that was shared. It is still where it was taken: free some space, and share it again."
    : "";
  let told = "";
  let busy = false;
  /** The one that was thrown away last, for a thumb that slipped. @type {import("../../log/shared.js").Shared | undefined} */
  let thrown;

  const address = (/** @type {import("../../log/shared.js").Shared} */ photo) => {
    if (!addresses.has(photo.id)) addresses.set(photo.id, URL.createObjectURL(photo.blob));
    return /** @type {string} */ (addresses.get(photo.id));
  };

  const next = async () => {
    photos = await sharedPhotos();
    text = photos[0]?.text ?? "";
    slot = "";
    draw();
  };

  const keep = async () => {
    if (busy) return;
    busy = true;
    fault = told = "";
    draw();
    try {
      sign.check();
      await addPhoto(photos[0].blob, { unit: unit.unit_id, slot, text });
      // Only now, with its entry written, may it go from here.
      await dropShared(photos[0].id);
      told = `The photo is with ${unit.unit.name}.`;
      sign = await signing(() => draw());
      await next();
    } catch (failure) {
      const { field, message } = /** @type {any} */ (failure);
      if (field !== "who") fault = message;
    }
    busy = false;
    draw();
  };

  const throwAway = async () => {
    thrown = photos[0];
    told = fault = "";
    await dropShared(thrown.id);
    await next();
  };

  const choice = unitChoice(
    () => draw(),
    (one) =>
      html`<li>
        <button
          class="choice"
          @click=${async () => {
            unit = { ...one, derived: (await standing(one.unit_id)).derived };
            draw();
          }}
        >
          ${one.unit.name}${one.unit.owner ? html` <span class="quiet">${one.unit.owner}</span>` : nothing}
        </button>
      </li>`,
  );

  const about = () =>
    html`<section class="card">
      <div class="row apart">
        <h2>${unit.unit.name}</h2>
        <button
          class="plain"
          @click=${() => {
            unit = undefined;
            draw();
          }}
        >
          Another unit
        </button>
      </div>
      ${choiceField({
        name: "slot",
        label: "Which part?",
        value: slot,
        options: [
          ["", "the unit as a whole"],
          ...unit.derived.checked.chain.map(
            (/** @type {any} */ item) => /** @type {[string, string]} */ ([item.slot, `${item.slot}, ${item.part}`]),
          ),
        ],
        choose: (chosen) => ((slot = chosen), draw()),
      })}
      ${textField({ name: "text", label: "What the photo shows", value: text, type: (typed) => ((text = typed), draw()) })}
      ${sign.fieldIfUnknown("Taken by")}${errorLine(fault)}
      <button class="main big" ?disabled=${busy} @click=${keep}>
        ${busy ? "Shrinking…" : "Keep it with this unit"}
      </button>
    </section>`;

  const draw = () =>
    render(
      html`${backTo("#/", "Units")}
        <h1>${photos.length > 1 ? `${photos.length} shared photos` : "Shared photo"}</h1>
        ${told ? html`<p role="status">${told}</p>` : nothing}
        ${
          thrown
            ? html`<button
                @click=${async () => {
                  await putBack(/** @type {any} */ (thrown));
                  thrown = undefined;
                  await next();
                }}
              >
                Bring back the photo that was thrown away
              </button>`
            : nothing
        }
        ${
          photos.length
            ? html`<section class="card">
                  <img class="photo shared" src=${address(photos[0])} alt="The photo that was shared" />
                  <p class="quiet">It stays on this phone until you choose its unit.</p>
                  <button class="plain" @click=${throwAway}>Throw it away</button>
                </section>
                ${
                  unit
                    ? about()
                    : html`<h2>Which unit does it show?</h2>
                        ${choice()}${errorLine(fault)}`
                }`
            : html`<section class="card">
                <p>No shared photo waits for its unit.</p>
                ${errorLine(fault)}
              </section>`
        }`,
      place,
    );
  draw();
  return () => addresses.forEach((one) => URL.revokeObjectURL(one));
}
