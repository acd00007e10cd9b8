// What stands round every article: units of all pages, colours, the sheet of contents. All of it works by the markup alone except
// what it has to remember.

import { plan } from "./plan.js";

const SCHEME = "handbook-scheme"; // the head of each page reads it before anything is drawn

/** The switches as they stand: the head stays over a move to another page, the foot comes anew. */
export function mendShell() {
  const head = document.querySelector(".units");
  const units = plan.get().units ?? document.querySelector("[data-calculator]")?.dataset.units ?? head?.dataset.units;
  showUnits(units);
  const scheme = localStorage.getItem(SCHEME) ?? "";
  for (const choice of document.querySelectorAll('[name="handbook-scheme"]')) choice.checked = choice.value === scheme;
  markPlace();
  closeContents();
}

/** The switch and the measures of the text (scripts/site/measures.py); the head of each page reads it before anything is drawn. */
function showUnits(units) {
  for (const choice of document.querySelectorAll('[name="handbook-units"]')) choice.checked = choice.value === units;
  document.documentElement.dataset.units = units;
  localStorage.setItem("handbook-units", units);
}

/** The line of the page in the contents, after a move that left the head as it was. */
function markPlace() {
  for (const link of document.querySelectorAll(".head .book a")) {
    if (link.pathname === location.pathname) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
  }
}

function closeContents() {
  document.querySelector(".contents[open]")?.removeAttribute("open");
}

export function beginShell() {
  document.documentElement.classList.replace("no-js", "js");
  mendShell();
  document.addEventListener("change", ({ target }) => {
    if (target.name === "handbook-units") {
      plan.units(target.value);
      document.dispatchEvent(new CustomEvent("handbook:units", { detail: target.value })); // for every calculator of the page
    } else if (target.name === "handbook-scheme") {
      document.documentElement.dataset.scheme = target.value;
      localStorage.setItem(SCHEME, target.value);
    }
  });
  document.addEventListener("handbook:units", ({ detail }) => showUnits(detail));
  document.addEventListener("click", ({ target }) => target.closest?.(".measure")?.toggleAttribute("data-both"));
  document.addEventListener("pointerdown", ({ target }) => { if (!target.closest(".contents")) closeContents(); });
  document.addEventListener("keydown", ({ key }) => {
    const open = key === "Escape" && document.querySelector(".contents[open]");
    if (!open) return;
    open.removeAttribute("open");
    open.querySelector("summary").focus();
  });
}
