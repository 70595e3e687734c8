// @ts-check
// The shell: the bar, the tabs, which screen is shown, and how the app is kept up to date.

import { icon } from "./draw/icons.js";
import { warm } from "./engine/door.js";
import { badge } from "./log/badge.js";
import { isSamples } from "./log/book.js";
import { onChange } from "./log/changes.js";
import { startDelivery, watch } from "./log/delivery.js";
import { DEVICE } from "./log/device.js";
import { draftsKept } from "./log/drafts.js";
import { noteUse } from "./log/in-hand.js";
import { nameOf, ownLog } from "./log/logs.js";
import { settled } from "./log/outbox.js";
import { reasonOf } from "./log/storage-fault.js";
import { outbox } from "./log/store.js";
import { onReturn, onSilence } from "./log/under-way.js";
import { goOn } from "./screens/form/enter.js";
import { keepLook } from "./screens/form/look.js";
import { watchForms } from "./screens/form/two-tabs.js";
import { keepSteady } from "./screens/frame/directions.js";
import { noteOrder, showKeys, watchKeys } from "./screens/frame/keys.js";
import { keepPlaces, links } from "./screens/frame/places.js";
import { nextFrame, nextTurn } from "./screens/frame/turns.js";
import { benchNotice } from "./screens/shop/for-bench.js";
import { isHere, showNotHere } from "./screens/shop/not-here.js";
import { samplesBar } from "./screens/shop/samples.js";
import { html, nothing, render } from "./vendor/lit-html/lit-html.js";

/** Screens by the address behind the #. @type {[RegExp, () => Promise<{show: Show}>][]} */
const ROUTES = [
  [/^\/$/, () => import("./screens/unit/list.js")],
  [/^\/unit\/new$/, () => import("./screens/unit/define.js")],
  [/^\/unit\/start$/, () => import("./screens/unit/start.js")],
  [/^\/unit\/([\w-]+)$/, () => import("./screens/unit/page.js")],
  [/^\/unit\/([\w-]+)\/change(?:\/([\w-]+))?(?:\/at\/([\w.]+))?$/, () => import("./screens/unit/define.js")],
  [/^\/unit\/([\w-]+)\/pattern$/, () => import("./screens/unit/of-pattern.js")],
  [/^\/unit\/([\w-]+)\/(another)$/, () => import("./screens/unit/another.js")],
  [/^\/patterns$/, () => import("./screens/unit/patterns.js")],
  [/^\/patterns()\/entry\/([\w-]+)$/, () => import("./screens/unit/entry.js")],
  [/^\/patterns\/([\w-]+)\/unit$/, () => import("./screens/unit/another.js")],
  [/^\/patterns\/([\w-]+)\/(change)$/, () => import("./screens/unit/define-pattern.js")],
  [/^\/pattern\/([\w-]+)$/, () => import("./screens/unit/define-pattern.js")],
  [/^\/unit\/([\w-]+)\/check(?:\/([\w-]+))?$/, () => import("./screens/check/check.js")],
  [/^\/unit\/([\w-]+)\/plates(?:\/([\w-]+))?$/, () => import("./screens/parts/plates.js")],
  [/^\/unit\/([\w-]+)\/note\/([\w-]+)$/, () => import("./screens/unit/note.js")],
  [/^\/unit\/([\w-]+)\/entry\/([\w-]+)$/, () => import("./screens/unit/entry.js")],
  [/^\/unit\/([\w-]+)\/found$/, () => import("./screens/bench/found.js")],
  [/^\/unit\/([\w-]+)\/(strip|close)(?:\/([\w-]+))?$/, () => import("./screens/bench/guided.js")],
  [/^\/unit\/([\w-]+)\/plan$/, () => import("./screens/bench/plan.js")],
  [/^\/unit\/([\w-]+)\/rebuild(?:\/([\w-]+))?$/, () => import("./screens/bench/rebuild.js")],
  [/^\/unit\/([\w-]+)\/refit(?:\/([\w-]+))?$/, () => import("./screens/parts/refit.js")],
  [/^\/unit\/([\w-]+)\/outing(?:\/([\w-]+))?$/, () => import("./screens/unit/outing.js")],
  [/^\/unit\/([\w-]+)\/service(?:\/([\w-]+))?$/, () => import("./screens/unit/service.js")],
  [/^\/unit\/([\w-]+)\/ramps$/, () => import("./screens/bench/ramps.js")],
  [/^\/unit\/([\w-]+)\/corner$/, () => import("./screens/bench/corner.js")],
  [/^\/unit\/([\w-]+)\/complaint(?:\/([\w-]+))?$/, () => import("./screens/bench/complaint.js")],
  [/^\/unit\/([\w-]+)\/changed$/, () => import("./screens/unit/changed.js")],
  [/^\/unit\/([\w-]+)\/sheet$/, () => import("./screens/unit/sheet.js")],
  [/^\/unit\/([\w-]+)\/(springs|rings)(?:\/([\w-]+))?$/, () => import("./screens/parts/springs-and-rings.js")],
  [/^\/unit\/([\w-]+)\/inspect(?:\/([\w-]+))?$/, () => import("./screens/parts/inspect.js")],
  [/^\/check$/, () => import("./screens/check/choose.js")],
  [/^\/shared(?:\/(failed))?$/, () => import("./screens/shop/shared.js")],
  [/^\/import$/, () => import("./screens/shop/import.js")],
  [/^\/import\/history$/, () => import("./screens/shop/history.js")],
  [/^\/(shelf|kit)\/paste$/, () => import("./screens/bench/paste.js")],
  [/^\/shelf(?:\/([\w-]+))?$/, () => import("./screens/bench/shelf.js")],
  [/^\/shelf\/bag\/(.+)$/, () => import("./screens/bench/bag.js")],
  [/^\/marked$/, () => import("./screens/bench/marked-list.js")],
  [/^\/marked\/(\w+)\/([^/]+)$/, () => import("./screens/bench/marked-part.js")],
  [/^\/kit\/(tool)\/([\w-]+)$/, () => import("./screens/bench/kit.js")],
  [/^\/backup$/, () => import("./screens/shop/backup.js")],
  [/^\/labels$/, () => import("./screens/shop/labels.js")],
  [/^\/outbox$/, () => import("./screens/shop/outbox.js")],
  [/^\/kit(?:\/([\w-]+))?$/, () => import("./screens/bench/kit.js")],
  [/^\/car(?:\/([\w-]+))?$/, () => import("./screens/bench/cars.js")],
  [/^\/pair$/, () => import("./screens/shop/pair.js")],
  [/^\/pair\/([\w-]+)$/, () => import("./screens/shop/pair.js")],
  [/^\/devices$/, () => import("./screens/shop/devices.js")],
  [/^\/letterhead(?:\/([\w-]+))?$/, () => import("./screens/shop/letterhead.js")],
  [/^\/calendar$/, () => import("./screens/shop/calendars.js")],
  [/^\/customers$/, () => import("./screens/shop/customers.js")],
  [/^\/customers()\/entry\/([\w-]+)$/, () => import("./screens/unit/entry.js")],
  [/^\/customers\/([\w-]+)\/data$/, () => import("./screens/shop/customer-erase.js")],
  [/^\/customers\/([\w-]+)$/, () => import("./screens/shop/customer-page.js")],
  [/^\/customer\/([\w-]+)$/, () => import("./screens/shop/customer-correct.js")],
  [/^\/history$/, () => import("./screens/unit/all-history.js")],
  [/^\/costs$/, () => import("./screens/shop/costs.js")],
  [/^\/settings$/, () => import("./screens/shop/settings.js")],
  [/^\/help(?:\/([\w-]+))?(?:\/([\w-]+))?$/, () => import("./screens/help/help.js")],
];

/**
 * @typedef {(place: HTMLElement, params: string[]) => Promise<void | (() => void)>} Show
 * shows a screen in `place`; what it returns is called when another takes its place
 */

const main = /** @type {HTMLElement} */ (document.getElementById("main"));
/** The address of the screen that is shown, without what stands behind its ?, which says what a table shows. */
const pathNow = () => location.hash.slice(1).split("?")[0] || "/";
const warn = benchNotice(main, pathNow);
/** @type {void | (() => void)} */
let leave;
let shown = 0;
/** Tells that a screen is drawn. */
let tellDrawn = () => {};
/** The first screen was drawn, and the frame that shows it. @type {Promise<void>} */
const painted = new Promise((resolve) => {
  tellDrawn = () => nextFrame().then(resolve);
});
/** Tells that a screen is whole. */
let tellWhole = () => {};
/** A screen with all that it shows is there, not one that waits for its unit. @type {Promise<void>} */
const whole = new Promise((resolve) => {
  tellWhole = resolve;
});

async function navigate() {
  // A screen with something dangerous half done asks first: see stay.js.
  if (!dispatchEvent(new Event("leaving", { cancelable: true }))) return;
  const path = pathNow();
  const [pattern, load] = ROUTES.find(([address]) => address.test(path)) ?? ROUTES[0];
  const turn = ++shown;
  try {
    const [{ show }, here] = await Promise.all([load(), isHere(path)]);
    // Somebody tapped on while this screen was loading.
    if (turn !== shown) return;
    noteOrder(main);
    leave?.();
    leave = undefined;
    const place = document.createElement("div");
    // The first one is there at once, and costs no frames while all else is on its way.
    place.className = turn > 1 ? "screen settles" : "screen";
    main.replaceChildren(place);
    const left = here ? await show(place, (pattern.exec(path) ?? []).slice(1)) : showNotHere(place, path, navigate);
    if (here) tellWhole();
    if (turn === shown) leave = left;
    else left?.();
  } catch (error) {
    console.error(error);
    if (turn !== shown) return;
    leave?.();
    leave = undefined;
    const place = document.createElement("div");
    main.replaceChildren(place);
    render(
      html`<section class="card">
        <h1>This screen did not open</h1>
        <p>Nothing that you typed is lost. Go back and try again; if it stays, close the app and open it again.</p>
        <p class="quiet">${reasonOf(error)}</p>
        <a class="button" href="#/">To the units</a>
      </section>`,
      place,
    );
  }
  if (turn !== shown) return;
  // A screen that somebody comes back to may say how far down it was; a field that a screen goes to
  // comes later.
  const top = Number(/** @type {HTMLElement | null} */ (main.firstElementChild)?.dataset.top ?? 0);
  // The first screen begins where the page does, and need not be laid out to be moved there.
  if (turn > 1 || top) scrollTo(0, top);
  tellDrawn();
  await warn();
  if (turn !== shown) return;
  noteUse(path).catch(() => {});
  tabs();
  const heading = main.querySelector("h1");
  // Whoever listens to the page is told which screen is there; the first one speaks for itself.
  if (turn > 1 && !main.contains(document.activeElement)) {
    heading?.setAttribute("tabindex", "-1");
    (heading ?? main).focus({ preventScroll: true });
  }
  const book = isSamples ? "Sample book" : "Slipbook";
  document.title = heading?.textContent ? `${heading.textContent.trim()} · ${book}` : book;
}

const nav = /** @type {HTMLElement} */ (document.getElementById("tabs"));

/** Entries that wait, as they were counted last. */
let waiting = 0;

const places = () =>
  render(
    links(pathNow(), waiting, () => showKeys(main)),
    nav,
  );

async function tabs() {
  try {
    waiting = (await outbox()).length - (await settled()).size;
    badge(waiting);
  } catch {
    // A store that fails is told of by what wanted to write; one can go anywhere all the same.
  }
  places();
}

/** How many entries the workshop refused, and nobody has corrected since. */
async function refusedNow() {
  const corrected = await settled();
  return (await outbox()).filter(({ id, refused }) => refused && !corrected.has(id)).length;
}

/** How the book stands to the workshop: never up to date before it has answered, nor while it refuses an entry. */
function bar() {
  const place = /** @type {HTMLElement} */ (document.getElementById("bar"));
  if (isSamples) return samplesBar(place);
  let state = /** @type {Parameters<Parameters<typeof watch>[0]>[0]["state"]} */ ("busy");
  let answered = false;
  let turn = 0;
  const draw = async () => {
    const thisTurn = ++turn;
    const refused = state === "idle" ? await refusedNow() : 0;
    if (thisTurn !== turn) return;
    answered ||= state === "idle";
    const shown = refused ? "failed" : state;
    const words = {
      idle: "up to date",
      busy: answered ? "delivering…" : "connecting…",
      offline: "offline, still works",
      failed: refused === 1 ? "1 entry not taken" : refused ? `${refused} entries not taken` : "not delivered",
      unpaired: "not paired",
      elsewhere: "another log is here",
    }[shown];
    render(
      html`<a class="mark" href="#/">${icon("mark")}<span>Slipbook</span></a>
        <a class="state ${shown}" href=${shown === "unpaired" ? "#/pair" : "#/outbox"}
          >${icon(shown)}<span>${words}</span></a
        >`,
      place,
    );
  };
  watch((report) => {
    state = report.state;
    draw();
  });
  onChange(draw);
}

const A_WHILE_MS = 60 * 60 * 1000;

/** What was said last above the tabs. */
let offered = "";

/**
 * Says something above the tabs, with a key to act on it.
 * @param {string} words
 * @param {string} key
 * @param {() => void} act
 * @param {string} [looks] of the card
 */
function offer(words, key, act, looks = "") {
  offered = words;
  render(
    html`<p class="card offer ${looks}"><span>${words}</span> <button class="small" @click=${act}>${key}</button></p>`,
    /** @type {HTMLElement} */ (document.getElementById("notice")),
  );
}

function closeOffer() {
  render(nothing, /** @type {HTMLElement} */ (document.getElementById("notice")));
}

const SILENT = `The storage of this ${DEVICE} does not answer. What was stored before stays.`;
const NOT_STORED = "What you typed last is not stored yet: write it down first.";
const AGAIN = "Close other tabs of Slipbook, then load it again.";

/** Says so where a screen would wait for ever. @param {boolean} isLong whether no answer has come for long */
async function tellSilence(isLong) {
  if (!isLong) return offered.startsWith(SILENT) && closeOffer();
  const stored = await Promise.race([draftsKept().then(() => true), new Promise((resolve) => setTimeout(resolve))]);
  offer([SILENT, ...(stored ? [] : [NOT_STORED]), AGAIN].join(" "), "Load again", () => location.reload(), "in-sight");
}

// Screens on which nothing is typed that belongs to one log.
const NOTHING_TYPED = /^\/?(outbox|devices|help.*|settings)?$/;

/** Another log answers at this address: it has a book of its own on this phone, which is shown once it may be. */
async function showOther() {
  const path = pathNow();
  const other = () => {
    if (!NOTHING_TYPED.test(path)) history.replaceState(null, "", "#/");
    location.reload();
  };
  if (NOTHING_TYPED.test(path)) return other();
  const name = nameOf(await ownLog());
  offer(`Another log is at this address now. What you type here stays with ${name}.`, "Show the other log", other);
}

/** A new version waits until it is asked for, and never in the middle of an entry. */
async function keepUpToDate() {
  const workers = navigator.serviceWorker;
  if (!workers) return;
  let reloadWanted = false;
  const replaced = Boolean(workers.controller);
  workers.addEventListener("controllerchange", () => {
    if (reloadWanted) location.reload();
    // Asked for in another tab: what is loaded here fits what is shown, but no longer what would be loaded next.
    else if (replaced)
      offer("Slipbook was brought up to date in another tab. What you are typing is kept.", "Load it here", () =>
        location.reload(),
      );
  });
  const registration = await workers.register("/sw.js", { updateViaCache: "none" }).catch(() => undefined);
  // Over a certificate that somebody only clicked past, a browser keeps nothing for later.
  if (!registration)
    return offer(
      "This browser keeps Slipbook only while the workshop can be reached: it does not trust the PC's certificate yet.",
      "Understood",
      closeOffer,
    );
  const look = () => {
    const worker = registration.waiting;
    if (!worker || !workers.controller) return;
    offer("A new version is ready. What you are typing is kept.", "Use it now", () => {
      reloadWanted = true;
      worker.postMessage("take over");
    });
  };
  look();
  registration.addEventListener("updatefound", () => registration.installing?.addEventListener("statechange", look));
  // An app on a home screen may stay open for weeks.
  let looked = Date.now();
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState !== "visible" || Date.now() - looked < A_WHILE_MS) return;
    looked = Date.now();
    registration.update().catch(() => {});
  });
}

// What a first visit needs is here by then, or will not come soon: what it takes to open offline, and to offer the home
// screen, is fetched.
const LATER_MS = 5000;
const later = () => new Promise((resolve) => setTimeout(resolve, Math.max(0, LATER_MS - performance.now())));

/**
 * Tells the browser what the app is on a home screen: from then on it fetches what that needs, and may offer it itself,
 * for which some move things while the first screen is being drawn.
 */
function linkManifest() {
  const link = document.createElement("link");
  link.rel = "manifest";
  link.href = "/manifest.webmanifest";
  document.head.append(link);
}

async function start() {
  // Read before anything is drawn, or a dark screen would begin with a white flash.
  keepLook();
  // The browser says only once that it can put the app on the home screen, at every start until it is there; no start
  // waits for what is made of that.
  addEventListener("beforeinstallprompt", async (event) => {
    event.preventDefault();
    await first;
    const { offered } = await import("./screens/shop/install.js");
    offered(event, offer, closeOffer);
  });
  onSilence(tellSilence);
  onReturn(() => draftsKept().then(() => location.reload()));
  keepSteady(document.body);
  watchForms(main);
  // Screens say themselves where they begin; a browser would move the page before another one is there.
  history.scrollRestoration = "manual";
  // What the first screen waits for is asked for before anything is drawn.
  const first = navigate();
  addEventListener("hashchange", navigate);
  await nextTurn();
  bar();
  await nextTurn();
  keepPlaces(nav, main, places);
  watchKeys(main);
  // The skip link leads to a place on the page, and what follows the # names a screen.
  document.querySelector(".skip")?.addEventListener("click", (event) => {
    event.preventDefault();
    main.focus();
  });
  main.addEventListener("keydown", goOn);
  onChange(tabs);
  onChange(warn);
  watch(({ state }) => state === "elsewhere" && showOther());
  // A phone that comes for the first time reads the log while the engine is on its way, which `first` waits for. Of a
  // page that nobody looks at no frame is drawn.
  await Promise.race([first, painted]);
  // Where the first screen did not need the engine, it is started while somebody reads.
  warm();
  if (!isSamples) startDelivery();
  // What is kept for later comes after what is needed now.
  const late = later();
  await Promise.race([whole, late]);
  keepUpToDate();
  await late;
  linkManifest();
}

start();
