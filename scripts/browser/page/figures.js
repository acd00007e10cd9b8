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

export async function drawIn(place) {
  const plots = place.querySelectorAll(".calc-plot[data-figure-json]");
  if (!plots.length) return;
  const { drawBoth } = await figures();
  for (const plot of plots) {
    plot.append(drawBoth(JSON.parse(plot.dataset.figureJson), { document }));
    plot.removeAttribute("data-figure-json");
  }
}
