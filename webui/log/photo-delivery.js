// @ts-check
// Photos on their way home: each after its entry, in pieces, from where it broke off.

import { ask } from "./access.js";
import { isOf } from "./entries.js";
import { group, number, yesNo } from "./shape.js";
import { database, outbox } from "./store.js";

const PIECE_BYTES = 256 * 1024;

/** How much of a picture has arrived. */
const isProgress = group({ size: number, whole: yesNo });

/** Bring home every photo whose entry is home, each from where it broke off. */
export async function sendPhotos() {
  const db = await database();
  const waiting = (await db.getAll("photos")).filter((one) => !one.home);
  if (!waiting.length) return;
  const entries = await Promise.all((await outbox()).map((one) => db.get("entries", one.id)));
  const held = new Set(entries.map((entry) => (isOf(entry, "photo") ? entry.body.sha256 : undefined)));
  for (const photo of waiting) {
    if (held.has(photo.sha256)) continue;
    let { size, whole } = await ask(`/api/photos/${photo.sha256}/progress`, isProgress);
    while (!whole) {
      const piece = photo.blob.slice(size, size + PIECE_BYTES);
      const now = await ask(`/api/photos/${photo.sha256}?at=${size}&total=${photo.blob.size}`, isProgress, {
        method: "PUT",
        headers: { "Content-Type": "image/jpeg" },
        body: piece,
      });
      ({ size, whole } = now);
    }
    await db.put("photos", { ...photo, home: true });
  }
}
