// The form of one calculator: what stands in its fields, and what is wrong with them. Python makes its HTML and its messages.

import { make } from "./element.js";
import { linksInside } from "./extra.js";
import { attachRows } from "./rows.js";

const TYPING = 300; // ms; a wrong value that is being mended is looked at again when the keys rest this long

/** New HTML with the parts left open that were open in the old. */
export function keepingOpen(old, put) {
  const open = new Set([...old.querySelectorAll("details[open] > summary")].map((summary) => summary.textContent));
  const fresh = put();
  for (const summary of fresh.querySelectorAll("details > summary")) if (open.has(summary.textContent)) summary.parentElement.open = true;
}

/** What a field was made with. */
const madeWith = (field) => field.defaultValue ?? [...field.options].find((option) => option.defaultSelected)?.value;

/** What it holds now: shown rounded, used exactly. */
const written = (field) => (field.value === field.defaultValue && field.dataset.exact) || field.value;

const otherThan = (known, text) => (text === known ? undefined : text);

export class Form {
  /** heard: edited(name) after a change, entered() by the button, mending(name) while a wrong value is being typed; ask(call, more) of Python. */
  constructor(section, heard) {
    this.section = section;
    this.heard = heard;
    /** What this page sets otherwise than the defaults, as its markup has it. */
    this.made = this.each((field) => otherThan(field.dataset.default, madeWith(field)));
    this.#listen();
    /** The same with what a browser gives back after a reload. */
    this.before = this.changed();
  }

  get element() {
    return this.section.querySelector(".calc-form");
  }

  get fields() {
    return [...this.element.elements].filter(({ name, dataset }) => name && dataset.default !== undefined);
  }

  field(name) {
    return this.fields.find((field) => field.name === name);
  }

  /** {name: part(field)} where that is something. */
  each(part) {
    return Object.fromEntries(this.fields.map((field) => [field.name, part(field)]).filter(([, found]) => found !== undefined));
  }

  /** {name: text} of all that differs from the defaults. */
  changed() {
    return this.each((field) => otherThan(field.dataset.default, written(field)));
  }

  /** {name: text} of what the reader has typed into the form that the page came with. */
  typed() {
    return this.each((field) => otherThan(this.before[field.name] ?? field.dataset.default, written(field)));
  }

  /** {name: text} into the fields, wherever they are folded away. */
  write(texts) {
    for (const [name, text] of Object.entries(texts)) {
      const field = this.field(name);
      field.value = text;
      field.closest("details")?.setAttribute("open", "");
    }
  }

  toDefaults() {
    for (const field of this.fields) field.value = field.dataset.default;
    for (const draw of this.drawRows) draw();
  }

  /** Another form in the place of this one. typed: texts that could not be read, given back as they were. */
  replace(html, typed) {
    const template = document.createElement("template");
    template.innerHTML = html;
    const focused = this.element.contains(document.activeElement) && document.activeElement.id;
    keepingOpen(this.element, () => {
      this.element.replaceWith(template.content.firstElementChild);
      return this.element;
    });
    if (focused) document.getElementById(focused)?.focus();
    for (const field of this.fields) if (field.name in typed) field.value = typed[field.name];
    linksInside(this.element);
    this.#listen();
  }

  #listen() {
    const form = this.element, { edited, entered, mending, ask } = this.heard;
    form.onsubmit = (event) => {
      event.preventDefault();
      entered();
    };
    form.onchange = ({ target }) => { if (target.name) edited(target.name); };
    form.onkeydown = (event) => {
      if (event.key !== "Enter" || !event.target.matches("input")) return;
      event.preventDefault();
      if (event.target.name) edited(event.target.name);
      else event.target.dispatchEvent(new Event("change")); // a cell of a table
    };
    // While typing, an error that has become right goes away; a new one never appears.
    let later;
    form.oninput = ({ target }) => {
      if (target.getAttribute("aria-invalid") !== "true") return;
      clearTimeout(later);
      later = setTimeout(() => mending(target.name), TYPING);
    };
    this.drawRows = [...form.querySelectorAll("textarea[data-columns]")].map((area) => attachRows(area, () => edited(area.name), ask));
  }

  /** Each message beside its field, and all of them in the summary. errors: [{input, message, cells, question}]. */
  showErrors(errors) {
    const told = new Map(errors.map((error) => [error.input, error]));
    for (const field of this.fields) {
      const place = document.getElementById(`${field.id}-error`);
      const message = told.get(field.name)?.message ?? "";
      place.textContent = message;
      place.hidden = !message;
      if (message) field.setAttribute("aria-invalid", "true");
      else field.removeAttribute("aria-invalid");
      if (field.dataset.columns) field.dispatchEvent(new CustomEvent("handbook:told", { detail: told.get(field.name) ?? null }));
    }
    const summary = this.section.querySelector(".calc-summary");
    summary.hidden = !errors.length;
    summary.replaceChildren();
    if (!errors.length) return;
    const count = errors.length > 1 ? `${errors.length} values need another look:` : "One value needs another look:";
    summary.append(make("p", { textContent: count }), make("ul", {}, ...errors.map((error) => make("li", {}, this.#linkTo(error)))));
  }

  #linkTo({ input, message }) {
    const field = this.field(input);
    if (!field) return message;
    const onclick = (event) => {
      event.preventDefault();
      event.stopPropagation(); // the theme would load the page anew for an address with another hash
      field.closest("details")?.setAttribute("open", "");
      const cell = (which) => field.parentElement.querySelector(`.calc-rows ${which}`);
      (field.hidden ? cell('[aria-invalid="true"]') ?? cell(":is(input, select, button)") : field).focus();
    };
    return make("a", { href: `#${field.id}`, textContent: message, onclick });
  }
}
