// Makes the calculators of a page live. Python knows the formulas, units and words; this reads forms, asks, and puts answers in place.

import { attach } from "./calculator.js";
import { Python } from "./python.js";

const script = document.currentScript;
const python = new Python(new URL(".", script.src), JSON.parse(script.dataset.runtime));

function attachAll() {
  const sections = document.querySelectorAll("section.calc:not([data-attached])");
  for (const section of sections) attach(section, python);
}

// The script is deferred, so the page is there. The theme swaps pages without loading them anew (over http only); the worker stays.
attachAll();
globalThis.document$?.subscribe(attachAll);
addEventListener("pagehide", () => python.stop());
addEventListener("pageshow", ({ persisted }) => {
  if (persisted) python.start();
});
