// @ts-check
// Photos of parts: shrunk on the phone, named by their content, and brought home in pieces after their entry.

import { calc } from "../engine/door.js";
import { request } from "./access.js";
import { DEVICE } from "./device.js";
import { write } from "./outbox.js";
import { keepPicture, pictureOf } from "./pictures.js";
import { database, fact } from "./store.js";

const LONG_SIDE = 1600;
const QUALITY = 0.8;

/** A photo no larger than the log takes, as JPEG. @param {Blob} file */
async function shrunk(file) {
  const picture = await createImageBitmap(file).catch(() => {
    throw new Error(`This file is no picture that the ${DEVICE} can read: choose another.`);
  });
  const scale = Math.min(1, LONG_SIDE / Math.max(picture.width, picture.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.max(1, Math.round(picture.width * scale));
  canvas.height = Math.max(1, Math.round(picture.height * scale));
  /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d")).drawImage(
    picture,
    0,
    0,
    canvas.width,
    canvas.height,
  );
  /** @type {Blob | null} */
  const blob = await new Promise((resolve) => canvas.toBlob(resolve, "image/jpeg", QUALITY));
  if (!blob) throw new Error(`The ${DEVICE} could not shrink this picture: choose another.`);
  return { blob, wide: canvas.width, tall: canvas.height };
}

/** @param {Blob} blob */
async function sha256(blob) {
  const digest = await crypto.subtle.digest("SHA-256", await blob.arrayBuffer());
  return Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, "0")).join("");
}

/**
 * Shrink a photo, keep it on the phone and write its entry.
 * @param {Blob} file
 * @param {{unit: string, slot?: string, text?: string}} about
 */
export async function addPhoto(file, { unit, slot, text }) {
  const { blob, wide, tall } = await shrunk(file);
  const name = await sha256(blob);
  const body = {
    sha256: name,
    bytes: blob.size,
    wide,
    tall,
    ...(slot ? { slot } : {}),
    ...(text?.trim() ? { text } : {}),
  };
  const shown = await calc("photo", body);
  // The picture first: an entry without it would promise what the phone does not have.
  await keepPicture(name, blob);
  return write({ unit, kind: "photo", body, shown });
}

/** Where a photo can be shown from: this phone, else the workshop. @param {string} name */
export async function photoAddress(name) {
  const kept = await (await database()).get("photos", name);
  const address = `/api/photos/${name}`;
  if (kept) return URL.createObjectURL(pictureOf(kept));
  if (!(await fact("token"))) return address;
  // A picture on a page cannot show the phone's token, so that it is fetched first.
  const blob = await request(address).then(
    (answer) => answer.blob(),
    () => undefined,
  );
  return blob ? URL.createObjectURL(blob) : address;
}

/** How many photos have not come home yet. */
export async function photosWaiting() {
  return (await (await database()).getAll("photos")).filter((photo) => !photo.home).length;
}
