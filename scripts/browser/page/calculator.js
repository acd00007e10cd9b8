// One calculator on the page: reads its form, asks Python, puts the answer and the errors where they belong.

import { drawIn, figures } from "./figures.js";
import { forgetLink, linked, linkWith, plan } from "./plan.js";
import { attachRows } from "./rows.js";

const SAY = {
  loading: "Getting the calculator ready. The answer below is already right for the values shown.",
  stale: "The answer below still belongs to the last values that could be read.",
  stuck: "That calculation took too long and was stopped. Your values are kept: change one and it starts again.",
  unsupported: "This browser cannot run the calculator. The answers below belong to the values the page was made with.",
  lost: "A file of the copy in this browser is damaged, and there is no network to get it again. The answers below belong to the values the page was made with.",
  failed: "The calculator could not start. The answers below belong to the values the page was made with. Reload the page, or get the copy again.",
  copied: "Copied.",
  link: "Link copied. It carries only what you changed.",
};

export function attach(section, python) {
  section.dataset.attached = "";
  const id = section.dataset.calculator;
  const find = (selector) => section.querySelector(selector);
  const status = find(".calc-status");
  const mine = new Set(); // inputs that the reader set, here or on another page
  let units = section.dataset.units, kept = null, turn = 0, prepared = true, drawRows = [];

  const fields = () => [...find(".calc-form").elements].filter((field) => field.name && field.dataset.default !== undefined);
  const changed = () => Object.fromEntries(fields().filter((field) => field.value !== field.dataset.default).map((field) => [field.name, field.value]));
  const request = (more) => ({ calculator: id, values: changed(), units, currency: section.dataset.currency, ...more });
  const say = (words) => { status.textContent = words; };
  const spoken = section.appendChild(Object.assign(document.createElement("p"), { className: "calc-unseen" })); // for screen readers: what has changed
  spoken.setAttribute("role", "status");

  // ---- answers and errors

  async function ask(call, more) {
    try {
      const answer = await python.ask(call, request(more));
      section.dataset.state = "live";
      return answer;
    } catch (error) {
      if (error.message === "stopped") return null;
      section.dataset.state = "failed";
      say(SAY[error.message] ?? SAY.failed);
      console.error(error);
      return null;
    }
  }

  async function recalculate() {
    const mineNow = ++turn;
    const answer = await ask("answer", { kept });
    if (!answer || mineNow !== turn) return null;
    showErrors(answer.errors);
    section.toggleAttribute("data-stale", !answer.ok);
    say(answer.ok ? "" : SAY.stale);
    if (!answer.ok) {
      tell(answer.errors.map(({ message }) => message).join(" "));
      return false;
    }
    if (!(prepared && !Object.keys(changed()).length && !kept && units === section.dataset.units)) {
      await put(find(".calc-answer"), answer.html);
      tell([...section.querySelectorAll(".calc-main > div")].map((part) => {
        const range = part.querySelector(".calc-range");
        return `${part.querySelector("dt").textContent}: ${part.querySelector("output").textContent}${range ? `, range ${range.textContent}` : ""}.`;
      }).join(" "));
    }
    prepared = false;
    plan.set(Object.fromEntries(fields().filter(({ name }) => mine.has(name)).map(({ name, dataset }) => [dataset.plan, answer.plan[name] ?? null])), units);
    if (!performance.getEntriesByName("calc:live").length) performance.mark("calc:live");
    performance.mark(`calc:answered:${id}`);
    figures().catch(() => {}); // ready for the next answer
    return true;
  }

  function tell(words) {
    if (spoken.textContent !== words) spoken.textContent = words;
  }

  /** New HTML in the place of the old, with its figures drawn and its open parts left open. */
  function put(place, html) {
    const open = new Set([...place.querySelectorAll("details[open] > summary")].map((summary) => summary.textContent));
    place.innerHTML = html;
    for (const summary of place.querySelectorAll("details > summary")) if (open.has(summary.textContent)) summary.parentElement.open = true;
    return drawIn(place).catch(console.error);
  }

  function showErrors(errors) {
    const told = new Map(errors.map(({ input, message }) => [input, message]));
    for (const field of fields()) {
      const place = document.getElementById(`${field.id}-error`);
      const message = told.get(field.name) ?? "";
      place.textContent = message;
      place.hidden = !message;
      if (message) field.setAttribute("aria-invalid", "true");
      else field.removeAttribute("aria-invalid");
      if (field.dataset.columns) field.dispatchEvent(new CustomEvent("handbook:told", { detail: message }));
    }
    const summary = find(".calc-summary");
    summary.hidden = !errors.length;
    summary.replaceChildren();
    if (!errors.length) return;
    const list = document.createElement("ul");
    for (const { input, message } of errors) {
      const item = document.createElement("li");
      const field = fields().find((one) => one.name === input);
      if (field) {
        const link = Object.assign(document.createElement("a"), { href: `#${field.id}`, textContent: message });
        link.onclick = (event) => {
          event.preventDefault();
          event.stopPropagation(); // the theme would load the page anew for an address with another hash
          field.closest("details")?.setAttribute("open", "");
          const shown = field.hidden ? field.parentElement.querySelector('.calc-rows [aria-invalid="true"], .calc-rows :is(input, select, button)') : field;
          shown.focus();
        };
        item.append(link);
      } else item.textContent = message;
      list.append(item);
    }
    summary.append(Object.assign(document.createElement("p"), { textContent: errors.length > 1 ? `${errors.length} values need another look:` : "One value needs another look:" }), list);
  }

  // ---- the form

  async function showForm(values, from, to) {
    const answer = await ask("form", { values, values_units: from, units: to });
    if (!answer) return false;
    const form = find(".calc-form");
    const open = new Set([...form.querySelectorAll("details[open] > summary")].map((summary) => summary.textContent));
    const template = document.createElement("template");
    template.innerHTML = answer.html;
    form.replaceWith(template.content.firstElementChild);
    for (const summary of find(".calc-form").querySelectorAll("details > summary")) if (open.has(summary.textContent)) summary.parentElement.open = true;
    for (const field of fields()) if (field.name in answer.typed) field.value = answer.typed[field.name];
    find('[data-action="units"]').textContent = answer.units_label;
    units = to;
    attachForm();
    return true;
  }

  function attachForm() {
    const form = find(".calc-form");
    // The button brings the reader to the answer, or to what stands in its way.
    form.onsubmit = async (event) => {
      event.preventDefault();
      const fine = await recalculate();
      if (fine === null) return;
      const place = find(fine ? ".calc-answer" : ".calc-summary");
      place.tabIndex = -1;
      place.focus();
    };
    form.onchange = ({ target }) => { if (target.name) edited(target.name); };
    form.onkeydown = (event) => { if (event.key === "Enter" && event.target.matches("input")) { event.preventDefault(); if (event.target.name) edited(event.target.name); } };
    // While typing, an error that has become right goes away; a new one never appears.
    form.oninput = ({ target }) => {
      if (target.getAttribute("aria-invalid") !== "true") return;
      clearTimeout(form.later);
      form.later = setTimeout(async () => {
        const answer = await ask("answer");
        if (answer && !answer.errors.some(({ input }) => input === target.name)) recalculate();
      }, 300);
    };
    drawRows = [...form.querySelectorAll("textarea[data-columns]")].map((area) => attachRows(area, () => edited(area.name)));
  }

  function edited(name) {
    mine.add(name);
    return recalculate();
  }

  // ---- buttons

  const save = ({ text, filename }) => {
    const link = Object.assign(document.createElement("a"), { href: URL.createObjectURL(new Blob([text], { type: "text/plain;charset=utf-8" })), download: filename });
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 1000);
  };

  async function copy(text, words) {
    try {
      await navigator.clipboard.writeText(text);
    } catch { // from disk, or refused
      const area = Object.assign(document.createElement("textarea"), { value: text, readOnly: true, className: "calc-off-screen" });
      document.body.append(area);
      area.select();
      document.execCommand("copy");
      area.remove();
    }
    say(words);
  }

  const actions = {
    units: () => document.dispatchEvent(new CustomEvent("handbook:units", { detail: units === "us" ? "metric" : "us" })),
    reset() {
      for (const field of fields()) { field.value = field.dataset.default; mine.add(field.name); }
      for (const draw of drawRows) draw();
      return recalculate();
    },
    keep() {
      kept = { values: changed(), units };
      find('[data-action="unkeep"]').hidden = false;
      return recalculate();
    },
    unkeep() {
      kept = null;
      find('[data-action="unkeep"]').hidden = true;
      return recalculate();
    },
    async share() {
      const answer = await ask("answer");
      if (answer?.ok) await copy(linkWith(answer.plan, units), SAY.link);
    },
    async copy() { const answer = await ask("text"); if (answer?.ok) await copy(answer.text, SAY.copied); },
    async csv() { const answer = await ask("csv"); if (answer?.ok) save(answer); },
    async calendar() { const answer = await ask("calendar"); if (answer?.ok) save(answer); },
    print: () => print(),
  };
  for (const explore of ["aim", "moves", "range"]) {
    actions[explore] = async () => {
      const panel = find(`[data-explore="${explore}"]`);
      const chosen = Object.fromEntries([...panel.querySelectorAll("[name]")].map((field) => [field.name, field.value]));
      const answer = await ask("explore", { explore, ...chosen });
      if (!answer) return;
      const place = panel.querySelector(".calc-found");
      const wanted = panel.querySelector("input"); // the only field here that can hold what cannot be read
      if (wanted && answer.errors.some(({ input }) => !fields().some(({ name }) => name === input))) {
        place.id = `${wanted.id}-error`;
        wanted.setAttribute("aria-describedby", place.id);
        wanted.setAttribute("aria-invalid", "true");
      } else wanted?.removeAttribute("aria-invalid");
      if (answer.ok) put(place, answer.html);
      else place.replaceChildren(...answer.errors.map(({ message }) => Object.assign(document.createElement("p"), { className: "calc-error", textContent: message })));
    };
  }
  section.addEventListener("click", ({ target }) => actions[target.closest("button[data-action]")?.dataset.action]?.());
  for (const panel of section.querySelectorAll("[data-explore]")) {
    panel.addEventListener("keydown", (event) => { if (event.key === "Enter" && event.target.matches("input")) actions[panel.dataset.explore](); });
  }
  const follow = async ({ detail }) => {
    if (!section.isConnected) return document.removeEventListener("handbook:units", follow);
    if (detail !== units && (await showForm(changed(), units, detail))) await recalculate();
  };
  document.addEventListener("handbook:units", follow);

  // ---- start

  async function start() {
    section.dataset.state = "loading";
    say(SAY.loading);
    attachForm();
    const typedBefore = changed(); // a browser may give back what was typed before a reload
    try {
      await python.start();
    } catch (error) {
      section.dataset.state = "failed";
      say(SAY[error.message] ?? SAY.failed);
      console.error(error);
      return;
    }
    const link = linked(); // by name, for this page; the plan goes by name and label, since a name alone means different things on different pages
    const wanted = link ?? plan.get();
    const set = Object.fromEntries(fields().map((field) => [field.name, wanted.values[link ? field.name : field.dataset.plan]]).filter(([, text]) => text !== undefined));
    for (const name of Object.keys(set)) mine.add(name);
    const system = wanted.units ?? units;
    if (Object.keys(set).length || system !== units) await showForm({ ...typedBefore, ...changed(), ...set }, units, system);
    await recalculate();
    if (link && Object.keys(set).length) offerOwn(set);
  }

  /** A link that was opened says what it set, and offers the reader's own values again. */
  function offerOwn(set) {
    const labels = fields().filter((field) => field.name in set).map((field) => section.querySelector(`label[for="${field.id}"]`).firstChild.textContent.trim().toLowerCase());
    const back = Object.assign(document.createElement("button"), { type: "button", textContent: "Go back to my own values" });
    back.onclick = () => { forgetLink(); plan.set(Object.fromEntries(fields().filter(({ name }) => name in set).map(({ dataset }) => [dataset.plan, null]))); location.reload(); };
    status.replaceChildren(`The link you opened set: ${labels.join(", ")}. `, back);
  }

  start();
}
