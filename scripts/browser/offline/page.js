// The page's part in the kept copy: asks the browser to keep one, says how it stands, and offers a newer handbook when one waits.
// Where a browser keeps nothing, it says so in one line and does nothing else.

import { make } from "../page/element.js";

const SAY = {
  ready: "Kept in this browser: it opens without a network. A private window forgets it when it is closed.",
  fetching: "Being kept in this browser, for use without a network.",
  offered: "It can be kept in this browser, for use without a network.",
  refused: "Not kept in this browser. For use without a network, take it as one file.",
  full: "Not kept in this browser: it has no room left on this device. For use without a network, take it as one file.",
  broken: "Not kept in this browser yet: fetching it did not come to its end. It is tried again at your next visit.",
  lost: "Parts of the copy in this browser are missing. They are fetched again when there is a network.",
  going: "Going over to the newer handbook.",
  slow: "Still going over: the handbook at work on another page comes to its end first. Closing that page helps.",
  untyped: "This browser refuses to carry what you typed over to the newer handbook. Close every page of the handbook when you are done; the newer one opens next time.",
};
const KEEP = "handbook-keep"; // "yes" or "no", once the reader has said so
const OWN_MACHINE = /^(localhost|127\.\d+\.\d+\.\d+|\[::1\])$/;
const LATER = "handbook-later"; // the newer handbook that the reader has put off for now
const AGAIN = 3_600_000; // ms after which a page that is looked at again asks for a newer handbook
const WAITS = 20_000; // ms for an answer of the service worker
const ASKED_AGAIN = 5_000; // ms after which the waiting one is asked to take over once more

const container = serviceWorkers();
let top, registration, state, install, hint, safe;
let full = false; // the browser has no room for a copy

function serviceWorkers() {
  try {
    return navigator.serviceWorker;
  } catch {
    return undefined; // a frame that may keep nothing
  }
}

function stored(storage, key, text) {
  try {
    if (text === undefined) return globalThis[storage].getItem(key);
    if (text === null) globalThis[storage].removeItem(key);
    else globalThis[storage].setItem(key, text);
    return text;
  } catch {
    return undefined; // storage refused or full
  }
}

/** Ask a service worker; resolves to its answer, or to nothing when it stays silent. */
function ask(worker, question) {
  const { port1, port2 } = new MessageChannel();
  return new Promise((resolve) => {
    port1.onmessage = ({ data }) => resolve(data);
    setTimeout(resolve, WAITS);
    worker.postMessage({ ask: question }, [port2]);
  });
}

// ---- how the copy stands, in the foot of the page and on the page about copies

function tell(now = state) {
  state = now;
  for (const place of document.querySelectorAll("[data-copy-state]")) {
    if (place.dataset.copyState !== state) place.replaceChildren(SAY[state] ?? "");
    place.dataset.copyState = state;
  }
  for (const place of document.querySelectorAll("[data-copy-buttons]")) place.replaceChildren(...buttons());
}

function button(text, act, className = "button") {
  return make("button", { type: "button", className, textContent: text, onclick: act });
}

function buttons() {
  const shown = [];
  if (state === "offered") shown.push(button("Keep it in this browser", () => {
      stored("localStorage", KEEP, "yes");
      return keep();
    }));
  if (state === "ready" || state === "lost") shown.push(button("Take it out of this browser", takeOut, "copy-quiet"));
  if (install) {
    shown.push(button("Put it among your programs", async () => {
      await install.prompt();
      install = undefined;
      tell();
    }));
  }
  return shown;
}

/**
 * Whether the copy may be fetched without being asked for: the large part is here already, and the reader does not save data. On the
 * machine of whoever works on the handbook it would only stand before what was built last.
 */
function unasked() {
  const said = stored("localStorage", KEEP);
  if (said) return said === "yes";
  return !OWN_MACHINE.test(location.hostname) && !navigator.connection?.saveData && performance.getEntriesByName("calc:live").length > 0;
}

async function keep() {
  tell("fetching");
  try {
    registration = await container.register(new URL("sw.js", top), { scope: top.pathname, updateViaCache: "none" });
  } catch {
    return tell("refused");
  }
  watch();
}

async function takeOut() {
  stored("localStorage", KEEP, "no");
  await registration?.unregister();
  for (const name of await caches.keys()) if (name.endsWith(top.href)) await caches.delete(name);
  registration = undefined;
  tell("offered");
}

/** Follow the registration: the first copy, a newer one, one that was broken off. */
function watch() {
  const follow = (worker) => worker?.addEventListener("statechange", look);
  registration.addEventListener("updatefound", () => {
    follow(registration.installing);
    look();
  });
  for (const worker of [registration.installing, registration.waiting, registration.active]) follow(worker);
  return look();
}

async function look() {
  if (!registration) return;
  const { installing, waiting, active } = registration;
  if (waiting && active) offerNewer(waiting);
  if (active?.state === "activated") {
    const about = await ask(active, "about");
    if (!about) return;
    tell(about.lost.length ? "lost" : "ready");
    if (about.lost.length && (await ask(active, "mend"))?.lost.length === 0) tell("ready");
    if (about.version === version) active.postMessage({ ask: "clear" });
  } else if (!active) tell(installing || waiting ? "fetching" : full ? "full" : "broken");
}

/** Fetch again what is lost or damaged in the copy; resolves to the paths that stay missing. */
export async function mend() {
  return (container?.controller && (await ask(container.controller, "mend"))?.lost) ?? [];
}

// ---- a newer handbook

function offerNewer(waiting) {
  if (hint?.isConnected) return;
  ask(waiting, "about").then((about) => {
    if (hint?.isConnected || !about || stored("sessionStorage", LATER) === about.version) return;
    show(`A newer handbook is here${about.day ? `, of ${about.day}` : ""}. What you typed comes along.`, () => stored("sessionStorage", LATER, about.version));
  });
}

function show(words, later) {
  hint?.remove();
  const text = make("p");
  text.setAttribute("role", "status");
  const putOff = () => {
    hint.remove();
    later?.();
  };
  hint = make("div", { className: "copy-newer" }, text, button("Go over to it", goOver), button("Later", putOff, "copy-quiet"));
  document.body.append(hint);
  setTimeout(() => { text.textContent = words; }, 100); // read out only where the place was there before its words
}

let going = 0; // since when [ms], once the reader has pressed
let asking = 0; // the timer of the next round
let controlled = Boolean(container?.controller);

function goOver() {
  clearTimeout(asking); // who presses twice asks in one round
  if (!safe()) return void say(SAY.untyped);
  going ||= Date.now();
  say(Date.now() - going < WAITS ? SAY.going : SAY.slow);
  const { waiting } = registration ?? {};
  if (!waiting) return location.reload(); // it has taken over already
  waiting.postMessage({ ask: "take over" });
  asking = setTimeout(goOver, ASKED_AGAIN); // a browser lets the old one end its work first, and may take minutes over it
}

function say(words) {
  const place = hint.querySelector("p");
  if (place.textContent !== words) place.textContent = words;
}

/** Another service worker hands out the files from now on. */
function takenOver() {
  if (going) return location.reload();
  if (!controlled) { // the first copy
    controlled = true;
    return look();
  }
  // Another page has gone over. This one stays as it is; only what it opens next is loaded anew, so that no two builds mix.
  document.addEventListener("click", loadAnew, true);
  show("A newer handbook is in use on another page. This page stays as it is until you go over.");
}

function loadAnew(event) {
  const link = event.target.closest?.("a[href]");
  if (link?.origin === location.origin && !(link.hash && link.pathname === location.pathname)) event.stopImmediatePropagation(); // the theme would swap the page in place
}

/** On the page for what is not here: which page was asked for, to try again. */
export function nameMissing(where) {
  const page = new URLSearchParams(location.search).get("page");
  if (page === null) return;
  const address = new URL(page, where);
  if (!address.href.startsWith(where.href)) return; // an address made up to lead elsewhere
  const link = make("a", { href: address.href, textContent: "Try that page again" });
  for (const place of document.querySelectorAll("[data-missing]")) place.replaceChildren(`You asked for ${page}. `, link);
}

// ---- begin

const version = document.querySelector("[data-version]")?.dataset.version;

/** The manifest is named over http only: from disk its address is an error. The theme drops it with each page. */
function nameManifest() {
  if (!document.querySelector('link[rel="manifest"]')) document.head.append(make("link", { rel: "manifest", href: new URL("manifest.webmanifest", top) }));
}

export async function begin(where, isSafe) {
  top = where;
  safe = isSafe;
  addEventListener("beforeinstallprompt", (event) => {
    event.preventDefault(); // offered on the page about copies
    install = event;
    tell();
  });
  nameManifest();
  globalThis.document$?.subscribe(() => { nameManifest(); tell(); });
  if (!container) return tell("refused");
  try {
    registration = await container.getRegistration(top);
    if (registration?.scope !== top.href) registration = undefined; // another site's, higher up
  } catch {
    return tell("refused");
  }
  container.addEventListener("controllerchange", takenOver);
  container.addEventListener("message", ({ data }) => { // of a service worker that gives up
    full ||= Boolean(data?.full);
    if (full && state === "broken") tell("full");
  });
  container.startMessages();
  document.addEventListener("visibilitychange", again);
  if (registration || unasked()) await keep();
  else tell("offered");
}

let asked = Date.now();
function again() {
  if (document.visibilityState !== "visible" || !registration || Date.now() - asked < AGAIN) return;
  asked = Date.now();
  registration.update().catch(() => {}); // no network
}
