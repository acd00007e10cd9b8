// Draws the figures of an answer. The drawing library is a quarter of a megabyte and no first answer needs it (its figures were
// drawn when the page was made), so it is a script of its own, fetched once the calculators are live.

import { make, script } from "./element.js";

let address, arriving;

export function useFigures(from) {
  address = from;
}

/** Resolves to the drawing module. A copy that lacks it shows its answers without figures. */
export function figures() {
  arriving ??= script(address).then(() => globalThis.handbookFigures, (error) => {
    arriving = undefined; // asked for again with the next answer
    throw error;
  });
  return arriving;
}

const WIDE_FROM = 560; // px, as in figure.css
const later = globalThis.requestIdleCallback ?? setTimeout; // some engines lack the first

// {name of a figure: whether its place is wide}. To look makes the browser lay the page out, which takes as long as drawing; a wrong
// guess only draws the layout first that is shown later.
const known = new Map();
addEventListener("resize", () => known.clear());

function isWide(name, place) {
  if (!known.has(name)) known.set(name, place.clientWidth >= WIDE_FROM);
  return known.get(name);
}

/** Draw the figures of an answer: at once in the layout that fits, and when there is time in the one for another width or paper. */
export async function drawIn(place) {
  const plots = place.querySelectorAll(".calc-plot[data-figure-json]");
  if (!plots.length) return;
  const { draw, WIDTHS } = await figures();
  const drawings = [...plots].map((plot) => {
    const figure = JSON.parse(plot.dataset.figureJson);
    plot.removeAttribute("data-figure-json");
    return { figure, both: plot.appendChild(make("div", { className: "figure-drawn" })) };
  });
  const wide = drawings.map(({ figure, both }) => isWide(figure.name, both)); // all before any is drawn
  drawings.forEach(({ figure, both }, at) => {
    both.append(draw(figure, { document, width: wide[at] ? WIDTHS.wide : WIDTHS.narrow }));
    later(() => (wide[at] ? both.prepend(draw(figure, { document, width: WIDTHS.narrow })) : both.append(draw(figure, { document, width: WIDTHS.wide }))));
  });
}
