// Makes the calculators of a page live. Python knows the formulas, units and words; this reads forms, asks, and puts answers in place.
// @ts-check

import { beginCopy, mendCopy } from "../offline/start.js";
import { arrive, keepInAddress, reloadButton, safe } from "./address.js";
import { Calculator, calculators, savesData } from "./calculator.js";
import { beginEmbed } from "./embed.js";
import { extra, linksInside, useExtras } from "./extra.js";
import { figures, useFigures } from "./figures.js";
import { followLinks } from "./links.js";
import { listKept } from "./kept.js";
import { attachLogbook } from "./logbook.js";
import { beginPress } from "./press.js";
import { Python } from "./python.js";
import { attachSorter } from "./sorter.js";
import { beginShell, mendShell } from "./shell.js";
import { beginToday } from "./today.js";
import { beginRenew, renewToday } from "./renew.js";
import { beginHold } from "./hold.js";
import { state } from "./state.js";

const tag = /** @type {HTMLScriptElement} */ (document.currentScript);
const folder = new URL(".", tag.src), top = new URL("../../", folder);
const names = JSON.parse(tag.dataset.runtime ?? "{}");
const python = new Python(folder, names);
Object.assign(globalThis, { handbookPython: python, handbookState: state }); // for whoever wants to ask them from the console
state.begin(top);
arrive();
keepInAddress();
followLinks();
useFigures(new URL(names.figures, folder));
useExtras(folder, names);
python.mend = mendCopy;
python.arriving = (arrived, whole) => { for (const one of calculators()) one.arriving(arrived, whole); };
beginCopy(new URL(names.copy, folder), top, python.settled, safe).catch(console.error);

// The theme's script moves between pages, searches and keeps the list of pages in step. All in one, it takes a phone a third of a second
// (scripts/site/finish.py holds it back). At once when the reader presses something; at the first sign of them when the first answer
// is out; else when they have been reading for a while.
const PRESSES = ["pointerdown", "keydown", "focusin"], SIGNS = ["pointermove", "wheel", "scroll"];
const READING = 10_000; // ms

function callTheme() {
  if (!tag.dataset.theme) return;
  const onload = () => {
    document.dispatchEvent(new Event("DOMContentLoaded")); // the theme waits for it, and it has been
    attachOnMove();
    document.querySelector("[data-md-component=search-query]")?.dispatchEvent(new Event("keyup", { bubbles: true })); // typed meanwhile
  };
  document.body.append(Object.assign(document.createElement("script"), { src: tag.dataset.theme, onload }));
  delete tag.dataset.theme;
}

/** Fields that were typed in before this script was there; the head of the page listens for it (scripts/site/runtime.py).
 *  @type {Set<EventTarget>} */
const touched = new Set(globalThis.handbookTyped ?? []);
globalThis.handbookTyped = { push() {} }; // from now on the forms hear it themselves

function attachAll() {
  for (const section of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("section.sorter:not([data-attached])"))) attachSorter(section);
  calculators(); // those of the page before are let go
  for (const section of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("section.calc:not([data-attached])"))) {
    const one = new Calculator(section, python, touched);
    renewToday(one);
    attachLogbook(one);
  }
  touched.clear();
  for (const section of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("section.plan:not([data-attached])"))) {
    section.dataset.attached = "";
    listKept(section, state);
    extra("plan").then((/** @type {any} */ page) => page.attach(section, { python, state, linksInside }), (/** @type {Error} */ error) => {
      const place = section.querySelector(".plan-status");
      if (place) place.textContent = "The buttons of this page could not be fetched: perhaps a newer handbook has been put in the place of this one. What you set stays.";
      place?.append(" ", reloadButton());
      console.error(error);
    });
  }
  for (const section of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("section.intact:not([data-attached])"))) {
    section.dataset.attached = "";
    extra("intact").then((/** @type {any} */ page) => page.attach(section, { python, extra, figures, folder, top, names }), (/** @type {Error} */ error) => {
      const place = section.querySelector(".intact-verdict");
      if (place) place.textContent = "This copy is not whole: the part that checks it is missing. Get the copy again.";
      console.error(error);
    });
  }
}

// A page with calculators says so in its head. Over http it has started the worker there; from disk the files are read now,
// before the theme's scripts have run. Sections are attached when all of the page is there. The theme swaps pages without loading
// them anew (over http only); the worker stays.
if ("handbookWorker" in globalThis && !savesData()) python.start().catch(() => {}); // told when a section asks
function attachOnMove() {
  globalThis.document$?.subscribe(attachAll);
  globalThis.document$?.subscribe(mendShell);
}
function begin() {
  beginEmbed();
  beginToday();
  beginRenew();
  beginShell();
  beginHold();
  beginPress();
  attachAll();
  attachOnMove();
  callThemeAt(PRESSES);
  python.settled.then(() => {
    callThemeAt(SIGNS);
    setTimeout(callTheme, READING);
  });
}
/** @param {string[]} acts */
function callThemeAt(acts) {
  for (const act of acts) addEventListener(act, callTheme, { once: true, passive: true });
}
state.hear((ids) => { for (const one of calculators()) one.follow(ids); }); // before any begins: what it sets at once, today above all, is heard
if (document.readyState === "loading") addEventListener("DOMContentLoaded", begin);
else begin();

addEventListener("hashchange", () => { for (const one of calculators()) one.relink(); }); // a link opened on the page that it is for
addEventListener("pagehide", () => python.stop());
addEventListener("pageshow", ({ persisted }) => {
  if (!persisted) return;
  for (const one of calculators()) { // some engines empty the fields of a page that they put to sleep
    one.follow(new Set());
    one.settle();
  }
});
