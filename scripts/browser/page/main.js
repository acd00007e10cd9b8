// Makes the calculators of a page live. Python knows the formulas, units and words; this reads forms, asks, and puts answers in place.

import { attach } from "./calculator.js";
import { useFigures } from "./figures.js";
import { Python } from "./python.js";

const script = document.currentScript;
const folder = new URL(".", script.src);
const names = JSON.parse(script.dataset.runtime);
const python = new Python(folder, names);
useFigures(new URL(names.figures, folder));

function attachAll() {
  for (const section of document.querySelectorAll("section.calc:not([data-attached])")) attach(section, python);
}

// Python starts as soon as the page is known to have a calculator, in a thread of its own; its files take longer to arrive than the
// first paint. Sections are attached when all of the page is there. The theme swaps pages without loading them anew (over http
// only); the worker stays.
function early() {
  if (document.querySelector("section.calc")) python.start().catch(() => {}); // told when a section asks
}
early();
requestAnimationFrame(early);
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
