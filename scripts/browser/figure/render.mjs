// Figures at build time: JSON lines {"id", "figure", "width"} in, {"id", "svg"} or {"id", "error"} out, one process for all.
// Without a width both layouts are drawn.

import { createInterface } from "node:readline";
import { parseHTML } from "linkedom";
import { draw, drawBoth } from "./draw.mjs";
import { round } from "./ink.mjs";

const { document } = parseHTML("<!doctype html><html><body></body></html>");

/** Whole escapes in the one attribute that holds a reader's words, and no more digits than a screen can show. */
function tidy(markup) {
  return markup.replace(/([\w-]+)="([^"]*)"/g, (all, name, value) => name === "aria-label"
    ? `${name}="${value.replace(/&(?!quot;)/g, "&amp;").replace(/</g, "&lt;").replace(/>/g, "&gt;")}"`
    : all.replace(/\d+\.\d{3,}/g, (digits) => String(round(Number(digits)))));
}

export function render({ figure, width }) {
  return tidy((width ? draw(figure, { document, width }) : drawBoth(figure, { document })).outerHTML);
}

if (import.meta.url === `file://${process.argv[1]}`) {
  for await (const text of createInterface({ input: process.stdin })) {
    if (!text.trim()) continue;
    const job = JSON.parse(text);
    let answer;
    try {
      answer = { id: job.id, svg: render(job) };
    } catch (error) {
      answer = { id: job.id, error: error.message };
      process.exitCode = 1;
    }
    process.stdout.write(`${JSON.stringify(answer)}\n`);
  }
}
