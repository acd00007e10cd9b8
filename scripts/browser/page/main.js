// Makes the calculators of a page live. Python knows the formulas, units and words; this reads forms, asks, and puts answers in place.

import { beginCopy, mendCopy } from "../offline/start.js";
import { attach } from "./calculator.js";
import { useFigures } from "./figures.js";
import { Python } from "./python.js";

const script = document.currentScript;
const folder = new URL(".", script.src);
const names = JSON.parse(script.dataset.runtime);
const python = new Python(folder, names);
globalThis.handbookPython = python; // for whoever wants to ask it from the console
useFigures(new URL(names.figures, folder));
python.mend = mendCopy;
beginCopy(new URL(names.copy, folder), new URL("../../", folder), python.settled).catch(console.error);

function attachAll() {
  for (const section of document.querySelectorAll("section.calc:not([data-attached])")) attach(section, python);
}

// A page with calculators says so in its head. Over http it has started the worker there; from disk the files are read now,
// before the theme's scripts have run. Sections are attached when all of the page is there. The theme swaps pages without loading
// them anew (over http only); the worker stays.
if ("handbookWorker" in globalThis) python.start().catch(() => {}); // told when a section asks
function begin() {
  attachAll();
  globalThis.document$?.subscribe(attachAll);
}
if (document.readyState === "loading") addEventListener("DOMContentLoaded", begin);
else begin();
addEventListener("pagehide", () => python.stop());
addEventListener("pageshow", ({ persisted }) => {
  if (persisted) python.start().catch(() => {});
});
