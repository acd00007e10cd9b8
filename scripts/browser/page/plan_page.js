// The page of the plan: what the reader set, take one out, clear with an undo, save to a file and open one.
// Rows, words and the file come from Python (calc/page/plan.py).

import { save } from "./leaving.js";

const LONGEST = 1_000_001; // characters handed to Python, which tells a file that is longer

export function attach(section, { python, plan, linksInside }) {
  const find = (selector) => section.querySelector(selector);
  const currency = section.dataset.currency;
  const units = () => plan.get().units ?? section.dataset.units;
  let before = null, offer = null; // the plan before the last change; what a file holds
  const say = (words) => { find(".plan-status").textContent = words; };

  function inPlace(place, html) {
    place.innerHTML = html;
    linksInside(place);
  }

  async function ask(call, more) {
    const { values, origins } = plan.get();
    try {
      return await python.ask(call, { values, origins, units: units(), currency, ...more });
    } catch (error) {
      if (error.message !== "stopped") say("The list could not be made. Your values are kept: reload the page.");
      console.error(error);
      return null;
    }
  }

  async function show() {
    const answer = await ask("plan");
    if (!answer) return;
    const open = Boolean(find(".plan-untouched[open]"));
    inPlace(find(".plan-list"), answer.html);
    if (open) find(".plan-untouched").open = true;
    const any = Object.keys(plan.get().values).length > 0;
    for (const action of ["save", "clear", "print"]) find(`[data-action="${action}"]`).disabled = !any;
    find('[data-action="undo"]').hidden = !before;
    for (const choice of section.querySelectorAll('[name="plan-units"]')) choice.checked = choice.value === units();
    section.dataset.state = "live";
  }

  /** Change the plan and say so; the one before comes back with Undo. */
  function change(next, words) {
    before = structuredClone(plan.get());
    plan.replace(next);
    const troubled = plan.trouble() ? " This browser does not keep it: save it to a file before you close the page." : "";
    say(words + troubled);
    return show();
  }

  function offerNothing() {
    offer = null;
    find(".plan-offer").hidden = true;
    find(".plan-offer-list").replaceChildren();
  }

  const actions = {
    async save() {
      const file = await ask("plan_file");
      if (file) save(file);
    },
    open: () => find(".plan-file").click(),
    clear: () => change({ ...plan.get(), values: {}, origins: {} }, "Cleared: every calculator stands at its defaults."),
    async undo() {
      const { units: kept, values, origins } = before;
      before = null;
      plan.replace({ ...plan.get(), units: kept, values, origins });
      say("Back as it was.");
      await show();
      find(".plan-list").focus();
    },
    async add() {
      const { values, units: system } = offer;
      offerNothing();
      const mine = plan.get();
      await change({ ...mine, units: mine.units ?? system ?? undefined, values: { ...mine.values, ...values }, origins: without(mine.origins, values) }, "The file's values are in your plan.");
    },
    async only() {
      const { values, units: system } = offer;
      offerNothing();
      await change({ ...plan.get(), units: system ?? plan.get().units, values, origins: {} }, "Your plan is what the file holds.");
    },
    leave() {
      offerNothing();
      say("Nothing was changed.");
      find('[data-action="open"]').focus();
    },
    print: () => print(),
  };
  const without = (all, gone) => Object.fromEntries(Object.entries(all).filter(([key]) => !(key in gone)));

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
    const button = target.closest("button");
    if (!button) return;
    const { action, remove } = button.dataset;
    if (remove === undefined) actions[action]?.();
    else change({ ...plan.get(), values: without(plan.get().values, { [remove]: "" }) }, "Taken out. The default is used again.").then(() => find('[data-action="undo"]').focus());
  });
  find(".plan-file").onchange = async ({ target }) => {
    await take(target.files[0]);
    target.value = ""; // the same file may be opened again
  };
  section.addEventListener("dragover", (event) => event.preventDefault());
  section.addEventListener("drop", (event) => {
    event.preventDefault();
    take(event.dataTransfer.files[0]);
  });
  for (const choice of section.querySelectorAll('[name="plan-units"]')) {
    choice.onchange = () => {
      plan.units(choice.value);
      show();
    };
  }
  for (const part of section.querySelectorAll("[data-live]")) part.hidden = false;
  show();
  addEventListener("storage", () => section.isConnected && show()); // changed in another window
}
