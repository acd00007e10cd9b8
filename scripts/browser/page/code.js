// A link as a QR code, for a market stall or a label: shown under the calculator, to print or to save as a drawing.

import { encode } from "uqr";

import { make } from "./element.js";
import { save } from "./leaving.js";

const QUIET = 4; // modules of white around it, as the standard asks (ISO/IEC 18004)
const MODULE = 0.05; // cm; a smaller one is hard to read for a phone held at arm's length: common practice, no source
const MOST = 2331; // bytes that fit with the error correction of level M

/** The code as SVG text: one square of a unit for each dark module. */
function drawn(address) {
  const { data, size } = encode(address, { ecc: "M", border: QUIET });
  const dark = data.flatMap((row, y) => row.flatMap((on, x) => (on ? [`M${x} ${y}h1v1h-1z`] : [])));
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${size} ${size}" shape-rendering="crispEdges" role="img" aria-label="QR code of the link"><path fill="#fff" d="M0 0h${size}v${size}H0z"/><path fill="#000" d="${dark.join("")}"/></svg>`;
  return { svg, size };
}

function parts(section, address, close) {
  const bytes = new TextEncoder().encode(address).length;
  const done = make("button", { type: "button", textContent: "Close", onclick: close });
  if (bytes > MOST) {
    const words = `This link has ${bytes.toLocaleString("en")} characters; a QR code holds ${MOST.toLocaleString("en")}. Send the link itself, or set fewer values: tables take the most room.`;
    return [make("p", { className: "calc-error", textContent: words }), make("div", { className: "calc-actions" }, done)];
  }
  const { svg, size } = drawn(address);
  const picture = make("div", { className: "calc-code-picture", innerHTML: svg });
  const question = section.querySelector(".calc-question").textContent;
  const width = Math.ceil(size * MODULE);
  const caption = make("figcaption", {},
    make("strong", { textContent: question }), make("p", { textContent: `A phone that looks at it opens this page with your values. Print it at least ${width} cm (${(width / 2.54).toFixed(1)} in) wide.` }));
  if (location.protocol === "file:") {
    caption.append(make("p", { className: "calc-error", textContent: "This is a copy on your own device, so the code leads nowhere for others. Make it on the handbook that is served to them." }));
  }
  caption.append(make("p", { className: "calc-code-address", textContent: address }));
  const filename = `${section.dataset.calculator}-qr.svg`;
  const printed = () => {
    const sheet = document.body.appendChild(picture.parentElement.cloneNode(true));
    document.documentElement.dataset.printing = "code";
    addEventListener("afterprint", () => {
      delete document.documentElement.dataset.printing;
      sheet.remove();
    }, { once: true });
    print();
  };
  return [picture, caption, make("div", { className: "calc-actions" },
    make("button", { type: "button", textContent: "Save as SVG", onclick: () => save({ text: svg, filename }) }), make("button", { type: "button", textContent: "Print the code", onclick: printed }), done)];
}

/** Show the code of an address under a calculator, in place of one shown before. */
export function show(section, address) {
  const button = section.querySelector('[data-action="code"]');
  section.querySelector(".calc-code")?.remove();
  const figure = make("figure", { className: "calc-code", tabIndex: -1 });
  figure.append(...parts(section, address, () => {
    figure.remove();
    button.focus();
  }));
  section.querySelector(".calc-actions").after(figure);
  figure.focus();
}
