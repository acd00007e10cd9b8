// Parts of the page script that few readers need: scripts of their own, fetched when they are asked for.

import { script } from "./element.js";

let folder, names;
const arriving = {};

export function useExtras(from, known) {
  folder = from;
  names = known;
}

/** Resolves to what the script of that name hands out. */
export function extra(name) {
  arriving[name] ??= script(new URL(names[name], folder)).then(() => globalThis[`handbook_${name}`], (error) => {
    delete arriving[name];
    throw error;
  });
  return arriving[name];
}

/** The links of Python's HTML name pages from the top of the handbook; here they get their way there. */
export function linksInside(place) {
  for (const link of place.querySelectorAll('a[href^="handbook:"]')) link.href = new URL(link.getAttribute("href").slice("handbook:".length), new URL("../../", folder));
}
