// @ts-check
// Photos on their way home: each after its entry, in pieces, from where it broke off.

import { database, outbox } from "./store.js";

const PIECE_BYTES = 256 * 1024;

/** @typedef {import("./photos.js").Photo} Photo */

/**
 * Bring home every photo whose entry is home, each from where it broke off.
 * @param {(path: string, options?: RequestInit) => Promise<any>} ask
 */
export async function sendPhotos(ask) {
  const db = await database();
  const waiting = (await db.getAll("photos")).filter((/** @type {Photo} */ one) => !one.home);
  if (!waiting.length) return;
  const entries = await Promise.all((await outbox()).map((one) => db.get("entries", one.id)));
  const held = new Set(entries.map((entry) => entry?.body?.sha256));
  for (const photo of waiting) {
    if (held.has(photo.sha256)) continue;
    let { size, whole } = await ask(`/api/photos/${photo.sha256}/progress`);
    while (!whole) {
      const piece = photo.blob.slice(size, size + PIECE_BYTES);
      const now = await ask(`/api/photos/${photo.sha256}?at=${size}&total=${photo.blob.size}`, {
        method: "PUT",
        headers: { "Content-Type": "image/jpeg" },
        body: piece,
      });
      ({ size, whole } = now);
    }
    await db.put("photos", { ...photo, home: true });
  }
}
