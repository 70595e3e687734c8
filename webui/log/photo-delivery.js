// @ts-check
// Photos on their way home: each after its entry, in pieces, from where it broke off.

import { ask, Refused } from "./access.js";
import { isOf } from "./entries.js";
import { pictureOf } from "./pictures.js";
import { group, number, yesNo } from "./shape.js";
import { database, outbox } from "./store.js";

const PIECE_BYTES = 256 * 1024;

/** How much of a picture has arrived. */
const isProgress = group({ size: number, whole: yesNo });

/** Bring home every photo whose entry is home, each from where it broke off. @returns {Promise<number>} how many */
export async function sendPhotos() {
  const db = await database();
  const waiting = (await db.getAll("photos")).filter((photo) => !photo.home);
  let sent = 0;
  if (!waiting.length) return sent;
  const entries = await Promise.all((await outbox()).map((row) => db.get("entries", row.id)));
  const held = new Set(entries.map((entry) => (isOf(entry, "photo") ? entry.body.sha256 : undefined)));
  /** @type {Refused | undefined} */
  let refusal;
  for (const photo of waiting) {
    if (held.has(photo.sha256)) continue;
    try {
      if (await sendPhoto(photo)) sent += 1;
      await db.put("photos", { ...photo, home: true });
    } catch (error) {
      // One that the workshop refuses keeps none of the others from it.
      if (!(error instanceof Refused)) throw error;
      refusal ??= error;
    }
  }
  if (refusal) throw refusal;
  return sent;
}

/**
 * Send what has not arrived of one photo.
 * @param {import("./store.js").Photo} photo
 * @returns {Promise<boolean>} whether anything was left to be sent
 */
async function sendPhoto(photo) {
  let { size, whole } = await ask(`/api/photos/${photo.sha256}/progress`, isProgress);
  const lacked = !whole;
  const picture = pictureOf(photo);
  while (!whole) {
    const piece = picture.slice(size, size + PIECE_BYTES);
    const now = await ask(
      `/api/photos/${photo.sha256}?at=${size}&total=${picture.size}&back=${Boolean(photo.back)}`,
      isProgress,
      {
        method: "PUT",
        headers: { "Content-Type": "image/jpeg" },
        body: piece,
      },
    );
    ({ size, whole } = now);
  }
  return lacked;
}
