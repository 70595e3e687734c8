// @ts-check
// Which book this tab shows: that of a log, or the sample book.

/**
 * What is used of a page; the service worker, which knows the types of this folder, has none of it.
 * @typedef {object} Page
 * @property {{getItem: (name: string) => string | null, setItem: (name: string, value: string) => void,
 *   removeItem: (name: string) => void}} sessionStorage
 * @property {{replaceState: (data: null, unused: string, address: string) => void}} history
 * @property {{reload: () => void}} location
 */
const page = /** @type {Page} */ (/** @type {unknown} */ (globalThis));

/** The sample book: a store of its own, which is no log. @type {import("./logs.js").Met} */
export const SAMPLES = { id: "", name: "the sample book", demo: false, database: "slipbook samples" };

// A tab is in the sample book until it goes back or is closed; no other tab is moved by it.
const BOOK = "book";

/** Whether this page shows the sample book; it stays so until the page is loaded anew. */
export const isSamples = page.sessionStorage.getItem(BOOK) === SAMPLES.database;

/** Show the sample book on this page. */
export function enterSamples() {
  page.sessionStorage.setItem(BOOK, SAMPLES.database);
  loadAt("#/");
}

/** Go back to the log of this page. @param {string} [address] of the screen that is shown there */
export function leaveSamples(address = "#/") {
  page.sessionStorage.removeItem(BOOK);
  loadAt(address);
}

/** @param {string} address */
function loadAt(address) {
  page.history.replaceState(null, "", address);
  page.location.reload();
}
