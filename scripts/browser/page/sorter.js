// @ts-check
// The sorter of troubles: what is pressed narrows the list to the troubles that show it. The words are the page's own.

import { make } from "./element.js";

const MOST = 6; // troubles that are named at once; more would be no help

/** Troubles by how many of the pressed signs they show, those with most of them.
 *  @template {{signs: Set<string>}} Trouble
 *  @param {Trouble[]} troubles @param {string[]} pressed @returns {Trouble[]} */
export function nearest(troubles, pressed) {
  const shown = troubles.map((trouble) => pressed.filter((sign) => trouble.signs.has(sign)).length);
  const most = Math.max(0, ...shown);
  return most ? troubles.filter((_, place) => shown[place] === most) : [];
}

/** @param {HTMLElement} section */
export function attachSorter(section) {
  const troubles = [...document.querySelectorAll("h3[data-signs]")].map((heading) => ({
    id: heading.id,
    title: heading.firstChild?.textContent?.trim() ?? "",
    signs: new Set((heading.getAttribute("data-signs") ?? "").split(" ")),
  }));
  const found = /** @type {HTMLElement} */ (section.querySelector(".sorter-found"));
  const buttons = /** @type {NodeListOf<HTMLElement>} */ (section.querySelectorAll("[data-sign]"));

  function show() {
    const pressed = [...buttons].filter((button) => button.ariaPressed === "true").map((button) => button.dataset.sign ?? "");
    const fitting = nearest(troubles, pressed);
    const links = fitting.slice(0, MOST).map(({ id, title }) => make("li", {}, make("a", { href: `#${id}`, textContent: title })));
    const told = fitting.length > MOST ? `${fitting.length} troubles show that. Press what else you notice; the first ones are` : fitting.length === 1 ? "This one:" : `${fitting.length} troubles:`;
    found.replaceChildren(...(fitting.length ? [make("p", { textContent: told }), make("ol", {}, ...links)] : []));
  }

  section.dataset.attached = "";
  section.hidden = false;
  section.addEventListener("click", ({ target }) => {
    const button = /** @type {HTMLElement} */ (target).closest("[data-sign]");
    if (!button) return;
    button.ariaPressed = String(button.ariaPressed !== "true");
    show();
  });
}
