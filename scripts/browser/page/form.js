// The form of one calculator: what stands in its fields, and what is wrong with them. Python makes its HTML and its messages.
// @ts-check

import { make } from "./element.js";
import { linksInside } from "./extra.js";
import { showAt } from "./hold.js";
import { attachRows } from "./rows.js";
import { attachWeather } from "./weather.js";

/** @typedef {HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement} Field */
/** @typedef {import("./rows.js").Told & { input: string }} Told */
/** @typedef {{ typed(field: Field, byHand: boolean): void, left(field: Field): void, entered(): void, ask: import("./rows.js").Ask, stop(): void }} Heard */

/** New HTML with the parts left open that were open in the old.
 *  @param {Element} old @param {() => Element} put */
export function keepingOpen(old, put) {
  const title = (/** @type {Element} */ summary) => summary.textContent;
  const open = new Set([...old.querySelectorAll("details[open] > summary")].map(title));
  const fresh = put();
  for (const summary of fresh.querySelectorAll("details > summary")) if (open.has(title(summary))) /** @type {HTMLDetailsElement} */ (summary.parentElement).open = true;
}

/** What a field was made with.
 *  @param {Field} field @returns {string} */
const madeWith = (field) => (field instanceof HTMLSelectElement ? [...field.options].find((option) => option.defaultSelected)?.value ?? field.options[0]?.value ?? "" : field.defaultValue);

/** What it holds now: shown rounded, used exactly.
 *  @param {Field} field */
const written = (field) => (!(field instanceof HTMLSelectElement) && field.value === field.defaultValue && field.dataset.exact) || field.value;

export class Form {
  /** @param {HTMLElement} section @param {Heard} heard */
  constructor(section, heard) {
    this.section = section;
    this.heard = heard;
    this.#listen();
    /** What this page sets otherwise than the defaults, as its markup has it. */
    this.made = this.each((field) => (madeWith(field) === field.dataset.default ? undefined : field.dataset.exact || madeWith(field)));
  }

  /** @returns {HTMLFormElement} */
  get element() {
    return /** @type {HTMLFormElement} */ (this.section.querySelector(".calc-form"));
  }

  /** @returns {Field[]} */
  get fields() {
    return /** @type {Field[]} */ ([...this.element.elements].filter((field) => field instanceof HTMLElement && "name" in field && field.name && field.dataset.default !== undefined));
  }

  /** @param {string} name */
  field(name) {
    return this.fields.find((field) => field.name === name);
  }

  /** {name: part(field)} where that is something.
   *  @template Part @param {(field: Field) => Part | undefined} part @returns {Record<string, Part>} */
  each(part) {
    return Object.fromEntries(this.fields.flatMap((field) => {
      const found = part(field);
      return found === undefined ? [] : [[field.name, found]];
    }));
  }

  /** {name: text} of all that differs from the defaults. */
  changed() {
    return this.each((field) => (written(field) === field.dataset.default ? undefined : written(field)));
  }

  /** A text into a field; tells whether that changed what stood there.
   *  @param {Field} field @param {string} text */
  put(field, text) {
    if (field.value === text) return false;
    field.value = text;
    this.redraw.get(field)?.();
    if (field instanceof HTMLInputElement) showAt(field);
    return true;
  }

  /** Open whatever a field is folded away in.
   *  @param {Field} field */
  unfold(field) {
    field.closest("details")?.setAttribute("open", "");
  }

  /** Another form in the place of this one. typed: texts that could not be read, given back as they were.
   *  @param {string} html @param {Record<string, string>} typed */
  replace(html, typed) {
    const template = document.createElement("template");
    template.innerHTML = html;
    const active = /** @type {HTMLInputElement | null} */ (this.element.contains(document.activeElement) ? document.activeElement : null);
    const chosen = active && "selectionStart" in active && active.selectionStart !== null ? [active.selectionStart, active.selectionEnd] : null;
    keepingOpen(this.element, () => {
      this.element.replaceWith(/** @type {Element} */ (template.content.firstElementChild));
      return this.element;
    });
    for (const field of this.fields) if (field.name in typed) field.value = typed[field.name];
    const again = active?.id && /** @type {HTMLInputElement | null} */ (document.getElementById(active.id));
    if (again) {
      again.focus({ preventScroll: true });
      if (chosen && "setSelectionRange" in again) again.setSelectionRange(chosen[0], chosen[1]); // what is typed next replaces what it would have
    }
    linksInside(this.element);
    this.#listen();
  }

  #listen() {
    const form = this.element, { typed, left, entered, ask, stop } = this.heard;
    const isOurs = /** @type {(target: any) => target is Field} */ ((target) => Boolean(target?.name) && target.dataset?.default !== undefined);
    form.onsubmit = (event) => {
      event.preventDefault();
      entered();
    };
    form.oninput = (event) => { if (isOurs(event.target)) typed(event.target, event.isTrusted || Boolean(event.target.dataset.columns)); };
    form.onchange = ({ target }) => {
      if (!isOurs(target)) return;
      typed(target, false); // some change a field without a word before
      left(target);
    };
    form.onkeydown = (event) => {
      const { target } = event;
      if (event.key !== "Enter" || !(target instanceof HTMLInputElement)) return;
      event.preventDefault();
      target.dispatchEvent(new Event("change", { bubbles: true })); // also in a cell of a table
    };
    for (const area of form.querySelectorAll("textarea[data-weather]")) attachWeather(/** @type {HTMLTextAreaElement} */ (area), ask, stop);
    /** Tables are drawn from their text fields. @type {Map<Field, () => void>} */
    this.redraw = new Map([...form.querySelectorAll("textarea[data-columns]")].map((area) => {
      const field = /** @type {HTMLTextAreaElement} */ (area);
      return [field, attachRows(field, () => { for (const kind of ["input", "change"]) field.dispatchEvent(new Event(kind, { bubbles: true })); }, ask, stop)];
    }));
  }

  /** Each message beside its field, and all of them in the summary.
   *  @param {Told[]} errors */
  showErrors(errors) {
    const told = new Map(errors.map((error) => [error.input, error]));
    for (const field of this.fields) {
      const place = /** @type {HTMLElement} */ (document.getElementById(`${field.id}-error`));
      const message = told.get(field.name)?.message ?? "";
      place.textContent = message;
      place.hidden = !message;
      if (message) field.setAttribute("aria-invalid", "true");
      else field.removeAttribute("aria-invalid");
      if (field.dataset.columns) field.dispatchEvent(new CustomEvent("handbook:told", { detail: told.get(field.name) ?? null }));
    }
    const summary = /** @type {HTMLElement} */ (this.section.querySelector(".calc-summary"));
    summary.hidden = !errors.length;
    summary.replaceChildren();
    if (!errors.length) return;
    const count = errors.length > 1 ? `${errors.length} values need another look:` : "One value needs another look:";
    summary.append(make("p", { textContent: count }), make("ul", {}, ...errors.map((error) => make("li", {}, this.#linkTo(error)))));
  }

  /** @param {Told} error */
  #linkTo({ input, message }) {
    const field = this.field(input);
    if (!field) return message;
    const onclick = (/** @type {Event} */ event) => {
      event.preventDefault();
      event.stopPropagation(); // the theme would load the page anew for an address with another hash
      this.unfold(field);
      const cell = (/** @type {string} */ which) => /** @type {HTMLElement | null} */ (field.parentElement?.querySelector(`.calc-rows ${which}`));
      (field.hidden ? cell('[aria-invalid="true"]') ?? cell(":is(input, select, button)") ?? field : field).focus();
    };
    return make("a", { href: `#${field.id}`, textContent: message, onclick });
  }
}

export { madeWith };
