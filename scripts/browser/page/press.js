// Nothing goes away under a finger or a mouse that is pressed on it: else the press would end on nothing, and be lost.
// @ts-check

const LONGEST = 2000; // ms
/** @type {Promise<void> | null} */
let pressed = null;
/** @type {() => void} */
let release = () => {};

addEventListener("pointerdown", ({ target }) => {
  if (!(target instanceof Element) || !target.closest("a, button, summary, label")) return;
  release();
  pressed = new Promise((resolve) => {
    const clock = setTimeout(() => release(), LONGEST);
    release = () => {
      clearTimeout(clock);
      pressed = null;
      resolve();
    };
  });
}, { capture: true, passive: true });
for (const kind of ["pointerup", "pointercancel", "click"]) {
  addEventListener(kind, () => setTimeout(() => release(), kind === "pointerup" ? 50 : 0), { capture: true, passive: true }); // the click follows
}

/** Resolves when nothing is pressed. */
export const released = () => pressed ?? Promise.resolve();
