// @ts-check
// How pictures are kept on this phone.

import { database, ON_DISK } from "./store.js";

/** @typedef {import("./store.js").Photo} Photo */

/** @param {Photo} photo */
async function put(photo) {
  const transaction = (await database()).transaction("photos", "readwrite", ON_DISK);
  await Promise.all([transaction.store.put(photo), transaction.done]);
}

/** Keep a picture that is not in the workshop yet. @param {string} sha256 @param {Blob} blob */
export async function keepPicture(sha256, blob) {
  try {
    await put({ sha256, blob, home: false });
  } catch (error) {
    // WebKit keeps no files in a private window, but takes their bytes.
    if (!(error instanceof DOMException)) throw error;
    await put({ sha256, blob: await blob.arrayBuffer(), home: false });
  }
}

/** The picture itself. @param {Photo} photo */
export const pictureOf = ({ blob }) => (blob instanceof Blob ? blob : new Blob([blob], { type: "image/jpeg" }));
