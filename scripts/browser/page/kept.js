// The list of what is kept, before Python is there to word it and wherever it never comes.
// @ts-check

import { make } from "./element.js";

/** @param {HTMLElement} section of the page Your plan @param {typeof import("./state.js").state} state */
export function listKept(section, state) {
  const values = Object.entries(state.snapshot().values);
  const place = section.querySelector(".plan-list");
  if (!values.length || !place) return;
  const head = make("tr", {}, make("th", { scope: "col", textContent: "Input" }), make("th", { scope: "col", textContent: "Your value" }));
  const rows = values.map(([key, { text, plan }]) => make("tbody", {}, make("tr", {},
    make("th", { scope: "row", textContent: key.slice(key.indexOf(": ") + 2) }), make("td", { textContent: short(plan ?? text).replace("money", section.dataset.currency ?? "") }))));
  place.replaceChildren(make("table", { className: "plan-set" }, make("thead", {}, head), ...rows));
}

/** A table is told by its number of rows, whether it stands as text or as rows. @param {string} text */
function short(text) {
  if (!text.startsWith('{"')) return text.includes("\n") ? `${text.trim().split("\n").length - 1} rows` : text;
  try {
    return `${JSON.parse(text).rows.length} rows`;
  } catch {
    return text.slice(0, 40);
  }
}
