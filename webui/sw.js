// Keeps the whole app on the phone. A new version is fetched beside the running one and waits for the user's tap.

/* global importScripts, workbox, idb */
importScripts(
  "/vendor/workbox-core/build/workbox-core.prod.js",
  "/vendor/workbox-routing/build/workbox-routing.prod.js",
  "/vendor/workbox-strategies/build/workbox-strategies.prod.js",
  "/vendor/workbox-precaching/build/workbox-precaching.prod.js",
  "/vendor/idb/build/umd.js",
  "/precache.js",
);

const BATCH = 50;

const { addPlugins, precacheAndRoute, createHandlerBoundToURL, cleanupOutdatedCaches } = workbox.precaching;
const { NavigationRoute, registerRoute } = workbox.routing;

// What the page has just fetched is asked after again, by its ETag, and not fetched a second time.
addPlugins([{ requestWillFetch: async ({ request }) => new Request(request, { cache: "no-cache" }) }]);
// The pictures for the home screen are fetched when it is put there, and never again.
precacheAndRoute(self.__precache.filter(({ url }) => !url.endsWith(".png")));
cleanupOutdatedCaches();
registerRoute(new NavigationRoute(createHandlerBoundToURL("/index.html"), { denylist: [/^\/api\//] }));

self.addEventListener("message", ({ data }) => {
  if (data === "take over") self.skipWaiting();
});

// The first visit is served by this worker as well, so that the phone can go offline straight away.
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

self.addEventListener("sync", (event) => {
  if (event.tag === "slipbook-outbox") event.waitUntil(bringHome());
});

/** Background Sync, where the browser has it. An open page delivers by itself; without one the outbox is sent from here. */
async function bringHome() {
  const pages = await self.clients.matchAll({ type: "window" });
  if (pages.length) return pages.forEach((page) => page.postMessage("deliver"));
  const db = await idb.openDB("slipbook");
  const waiting = (await db.getAll("outbox")).filter((one) => !one.refused);
  const entries = await Promise.all(waiting.map(({ id }) => db.get("entries", id)));
  const token = await db.get("facts", "token");
  db.close();
  // The page keeps the books: it sends them once more when it opens, and the log answers that they are already there.
  for (let start = 0; start < entries.length; start += BATCH) {
    const batch = entries.slice(start, start + BATCH).map(({ seq, received, judged, agrees, ...own }) => own);
    const answer = await fetch("/api/log", {
      method: "POST",
      headers: { "Content-Type": "application/json", ...(token ? { Authorization: `Bearer ${token}` } : {}) },
      body: JSON.stringify({ entries: batch }),
    });
    // A failure tells the browser to wake this worker again later.
    if (!answer.ok) throw new Error(`The log answered ${answer.status}.`);
  }
}
