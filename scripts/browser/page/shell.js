// What stands round every article: units of all pages, colours, the sheet of contents. All of it works by the markup alone except
// what it has to remember.

import { state } from "./state.js";

const SCHEME = "handbook-scheme"; // the head of each page reads it before anything is drawn

/** Where the browser keeps nothing, or has no room, a switch holds as long as the page. */
function remember(name, text) {
  try {
    localStorage.setItem(name, text);
  } catch {
    // refused or full
  }
}

function remembered(name) {
  try {
    return localStorage.getItem(name) ?? "";
  } catch {
    return "";
  }
}

function mendUnits() {
  const units = state.units ?? document.querySelector("[data-calculator]")?.dataset.units ?? document.querySelector(".units")?.dataset.units;
  showUnits(units);
}

/** The switches as they stand: the head stays over a move to another page, the foot comes anew. */
export function mendShell() {
  mendUnits();
  const scheme = remembered(SCHEME);
  for (const choice of document.querySelectorAll('[name="handbook-scheme"]')) choice.checked = choice.value === scheme;
  markPlace();
  closeContents();
}

/** The switch and the measures of the text (scripts/site/measures.py); the head of each page reads it before anything is drawn. */
function showUnits(units) {
  for (const choice of document.querySelectorAll('[name="handbook-units"]')) choice.checked = choice.value === units;
  document.documentElement.dataset.units = units;
  remember("handbook-units", units);
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
      state.change((put) => put("plan", "units", target.value));
    } else if (target.name === "handbook-scheme") {
      document.documentElement.dataset.scheme = target.value;
      remember(SCHEME, target.value);
    }
  });
  document.addEventListener("click", ({ target }) => target.closest?.(".measure")?.toggleAttribute("data-both"));
  state.hear((ids) => { if (ids.has("plan units")) mendUnits(); });
  document.addEventListener("pointerdown", ({ target }) => { if (!target.closest(".contents")) closeContents(); });
  document.addEventListener("keydown", ({ key }) => {
    const open = key === "Escape" && document.querySelector(".contents[open]");
    if (!open) return;
    open.removeAttribute("open");
    open.querySelector("summary").focus();
  });
}
