// The logbook by buttons: where, what, how much, written. Rows are worded and read by Python (calc/page/logbook.py); what is usual at
// each place, and the last values as a start, come with the answer. A line of the week's list that is ticked off writes its row.
// @ts-check

import { make } from "./element.js";
import { save } from "./leaving.js";
import { base64 } from "./rows.js";
import { state } from "./state.js";
import { dayToWrite, renewToday } from "./renew.js";

/** @typedef {{ place: string, what: string, label: string, amount?: string, unit?: string, units?: string[], note?: string, things?: [string, string][], ready?: boolean }} Act */
/** @typedef {import("./calculator.js").Calculator} Calculator */

const SAY = {
  fresh: "Your own logbook begins with this row; the demo farm's rows are left out. Undo brings them back.",
  full: "This browser does not keep it: save the logbook to a file before you close the page.",
  settle: "Settle the question about your logbook first.",
  none: "Nothing in it that your logbook lacks.",
  columns: "Its headings are foreign. Open it in a logbook of its own first, and save it from there.",
};
const MOST_TOLD = 5;

/** @param {Calculator} one */
export function attachLogbook(one) {
  const { section } = one;
  if (!section.querySelector(".calc-acts")) return;
  /** @type {Act[]} */
  let acts = [];
  /** @type {Act | null} */
  let chosen = null;
  let place = state.get("asked", "logbook place") ?? "";
  let writing = Promise.resolve();

  const places = group("logbook-places", "Where"), words = group("logbook-words", "What was done");
  const amount = make("input", { type: "text", inputMode: "decimal", autocomplete: "off", name: "logbook-amount" });
  const unit = make("select", { name: "logbook-unit" }), thing = make("select", { name: "logbook-thing" });
  const day = make("input", { type: "date", name: "logbook-day" });
  const who = make("input", { type: "text", name: "logbook-who", value: state.get("asked", "logbook who") ?? "" });
  const note = make("input", { type: "text", name: "logbook-note" });
  const wrong = make("p", { className: "calc-error", hidden: true });
  wrong.setAttribute("role", "alert");
  const more = make("details", {}, make("summary", { textContent: "Day, who, note" }), line("Day", day), line("Who", who), line("Note", note));
  const entry = make("form", { className: "logbook-entry", hidden: true, noValidate: true }, make("div", { className: "logbook-amount" }, line("Of what", thing), line("How much", amount), line("In", unit)), wrong, make("button", { type: "submit", className: "logbook-write", textContent: "Write it down" }), more);
  const said = make("p", { className: "logbook-said" });
  said.setAttribute("role", "status");
  const file = make("input", { type: "file", accept: ".csv,.txt,.tsv,text/csv,text/plain", hidden: true });
  const files = make("div", { className: "logbook-files" }, button("Save the logbook", leave), button("Add another copy", () => file.click()), file);
  const look = make("div", { className: "logbook-look", hidden: true });
  look.setAttribute("role", "group");
  look.setAttribute("aria-label", "Another copy of the logbook");
  const panel = make("div", { className: "logbook" }, make("h3", { textContent: "Write it down" }), places, words, entry, said, files, look);
  panel.setAttribute("role", "group");
  panel.setAttribute("aria-label", "The logbook");
  section.querySelector(".calc-head")?.after(panel);

  /** @param {string} className @param {string} label */
  function group(className, label) {
    const made = make("div", { className });
    made.setAttribute("role", "group");
    made.setAttribute("aria-label", label);
    return made;
  }

  /** @param {string} label @param {HTMLElement} field */
  function line(label, field) {
    return make("label", {}, make("span", { textContent: label }), field);
  }

  /** @param {string} text @param {() => void} pressed @param {boolean} [on] */
  function button(text, pressed, on) {
    const made = make("button", { type: "button", textContent: text, onclick: pressed });
    if (on !== undefined) made.setAttribute("aria-pressed", String(on));
    return made;
  }

  // ---- what is offered

  /** The acts that come with the answer; what is being entered stays as it is. */
  function read() {
    acts = JSON.parse(/** @type {HTMLElement | null} */ (section.querySelector(".calc-acts"))?.dataset.acts ?? "[]");
    const known = [...new Set(acts.map((act) => act.place))];
    if (!known.includes(place)) place = known.length === 1 ? known[0] : "";
    panel.hidden = !acts.length;
    offer();
  }

  function offer() {
    const known = [...new Set(acts.map((act) => act.place))];
    const held = /** @type {HTMLElement | null} */ (panel.contains(document.activeElement) ? document.activeElement : null)?.textContent;
    places.replaceChildren(...known.map((name) => button(name, () => at(name), name === place)));
    words.replaceChildren(...acts.filter((act) => act.place === place).map((act) => button(act.label, () => open(act), chosen?.what === act.what && chosen.place === place)));
    for (const made of [...places.children, ...words.children]) if (held && made.textContent === held) /** @type {HTMLElement} */ (made).focus();
  }

  /** @param {string} name */
  function at(name) {
    place = name;
    state.put("asked", "logbook place", name);
    close();
    offer();
  }

  /** Enter what was done there. @param {Act} act */
  function open(act) {
    chosen = act;
    place = act.place;
    told("");
    amount.value = act.amount ?? "";
    note.value = act.things ? "" : act.note ?? "";
    day.value = today();
    const units = act.units ?? [];
    unit.replaceChildren(...units.map((name) => make("option", { value: name, textContent: name })));
    thing.replaceChildren(...(act.things ?? []).map(([name, one]) => make("option", { value: name, textContent: `${name} (${one})` })));
    shown(thing, Boolean(act.things?.length));
    shown(unit, units.length > 0);
    shown(amount, act.what !== "note");
    more.open = act.what === "note";
    entry.hidden = false;
    offer();
    const first = act.what === "note" ? note : amount;
    first.focus({ preventScroll: true });
    if (first.value) first.select();
    if (entry.getBoundingClientRect().top < 0 || entry.getBoundingClientRect().bottom > innerHeight) entry.scrollIntoView({ block: "center" });
  }

  /** @param {HTMLElement} field @param {boolean} there */
  const shown = (field, there) => { /** @type {HTMLElement} */ (field.parentElement).hidden = !there; };

  function close() {
    chosen = null;
    entry.hidden = true;
  }

  const today = () => dayToWrite(one);

  /** @param {string} words */
  function told(words) {
    wrong.textContent = words;
    wrong.hidden = !words;
  }

  // ---- what is written

  /** Another text into the logbook's field: one change, which the reader can take back. @param {string} text */
  function put(text) {
    const field = /** @type {HTMLTextAreaElement} */ (one.form.field("log"));
    field.value = text;
    one.form.redraw?.get(field)?.();
    for (const kind of ["input", "change"]) field.dispatchEvent(new Event(kind, { bubbles: true }));
    renewToday(one);
  }

  /** @param {string} words */
  function say(words) {
    said.replaceChildren(words, " ", button("Undo", () => { one.actions.undo(/** @type {any} */ (null)); said.replaceChildren("Taken back."); }));
    if (state.trouble) said.append(` ${SAY.full}`);
  }

  /** @param {Record<string, string>} row @returns {Promise<boolean>} */
  async function write(row) {
    const answer = await one.ask("write", { entry: row });
    if (!answer) return false;
    if (!answer.ok) {
      told(answer.question ? SAY.settle : answer.errors.map((/** @type {{ message: string }} */ { message }) => message).join(" "));
      return false;
    }
    put(answer.text);
    say(`Written: ${answer.said}.${answer.fresh ? ` ${SAY.fresh}` : ""}`);
    return true;
  }

  /** One row after the other, each into the book as the one before has left it. @param {() => Promise<unknown>} act */
  function inTurn(act) {
    writing = writing.then(act, act).then(() => undefined);
    return writing;
  }

  entry.onsubmit = (event) => {
    event.preventDefault();
    const act = chosen;
    if (!act) return;
    const things = Object.fromEntries(act.things ?? []);
    const named = [thing.value, note.value.trim()].filter(Boolean).join(", ");
    const row = { date: day.value, place: act.place, what: act.what, amount: amount.value, unit: act.things ? things[thing.value] ?? "" : unit.value, who: who.value, note: act.things ? named : note.value };
    if (act.what === "note") row.amount = row.unit = "";
    state.put("asked", "logbook who", who.value);
    inTurn(async () => {
      if (!(await write(row))) return;
      const label = act.label;
      close();
      offer();
      /** @type {HTMLElement | undefined} */ ([...words.children].map((made) => /** @type {HTMLElement} */ (made)).find((made) => made.textContent === label))?.focus({ preventScroll: true });
    });
  };

  section.addEventListener("click", ({ target }) => {
    const pressed = /** @type {HTMLElement | null} */ (target instanceof Element ? target.closest("[data-act]") : null);
    if (!pressed) return;
    /** @type {Act} */
    const act = JSON.parse(pressed.dataset.act ?? "{}");
    const usual = acts.find((other) => other.place === act.place && other.what === act.what);
    if (!act.ready) return open({ ...usual, ...act, label: usual?.label ?? act.label });
    pressed.setAttribute("disabled", "");
    inTurn(async () => {
      const done = await write({ date: today(), place: act.place, what: act.what, amount: act.amount ?? "", unit: act.unit ?? "", who: who.value, note: act.note ?? "" });
      if (!done) pressed.removeAttribute("disabled");
    });
  });

  // ---- how it leaves, and how two copies become one

  async function leave() {
    const answer = await one.ask("log_file", {});
    if (answer?.ok) save({ text: answer.text, filename: `logbook-${today()}.csv` });
  }

  /** @param {string} name @param {string} data @param {Record<string, string>} answers */
  async function join(name, data, answers) {
    const answer = await one.ask("join", { data, answers });
    if (!answer) return;
    look.hidden = false;
    const shut = button("Leave it", () => { look.hidden = true; });
    if (answer.question?.options && answer.question.about !== "columns") {
      const choices = answer.question.options.map((/** @type {{ answer: string, words: string }} */ { answer: key, words: text }) => button(text, () => { join(name, data, { ...answers, [answer.question.about]: key }); }));
      return look.replaceChildren(make("p", { textContent: answer.question.words }), ...choices, shut);
    }
    if (!answer.ok) return look.replaceChildren(make("p", { className: "calc-error", textContent: answer.question ? SAY.columns : answer.errors[0]?.message ?? "" }), shut);
    const counted = (/** @type {number} */ count) => (count === 1 ? "1 row" : `${count.toLocaleString("en")} rows`);
    const told = [...answer.conflicts, ...answer.left_out.map((/** @type {string} */ words) => `Left out: ${words}`)];
    const list = told.slice(0, MOST_TOLD).map((words) => make("li", { textContent: words }));
    if (told.length > MOST_TOLD) list.push(make("li", { textContent: `And ${told.length - MOST_TOLD} more like these.` }));
    const head = make("p", { textContent: answer.came ? `${name}: ${counted(answer.came)} that your logbook lacks; ${counted(answer.same)} are in both.` : `${name}: ${SAY.none}` });
    const yes = button(`Add ${counted(answer.came)}`, () => {
      look.hidden = true;
      put(answer.text);
      say(`${counted(answer.came)} added.`);
    });
    look.replaceChildren(head, make("ul", { hidden: !list.length }, ...list), ...(answer.came ? [yes] : []), shut);
    (answer.came ? yes : shut).focus();
  }

  file.onchange = async () => {
    const chosenFile = file.files?.[0];
    file.value = "";
    if (chosenFile) await join(chosenFile.name, await base64(chosenFile), {});
  };

  // ---- in step with the answer

  /** What is offered may belong to the values the page was made with, until Python has answered. */
  const settle = () => { panel.inert = section.hasAttribute("data-pending") && section.dataset.state === "loading"; };
  new MutationObserver(read).observe(/** @type {Element} */ (section.querySelector(".calc-answer")), { childList: true });
  new MutationObserver(settle).observe(section, { attributeFilter: ["data-pending", "data-state"] });
  read();
  settle();
}
