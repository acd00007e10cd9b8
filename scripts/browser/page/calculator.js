// One calculator on the page. What stands in its fields is what the state says, at once and always; Python is then asked with what
// stands there, and the answer goes in its place. Until it does, the answer that is shown is marked as the earlier one.
//
//   state → #fill → fields → #step → form, answer, next questions
//   key pressed → state (and so, by the same way, every other page and tab)
// @ts-check

import { forgetLink, linked, linkWith, reloadButton } from "./address.js";
import { make } from "./element.js";
import { extra, linksInside } from "./extra.js";
import { drawIn, figures } from "./figures.js";
import { Form, keepingOpen, madeWith } from "./form.js";
import { copy, save } from "./leaving.js";
import { brief, isLong } from "./long.js";
import { released, stay } from "./press.js";
import { state } from "./state.js";
import { markToday } from "./today.js";

/** @typedef {import("./form.js").Field} Field */
/** @typedef {import("./state.js").Units} Units */
/** @typedef {import("./state.js").Value} Value */
/** @typedef {Value & { link?: true }} Source */

const DRAWN_AT_ONCE = 25; // of a thousand: what Python does between two looks at *Stop*

const SAY = {
  loading: "Getting the calculator ready. The answer below is already right for the values shown.",
  earlier: "Getting the calculator ready. The answer below still belongs to the values the page was made with, not to yours.",
  waiting: "This device saves data: the calculator comes when you change a value. The answer below is right for the values shown.",
  stale: "The answer below still belongs to the last values that could be read.",
  stuck: "That calculation took too long and was stopped. Your values are kept: change one and it starts again.",
  unsupported: "This browser cannot run the calculator. The answers below belong to the values the page was made with.",
  lost: "A file of the copy in this browser is damaged, and there is no network to get it again. The answers below belong to the values the page was made with.",
  failed: "The calculator could not start. The answers below belong to the values the page was made with. Reload the page, or get the copy again.",
  slow: "A part of the calculator was asked for and never came. The answers below belong to the values the page was made with. Change a value, and it is tried again.",
  missing: "That part could not be fetched: perhaps a newer handbook has been put in the place of this one. What you typed stays when the page is loaded again.",
  figures: "The drawings could not be fetched. What you typed stays when the page is loaded again.",
  copied: "Copied.",
  saved: "The file is with your downloads.",
  kept: "This answer is kept beside the next one.",
  tables: "Back to the defaults. Your tables and your logbook stay: clear them on the page Your plan.",
  link: "Link copied. It carries only what you changed.",
  here: "Link copied. It opens only on this device: this is a copy on your own disk.",
  long: "Link copied. It is so long that some programs will cut it off: send a file of your plan instead, from the page Your plan.",
  refused: "This browser does not keep your values, so they travel in the address from page to page. A bookmark keeps them, and so does a file from the page Your plan.",
  full: "This browser has no room left for your values, so they travel in the address from page to page. Save them to a file on the page Your plan.",
};
const LONG = 2000; // characters of an address that every program takes
const RESTS = 300; // ms; what is being typed is answered when the keys rest this long
const DONE = 8000; // ms; how long it stands at the buttons that something was done
const PENDING = 250; // ms; an answer that takes longer is waited for by the eye, so the one that is shown is marked

/** Every calculator of the page that stands.
 *  @type {Set<Calculator>} */
const standing = new Set();

/** Those that the theme has taken off the page are let go.
 *  @returns {Calculator[]} */
export function calculators() {
  for (const one of standing) if (!one.section.isConnected) standing.delete(one);
  return [...standing];
}

export class Calculator {
  /** Attach to a section of the page and start.
   *  @param {HTMLElement} section @param {import("./python.js").Python} python @param {Set<EventTarget>} touched fields that were typed in before */
  constructor(section, python, touched) {
    this.section = section;
    this.python = python;
    this.id = section.dataset.calculator ?? "";
    this.built = /** @type {Units} */ (section.dataset.units);
    this.shown = this.built; // the system of units that the form is in
    this.link = linked(); // a link that was opened: it shows, and changes nothing of the reader's until they say so
    this.wanted = 0; // counts what Python was to be asked for
    this.changes = 0; // counts changes of what stands in the fields, so that what was worked out before one is not put in after it
    this.formDue = false; // the form has to come from Python once more: other units, or values that it has not worded
    this.speaks = false; // the reader did something: the next answer is read out
    /** @type {Promise<void> | undefined} */
    this.settling = undefined;
    this.announced = ""; // that something was done, for a while
    this.lacking = ""; // that a part of the page could not be fetched
    /** @type {HTMLElement | undefined} */
    this.done = undefined;
    /** Fields that are being typed in: what is wrong with them is told when they are left. @type {Set<string>} */
    this.typing = new Set();
    section.dataset.attached = "";
    this.spoken = section.appendChild(make("p", { className: "calc-unseen" })); // for screen readers: what has changed
    this.spoken.setAttribute("role", "status");
    this.form = new Form(section, {
      typed: (field, byHand) => this.#typed(field, byHand),
      left: (field) => this.#left(field),
      entered: () => this.#goToAnswer(),
      ask: (call, more) => this.ask(call, more),
      stop: () => this.python.stop(),
    });
    this.answered = brief({ values: this.form.made, units: this.built }); // the question to which the shown answer belongs
    this.led = this.answered; // and the one that the next questions take along
    markToday(this.part(".calc-answer"));
    this.#noteMarkup({});
    if (this.link) this.link.set = state.get("linked", this.link.name) ?? [];
    for (const field of this.form.fields) {
      renamed(field);
      if (touched.has(field)) this.#typed(field, true);
    }
    this.#listen();
    standing.add(this);
    this.#fill();
    this.#fillAsked();
    this.#mark();
    if (this.#waits()) {
      this.section.dataset.state = "waiting"; // its buttons work: each of them brings Python
      this.say(SAY.waiting);
    } else this.settle();
  }

  /** @param {string} selector @returns {HTMLElement | null} */
  find(selector) {
    return this.section.querySelector(selector);
  }

  /** @param {string} selector @returns {HTMLElement} */
  part(selector) {
    return /** @type {HTMLElement} */ (this.section.querySelector(selector));
  }

  /** @param {string} words */
  say(words) {
    const place = this.part(".calc-status");
    if (place.textContent !== words) place.textContent = words;
  }

  /** How far Python has come, behind the words of the line: nobody needs it read out.
   *  @param {number} arrived @param {number} whole bytes */
  arriving(arrived, whole) {
    const megabytes = (/** @type {number} */ bytes) => (bytes / 1e6).toFixed(1);
    this.part(".calc-status").dataset.arrived = `${megabytes(arrived)} of ${megabytes(whole)} MB`;
  }

  /** A part of the page could not be fetched. */
  #sayLacking() {
    if (!this.lacking) return;
    this.say(this.lacking);
    this.part(".calc-status").append(" ", reloadButton());
  }

  /** @param {string} words */
  tell(words) {
    if (this.spoken.textContent !== words) this.spoken.textContent = words;
  }

  // ---- from the state into the fields

  /** The system of units that the form should be in.
   *  @returns {Units} */
  get units() {
    return (this.link ?? state).units ?? this.built;
  }

  /** Where the text of a field comes from; null: from how the page was made.
   *  @param {Field} field @returns {Source | null} */
  #source({ name, dataset }) {
    if (!this.link || this.link.set.includes(name)) return state.value(dataset.plan);
    return Object.hasOwn(this.link.values, name) ? { text: this.link.values[name], link: true } : null;
  }

  /** What the markup shows, and which sources it shows so. @param {Record<string, Source | null>} sources */
  #noteMarkup(sources) {
    /** @type {Record<string, { sign: string, text: string }>} */
    this.markup = this.form.each((field) => ({ sign: sign(sources[field.name]), text: this.replaced ? field.value : madeWith(field) }));
  }

  /** What a field has to show now.
   *  @param {Field} field */
  #text(field) {
    const source = this.#source(field), shown = this.markup?.[field.name];
    if (shown?.sign === sign(source)) return shown.text;
    if (!source) return this.#madeText(field) ?? field.dataset.default ?? "";
    return source.units === this.shown ? source.text : source.plan ?? source.text;
  }

  /** What a field shows when nobody has set it; undefined where only Python can say.
   *  @param {Field} field */
  #madeText({ name, dataset }) {
    if (this.markup?.[name]?.sign === "") return this.markup[name].text;
    if (this.shown === this.built) return this.form.made[name] ?? dataset.default;
    return name in this.form.made ? undefined : dataset.default;
  }

  /** Every field shows what the state says; tells whether any showed something else. */
  #fill() {
    let changed = false;
    for (const field of this.form.fields) {
      const text = this.#text(field);
      const unknown = field instanceof HTMLSelectElement && ![...field.options].some(({ value }) => value === text);
      if (unknown ? this.markup?.[field.name]?.sign === sign(this.#source(field)) : !this.form.put(field, text)) continue;
      changed = this.formDue = true;
      this.form.unfold(field);
    }
    if (this.units !== this.shown || this.#origins() !== this.originsShown) changed = this.formDue = true;
    if (changed) this.changes++;
    return changed;
  }

  /** Which values another calculator handed over. */
  #origins() {
    return JSON.stringify(this.form.each((field) => this.#source(field)?.origin));
  }

  originsShown = "{}";

  /** Texts that are no inputs: what is looked for, and of which result. */
  #fillAsked() {
    for (const field of this.#askedFields()) {
      const text = state.get("asked", this.#askedKey(field));
      if (text !== null && field.value !== text && (field instanceof HTMLInputElement || [...field.options].some(({ value }) => value === text))) field.value = text;
    }
  }

  /** @returns {(HTMLInputElement | HTMLSelectElement)[]} */
  #askedFields() {
    return [...this.section.querySelectorAll("[data-explore] [name]")].map((field) => /** @type {HTMLInputElement | HTMLSelectElement} */ (field));
  }

  /** @param {HTMLInputElement | HTMLSelectElement} field */
  #askedKey(field) {
    return `${this.id} ${/** @type {HTMLElement} */ (field.closest("[data-explore]")).dataset.explore} ${field.name}`;
  }

  /** The state has changed, here or in another tab.
   *  @param {Set<string>} ids */
  follow(ids) {
    if (this.link && ids.has("plan units") && state.units) this.link.units = state.units;
    const changed = this.#fill();
    const asked = ids.has(`kept ${this.id}`);
    if ([...ids].some((id) => id.startsWith(`asked ${this.id} `))) this.#fillAsked();
    this.#mark();
    if (changed || asked) this.settle();
  }

  // ---- what stands in the fields, and to what the answer belongs

  /** What Python is asked now. */
  asking() {
    const kept = state.get("kept", this.id);
    return { values: this.form.changed(), units: this.shown, ...(kept && { kept }) };
  }

  /** The same as text. */
  question() {
    return brief(this.asking());
  }

  /** Whether the answer that is shown, and what its links take along, belong to what stands in the fields. */
  get fits() {
    return this.answered === this.question() && !this.formDue;
  }

  /** The answer is marked as the earlier one until it is not. */
  #mark() {
    const { fits, section } = this;
    clearTimeout(this.clock);
    this.part(".calc-actions [data-action=unkeep]").hidden = !state.get("kept", this.id);
    const undo = this.find('.calc-actions [data-action="undo"]');
    if (undo) undo.hidden = !state.canUndo;
    section.toggleAttribute("data-pending", !fits);
    if (fits) section.removeAttribute("data-stale");
    else if (section.dataset.state !== "live") section.setAttribute("data-stale", "");
    else this.clock = setTimeout(() => section.toggleAttribute("data-stale", !this.fits), PENDING);
    if (section.dataset.state === "loading") this.say(fits ? SAY.loading : SAY.earlier);
  }

  // ---- Python is asked

  /** With Save-Data, Python comes with the first edit, unless there is something that only it can answer. */
  #waits() {
    return savesData() && this.fits && !this.python.ready;
  }

  /** Bring form and answer in step with what stands in the fields. One at a time, and the last word counts.
   *  @returns {Promise<void>} */
  settle() {
    clearTimeout(this.resting);
    this.wanted++;
    this.settling ??= this.#settle().finally(() => { this.settling = undefined; });
    return this.settling;
  }

  async #settle() {
    await undefined; // whoever changes several things at once asks once
    for (let done = 0; done !== this.wanted && this.section.isConnected;) {
      done = this.wanted;
      if (!(await this.#step()) && (done === this.wanted || this.section.dataset.state === "failed")) return; // stopped, and asked anew meanwhile
    }
  }

  /** One round: the form if it is due, then the answer. False when Python cannot be asked. */
  async #step() {
    if (!(await this.#started())) return false;
    if (this.formDue && !(await this.#renewForm())) return false;
    if (this.formDue) return this.#again();
    const asking = this.asking(), asked = brief(asking);
    const mine = this.form.fields.filter((field) => this.#isMine(field));
    const signs = mine.map((field) => sign(this.#source(field)));
    const answer = await this.ask("answer", { ...asking, set: mine.map(({ name }) => name) });
    if (!answer) return false;
    if (asked !== this.question() || this.formDue) return this.#again();
    if (answer.ok) {
      if (mine.length && !state.get("plan", "currency")) state.put("plan", "currency", this.section.dataset.currency);
      mine.forEach((field, place) => { if (sign(this.#source(field)) === signs[place]) read(field, answer.plan[field.name]); });
      // On its way before anything is drawn, but nothing goes away under a finger or a mouse that is pressed on it.
      if (this.answered !== asked) {
        await released();
        if (asked !== this.question()) return this.#again();
        await this.#show(answer, asked, asking);
      } else if (this.speaks) this.tell(this.#headline()); // shown while it was being typed
    }
    this.#showErrors(answer);
    this.#mark();
    this.section.toggleAttribute("data-stale", !answer.ok);
    this.say(answer.ok ? this.announced : SAY.stale);
    if (answer.ok && !this.announced) this.#sayLacking();
    if (answer.ok && state.any && state.trouble) this.say(SAY[state.trouble]);
    stay();
    if (!performance.getEntriesByName("calc:live").length) performance.mark("calc:live");
    performance.mark(`calc:answered:${this.id}`);
    figures().catch(() => {}); // ready for the next answer
    return true;
  }

  #again() {
    this.wanted++;
    return true;
  }

  async #started() {
    if (this.section.dataset.state !== "live") {
      this.section.dataset.state = "loading";
      this.#mark();
    }
    try {
      await this.python.start();
      return true;
    } catch (error) {
      this.#fail(error);
      return false;
    }
  }

  /** @param {unknown} error */
  #fail(error) {
    const why = error instanceof Error ? error.message : "";
    if (why === "stopped") return; // with the page, or to start again
    this.section.dataset.state = "failed";
    this.section.toggleAttribute("data-unable", why === "unsupported"); // nothing is offered that cannot work
    const known = /** @type {Record<string, string>} */ (SAY)[why];
    this.say(known ?? SAY.failed);
    if (!known || why === "slow") this.part(".calc-status").append(" ", reloadButton());
    this.#mark();
    console.error(error);
  }

  /** What Python answers to a call, or null when it could not.
   *  @param {string} call @param {Record<string, unknown>} [more] */
  async ask(call, more) {
    const { calculator, currency } = this.section.dataset;
    try {
      const answer = await this.python.ask(call, { calculator, values: this.form.changed(), units: this.shown, currency, ...more });
      this.section.dataset.state = "live";
      return answer;
    } catch (error) {
      this.#fail(error);
      return null;
    }
  }

  /** Whether a value is the reader's own, and not of a link or of how the page was made.
   *  @param {Field} field */
  #isMine(field) {
    return Boolean(state.value(field.dataset.plan)) && (!this.link || this.link.set.includes(field.name));
  }

  /** The form in the units that it should be in, with every value as Python words it. What was typed meanwhile stays.
   *  @returns {Promise<boolean>} */
  async #renewForm() {
    const { changes, units, link } = this;
    const sources = this.form.each((field) => this.#source(field));
    /** @type {Record<string, string>} */
    const values = { ...(link ? {} : this.form.made) };
    /** @type {Record<string, Units>} */
    const unitsOf = Object.fromEntries(Object.keys(values).map((name) => [name, this.built]));
    for (const [name, source] of Object.entries(sources)) {
      if (!source || source.link) continue;
      values[name] = source.plan ?? source.text;
      unitsOf[name] = source.units ?? units;
    }
    const origins = this.#origins();
    const answer = await this.ask("form", {
      values, units, units_of: unitsOf, origins: JSON.parse(origins), plan_currency: state.get("plan", "currency"),
      ...(link && { link: { values: Object.fromEntries(Object.entries(link.values).filter(([name]) => !link.set.includes(name))), units: link.units } }),
    });
    if (!answer) return false;
    await released();
    if (changes !== this.changes || link !== this.link || units !== this.units) return true; // still due: what was asked for is no longer wanted
    this.form.replace(answer.html, answer.typed);
    stay();
    this.replaced = true;
    this.part('[data-action="units"]').textContent = answer.units_label;
    this.shown = units;
    this.section.dataset.shown = units;
    this.originsShown = origins;
    this.formDue = false;
    this.#noteMarkup(sources);
    if (link) this.#showNotice(answer);
    this.#foreign(answer.foreign ?? {});
    if (this.section.dataset.currency !== state.get("plan", "currency")) state.put("plan", "currency", this.section.dataset.currency);
    return true;
  }

  /** Prices in other money than this handbook's stay as they are, with their sign, and are told as wrong.
   *  @param {Record<string, string>} texts */
  #foreign(texts) {
    for (const [name, text] of Object.entries(texts)) {
      const field = this.form.field(name);
      if (field) state.put("value", field.dataset.plan ?? "", { text });
    }
  }

  /** @param {{ notice: string, set: string[] }} answer */
  #showNotice({ notice, set }) {
    this.offered = set;
    const shown = this.find(".calc-linked");
    if (notice && !shown) this.part(".calc-head").insertAdjacentHTML("afterend", `<div class="calc-linked" role="status">${notice}</div>`);
    if (!notice && !shown) this.link = null; // nothing in it but units
  }

  // ---- what Python has answered

  /** What is wrong is told of fields that were left; while one is typed in, a message goes away as soon as it may, and none comes.
   *  @param {{ ok: boolean, errors: import("./form.js").Told[] }} answer */
  #showErrors({ ok, errors }) {
    const told = new Set([...this.section.querySelectorAll('.calc-form [aria-invalid="true"]')].map((field) => /** @type {Field} */ (field).name));
    const shown = errors.filter(({ input }) => !this.typing.has(input) || told.has(input));
    this.form.showErrors(shown);
    if (!ok && this.speaks) this.tell(shown.map(({ message }) => message).join(" "));
    if (shown.length || ok) this.speaks = false;
  }

  /** @param {{ html: string, ok: boolean, errors: import("./form.js").Told[] }} answer @param {string} asked @param {Record<string, unknown>} asking */
  async #show(answer, asked, asking) {
    const drawn = this.put(this.part(".calc-answer"), answer.html);
    this.answered = asked;
    this.#mark();
    this.form.showErrors(answer.errors); // what was wrong goes away with the earlier answer, and not when figures are drawn
    this.#showLeads(asked, asking); // the answer does not wait for them
    if (this.speaks) this.tell(this.#headline());
    this.speaks = false;
    await drawn;
  }

  #headline() {
    return [...this.section.querySelectorAll(".calc-main > div")].map((part) => {
      const range = part.querySelector(".calc-range");
      return `${part.querySelector("dt")?.textContent}: ${part.querySelector("output")?.textContent}${range ? `, range ${range.textContent}` : ""}.`;
    }).join(" ");
  }

  /** The next questions, with what this answer hands over.
   *  @param {string} asked @param {Record<string, unknown>} asking */
  async #showLeads(asked, asking) {
    this.leading = this.ask("leads", asking).then(async (answer) => {
      await released();
      if (!answer?.ok || asked !== this.answered) return;
      const place = this.part(".calc-leads");
      place.innerHTML = answer.html;
      linksInside(place);
      stay();
      this.led = asked;
    });
    return this.leading;
  }

  /** New HTML in the place of the old, with its figures drawn and its open parts left open.
   *  @param {HTMLElement} place @param {string} html */
  put(place, html) {
    keepingOpen(place, () => {
      place.innerHTML = html;
      linksInside(place);
      markToday(place);
      return place;
    });
    stay();
    return drawIn(place).then(() => {
      this.lacking = "";
      stay();
    }, (error) => {
      console.error(error);
      this.lacking = SAY.figures;
      this.#sayLacking();
    });
  }

  // ---- the reader does something

  /** A key was pressed in a field, or something else has changed it.
   *  @param {Field} field @param {boolean} byHand */
  #typed(field, byHand) {
    const { name, value, dataset } = field;
    const key = dataset.plan ?? "";
    const asMade = value === this.#madeText(field);
    const now = /** @type {Source | null} */ (this.#source(field));
    if (value !== this.#text(field)) {
      this.changes++;
      if (this.link && !this.link.set.includes(name)) {
        this.link.set = [...this.link.set, name];
        state.put("linked", this.link.name, this.link.set);
      }
      this.typing.add(name);
      this.#noOrigin(field, now);
      state.type(key, asMade ? null : { text: value, units: this.shown });
      this.#mark();
    } else if (!byHand) return;
    clearTimeout(this.resting);
    if (byHand) this.resting = setTimeout(() => this.settle(), RESTS);
    else this.settle();
  }

  /** A value is the reader's own from now on, wherever it came from.
   *  @param {Field} field @param {Source | null} source */
  #noOrigin(field, source) {
    if (!source?.origin) return;
    field.closest(".calc-field")?.querySelector(".calc-origin")?.remove();
    this.originsShown = JSON.stringify(this.form.each((other) => (other === field ? undefined : this.#source(other)?.origin)));
  }

  /** @param {Field} field */
  #left(field) {
    state.left();
    this.typing.delete(field.name);
    this.speaks = true;
    this.settle();
  }

  /** The button brings the reader to the answer, or to what stands in its way. */
  async #goToAnswer() {
    this.typing.clear();
    this.speaks = true;
    await this.settle();
    if (this.section.dataset.state !== "live") return;
    const { fits } = this;
    const place = this.part(fits ? ".calc-main" : ".calc-summary");
    place.tabIndex = -1;
    place.focus({ preventScroll: true });
    (fits ? this.part(".calc-status") : place).scrollIntoView({ block: "start" }); // on a phone the headline itself is stuck to the screen
  }

  /** When nothing is on its way any more: the links of this answer then take along what belongs to what stands in the fields. */
  async ready() {
    if (!this.fits) await this.settle();
    await this.leading;
  }

  /** Whether they do. */
  get handsOver() {
    return this.fits && this.led === this.answered;
  }

  /** Address of this page with all that differs from the defaults, and what the page was made with where it was set back. */
  async #address() {
    const { made } = this.form;
    const back = this.form.each(({ name, value }) => (name in made ? value : undefined));
    const answer = await this.ask("answer", { values: { ...back, ...this.form.changed() } });
    if (answer && !answer.ok) this.form.showErrors(answer.errors);
    return answer?.ok ? linkWith(answer.plan, this.shown) : null;
  }

  // ---- buttons

  /** @type {Record<string, (button: HTMLElement) => unknown>} */
  actions = {
    units: () => state.change((put) => put("plan", "units", this.shown === "us" ? "metric" : "us")),
    /** Back to what the page was made with. Nothing that it asks for stays in the plan. */
    reset: () => {
      this.speaks = true;
      this.typing.clear();
      if (this.link) {
        this.link.values = {};
        this.link.set = [];
        state.put("linked", this.link.name, null);
        this.formDue = true;
        this.follow(new Set());
      } else {
        // a farm's tables and logbook stand for all its pages: they are cleared on the page of the plan
        const fields = this.form.fields.filter(({ dataset }) => dataset.stays === undefined);
        state.change((put) => { for (const { dataset } of fields) put("value", dataset.plan ?? "", null); });
        if (fields.length < this.form.fields.length) this.#announce(SAY.tables);
      }
      return this.settle();
    },
    undo: () => {
      const ids = state.undo();
      if (ids.length) this.#announce(`Taken back: ${[...new Set(ids.map(labelOf))].join(", ")}.`);
    },
    keep: () => {
      state.put("kept", this.id, { values: this.form.changed(), units: this.shown });
      return this.settle().then(() => this.#announce(SAY.kept));
    },
    unkeep: () => {
      state.put("kept", this.id, null);
      this.find('[data-action="keep"]')?.focus();
    },
    share: async () => {
      const address = await this.#address();
      if (!address) return;
      await copy(address);
      this.#announce(location.protocol === "file:" ? SAY.here : address.length > LONG ? SAY.long : SAY.link);
    },
    code: async () => {
      const address = await this.#address();
      if (address) await extra("code").then((/** @type {any} */ code) => code.show(this.section, address), () => this.#announce(SAY.missing, reloadButton()));
    },
    /** What the link set becomes the reader's own. */
    take: async () => {
      const answer = await this.ask("answer", { set: this.offered ?? [] });
      if (!answer?.ok) return;
      const { plan } = answer, taken = this.form.fields.filter(({ name }) => this.offered?.includes(name));
      this.#leaveLink((put) => { for (const { name, dataset } of taken) put("value", dataset.plan ?? "", { text: plan[name], plan: plan[name] }); });
    },
    /** Away from the link, to the reader's own values. */
    own: () => this.#leaveLink(() => {}),
    copy: async () => {
      const answer = await this.ask("text");
      if (!answer?.ok) return;
      await copy(answer.text);
      this.#announce(SAY.copied);
    },
    csv: () => this.#saveAnswer("csv"),
    calendar: () => this.#saveAnswer("calendar"),
    print: () => print(),
    /** One table goes on paper, and nothing else of the page. */
    alone: (button) => {
      const parts = [document.documentElement, button.closest("details")];
      for (const part of parts) part?.classList.add("alone");
      print();
      for (const part of parts) part?.classList.remove("alone");
    },
    aim: () => this.#explore("aim"),
    /** What an aim has found goes into the form. */
    use: ({ dataset }) => {
      const found = JSON.parse(dataset.set ?? "{}");
      const fields = this.form.fields.filter(({ name }) => name in found);
      if (this.link) {
        this.link.set = [...new Set([...this.link.set, ...Object.keys(found)])];
        state.put("linked", this.link.name, this.link.set);
      }
      state.change((put) => { for (const field of fields) put("value", field.dataset.plan ?? "", { text: found[field.name], units: this.shown }); });
      return this.#goToAnswer();
    },
    moves: () => this.#explore("moves"),
    range: () => this.#explore("range"),
    draws: (button) => this.#draw(button),
  };

  /** Said where everybody sees it, and to screen readers.
   *  @param {string} words @param {HTMLElement} [way] out of it, for as long as the page stands */
  #announce(words, way) {
    this.announced = words;
    this.say(words);
    this.done ??= make("p", { className: "calc-done" });
    this.part(".calc-actions").after(this.done);
    this.done.textContent = words;
    clearTimeout(this.doneClock);
    if (way) return this.done.append(" ", way);
    this.doneClock = setTimeout(() => {
      this.done?.remove();
      this.announced = "";
    }, DONE);
  }

  /** @param {(put: (map: string, key: string, value: any) => void) => void} act */
  #leaveLink(act) {
    if (this.link) state.put("linked", this.link.name, null);
    this.link = null;
    forgetLink();
    this.find(".calc-linked")?.remove();
    this.formDue = true;
    state.change(act);
    this.follow(new Set());
    return this.settle();
  }

  /** Another link was opened on this page. */
  relink() {
    const link = linked();
    if (!link) return;
    this.find(".calc-linked")?.remove();
    this.link = { ...link, set: state.get("linked", link.name) ?? [] };
    this.formDue = true;
    this.follow(new Set());
    this.settle();
  }

  /** @param {string} call */
  async #saveAnswer(call) {
    const answer = await this.ask(call);
    if (!answer?.ok) return;
    save(answer);
    this.#announce(SAY.saved);
  }

  /** A further question. Its button stops it while it is worked on.
   *  @param {string} kind */
  async #explore(kind) {
    const panel = this.part(`[data-explore="${kind}"]`);
    if (panel.dataset.working) return panel.dataset.working === "shown" ? this.#stopExploring(panel) : undefined; // not by a double press
    const ended = this.#showWork(panel);
    try {
      await this.#ask(panel, kind);
    } finally {
      ended();
    }
  }

  /** Python has nothing that could be asked to stop, so it is ended; what was asked for meanwhile is asked again.
   *  @param {HTMLElement} panel */
  #stopExploring(panel) {
    this.python.stop();
    panel.querySelector(".calc-found")?.replaceChildren(make("p", { className: "calc-found-text", textContent: "Stopped. Nothing was changed." }));
    for (const one of calculators()) if (!one.fits) one.settle();
    this.python.start().catch(() => {}); // told when something is asked
  }

  /** That a question is worked on, and for how long. Returns what ends that.
   *  @param {HTMLElement} panel */
  #showWork(panel) {
    const button = /** @type {HTMLElement} */ (panel.querySelector(".calc-explore-form > button"));
    const words = button.textContent, work = make("p", { className: "calc-work" }), began = performance.now();
    const show = () => {
      panel.dataset.working = "shown";
      button.textContent = "Stop";
      work.textContent = `Working: ${Math.round((performance.now() - began) / 1000)} s`;
    };
    panel.dataset.working = "begun";
    const place = /** @type {HTMLElement} */ (panel.querySelector(".calc-found"));
    place.setAttribute("aria-busy", "true");
    /** @type {ReturnType<typeof setInterval> | undefined} */
    let clock;
    const first = setTimeout(() => {
      show();
      button.after(work);
      clock = setInterval(show, 1000);
    }, PENDING);
    return () => {
      clearTimeout(first);
      clearInterval(clock);
      work.remove();
      button.textContent = words;
      delete panel.dataset.working;
      place.removeAttribute("aria-busy");
    };
  }

  /** @param {HTMLElement} panel @param {string} kind */
  async #ask(panel, kind) {
    const chosen = Object.fromEntries([...panel.querySelectorAll("[name]")].map((field) => [/** @type {Field} */ (field).name, /** @type {Field} */ (field).value]));
    const answer = await this.ask("explore", { explore: kind, ...chosen });
    if (!answer) return;
    const place = /** @type {HTMLElement} */ (panel.querySelector(".calc-found"));
    const wanted = panel.querySelector("input"); // the only field here that can hold what cannot be read
    if (wanted && answer.errors.some((/** @type {import("./form.js").Told} */ { input }) => !this.form.field(input))) {
      place.id = `${wanted.id}-error`;
      wanted.setAttribute("aria-describedby", place.id);
      wanted.setAttribute("aria-invalid", "true");
    } else wanted?.removeAttribute("aria-invalid");
    if (answer.ok) this.put(place, answer.html);
    else place.replaceChildren(...answer.errors.map((/** @type {import("./form.js").Told} */ { message }) => make("p", { className: "calc-error", textContent: message })));
  }

  /** Many draws, a few at a time: how far they are is seen, and they can be stopped. What was drawn by then is shown.
   *  @param {HTMLElement} button */
  async #draw(button) {
    const place = /** @type {HTMLElement} */ (button.closest(".calc-found")), question = this.question();
    const { value: output } = /** @type {HTMLSelectElement} */ (this.part('[data-explore="range"] [name="output"]'));
    const stop = make("button", { type: "button", textContent: "Stop" }), bar = make("progress", { value: 0, max: 1 });
    bar.setAttribute("aria-label", "Draws made");
    let stopped = false, of = 1;
    stop.addEventListener("click", () => { stopped = true; });
    button.replaceWith(bar, " ", stop);
    /** @type {number[]} */
    const values = [];
    for (let first = 0; first < of && !stopped; first += DRAWN_AT_ONCE) {
      const answer = await this.ask("explore", { explore: "range", output, draws: [first, first + DRAWN_AT_ONCE] });
      if (!answer?.ok || !bar.isConnected || this.question() !== question) return bar.parentElement?.remove();
      values.push(...answer.values);
      ({ of } = answer);
      bar.value = (first + DRAWN_AT_ONCE) / of;
    }
    if (values.length < 2) return bar.parentElement?.remove();
    const answer = await this.ask("explore", { explore: "range", output, values_drawn: values });
    if (answer?.ok && this.question() === question) this.put(place, answer.html);
  }

  #listen() {
    this.section.addEventListener("click", ({ target }) => {
      const button = /** @type {HTMLElement | null} */ (target instanceof Element ? target.closest("button[data-action]") : null);
      if (button) this.actions[button.dataset.action ?? ""]?.(button);
    });
    for (const panel of this.section.querySelectorAll("[data-explore]")) {
      const { explore } = /** @type {HTMLElement} */ (panel).dataset;
      panel.addEventListener("keydown", (event) => { if (/** @type {KeyboardEvent} */ (event).key === "Enter" && event.target instanceof HTMLInputElement) this.#explore(explore ?? ""); });
      for (const kind of ["input", "change"]) panel.addEventListener(kind, ({ target }) => {
        const field = /** @type {HTMLInputElement} */ (target);
        if (field.name) state.put("asked", this.#askedKey(field), field.value);
      });
    }
  }
}

/** Whether this device was told to save data. */
export const savesData = () => Boolean(/** @type {{ connection?: { saveData?: boolean } }} */ (navigator).connection?.saveData);

/** By what two texts of a field are the same one: as typed, in which units, from where. How Python words it comes later.
 *  @param {Source | null | undefined} source */
const sign = (source) => (source ? brief([source.text, source.units, source.link]) : "");

/** Python has read a value: from now on it is known with its unit. A logbook that says the same in any units is not kept twice.
 *  @param {Field} field @param {string | undefined} plan */
function read(field, plan) {
  const value = state.value(field.dataset.plan);
  if (isLong(plan) && plan === value?.text.trim()) return;
  if (value && plan !== undefined && value.plan === undefined) state.put("value", field.dataset.plan ?? "", { ...value, plan });
}

/** A value that an earlier edition kept under another key, or under several.
 *  @param {Field} field */
function renamed({ dataset }) {
  for (const key of dataset.planWas?.split("|") ?? []) {
    const was = state.value(key);
    if (!was) continue;
    if (!state.value(dataset.plan)) state.put("value", dataset.plan ?? "", was);
    state.put("value", key, null);
  }
}

/** What a change was about, for the reader: a plan key is the name of an input and its label.
 *  @param {string} id */
const labelOf = (id) => (id === "plan units" ? "units" : id.slice(id.indexOf(": ") + 2));
