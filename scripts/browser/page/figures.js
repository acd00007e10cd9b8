// Draws the figures of an answer. The drawing library is a quarter of a megabyte and no first answer needs it (its figures were
// drawn when the page was made), so it is a script of its own, fetched once the calculators are live.

let address, arriving;

export function useFigures(from) {
  address = from;
}

/** Resolves to the drawing module. A copy that lacks it shows its answers without figures. */
export function figures() {
  arriving ??= new Promise((resolve, reject) => {
    const tag = Object.assign(document.createElement("script"), { src: address, onload: () => resolve(globalThis.handbookFigures), onerror: () => reject(new Error("the figures are missing")) });
    document.head.append(tag);
  });
  return arriving;
}

const WIDE_FROM = 560; // px, as in figure.css
const later = globalThis.requestIdleCallback ?? setTimeout; // some engines lack the first

/** Draw the figures of an answer: at once in the layout that fits, and when there is time in the one for another width or paper. */
export async function drawIn(place) {
  const plots = place.querySelectorAll(".calc-plot[data-figure-json]");
  if (!plots.length) return;
  const { draw, WIDTHS } = await figures();
  for (const plot of plots) {
    const figure = JSON.parse(plot.dataset.figureJson);
    plot.removeAttribute("data-figure-json");
    const both = plot.appendChild(Object.assign(document.createElement("div"), { className: "figure-drawn" }));
    const wide = both.clientWidth >= WIDE_FROM;
    both.append(draw(figure, { document, width: wide ? WIDTHS.wide : WIDTHS.narrow }));
    later(() => (wide ? both.prepend(draw(figure, { document, width: WIDTHS.narrow })) : both.append(draw(figure, { document, width: WIDTHS.wide }))));
  }
}
