// What an address of the handbook carries: the values of a shared link, or the reader's own state on its way to another page where
// the browser does not keep it (refused, full, or from disk, where a browser may keep each page's things apart).
// @ts-check

import { make } from "./element.js";
import { state } from "./state.js";

/** @typedef {import("./state.js").Units} Units */
/** @typedef {{ values: Record<string, string>, units: Units, name: string, set: string[] }} Link */

const LINK = "#plan?"; // a shared link: values of one page, by name
const CARRIED = "#mine?"; // the reader's own state
const PAUSE = 400; // ms between two changes of the address: engines refuse more than a hundred in half a minute

const page = () => location.href.split("#")[0];

/** Which of our two kinds a hash is, and what it holds.
 *  @param {string} hash */
function ours(hash) {
  const kind = [LINK, CARRIED].find((one) => hash.startsWith(one)) ?? "";
  return { kind, query: new URLSearchParams(kind && hash.slice(kind.length)) };
}

// ---- a link that somebody shared

/** Address of this page that carries values.
 *  @param {Record<string, string>} values @param {Units} units */
export function linkWith(values, units) {
  return `${page()}${LINK}${new URLSearchParams({ ...values, units })}`;
}

/** Values that the address of this page carries, or null. Python says which of them can be used.
 *  @returns {Link | null} */
export function linked() {
  const { kind, query } = ours(location.hash);
  if (kind !== LINK) return null;
  query.delete("mine");
  const name = `${location.pathname}?${query}`;
  const { units, from, currency, ...values } = Object.fromEntries(query);
  return { values, units: units === "metric" ? "metric" : "us", name, set: [] };
}

export function forgetLink() {
  history.replaceState(history.state, "", state.trouble ? carrying(page()) : page());
}

// ---- the reader's own state

/** Whether it has to travel in addresses. */
const travels = () => Boolean(state.any && (state.trouble || location.protocol === "file:"));

/** An address of the handbook with the state in it, in place of what it carried before.
 *  @param {string} address */
function carrying(address) {
  const url = new URL(address);
  const { kind, query } = ours(url.hash);
  if (!kind && url.hash) query.set("at", url.hash.slice(1));
  query.set("mine", state.packed());
  url.hash = (kind || CARRIED) + query;
  return url.href;
}

/** Takes in what this page's address carries, item by item where it is newer than what is kept here. */
export function arrive() {
  const { kind, query } = ours(location.hash);
  const text = query.get("mine");
  if (!text) return;
  state.tryRoom(text);
  // Where the browser keeps the plan and a server gives the pages, such an address comes from somebody else: it changes nothing here.
  if (state.trouble || location.protocol === "file:") state.unpack(text);
  const at = query.get("at") ?? "";
  if (!state.trouble) {
    query.delete("mine");
    history.replaceState(history.state, "", page() + (kind === LINK ? LINK + query : at && `#${at}`));
  }
  if (at) document.getElementById(at)?.scrollIntoView();
}

let written = 0;
/** @type {ReturnType<typeof setTimeout> | undefined} */
let waiting;
let held = true; // whether the address took what the browser does not keep

/** Puts the state into the address of this page, so that a reload and a bookmark keep it. */
function note() {
  clearTimeout(waiting);
  waiting = undefined;
  written = Date.now();
  try {
    history.replaceState(history.state, "", carrying(location.href));
    held = true;
  } catch (error) {
    held = false;
    console.warn(error); // it still lives as long as the page, and goes along with its links
  }
}

/** Whether a reload would give back all that was typed. */
export function safe() {
  if (state.trouble) note();
  return !state.trouble || held;
}

/** For a part that could not be fetched: the page once more, with all that was typed.
 *  @returns {HTMLButtonElement} */
export function reloadButton() {
  const onclick = () => { if (safe()) location.reload(); };
  return make("button", { type: "button", className: "button", textContent: "Reload the page", onclick });
}

/** The address follows the state where the browser does not keep it. */
export function keepInAddress() {
  state.hear((_, here) => {
    if (!here || !state.trouble || waiting) return;
    waiting = setTimeout(note, Math.max(0, written + PAUSE - Date.now()));
  });
  addEventListener("change", () => { if (waiting) note(); });
  addEventListener("pagehide", () => { if (waiting) note(); });
}

/** The state goes into a link of the handbook that is about to be followed, if need be.
 *  @param {HTMLAnchorElement} link */
export function take(link) {
  const url = new URL(link.href);
  const inside = url.origin === location.origin && url.protocol === location.protocol && url.pathname.endsWith(".html") && !link.hasAttribute("download");
  const here = url.pathname === location.pathname && !url.hash.startsWith(CARRIED) && url.hash;
  if (inside && !here && travels()) link.href = carrying(url.href);
}
