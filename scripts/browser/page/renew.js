// Whose farm it is, and on which day: on the pages of a farm of the reader's own, Today is the day on which they are opened. A day that
// was typed stays until the night: what was today yesterday is not today.
// @ts-check

import { calculators } from "./calculator.js";
import { state } from "./state.js";

const TABLES = ["lanes", "rooms", "products", "log"]; // who has set one of them keeps a farm

/** The day of a moment, here. @param {number} [time] ms */
function dayOf(time = Date.now()) {
  return new Date(time - new Date(time).getTimezoneOffset() * 60_000).toISOString().slice(0, 10);
}

/** Whether the farm is the reader's own, or that of the edition, and not the demo farm.
 *  @param {import("./calculator.js").Calculator} one */
function keepsFarm(one) {
  return TABLES.some((name) => state.value(one.form.field(name)?.dataset.plan)) || Boolean(one.section.querySelector('[data-today="own"]'));
}

/** The day on which something is written down: the one that was set, by the reader or by opening the page; never the demo farm's, which
 *  still stands there when the reader has just typed the first lane.
 *  @param {import("./calculator.js").Calculator} one */
export function dayToWrite(one) {
  const field = one.form.field("today");
  return field?.value && state.value(field.dataset.plan) ? field.value : dayOf();
}

/** A page of the reader's own farm is opened on another day than it was last.
 *  @param {import("./calculator.js").Calculator} one */
export function renewToday(one) {
  const field = one.form.field("today"), key = field?.dataset.plan ?? "", now = dayOf();
  if (!field || one.link) return;
  const set = state.value(key), own = keepsFarm(one);
  if (set ? set.text === now || dayOf(state.time("value", key)) === now : !own) return;
  state.put("value", key, { text: now, units: one.shown });
}

/** Also where a page stays open overnight. */
export function beginRenew() {
  document.addEventListener("visibilitychange", () => { if (!document.hidden) calculators().forEach(renewToday); });
}
