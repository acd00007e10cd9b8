// One calculator on the page: asks Python with what stands in its form, and puts the answer and the errors where they belong.

import { make } from "./element.js";
import { extra, linksInside } from "./extra.js";
import { drawIn, figures } from "./figures.js";
import { Form, keepingOpen } from "./form.js";
import { copy, save } from "./leaving.js";
import { forgetLink, linked, linkWith, plan } from "./plan.js";

const SAY = {
  loading: "Getting the calculator ready. The answer below is already right for the values shown.",
  stale: "The answer below still belongs to the last values that could be read.",
  stuck: "That calculation took too long and was stopped. Your values are kept: change one and it starts again.",
  unsupported: "This browser cannot run the calculator. The answers below belong to the values the page was made with.",
  lost: "A file of the copy in this browser is damaged, and there is no network to get it again. The answers below belong to the values the page was made with.",
  failed: "The calculator could not start. The answers below belong to the values the page was made with. Reload the page, or get the copy again.",
  slow: "A part of the calculator was asked for and never came. The answers below belong to the values the page was made with. Change a value, and it is tried again.",
  copied: "Copied.",
  link: "Link copied. It carries only what you changed.",
  long: "Link copied. It is so long that some programs will cut it off: send a file of your plan instead, from the page Your plan.",
  refused: "This browser does not keep your values, so they travel in the address from page to page. A bookmark keeps them, and so does a file from the page Your plan.",
  full: "This browser has no room left for your values, so they travel in the address from page to page. Save them to a file on the page Your plan.",
};
const LONG = 2000; // characters of an address that every program takes

export class Calculator {
  /** Attach to a section of the page and start. */
  constructor(section, python) {
    this.section = section;
    this.python = python;
    this.units = section.dataset.units;
    this.mine = new Set(); // inputs that the reader set here and that are not in the plan yet
    this.beside = null; // values of the answer that is kept beside the next one
    this.turn = 0; // counts answers asked for, so that a late one does not replace a newer one
    this.asMade = true; // the answer is still the one that the page came with
    this.link = linked(); // a link that was opened: it shows, and changes nothing of the reader's until they say so
    section.dataset.attached = "";
    this.spoken = section.appendChild(make("p", { className: "calc-unseen" })); // for screen readers: what has changed
    this.spoken.setAttribute("role", "status");
    this.form = new Form(section, { edited: (name) => this.edited(name), entered: () => this.#goToAnswer(), mending: (name) => this.#lookAgain(name), ask: (call, more) => this.ask(call, more) });
    this.#listen();
    this.#start();
  }

  find(selector) {
    return this.section.querySelector(selector);
  }

  say(words) {
    this.find(".calc-status").textContent = words;
  }

  tell(words) {
    if (this.spoken.textContent !== words) this.spoken.textContent = words;
  }

  async #start() {
    this.section.dataset.state = "loading";
    this.say(SAY.loading);
    try {
      await this.python.start();
    } catch (error) {
      return this.#fail(error);
    }
    const typed = this.form.typed(); // while Python started
    for (const name of Object.keys(typed)) this.mine.add(name);
    await this.#fill(typed);
    await this.recalculate();
    addEventListener("hashchange", () => { // a link opened on the page that it is for
      if (!this.section.isConnected || !linked()) return;
      this.find(".calc-linked")?.remove();
      this.link = linked();
      this.#fillAnew();
    });
  }

  /** What the link or the plan says, and nothing of what was typed before. */
  async #fillAnew() {
    this.mine.clear();
    await this.#fill();
    return this.recalculate();
  }

  #fail(error) {
    this.section.dataset.state = "failed";
    this.say(SAY[error.message] ?? SAY.failed);
    console.error(error);
  }

  // ---- answers

  /** What Python answers to a call, or null when it could not. */
  async ask(call, more) {
    const { calculator, currency } = this.section.dataset;
    try {
      const answer = await this.python.ask(call, { calculator, values: this.form.changed(), units: this.units, currency, ...more });
      this.section.dataset.state = "live";
      return answer;
    } catch (error) {
      if (error.message !== "stopped") this.#fail(error);
      return null;
    }
  }

  /** Returns true for an answer, false where a value is wrong, null where there is none or a newer one was asked for. */
  async recalculate() {
    const turn = ++this.turn;
    const answer = await this.ask("answer", { kept: this.beside });
    if (!answer || turn !== this.turn) return null;
    this.form.showErrors(answer.errors);
    this.section.toggleAttribute("data-stale", !answer.ok);
    this.say(answer.ok ? "" : SAY.stale);
    if (!answer.ok) {
      this.tell(answer.errors.map(({ message }) => message).join(" "));
      return false;
    }
    // Before anything is drawn: a reader who is off to the next page takes it along, and what is set meanwhile is not lost.
    this.#toPlan((name) => this.mine.has(name), answer.plan);
    this.mine.clear();
    if (!this.asMade || this.beside || this.units !== this.section.dataset.units || Object.keys(this.form.changed()).length) await this.#show(answer);
    this.asMade = false;
    if (Object.keys(plan.get().values).length && SAY[plan.trouble()]) this.say(SAY[plan.trouble()]);
    if (!performance.getEntriesByName("calc:live").length) performance.mark("calc:live");
    performance.mark(`calc:answered:${this.section.dataset.calculator}`);
    figures().catch(() => {}); // ready for the next answer
    return true;
  }

  async #show(answer) {
    await this.put(this.find(".calc-answer"), answer.html);
    this.#showLeads(); // the answer does not wait for them
    this.tell([...this.section.querySelectorAll(".calc-main > div")].map((part) => {
      const range = part.querySelector(".calc-range");
      return `${part.querySelector("dt").textContent}: ${part.querySelector("output").textContent}${range ? `, range ${range.textContent}` : ""}.`;
    }).join(" "));
  }

  /** The next questions, with what this answer hands over. */
  async #showLeads() {
    const { turn } = this;
    const answer = await this.ask("leads");
    if (!answer?.ok || turn !== this.turn) return;
    this.find(".calc-leads").innerHTML = answer.html;
    linksInside(this.find(".calc-leads"));
  }

  /** New HTML in the place of the old, with its figures drawn and its open parts left open. */
  put(place, html) {
    keepingOpen(place, () => {
      place.innerHTML = html;
      return place;
    });
    return drawIn(place).catch(console.error);
  }

  // ---- the form, the plan and a link

  edited(name) {
    this.mine.add(name);
    this.find(`.calc-field[data-input="${name}"] .calc-origin`)?.remove();
    plan.own(this.form.field(name)?.dataset.plan);
    return this.recalculate();
  }

  /** The button brings the reader to the answer, or to what stands in its way. */
  async #goToAnswer() {
    const fine = await this.recalculate();
    if (fine === null) return;
    const place = this.find(fine ? ".calc-main" : ".calc-summary");
    place.tabIndex = -1;
    place.focus({ preventScroll: true });
    (fine ? this.find(".calc-status") : place).scrollIntoView({ block: "start" }); // on a phone the headline itself is stuck to the screen
  }

  async #lookAgain(name) {
    const answer = await this.ask("answer");
    if (answer && !answer.errors.some(({ input }) => input === name)) this.recalculate();
  }

  /** The form anew, from values in one system of units to another. */
  async #showForm(values, from, to, more = {}) {
    const origins = this.link ? {} : this.form.each(({ dataset }) => plan.get().origins[dataset.plan]);
    const answer = await this.ask("form", { values, values_units: from, units: to, origins, ...more });
    if (!answer) return null;
    this.form.replace(answer.html, answer.typed);
    this.find('[data-action="units"]').textContent = answer.units_label;
    this.units = to;
    return answer;
  }

  /** The form from the link that was opened, or from the plan: by name and label, since a name alone means different things on different
   *  pages. What was typed meanwhile wins. */
  async #fill(typed = {}) {
    for (const { dataset } of this.form.fields) plan.renamed(dataset.planWas, dataset.plan);
    const kept = plan.get();
    const set = this.link ? {} : this.form.each(({ dataset }) => kept.values[dataset.plan]);
    const units = (this.link ?? kept).units ?? this.section.dataset.units;
    if (!this.link && this.asMade && !Object.keys(set).length && units === this.units) return;
    const shown = await this.#showForm({ ...this.form.before, ...set, ...typed }, this.section.dataset.units, units, this.link ? { link: this.link } : {});
    if (!shown || !this.link) return;
    if (shown.notice) {
      this.find(".calc-head").insertAdjacentHTML("afterend", `<div class="calc-linked" role="status">${shown.notice}</div>`);
      this.link.set = shown.set;
    } else this.link = null; // nothing in it but units
  }

  /** Inputs that `chosen(name)` picks go into the plan as Python wrote them; those at their default leave it. */
  #toPlan(chosen, texts) {
    plan.set(Object.fromEntries(this.form.fields.filter(({ name }) => chosen(name)).map(({ name, dataset }) => [dataset.plan, texts[name] ?? null])));
  }

  /** Address of this page with all that differs from the defaults, and what the page was made with where it was set back. */
  async #address() {
    const { before } = this.form;
    const made = this.form.each(({ name, value }) => (name in before ? value : undefined));
    const answer = await this.ask("answer", { values: { ...made, ...this.form.changed() } });
    if (answer && !answer.ok) this.form.showErrors(answer.errors);
    return answer?.ok ? linkWith(answer.plan, this.units) : null;
  }

  // ---- buttons

  actions = {
    units: () => {
      const other = this.units === "us" ? "metric" : "us";
      plan.units(other);
      document.dispatchEvent(new CustomEvent("handbook:units", { detail: other })); // for every calculator of the page
    },
    /** Back to what the page was made with. Nothing that it asks for stays in the plan. */
    reset: async () => {
      if (!this.link) this.#toPlan(() => true, {});
      this.mine.clear();
      if (Object.keys(this.form.made).length) await this.#showForm(this.form.made, this.section.dataset.units, this.units);
      else this.form.toDefaults();
      return this.recalculate();
    },
    keep: () => this.#keepBeside({ values: this.form.changed(), units: this.units }),
    unkeep: () => this.#keepBeside(null),
    share: async () => {
      const address = await this.#address();
      if (!address) return;
      await copy(address);
      this.say(address.length > LONG ? SAY.long : SAY.link);
    },
    code: async () => {
      const address = await this.#address();
      if (address) (await extra("code")).show(this.section, address);
    },
    /** What the link set becomes the reader's own. */
    take: async () => {
      const answer = await this.ask("answer");
      if (!answer?.ok) return;
      this.#toPlan((name) => this.link.set.includes(name), answer.plan);
      await this.actions.own();
    },
    /** Away from the link, to the reader's own values. */
    own: () => {
      this.link = null;
      forgetLink();
      this.find(".calc-linked")?.remove();
      return this.#fillAnew();
    },
    copy: async () => {
      const answer = await this.ask("text");
      if (!answer?.ok) return;
      await copy(answer.text);
      this.say(SAY.copied);
    },
    csv: () => this.#saveAnswer("csv"),
    calendar: () => this.#saveAnswer("calendar"),
    print: () => print(),
    aim: () => this.#explore("aim"),
    /** What an aim has found goes into the form. */
    use: ({ dataset }) => {
      const found = JSON.parse(dataset.set);
      this.form.write(found);
      for (const name of Object.keys(found)) this.mine.add(name);
      plan.own(...Object.keys(found).map((name) => this.form.field(name).dataset.plan));
      return this.#goToAnswer();
    },
    moves: () => this.#explore("moves"),
    range: () => this.#explore("range"),
  };

  #keepBeside(values) {
    this.beside = values;
    this.find('[data-action="unkeep"]').hidden = !values;
    return this.recalculate();
  }

  async #saveAnswer(call) {
    const answer = await this.ask(call);
    if (answer?.ok) save(answer);
  }

  async #explore(kind) {
    const panel = this.find(`[data-explore="${kind}"]`);
    const chosen = Object.fromEntries([...panel.querySelectorAll("[name]")].map(({ name, value }) => [name, value]));
    const answer = await this.ask("explore", { explore: kind, ...chosen });
    if (!answer) return;
    const place = panel.querySelector(".calc-found");
    const wanted = panel.querySelector("input"); // the only field here that can hold what cannot be read
    if (wanted && answer.errors.some(({ input }) => !this.form.field(input))) {
      place.id = `${wanted.id}-error`;
      wanted.setAttribute("aria-describedby", place.id);
      wanted.setAttribute("aria-invalid", "true");
    } else wanted?.removeAttribute("aria-invalid");
    if (answer.ok) this.put(place, answer.html);
    else place.replaceChildren(...answer.errors.map(({ message }) => make("p", { className: "calc-error", textContent: message })));
  }

  #listen() {
    this.section.addEventListener("click", ({ target }) => {
      const button = target.closest("button[data-action]");
      this.actions[button?.dataset.action]?.(button);
    });
    for (const panel of this.section.querySelectorAll("[data-explore]")) {
      panel.addEventListener("keydown", (event) => { if (event.key === "Enter" && event.target.matches("input")) this.#explore(panel.dataset.explore); });
    }
    const follow = async ({ detail: units }) => {
      if (!this.section.isConnected) return document.removeEventListener("handbook:units", follow);
      if (units !== this.units && (await this.#showForm(this.form.changed(), this.units, units))) await this.recalculate();
    };
    document.addEventListener("handbook:units", follow);
  }
}
