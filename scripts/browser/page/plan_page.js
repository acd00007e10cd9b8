// The page of the plan: what the reader set, take one out, clear, take back the last change, save to a file and open one.
// Rows, words and the file come from Python (calc/page/plan.py).
// @ts-check

import { save } from "./leaving.js";

const LONGEST = 1_000_001; // characters handed to Python, which tells a file that is longer

/** @param {HTMLElement} section
 *  @param {{ python: import("./python.js").Python, state: typeof import("./state.js").state, linksInside: (place: Element) => void }} parts */
export function attach(section, { python, state, linksInside }) {
  /** @type {(selector: string) => any} */
  const find = (selector) => section.querySelector(selector);
  const currency = section.dataset.currency;
  const units = () => state.units ?? section.dataset.units;
  /** What a file holds. @type {{ values: Record<string, string>, units: import("./state.js").Units | null, currency?: string } | null} */
  let offer = null;
  const say = (/** @type {string} */ words) => { find(".plan-status").textContent = words; };

  /** @param {Element} place @param {string} html */
  function inPlace(place, html) {
    place.innerHTML = html;
    linksInside(place);
  }

  /** Every value as Python can read it, and in which units it was typed where it could not. */
  function plan() {
    const values = Object.entries(state.snapshot().values);
    const part = (/** @type {(value: import("./state.js").Value) => string | undefined} */ of) => Object.fromEntries(values.flatMap(([key, value]) => (of(value) === undefined ? [] : [[key, of(value)]])));
    return { values: part(({ text, plan }) => plan ?? text), origins: part(({ origin }) => origin), units_of: part((value) => (value.plan === undefined ? value.units : undefined)) };
  }

  /** @param {string} call @param {Record<string, unknown>} [more] */
  async function ask(call, more) {
    try {
      return await python.ask(call, { ...plan(), units: units(), currency, ...more });
    } catch (error) {
      if (!(error instanceof Error && error.message === "stopped")) say("The list could not be made in the handbook's own words. Your values are kept: reload the page.");
      console.error(error);
      return null;
    }
  }

  let shown = Promise.resolve();
  function show() {
    shown = shown.then(list);
    return shown;
  }

  async function list() {
    const any = Object.keys(plan().values).length > 0;
    for (const action of ["save", "clear", "print"]) find(`[data-action="${action}"]`).disabled = !any;
    find('[data-action="undo"]').hidden = !state.canUndo;
    for (const choice of section.querySelectorAll('[name="plan-units"]')) /** @type {HTMLInputElement} */ (choice).checked = /** @type {HTMLInputElement} */ (choice).value === units();
    const answer = await ask("plan");
    if (!answer) return;
    const open = Boolean(find(".plan-untouched[open]"));
    inPlace(find(".plan-list"), answer.html);
    if (open) find(".plan-untouched").open = true;
    section.dataset.state = "live";
  }

  /** Change the plan and say so; the reader can take it back.
   *  @param {Parameters<typeof state.change>[0]} act @param {string} words */
  function change(act, words) {
    state.change(act); // which shows it
    say(words + (state.trouble ? " This browser does not keep it: save it to a file before you close the page." : ""));
    return shown;
  }

  function offerNothing() {
    offer = null;
    find(".plan-offer").hidden = true;
    find(".plan-offer-list").replaceChildren();
  }

  /** @param {(map: string, key: string, value: any) => void} put @param {Record<string, string>} values */
  const putAll = (put, values) => { for (const [key, text] of Object.entries(values)) put("value", key, { text, plan: text }); };

  /** @type {Record<string, () => unknown>} */
  const actions = {
    async save() {
      const file = await ask("plan_file");
      if (file) save(file);
    },
    open: () => find(".plan-file").click(),
    clear: () => change((put) => { for (const key of Object.keys(plan().values)) put("value", key, null); }, "Cleared: every calculator stands at its defaults."),
    async undo() {
      state.undo();
      say("Back as it was.");
      await shown;
      find(".plan-list").focus();
    },
    async add() {
      const found = /** @type {NonNullable<typeof offer>} */ (offer);
      offerNothing();
      await change((put) => {
        if (found.units && !state.units) put("plan", "units", found.units);
        putAll(put, found.values);
      }, "The file's values are in your plan.");
    },
    async only() {
      const found = /** @type {NonNullable<typeof offer>} */ (offer);
      offerNothing();
      await change((put) => {
        if (found.units) put("plan", "units", found.units);
        for (const key of Object.keys(plan().values)) if (!(key in found.values)) put("value", key, null);
        putAll(put, found.values);
      }, "Your plan is what the file holds.");
    },
    leave() {
      offerNothing();
      say("Nothing was changed.");
      find('[data-action="open"]').focus();
    },
    print: () => print(),
  };

  /** @param {File | undefined} file */
  async function take(file) {
    if (!file) return;
    const answer = await ask("open_plan", { text: await file.slice(0, 4 * LONGEST).text().then((text) => text.slice(0, LONGEST)) });
    if (!answer) return;
    offer = answer.ok ? answer : null;
    find(".plan-offer").hidden = false;
    for (const action of ["add", "only"]) find(`[data-action="${action}"]`).hidden = !answer.ok;
    inPlace(find(".plan-offer-list"), answer.html);
    find(".plan-offer h2").focus();
    say("");
  }

  section.addEventListener("click", ({ target }) => {
    const button = target instanceof Element ? target.closest("button") : null;
    if (!button) return;
    const { action = "", remove } = button.dataset;
    if (remove === undefined) actions[action]?.();
    else change((put) => put("value", remove, null), "Taken out. The default is used again.").then(() => find('[data-action="undo"]').focus());
  });
  find(".plan-file").onchange = async (/** @type {any} */ { target }) => {
    await take(target.files[0]);
    target.value = ""; // the same file may be opened again
  };
  section.addEventListener("dragover", (event) => event.preventDefault());
  section.addEventListener("drop", (event) => {
    event.preventDefault();
    take(event.dataTransfer?.files[0]);
  });
  for (const choice of section.querySelectorAll('[name="plan-units"]')) {
    choice.addEventListener("change", () => state.change((put) => put("plan", "units", /** @type {HTMLInputElement} */ (choice).value)));
  }
  for (const part of section.querySelectorAll("[data-live]")) /** @type {HTMLElement} */ (part).hidden = false;
  show();
  const stop = state.hear(() => { // changed here, or in another tab
    if (section.isConnected) show();
    else stop();
  });
}
