// The page "Is this copy whole?": opens each part, asks each calculator once, and compares every file with the list of what was made
// (scripts/site/intact.py). A server's files are fetched for it; from disk, where a page may not read its neighbours, the reader
// chooses the folder.
// @ts-check

import { make, script } from "./element.js";

/** @typedef {{ version: string, day: string, files: Record<string, string>, units: string, currency: string, calculators: Record<string, [string, string]> }} List */
/** @typedef {{ python: import("./python.js").Python, extra: (name: string) => Promise<unknown>, figures: () => Promise<unknown>, folder: URL, top: URL, names: import("./python.js").Names }} Parts */

const AT_ONCE = 4; // files
const SAY = {
  begin: "Press the button: it takes about a minute. Do it once before the season, on each device.",
  list: "This copy is not whole: the list of its files is missing. Get the copy again.",
  open: "Every part opens, and every calculator answers as it should. To compare each page and drawing as well, choose the folder that this copy lies in.",
  whole: "This copy is whole on this device.",
  served: "Every file comes from the server as it was made. Whether this browser also keeps a copy is said at the foot of the page.",
  broken: "This copy is not whole. What is wrong stands below. Get the copy again; what you set stays.",
  unsure: "Every part opens, and every calculator answers as it should. This browser compares no files here: take the saved copy, or an address that begins with https.",
};
/** @typedef {"parts" | "calculators" | "files"} Check */

/** @param {BufferSource} bytes */
async function hash(bytes) {
  return [...new Uint8Array(await crypto.subtle.digest("SHA-256", bytes))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** Act on all of them, some at a time.
 *  @template Item @param {Item[]} items @param {(item: Item) => Promise<void>} act */
async function each(items, act) {
  const rest = [...items];
  await Promise.all(Array.from({ length: AT_ONCE }, async () => {
    for (let item = rest.shift(); item !== undefined; item = rest.shift()) await act(item);
  }));
}

/** @param {HTMLElement} section @param {Parts} parts */
export function attach(section, { python, extra, figures, folder, top, names }) {
  const find = (/** @type {string} */ selector) => /** @type {any} */ (section.querySelector(selector));
  const say = (/** @type {string} */ words) => { find(".intact-verdict").textContent = words; };
  const disk = location.protocol === "file:";
  const compares = Boolean(globalThis.crypto?.subtle);
  /** @type {Map<Check, string[]>} */
  const faults = new Map();
  let busy = false;

  /** @param {Check} check @param {string} words */
  function tell(check, words) {
    find(`[data-check="${check}"] td`).textContent = words;
  }

  /** @param {Check} check @param {string} words */
  const fault = (check, words) => { faults.get(check)?.push(words); };

  /** One check from its beginning: how far it has come is told, then how it ended.
   *  @template Item @param {Check} check @param {Item[]} items @param {(item: Item) => Promise<void>} act */
  async function run(check, items, act) {
    const found = /** @type {string[]} */ ([]);
    let done = 0;
    faults.set(check, found);
    await each(items, async (item) => {
      await act(item);
      tell(check, `${++done} of ${items.length}`);
    });
    tell(check, found.length ? `${found.length} of ${items.length} wrong` : `yes, all ${items.length}`);
  }

  /** @returns {Promise<List | null>} */
  async function list() {
    await script(new URL("assets/intact.js", top)).catch(() => {});
    return globalThis.handbookIntact ?? null;
  }

  // ---- parts

  /** What the page fetches when it is asked for, and from disk the packed twins of what Python is made of.
   *  @param {List} known */
  function openParts(known) {
    const own = ["plan", "code"].map((name) => /** @type {[string, () => Promise<unknown>]} */ ([names[name], () => extra(name)]));
    const packed = disk ? Object.entries(names.disk).map(([name, file]) => /** @type {[string, () => Promise<unknown>]} */ ([file, () => unpack(name, file, known)])) : [];
    return run("parts", [[names.figures, figures], .../** @type {any[]} */ (own), ...packed], async ([file, open]) => {
      try {
        if (!(await open())) fault("parts", `${file} does not open.`);
      } catch {
        fault("parts", `${file} does not open.`);
      }
    });
  }

  /** The script of a packed twin says nothing but one text, so that its own text is known when it has run.
   *  @param {string} name @param {string} file @param {List} known */
  async function unpack(name, file, known) {
    await script(new URL(file, folder));
    if (!compares) return true;
    const text = `(globalThis.handbookFiles??={})["${name}"]="${globalThis.handbookFiles[name]}";\n`;
    delete globalThis.handbookFiles[name];
    if ((await hash(new TextEncoder().encode(text))) !== known.files[pathOf(file)]) fault("parts", `${pathOf(file)} is not the file that was made.`);
    return true;
  }

  const pathOf = (/** @type {string} */ file) => new URL(file, folder).href.slice(top.href.length);

  // ---- calculators

  /** @param {List} known */
  function askAll({ calculators, units, currency }) {
    return run("calculators", Object.entries(calculators), async ([calculator, [question, expected]]) => {
      try {
        const { html } = await python.ask("answer", { calculator, values: {}, units, currency });
        if (compares && (await hash(new TextEncoder().encode(html))) !== expected) fault("calculators", `“${question}” is answered otherwise than it was prepared.`);
      } catch {
        fault("calculators", `“${question}” gives no answer.`);
      }
    });
  }

  // ---- files

  /** @param {string} path @param {string} expected @param {() => Promise<ArrayBuffer | null>} bytes */
  async function compare(path, expected, bytes) {
    const found = await bytes().catch(() => null);
    if (!found) fault("files", `${path} is missing.`);
    else if ((await hash(found)) !== expected) fault("files", `${path} is not the file that was made.`);
  }

  /** @param {List} known */
  function fetchAll({ files }) {
    return run("files", Object.entries(files), ([path, expected]) => compare(path, expected, async () => {
      const response = await fetch(new URL(path, top));
      return response.ok ? response.arrayBuffer() : null;
    }));
  }

  /** Files of the folder that was chosen, by their way from the top of the copy. The folder round it may be chosen as well.
   *  @param {File[]} chosen */
  function byPath(chosen) {
    const list = chosen.find(({ webkitRelativePath }) => /(^|\/)assets\/intact\.js$/.test(webkitRelativePath));
    if (!list) return null;
    const before = list.webkitRelativePath.slice(0, -"assets/intact.js".length);
    return new Map(chosen.map((file) => [file.webkitRelativePath.slice(before.length), file]));
  }

  /** @param {File[]} chosen */
  async function compareFolder(chosen) {
    delete section.dataset.state;
    const known = await list(), files = byPath(chosen);
    if (!known) return say(SAY.list);
    if (!files) return say("This is not the folder of the copy: choose the one in which index.html lies.");
    await run("files", Object.entries(known.files), ([path, expected]) => compare(path, expected, async () => files.get(path)?.arrayBuffer() ?? null));
    judge(known);
  }

  // ---- the word at the end

  /** @param {List} known */
  function judge({ version, day }) {
    const wrong = [...faults.values()].flat();
    const asked = faults.has("files");
    const kept = disk || Boolean(navigator.serviceWorker?.controller);
    say(wrong.length ? SAY.broken : asked ? (kept ? SAY.whole : SAY.served) : compares ? SAY.open : SAY.unsure);
    find(".intact-faults").hidden = !wrong.length;
    find(".intact-faults").replaceChildren(...wrong.map((words) => make("li", { textContent: words })));
    find(".intact-of").textContent = `Handbook ${day ? `of ${day}, ` : ""}version ${version}. Looked at on ${new Date().toLocaleDateString("en-GB", { dateStyle: "long" })}.`;
    section.dataset.state = wrong.length ? "broken" : asked ? "whole" : "open";
    find(".intact-verdict").focus();
  }

  async function check() {
    delete section.dataset.state;
    faults.clear();
    say("Looking at everything.");
    const known = await list();
    if (!known) {
      section.dataset.state = "broken";
      return say(SAY.list);
    }
    await askAll(known);
    await openParts(known);
    if (!disk && compares) await fetchAll(known);
    find('[data-action="folder"]').hidden = !(disk && compares);
    judge(known);
  }

  /** One at a time. @param {() => Promise<unknown>} act */
  async function alone(act) {
    if (busy) return;
    busy = true;
    await act().finally(() => { busy = false; });
  }

  const chooser = /** @type {HTMLInputElement} */ (find('input[type="file"]'));
  find('[data-action="check"]').onclick = () => alone(check);
  find('[data-action="folder"]').onclick = () => chooser.click();
  find('[data-action="print"]').onclick = () => print();
  chooser.onchange = () => alone(() => compareFolder([...(chooser.files ?? [])]));
  for (const part of section.querySelectorAll("[data-live]")) /** @type {HTMLElement} */ (part).hidden = false;
  say(SAY.begin);
}
