// @ts-check
// Keeps the whole app on the phone. A new version is fetched beside the running one and waits for the user's tap.

/**
 * What the scripts bring that are loaded first: the libraries, and the files of this version.
 * @typedef {object} Brought
 * @property {object} workbox
 * @property {typeof import("workbox-precaching")} workbox.precaching
 * @property {typeof import("workbox-routing")} workbox.routing
 * @property {Pick<typeof import("idb"), "openDB">} idb
 * @property {{url: string, revision: string}[]} __precache
 */

/** @typedef {import("./log/store.js").Book} Book */
/** @typedef {import("idb").DBSchema & {photos: {key: number, value: Omit<Shared, "id">}}} SharedBook */
/** @typedef {import("./log/shared.js").Shared} Shared */
/** @typedef {import("./log/logs.js").Register} Register */

importScripts(
  "/vendor/workbox-core/build/workbox-core.prod.js",
  "/vendor/workbox-routing/build/workbox-routing.prod.js",
  "/vendor/workbox-strategies/build/workbox-strategies.prod.js",
  "/vendor/workbox-precaching/build/workbox-precaching.prod.js",
  "/vendor/idb/build/umd.js",
  "/precache.js",
);

const BATCH = 50;

// From so many missing files on, they are fetched in one piece.
const MANY = 20;

const scope = /** @type {ServiceWorkerGlobalScope & Brought} */ (/** @type {unknown} */ (self));
const { PrecacheController, PrecacheRoute, cleanupOutdatedCaches } = scope.workbox.precaching;
const { NavigationRoute, registerRoute } = scope.workbox.routing;

// A file's ETag begins with its revision.
const revisions = new Map(scope.__precache.map(({ url, revision }) => [new URL(url, location.href).href, revision]));
const controller = new PrecacheController({
  plugins: [
    {
      // What the page has just fetched is taken from the browser's cache, if it is of this version.
      requestWillFetch: async ({ request }) => new Request(request, { cache: "force-cache" }),
      fetchDidSucceed: async ({ request, response }) => {
        const revision = revisions.get(request.url);
        const wanted = revision && response.headers.get("ETag")?.includes(revision);
        return wanted ? response : fetch(request.url, { cache: "no-cache" });
      },
    },
  ],
});
// The pictures for the home screen are fetched when it is put there, and never again.
controller.addToCacheList(scope.__precache.filter(({ url }) => !url.endsWith(".png")));
// The first look into any database takes a browser a while, and the page's own comes late: it has one while the page is
// still on its way. Before the routes, since nobody hears of a request that one of them has answered.
scope.addEventListener("fetch", ({ request }) => {
  if (request.mode === "navigate") indexedDB.databases?.().catch(() => {});
});

cleanupOutdatedCaches();
registerRoute(new PrecacheRoute(controller));
registerRoute(new NavigationRoute(controller.createHandlerBoundToURL("/"), { denylist: [/^\/api\//] }));

scope.addEventListener("install", (event) =>
  event.waitUntil(
    unpack()
      // Whatever did not come with the pack is fetched by itself.
      .catch(() => {})
      .then(() => controller.install(event)),
  ),
);

/** Puts the small files into the cache from one answer, where the controller then finds them. */
async function unpack() {
  const cache = await caches.open(controller.strategy.cacheName);
  const cached = new Set((await cache.keys()).map(({ url }) => url));
  const missing = new Set([...controller.getURLsToCacheKeys().values()].filter((key) => !cached.has(key)));
  if (missing.size < MANY) return;
  /** Revision, type and text of each file, by its address. @type {Record<string, [string, string, string]>} */
  const pack = await (await fetch("/pack.json", { cache: "no-cache" })).json();
  for (const [address, [revision, type, text]] of Object.entries(pack)) {
    const key = controller.getCacheKeyForURL(address);
    // A server that was brought up to date meanwhile may pack another version than the one that is being installed.
    if (key && missing.has(key) && new URL(key).searchParams.get("__WB_REVISION__") === revision)
      await cache.put(
        key,
        new Response(text, { headers: { "Content-Type": type, "X-Content-Type-Options": "nosniff" } }),
      );
  }
}

scope.addEventListener("message", ({ data }) => {
  if (data === "take over") scope.skipWaiting();
});

// The first visit is served by this worker as well, so that the phone can go offline straight away.
scope.addEventListener("activate", (event) => {
  controller.activate(event);
  event.waitUntil(scope.clients.claim());
});

scope.addEventListener("sync", (happened) => {
  const event = /** @type {ExtendableEvent & {tag: string}} */ (happened);
  if (event.tag === "slipbook-outbox") event.waitUntil(deliverOutbox());
});

/** The log that pages show, if one was met: see log/logs.js. */
async function currentLog() {
  const db = /** @type {import("idb").IDBPDatabase<Register>} */ (
    await scope.idb.openDB("slipbook-logs", 1, {
      upgrade(/** @type {import("idb").IDBPDatabase<Register>} */ fresh) {
        fresh.createObjectStore("logs", { keyPath: "id" });
        fresh.createObjectStore("facts");
      },
    })
  );
  const current = await db.get("facts", "current");
  const log = current ? await db.get("logs", current) : undefined;
  db.close();
  return log;
}

/**
 * Background Sync, where the browser has it. An open page delivers by itself; without one the outbox is sent from
 * here.
 */
async function deliverOutbox() {
  const pages = await scope.clients.matchAll({ type: "window" });
  if (pages.length) {
    for (const page of pages) page.postMessage("deliver");
    return;
  }
  const log = await currentLog();
  const db = /** @type {import("idb").IDBPDatabase<Book>} */ (await scope.idb.openDB(log?.database ?? "slipbook"));
  const waiting = (await db.getAll("outbox")).filter(({ refused }) => !refused);
  const found = await Promise.all(waiting.map(({ id }) => db.get("entries", id)));
  // What a log has lost goes back as it was, by a page.
  const back = new Set(waiting.filter((row) => row.back).map(({ id }) => id));
  const entries = found.flatMap((entry) => (entry && !back.has(entry.id) ? [entry] : []));
  const token = await db.get("facts", "token");
  const device = await db.get("facts", "device");
  const clock = /** @type {import("./log/clock.js").Kept | undefined} */ (await db.get("facts", "clock"));
  db.close();
  // Of a clock that fell since a page looked at it, a page tells.
  const fell = !clock || Date.now() < clock.highest;
  const sender = fell ? {} : { sent: new Date().toISOString(), device, fell_s: clock.fell_s };
  // The page keeps the books: it sends them once more when it opens, and the log answers that they are already there.
  for (let start = 0; start < entries.length; start += BATCH) {
    const batch = entries
      .slice(start, start + BATCH)
      .map(
        ({
          seq,
          received,
          judged,
          agrees,
          clock_off_s,
          clock_checked,
          clock_fell_s,
          received_unsure,
          receipt,
          ...own
        }) => own,
      );
    const answer = await fetch("/api/log", {
      method: "POST",
      headers: {
        "Content-Type": "application/json",
        ...(token ? { Authorization: `Bearer ${token}` } : {}),
        // Another log that answers at this address refuses them.
        ...(log ? { "Slipbook-Log": log.id } : {}),
      },
      body: JSON.stringify({ entries: batch, ...sender }),
    });
    // A failure tells the browser to wake this worker again later.
    if (!answer.ok) throw new Error(`The log answered ${answer.status}.`);
  }
}

// A photo that another app shares comes as a form; it is kept before anything else, and the page asks what it shows.
registerRoute("/share", ({ request }) => keepShared(request), "POST");

/** @param {Request} request */
async function keepShared(request) {
  let kept = "";
  try {
    const form = await request.formData();
    const text = ["title", "text"]
      .map((name) => form.get(name))
      .filter((text) => typeof text === "string" && text.trim())
      .join(". ")
      .slice(0, 500);
    const db = await scope.idb.openDB("slipbook-shared", 1, {
      upgrade: (/** @type {import("idb").IDBPDatabase<SharedBook>} */ fresh) =>
        void fresh.createObjectStore("photos", { keyPath: "id", autoIncrement: true }),
    });
    const transaction = db.transaction("photos", "readwrite");
    const added = form
      .getAll("photo")
      .map((blob) => blob instanceof Blob && blob.size && transaction.store.add({ blob, text, at: Date.now() }));
    await Promise.all([...added, transaction.done]);
    db.close();
  } catch {
    kept = "/failed";
  }
  return Response.redirect(`/#/shared${kept}`, 303);
}
