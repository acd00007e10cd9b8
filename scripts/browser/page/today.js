// The day that is today, as the reader's own clock and place have it: put into its field by the button beside it, and
// marked where a table goes by days.
// @ts-check

import { make } from "./element.js";

/** Today as 2027-05-04. @param {Date} now */
const written = (now) => new Date(now.getTime() - now.getTimezoneOffset() * 60_000).toISOString().slice(0, 10);

/** Which rows of a table by days hold a day: [first, last] of each, as texts. @param {[string, string][]} rows @param {string} day */
export const holding = (rows, day) => rows.map(([first, last]) => first <= day && day <= last);

/** Marks the rows of today in every table by days, and says above it what is done now.
 *  @param {Element} place */
export function markToday(place) {
  const day = written(new Date());
  for (const body of /** @type {NodeListOf<HTMLElement>} */ (place.querySelectorAll("tbody:has([data-day])"))) {
    const rows = [...body.querySelectorAll("tr")];
    const days = rows.map((row) => /** @type {[string, string]} */ ([...row.querySelectorAll("[data-day]")].map((cell) => cell.getAttribute("data-day") ?? "")));
    const now = holding(days, day);
    rows.forEach((row, at) => { if (now[at]) row.setAttribute("aria-current", "date"); });
    const table = body.closest("table");
    if (!table || table.previousElementSibling?.matches(".calc-now")) continue;
    const links = rows.filter((_, at) => now[at]).map((row) => row.querySelector("a")?.cloneNode(true) ?? "");
    const before = days.length && day < days[0][0];
    const said = make("p", { className: "calc-now" }, links.length ? "Today: " : before ? `Today nothing yet: it begins on ${rows[0].querySelector("[data-day]")?.textContent}.` : "Today is after this year.");
    links.forEach((link, at) => said.append(at ? ", " : "", link));
    table.before(said);
  }
  const opens = document.querySelector(".opens-today");
  if (opens?.contains(place) && !location.hash) {
    opens.classList.remove("opens-today");
    place.querySelector(".calc-now")?.scrollIntoView({ block: "center" });
  }
}

/** @param {MouseEvent} event */
function press({ target }) {
  const button = target instanceof Element ? target.closest("[data-today]") : null;
  const field = button?.closest(".calc-field")?.querySelector("input");
  if (!field) return;
  field.value = written(new Date());
  for (const kind of ["input", "change"]) field.dispatchEvent(new Event(kind, { bubbles: true }));
}

export function beginToday() {
  addEventListener("click", press);
}
