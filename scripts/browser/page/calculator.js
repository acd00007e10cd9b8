// One calculator on the page: reads its form, asks Python, puts the answer and the errors where they belong.

import { extra, linksInside } from "./extra.js";
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
  long: "Link copied. It is so long that some programs will cut it off: send a file of your plan instead, from the page Your plan.",
  refused: "This browser does not keep your values, so they travel in the address from page to page. A bookmark keeps them, and so does a file from the page Your plan.",
  full: "This browser has no room left for your values, so they travel in the address from page to page. Save them to a file on the page Your plan.",
};
const LONG = 2000; // characters of an address that every program takes

export function attach(section, python) {
  section.dataset.attached = "";
  const id = section.dataset.calculator;
  const find = (selector) => section.querySelector(selector);
  const status = find(".calc-status");
  const mine = new Set(); // inputs that the reader set here and that are not in the plan yet
  let units = section.dataset.units, kept = null, turn = 0, prepared = true, drawRows = [];
  let link = linked(); // a link that was opened: it shows, and changes nothing of the reader's until they say so

  const fields = () => [...find(".calc-form").elements].filter((field) => field.name && field.dataset.default !== undefined);
  const made = Object.fromEntries(fields() // what this page sets otherwise than the defaults, as its markup has it
    .map((field) => [field, field.defaultValue ?? [...field.options].find((option) => option.defaultSelected)?.value])
    .filter(([field, value]) => value !== undefined && value !== field.dataset.default).map(([field, value]) => [field.name, value]));
  const written = (field) => (field.value === field.defaultValue && field.dataset.exact) || field.value; // shown rounded, used exactly
  const changed = () => Object.fromEntries(fields().map((field) => [field, written(field)]).filter(([field, text]) => text !== field.dataset.default).map(([field, text]) => [field.name, text]));
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
    // Before anything is drawn: a reader who is off to the next page takes it along, and what is set meanwhile is not lost.
    plan.set(Object.fromEntries(fields().filter(({ name }) => mine.has(name)).map(({ name, dataset }) => [dataset.plan, answer.plan[name] ?? null])));
    mine.clear();
    if (!(prepared && !Object.keys(changed()).length && !kept && units === section.dataset.units)) {
      await put(find(".calc-answer"), answer.html);
      showLeads(); // the answer does not wait for them
      tell([...section.querySelectorAll(".calc-main > div")].map((part) => {
        const range = part.querySelector(".calc-range");
        return `${part.querySelector("dt").textContent}: ${part.querySelector("output").textContent}${range ? `, range ${range.textContent}` : ""}.`;
      }).join(" "));
    }
    prepared = false;
    if (Object.keys(plan.get().values).length && SAY[plan.trouble()]) say(SAY[plan.trouble()]);
    if (!performance.getEntriesByName("calc:live").length) performance.mark("calc:live");
    performance.mark(`calc:answered:${id}`);
    figures().catch(() => {}); // ready for the next answer
    return true;
  }

  function tell(words) {
    if (spoken.textContent !== words) spoken.textContent = words;
  }

  /** The next questions, with what this answer hands over. */
  async function showLeads() {
    const asked = turn;
    const answer = await ask("leads");
    if (!answer?.ok || asked !== turn) return;
    find(".calc-leads").innerHTML = answer.html;
    linksInside(find(".calc-leads"));
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
          const cell = (which) => field.parentElement.querySelector(`.calc-rows ${which}`);
          (field.hidden ? cell('[aria-invalid="true"]') ?? cell(":is(input, select, button)") : field).focus();
        };
        item.append(link);
      } else item.textContent = message;
      list.append(item);
    }
    summary.append(Object.assign(document.createElement("p"), { textContent: errors.length > 1 ? `${errors.length} values need another look:` : "One value needs another look:" }), list);
  }

  // ---- the form

  async function showForm(values, from, to, more = {}) {
    const origins = link ? {} : Object.fromEntries(fields().map(({ name, dataset }) => [name, plan.get().origins[dataset.plan]]));
    const answer = await ask("form", { values, values_units: from, units: to, origins, ...more });
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
    linksInside(find(".calc-form"));
    attachForm();
    return answer;
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
    form.onkeydown = (event) => { if (event.key === "Enter" && event.target.matches("input")) { event.preventDefault(); if (event.target.name) edited(event.target.name); else event.target.dispatchEvent(new Event("change")); } };
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
    find(`.calc-field[data-input="${name}"] .calc-origin`)?.remove();
    plan.own(fields().find((field) => field.name === name)?.dataset.plan);
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
    units() {
      const other = units === "us" ? "metric" : "us";
      plan.units(other);
      document.dispatchEvent(new CustomEvent("handbook:units", { detail: other }));
    },
    /** Back to what the page was made with. Nothing that it asks for stays in the plan. */
    async reset() {
      if (!link) plan.set(Object.fromEntries(fields().map(({ dataset }) => [dataset.plan, null])));
      mine.clear();
      if (Object.keys(made).length) await showForm(made, section.dataset.units, units);
      else for (const field of fields()) field.value = field.dataset.default;
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
      const address = await addressOfThis();
      if (address) await copy(address, address.length > LONG ? SAY.long : SAY.link);
    },
    async code() {
      const address = await addressOfThis();
      if (address) (await extra("code")).show(section, address, save);
    },
    async take() {
      const { set } = link;
      const answer = await ask("answer");
      if (!answer?.ok) return;
      plan.set(Object.fromEntries(fields().filter(({ name }) => set.includes(name)).map(({ name, dataset }) => [dataset.plan, answer.plan[name] ?? null])));
      return actions.own();
    },
    async own() {
      leaveLink();
      mine.clear();
      await fill();
      await recalculate();
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

  const before = {}; // what the page was made with, and what a browser may give back after a reload

  /** Address of this page with all that differs from the defaults, and what the page was made with where it was set back. */
  async function addressOfThis() {
    const made = Object.fromEntries(fields().filter(({ name }) => name in before).map(({ name, value }) => [name, value]));
    const answer = await ask("answer", { values: { ...made, ...changed() } });
    if (answer && !answer.ok) showErrors(answer.errors);
    return answer?.ok ? linkWith(answer.plan, units) : null;
  }

  /** The form from the link that was opened, or from the plan: by name and label, since a name alone means different things on different pages. */
  async function fill() {
    for (const { dataset } of fields()) plan.renamed(dataset.planWas, dataset.plan);
    const kept = plan.get();
    const set = link ? {} : Object.fromEntries(fields().map(({ name, dataset }) => [name, kept.values[dataset.plan]]).filter(([, text]) => text !== undefined));
    const system = (link ?? kept).units ?? section.dataset.units;
    if (!link && prepared && !Object.keys(set).length && system === units) return;
    const shown = await showForm({ ...before, ...set }, section.dataset.units, system, link ? { link } : {});
    if (!shown || !link) return;
    if (shown.notice) find(".calc-head").insertAdjacentHTML("afterend", `<div class="calc-linked" role="status">${shown.notice}</div>`);
    else link = null; // nothing in it but units
    if (link) link.set = shown.set;
  }

  function leaveLink() {
    link = null;
    forgetLink();
    find(".calc-linked")?.remove();
  }

  async function start() {
    section.dataset.state = "loading";
    say(SAY.loading);
    attachForm();
    Object.assign(before, changed());
    try {
      await python.start();
    } catch (error) {
      section.dataset.state = "failed";
      say(SAY[error.message] ?? SAY.failed);
      console.error(error);
      return;
    }
    await fill();
    await recalculate();
    addEventListener("hashchange", async () => { // a link opened on the page that it is for
      if (!section.isConnected || !linked()) return;
      find(".calc-linked")?.remove();
      link = linked();
      mine.clear();
      await fill();
      await recalculate();
    });
  }

  start();
}
