// When the page turns to its kept copy: not before its own first answer is out and the browser has nothing better to do.

import { script } from "../page/element.js";

const QUIET = 2500; // ms after the first answer; the worker imports the other chapters in that time
const NO_ANSWER = 20_000; // ms after which no answer is waited for: no calculator can run here
let address, arriving;

/** Resolves to the module that deals with the kept copy (page.js), a script of its own that no first answer needs. */
export function copy() {
  arriving ??= script(address).then(() => globalThis.handbookCopy, (error) => {
    arriving = undefined;
    throw error;
  });
  return arriving;
}

const pause = (milliseconds) => new Promise((resolve) => setTimeout(resolve, milliseconds));
const parsed = () => new Promise((resolve) => (document.readyState === "loading" ? addEventListener("DOMContentLoaded", resolve, { once: true }) : resolve()));
const loaded = () => new Promise((resolve) => (document.readyState === "complete" ? resolve() : addEventListener("load", resolve, { once: true })));
const idle = () => new Promise((resolve) => (globalThis.requestIdleCallback ?? setTimeout)(resolve));

/** Begin, over http only; `settled` resolves when the first answer is out, `safe` says whether a reload gives back what was typed.
 *  From disk the page is itself a copy. */
export async function beginCopy(from, top, settled, safe) {
  if (!location.protocol.startsWith("http")) return;
  address = from;
  await parsed();
  if (document.querySelector("[data-missing]")) (await copy()).nameMissing(top);
  await loaded();
  if (document.querySelector("section.calc")) await Promise.race([settled, pause(NO_ANSWER)]);
  await pause(QUIET);
  await idle();
  (await copy()).begin(top, safe);
}

/** Before Python is started a second time: files of the kept copy may be damaged. Resolves to the paths that stay missing. */
export async function mendCopy() {
  if (!globalThis.navigator?.serviceWorker?.controller) return [];
  return (await copy()).mend();
}
