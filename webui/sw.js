// Keeps the whole app on the phone. A new version is fetched beside the running one and waits for the user's tap.

/* global importScripts, workbox */
importScripts(
  "/vendor/workbox-core/build/workbox-core.prod.js",
  "/vendor/workbox-routing/build/workbox-routing.prod.js",
  "/vendor/workbox-strategies/build/workbox-strategies.prod.js",
  "/vendor/workbox-precaching/build/workbox-precaching.prod.js",
  "/precache.js",
);

const { precacheAndRoute, createHandlerBoundToURL, cleanupOutdatedCaches } = workbox.precaching;
const { NavigationRoute, registerRoute } = workbox.routing;

precacheAndRoute(self.__precache);
cleanupOutdatedCaches();
registerRoute(new NavigationRoute(createHandlerBoundToURL("/index.html"), { denylist: [/^\/api\//] }));

self.addEventListener("message", ({ data }) => {
  if (data === "take over") self.skipWaiting();
});

// The first visit is served by this worker as well, so that the phone can go offline straight away.
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

// Background Sync, where the browser has it: delivery itself lives in the page, so wake one if there is any.
self.addEventListener("sync", (event) => {
  if (event.tag !== "slipbook-outbox") return;
  event.waitUntil(
    self.clients.matchAll({ type: "window" }).then((pages) => pages.forEach((page) => page.postMessage("deliver"))),
  );
});
