// One calculator in the frame of another site: `…/garden/index.html?only` shows the calculators of that page and nothing round them.

const SAY = {
  copied: "Copied. Paste it where the calculator is to stand in your page.",
  disk: "A frame needs an address: open the handbook where it is served, and copy there.",
};

/** The lines that another site puts into its page; the values of the reader stay out of them. */
export function snippet(address, title) {
  const plain = (text) => text.replaceAll("&", "&amp;").replaceAll('"', "&quot;").replaceAll("<", "&lt;");
  const url = new URL(address);
  url.search = "?only";
  url.hash = "";
  return `<iframe src="${plain(url.href)}" title="${plain(title)}" loading="lazy" style="width: 100%; height: 60em; border: 0"></iframe>`;
}

async function press({ target }) {
  const section = target.closest?.('[data-action="embed"]')?.closest("section.calc");
  if (!section) return;
  const status = section.querySelector(".calc-status");
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
