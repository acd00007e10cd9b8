// How something leaves the page: as a file, or by the clipboard.

import { make } from "./element.js";

const KINDS = new Map([["csv", "text/csv"], ["ics", "text/calendar"]]);

/** The media type of a file by its name. @param {string} filename */
const kindOf = (filename) => KINDS.get(filename.split(".").pop() ?? "") ?? "text/plain";

export function save({ text, filename }) {
  const link = make("a", { href: URL.createObjectURL(new Blob([text], { type: `${kindOf(filename)};charset=utf-8` })), download: filename });
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 1000);
}

export async function copy(text) {
  try {
    await navigator.clipboard.writeText(text);
  } catch { // from disk, or refused
    const area = document.body.appendChild(make("textarea", { value: text, readOnly: true, className: "calc-off-screen" }));
    area.select();
    document.execCommand("copy");
    area.remove();
  }
}
