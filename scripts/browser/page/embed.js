// One calculator in the frame of another site: `…/garden/index.html?only` shows the calculators of that page and nothing round them.
// @ts-check

const SAY = {
  copied: "Copied. Paste it where the calculator is to stand in your page.",
  disk: "A frame needs an address: open the handbook where it is served, and copy there.",
};

/** The line that another site puts into its page; the values of the reader stay out of it.
 *  @param {string} address @param {string} title */
export function snippet(address, title) {
  /** @param {string} text */
  const plain = (text) => text.replaceAll("&", "&amp;").replaceAll('"', "&quot;").replaceAll("<", "&lt;");
  const url = new URL(address);
  url.search = "?only";
  url.hash = "";
  return `<iframe src="${plain(url.href)}" title="${plain(title)}" loading="lazy" style="width: 100%; height: 60em; border: 0"></iframe>`;
}

/** @param {MouseEvent} event */
async function press({ target }) {
  const button = target instanceof Element ? target.closest('[data-action="embed"]') : null;
  const section = button?.closest("section.calc"), status = section?.querySelector(".calc-status");
  if (!section || !status) return;
  if (location.protocol === "file:") status.textContent = SAY.disk;
  else {
    const lines = snippet(location.href, section.getAttribute("aria-label") ?? document.title);
    try {
      await navigator.clipboard.writeText(lines);
      status.textContent = SAY.copied;
    } catch {
      status.textContent = lines; // a browser that copies nothing: it can be marked there
    }
  }
}

/** Whether this page stands in such a frame, once. */
export function beginEmbed() {
  if (new URLSearchParams(location.search).has("only")) document.documentElement.classList.add("only");
  addEventListener("click", press);
}
