// Nothing goes away under a finger or a mouse: neither while it is pressed, else the press would end on nothing and be lost, nor on the
// way there. What a mouse has been moved to stays under it, though an answer above it comes and takes more room.
// @ts-check

const PRESSED = "a, button, summary, label";
const LONGEST = 2000; // ms
/** @type {Promise<void> | null} */
let pressed = null;
/** @type {() => void} */
let release = () => {};

addEventListener("pointerdown", ({ target }) => {
  if (!(target instanceof Element) || !target.closest(PRESSED)) return;
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

/** What a mouse was moved to, and how far down it stands. @type {{ element: Element, top: number, x: number, y: number } | null} */
let aim = null;
const topOf = (/** @type {Element} */ element) => element.getBoundingClientRect().top;

/** @param {EventTarget | null} target @param {number} x @param {number} y */
function aimAt(target, x, y) {
  const element = target instanceof Element ? target.closest(PRESSED) : null;
  aim = element && { element, top: topOf(element), x, y };
}

function unaim() {
  aim = null;
}

function scrolled() {
  if (aim) aim.top = topOf(aim.element);
}

/** The page has another height: it is scrolled by as much as what is aimed at went away. Whoever makes it so calls this at once, since
 *  a press may come before the browser has drawn. */
export function stay() {
  if (!aim) return;
  if (!aim.element.isConnected) return aimAt(document.elementFromPoint(aim.x, aim.y), aim.x, aim.y); // another came in its place
  const away = topOf(aim.element) - aim.top;
  if (Math.abs(away) >= 1) scrollBy({ top: away, behavior: "instant" });
}

/** Begins when the page stands. */
export function beginPress() {
  addEventListener("pointermove", ({ target, pointerType, clientX, clientY }) => {
    if (pointerType === "mouse") aimAt(target, clientX, clientY);
  }, { capture: true, passive: true });
  for (const kind of ["keydown", "click", "pointercancel"]) addEventListener(kind, unaim, { capture: true, passive: true }); // whoever types looks elsewhere
  addEventListener("scroll", scrolled, { capture: true, passive: true });
  if (globalThis.ResizeObserver) new ResizeObserver(stay).observe(document.body); // some browsers lack it
}
