// The day that is today, put into its field by the button beside it: as the reader's own clock and place have it.
// @ts-check

/** @param {MouseEvent} event */
function press({ target }) {
  const button = target instanceof Element ? target.closest("[data-today]") : null;
  const field = button?.closest(".calc-field")?.querySelector("input");
  if (!field) return;
  const now = new Date();
  field.value = new Date(now.getTime() - now.getTimezoneOffset() * 60_000).toISOString().slice(0, 10);
  for (const kind of ["input", "change"]) field.dispatchEvent(new Event(kind, { bubbles: true }));
}

export function beginToday() {
  addEventListener("click", press);
}
