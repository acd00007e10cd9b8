// A weather file beside the twelve months that it gives. It is read here, by Python in the page, and sent nowhere. What it says goes
// into the fields of this form, and into the plan for every other page that asks for a place's weather.
// @ts-check

import { make } from "./element.js";
import { kindOf } from "./rows.js";
import { state } from "./state.js";

const MOST = 12_000_000; // bytes; an EPW year has 1.6 million, ten years of a logger by the hour about 5

/** @typedef {{ ok: boolean, errors: { message: string }[], values: Record<string, string>, keys: Record<string, string>, units: import("./state.js").Units, said: string[] }} Weather */

/** Beside a field that holds a year's months: a button that fills it, and its neighbours of the same form, from a file.
 * @param {HTMLTextAreaElement} textarea
 * @param {(call: string, asked: Record<string, unknown>) => Promise<any>} ask @param {() => void} stop what Python is doing */
export function attachWeather(textarea, ask, stop) {
  const label = textarea.labels[0]?.firstChild?.textContent?.trim() ?? "";
  const file = /** @type {HTMLInputElement} */ (make("input", { type: "file", accept: ".epw,.csv,.txt,text/csv,text/plain", hidden: true }));
  const open = make("button", { type: "button", textContent: "Open a weather file" });
  const said = make("p", { className: "calc-hint calc-weather-said" });
  said.setAttribute("role", "status");
  open.setAttribute("aria-label", `Open a weather file: ${label}`);
  textarea.closest(".calc-field")?.append(make("div", { className: "calc-rows-tools" }, open, file), said);

  let taking = 0; // counts files, and stops

  /** @param {File | undefined} chosen */
  async function take(chosen) {
    if (!chosen) return;
    const now = ++taking;
    if (chosen.size > MOST) {
      said.textContent = "The file is too large: cut it down to the last ten years or so.";
      return;
    }
    const end = make("button", { type: "button", textContent: "Stop" });
    end.addEventListener("click", () => {
      taking++;
      stop();
      said.textContent = "Stopped: nothing was changed.";
    });
    said.replaceChildren(`Reading ${chosen.name} … `, end);
    const kind = await kindOf(chosen, textarea.name, ask, () => now === taking);
    const text = kind?.ok ? await chosen.text() : "";
    if (now !== taking) return;
    /** @type {Weather | null} */
    const answer = kind?.ok ? await ask("weather_file", { text }) : kind;
    if (now !== taking) return;
    if (!answer) said.textContent = "The file could not be read: try once more.";
    else if (!answer.ok) said.textContent = answer.errors[0].message;
    else {
      const elsewhere = Object.entries(answer.values).filter(([name, text]) => !fill(name, text));
      state.change((put) => { for (const [name, text] of elsewhere) put("value", answer.keys[name], { text, units: answer.units }); });
      said.textContent = answer.said.join(" ");
    }
  }

  /** Whether this form has that field; then it holds the text.
   *  @param {string} name @param {string} text */
  function fill(name, text) {
    const field = /** @type {HTMLInputElement | null | undefined} */ (textarea.form?.elements.namedItem(name));
    if (!field) return false;
    field.value = text;
    for (const event of ["handbook:filled", "input", "change"]) field.dispatchEvent(new Event(event, { bubbles: true }));
    return true;
  }

  open.addEventListener("click", () => file.click());
  file.addEventListener("change", () => {
    take(file.files?.[0]);
    file.value = "";
  });
}
