// @ts-check
// The shell: the bar, the tabs, which screen is shown, and how the app is kept up to date.

import { icon } from "./draw/icons.js";
import { warm } from "./engine/door.js";
import { startDelivery, watch } from "./log/delivery.js";
import { nameOf, ownLog } from "./log/logs.js";
import { settled } from "./log/outbox.js";
import { onChange, outbox } from "./log/store.js";
import { isHere, showNotHere } from "./screens/shop/not-here.js";
import { html, nothing, render } from "./vendor/lit-html/lit-html.js";

/** Screens by the address behind the #. @type {[RegExp, () => Promise<{show: Show}>][]} */
const ROUTES = [
  [/^\/$/, () => import("./screens/unit/list.js")],
  [/^\/unit\/new$/, () => import("./screens/unit/define.js")],
  [/^\/unit\/([\w-]+)$/, () => import("./screens/unit/page.js")],
  [/^\/unit\/([\w-]+)\/change$/, () => import("./screens/unit/define.js")],
  [/^\/unit\/([\w-]+)\/change\/([\w-]+)$/, () => import("./screens/unit/define.js")],
  [/^\/unit\/([\w-]+)\/check$/, () => import("./screens/check/check.js")],
  [/^\/unit\/([\w-]+)\/check\/([\w-]+)$/, () => import("./screens/check/check.js")],
  [/^\/unit\/([\w-]+)\/plates$/, () => import("./screens/parts/plates.js")],
  [/^\/unit\/([\w-]+)\/plates\/([\w-]+)$/, () => import("./screens/parts/plates.js")],
  [/^\/unit\/([\w-]+)\/note\/([\w-]+)$/, () => import("./screens/unit/note.js")],
  [/^\/unit\/([\w-]+)\/entry\/([\w-]+)$/, () => import("./screens/unit/entry.js")],
  [/^\/unit\/([\w-]+)\/(strip|close)(?:\/([\w-]+))?$/, () => import("./screens/bench/guided.js")],
  [/^\/unit\/([\w-]+)\/plan$/, () => import("./screens/bench/plan.js")],
  [/^\/unit\/([\w-]+)\/rebuild(?:\/([\w-]+))?$/, () => import("./screens/bench/rebuild.js")],
  [/^\/unit\/([\w-]+)\/refit(?:\/([\w-]+))?$/, () => import("./screens/parts/refit.js")],
  [/^\/unit\/([\w-]+)\/ramps$/, () => import("./screens/bench/ramps.js")],
  [/^\/unit\/([\w-]+)\/changed$/, () => import("./screens/unit/changed.js")],
  [/^\/unit\/([\w-]+)\/sheet$/, () => import("./screens/unit/sheet.js")],
  [/^\/unit\/([\w-]+)\/(springs|rings)(?:\/([\w-]+))?$/, () => import("./screens/parts/springs-and-rings.js")],
  [/^\/check$/, () => import("./screens/check/choose.js")],
  [/^\/shared(?:\/(failed))?$/, () => import("./screens/shop/shared.js")],
  [/^\/import$/, () => import("./screens/shop/import.js")],
  [/^\/shelf(?:\/([\w-]+))?$/, () => import("./screens/bench/shelf.js")],
  [/^\/outbox$/, () => import("./screens/shop/outbox.js")],
  [/^\/kit(?:\/([\w-]+))?$/, () => import("./screens/bench/kit.js")],
  [/^\/pair$/, () => import("./screens/shop/pair.js")],
  [/^\/pair\/([\w-]+)$/, () => import("./screens/shop/pair.js")],
  [/^\/devices$/, () => import("./screens/shop/devices.js")],
  [/^\/settings$/, () => import("./screens/shop/settings.js")],
  [/^\/help(?:\/([\w-]+))?(?:\/([\w-]+))?$/, () => import("./screens/help/help.js")],
];

/**
 * @typedef {(place: HTMLElement, params: string[]) => Promise<void | (() => void)>} Show
 * shows a screen in `place`; what it returns is called when another takes its place
 */

const main = /** @type {HTMLElement} */ (document.getElementById("main"));
/** @type {void | (() => void)} */
let leave;
let shown = 0;

async function navigate() {
  // A screen with something dangerous half done asks first: see stay.js.
  if (!dispatchEvent(new Event("leaving", { cancelable: true }))) return;
  const path = location.hash.slice(1) || "/";
  const [pattern, load] = ROUTES.find(([address]) => address.test(path)) ?? ROUTES[0];
  const turn = ++shown;
  try {
    const [{ show }, here] = await Promise.all([load(), isHere(path)]);
    // Somebody tapped on while this screen was loading.
    if (turn !== shown) return;
    leave?.();
    leave = undefined;
    const place = document.createElement("div");
    place.className = "screen";
    main.replaceChildren(place);
    const left = here ? await show(place, (pattern.exec(path) ?? []).slice(1)) : showNotHere(place, path, navigate);
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
        <p class="quiet">${String(error)}</p>
        <a class="button" href="#/">To the units</a>
      </section>`,
      place,
    );
  }
  if (turn !== shown) return;
  scrollTo(0, 0);
  tabs();
  const heading = main.querySelector("h1");
  // Whoever listens to the page is told which screen is there; the first one speaks for itself.
  if (turn > 1 && !main.contains(document.activeElement)) {
    heading?.setAttribute("tabindex", "-1");
    (heading ?? main).focus({ preventScroll: true });
  }
  document.title = heading?.textContent ? `${heading.textContent.trim()} · Slipbook` : "Slipbook";
}

/** @param {string} path @param {string} name @param {ReturnType<typeof icon>} drawing @param {number} [count] */
function tab(path, name, drawing, count = 0) {
  const here = (location.hash.slice(1) || "/").split("/")[1] ?? "";
  const current = here === path.slice(1) || (path === "/" && ["unit", "import", "check", "shared"].includes(here));
  const words = count ? `${name}, ${count} waiting` : name;
  return html`<a href="#${path}" aria-current=${current ? "page" : nothing} aria-label=${words}>
    ${drawing}<span>${name}</span>${count ? html`<b class="count" data-count=${count}></b>` : nothing}
  </a>`;
}

async function tabs() {
  const count = (await outbox()).length - (await settled()).size;
  render(
    html`${tab("/", "Units", icon("units"))}${tab("/kit", "Kit", icon("kit"))}
    ${tab("/outbox", "Outbox", icon("outbox"), count)}
    ${tab("/help", "Help", icon("help"))}${tab("/settings", "Settings", icon("settings"))}`,
    /** @type {HTMLElement} */ (document.getElementById("tabs")),
  );
}

function bar() {
  const place = /** @type {HTMLElement} */ (document.getElementById("bar"));
  watch(({ state }) => {
    const words = {
      idle: "up to date",
      busy: "delivering…",
      offline: "offline, still works",
      failed: "not delivered",
      unpaired: "not paired",
      elsewhere: "another log is here",
    }[state];
    render(
      html`<a class="mark" href="#/">${icon("mark")}<span>Slipbook</span></a>
        <a class="state ${state}" href=${state === "unpaired" ? "#/pair" : "#/outbox"}
          >${icon(state)}<span>${words}</span></a
        >`,
      place,
    );
  });
}

const A_WHILE_MS = 60 * 60 * 1000;

/**
 * Says something above the tabs, with a key to act on it.
 * @param {string} words
 * @param {string} key
 * @param {() => void} act
 */
function offer(words, key, act) {
  render(
    html`<p class="card offer"><span>${words}</span> <button class="small" @click=${act}>${key}</button></p>`,
    /** @type {HTMLElement} */ (document.getElementById("notice")),
  );
}

function closeOffer() {
  render(nothing, /** @type {HTMLElement} */ (document.getElementById("notice")));
}

// Screens on which nothing is typed that belongs to one log.
const NOTHING_TYPED = /^\/?(outbox|devices|help.*|settings)?$/;

/** Another log answers at this address: it has a book of its own on this phone, which is shown once it may be. */
async function showOther() {
  const path = location.hash.slice(1);
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
  let asked = false;
  const replaced = Boolean(workers.controller);
  workers.addEventListener("controllerchange", () => {
    if (asked) location.reload();
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
      () => render(nothing, /** @type {HTMLElement} */ (document.getElementById("notice"))),
    );
  const look = () => {
    const worker = registration.waiting;
    if (!worker || !workers.controller) return;
    offer("A new version is ready. What you are typing is kept.", "Use it now", () => {
      asked = true;
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

async function start() {
  // Read before anything is drawn, or a dark screen would begin with a white flash.
  document.documentElement.dataset.theme = localStorage.getItem("theme") ?? "auto";
  document.documentElement.dataset.keys = localStorage.getItem("keys") ?? "usual";
  // The browser says only once that it can put the app on the home screen.
  addEventListener("beforeinstallprompt", (event) => {
    event.preventDefault();
    import("./screens/shop/install.js").then(({ offered }) => offered(event, offer, closeOffer));
  });
  // What the first screen waits for is asked for before anything is drawn.
  const first = navigate();
  bar();
  addEventListener("hashchange", navigate);
  // The skip link leads to a place on the page, and what follows the # names a screen.
  document.querySelector(".skip")?.addEventListener("click", (event) => {
    event.preventDefault();
    main.focus();
  });
  onChange(tabs);
  watch(({ state }) => state === "elsewhere" && showOther());
  await first;
  // Where the first screen did not need the engine, it is started while somebody reads.
  warm();
  startDelivery();
  keepUpToDate();
}

start();
