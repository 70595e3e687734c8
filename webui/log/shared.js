// @ts-check
// Photos that another app shared with this one, kept until somebody says which unit they show. The service worker puts
// them here, in a database of their own: it has to be there before the app's own one was ever opened.

import { openDB } from "../vendor/idb/build/index.js";
import { follow } from "./under-way.js";

/** @typedef {{id: number, blob: Blob, text: string, at: number}} Shared */

/** @typedef {import("idb").IDBPDatabase<{photos: {key: number, value: Shared}}>} Database */

/** @returns {Promise<Database>} */
function database() {
  return follow(
    openDB("slipbook-shared", 1, {
      /** @param {Database} db */
      upgrade(db) {
        db.createObjectStore("photos", { keyPath: "id", autoIncrement: true });
      },
    }),
  );
}

/**
 * @template Found
 * @param {(db: Database) => Promise<Found>} act
 */
async function within(act) {
  const db = await database();
  try {
    return await act(db);
  } finally {
    db.close();
  }
}

/** Those that wait, oldest first. @returns {Promise<Shared[]>} */
export function sharedPhotos() {
  return within((db) => db.getAll("photos"));
}

/** It has its entry now, or nobody wants it. @param {number} id */
export function dropShared(id) {
  return within((db) => db.delete("photos", id));
}

/** It is wanted after all. @param {Shared} photo */
export function putBack(photo) {
  return within((db) => db.put("photos", photo));
}
