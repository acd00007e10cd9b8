// Makes the calculators of a page live. Python knows the formulas, units and words; this reads forms, asks, and puts answers in place.

import { beginCopy, mendCopy } from "../offline/start.js";
import { Calculator } from "./calculator.js";
import { extra, linksInside, useExtras } from "./extra.js";
import { useFigures } from "./figures.js";
import { plan } from "./plan.js";
import { Python } from "./python.js";
import { attachSorter } from "./sorter.js";
import { beginShell, mendShell } from "./shell.js";
import { beginHold } from "./hold.js";

const script = document.currentScript;
const folder = new URL(".", script.src);
const names = JSON.parse(script.dataset.runtime);
const python = new Python(folder, names);
globalThis.handbookPython = python; // for whoever wants to ask it from the console
useFigures(new URL(names.figures, folder));
useExtras(folder, names);
python.mend = mendCopy;
beginCopy(new URL(names.copy, folder), new URL("../../", folder), python.settled).catch(console.error);

// The theme's script moves between pages, searches and keeps the list of pages in step. All in one, it takes a phone a third of a second
// (scripts/site/finish.py holds it back). At once when the reader presses something; at the first sign of them when the first answer
// is out; else when they have been reading for a while.
const PRESSES = ["pointerdown", "keydown", "focusin"], SIGNS = ["pointermove", "wheel", "scroll"];
const READING = 10_000; // ms

function callTheme() {
  if (!script.dataset.theme) return;
  const onload = () => {
    document.dispatchEvent(new Event("DOMContentLoaded")); // the theme waits for it, and it has been
    attachOnMove();
    document.querySelector("[data-md-component=search-query]")?.dispatchEvent(new Event("keyup", { bubbles: true })); // typed meanwhile
  };
  document.body.append(Object.assign(document.createElement("script"), { src: script.dataset.theme, onload }));
  delete script.dataset.theme;
}

function attachAll() {
  for (const section of document.querySelectorAll("section.sorter:not([data-attached])")) attachSorter(section);
  for (const section of document.querySelectorAll("section.calc:not([data-attached])")) new Calculator(section, python);
  for (const section of document.querySelectorAll("section.plan:not([data-attached])")) {
    section.dataset.attached = "";
    extra("plan").then((page) => page.attach(section, { python, plan, linksInside })).catch(console.error);
  }
}

// A page with calculators says so in its head. Over http it has started the worker there; from disk the files are read now,
// before the theme's scripts have run. Sections are attached when all of the page is there. The theme swaps pages without loading
// them anew (over http only); the worker stays.
if ("handbookWorker" in globalThis) python.start().catch(() => {}); // told when a section asks
function attachOnMove() {
  globalThis.document$?.subscribe(attachAll);
  globalThis.document$?.subscribe(mendShell);
}
function begin() {
  beginShell();
  beginHold();
  attachAll();
  attachOnMove();
  callThemeAt(PRESSES);
  python.settled.then(() => {
    callThemeAt(SIGNS);
    setTimeout(callTheme, READING);
  });
}
function callThemeAt(acts) {
  for (const act of acts) addEventListener(act, callTheme, { once: true, passive: true });
}
if (document.readyState === "loading") addEventListener("DOMContentLoaded", begin);
else begin();
addEventListener("pagehide", () => python.stop());
addEventListener("pageshow", ({ persisted }) => {
  if (persisted) python.start().catch(() => {});
});
