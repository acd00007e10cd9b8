// Numbers that can be held. A field, the rail below it, a number in a sentence, a point of a figure: whatever is dragged writes into the
// field and says so with the events of a field, `input` while it moves and `change` when it is let go. What follows is not known here.

import { make } from "./element.js";

/** A number as a field takes it: as many decimals as its step has, and no more than are needed. */
export function written(value, step) {
  const decimals = Math.max(0, Math.min(9, -Math.floor(Math.log10(step) + 1e-9)));
  return String(Number(value.toFixed(decimals)));
}

/** The number at the start of a text, with the words after it; null where there is none, or more than one (6 ft 3 in). */
export function readNumber(text) {
  const found = /^\s*([-−+]?(?:\d[\d,]*\.?\d*|\.\d+))\s*([^\d]*)$/.exec(text);
  return found && { number: Number(found[1].replaceAll(",", "").replace("−", "-")), unit: found[2].trim() };
}

export const tell = (field, what) => field.dispatchEvent(new Event(what, { bubbles: true }));

/** Bounds and step of a field, and how to come from its unit to that of the rail: [factor, offset]. */
function reachOf(field) {
  const place = field.closest(".calc-field");
  const rail = place?.querySelector(".calc-rail");
  if (!rail) return null;
  const [low, high, step] = ["low", "high", "step"].map((name) => Number(rail.dataset[name]));
  const found = readNumber(field.value);
  const ways = JSON.parse(place.querySelector("button.calc-unit")?.dataset.units ?? "[]");
  const way = ways.find(([unit]) => unit === found?.unit);
  return { rail, low, high, step, now: found && (way ? (found.number - way[2]) / way[1] : found.number) };
}

/** Put a number of the rail's unit into a field. True where that changed it. */
export function setNumber(field, value) {
  const reach = reachOf(field);
  const { low, high, step } = reach ?? { low: -Infinity, high: Infinity, step: 1e-6 };
  const text = written(Math.max(low, Math.min(high, Math.round(value / step) * step)), step);
  if (field.value === text) return false;
  field.value = text;
  showAt(field);
  tell(field, "input");
  return true;
}

/** The knob where the field says. */
export function showAt(field) {
  const reach = reachOf(field);
  if (reach?.now === null || !reach) return;
  reach.rail.style.setProperty("--at", Math.max(0, Math.min(1, (reach.now - reach.low) / (reach.high - reach.low))));
}

/** Follow a pointer that is down until it is let go. moved(event) and let(event) are told; the page does not scroll meanwhile. */
export function follow(event, target, moved, let_) {
  target.setPointerCapture?.(event.pointerId);
  target.dataset.held = "";
  const end = (last) => {
    for (const name of ["pointerup", "pointercancel"]) target.removeEventListener(name, end);
    target.removeEventListener("pointermove", moved);
    delete target.dataset.held;
    let_(last);
  };
  target.addEventListener("pointermove", moved);
  for (const name of ["pointerup", "pointercancel"]) target.addEventListener(name, end);
}

function holdRail(event, rail) {
  const field = rail.closest(".calc-field").querySelector("input");
  const box = rail.getBoundingClientRect(), knob = 9; // px, half of it
  const { low, high } = reachOf(field);
  let changed = false;
  const go = ({ clientX }) => { changed = setNumber(field, low + (high - low) * (clientX - box.left - knob) / (box.width - 2 * knob)) || changed; };
  event.preventDefault();
  go(event);
  follow(event, rail, go, () => { if (changed) tell(field, "change"); });
}

const FAR = 4; // px; nearer than this it was a press, and the field is to be typed in
const RUN = 260; // px from one end of a rail to the other, where a number is dragged by itself

/** Drag a number: a field that is not typed in, or one in a sentence. place: what hears the finger; done(far): it was let go. */
export function holdNumber(event, place, field, done) {
  const reach = reachOf(field);
  if (!reach || reach.now === null || event.button) return;
  const { low, high, now } = reach, from = event.clientX;
  let changed = false, far = false;
  const go = ({ clientX }) => {
    far ||= Math.abs(clientX - from) > FAR;
    if (far) changed = setNumber(field, now + (high - low) * (clientX - from) / RUN) || changed;
  };
  follow(event, place, go, ({ type }) => {
    if (changed) tell(field, "change");
    if (type === "pointerup") done(far);
  });
}

/** Steps up or down. */
export function step(field, by) {
  const reach = reachOf(field);
  if (!reach || reach.now === null) return false;
  if (setNumber(field, reach.now + by * reach.step)) tell(field, "change");
  return true;
}

/** To one end of its rail. */
function toEnd(field, which) {
  const reach = reachOf(field);
  if (reach && setNumber(field, reach[which])) tell(field, "change");
}

/** The next unit: the same amount, written in it. The one of the page is written without a word. */
function turnUnit(button) {
  const field = button.closest(".calc-field").querySelector("input");
  const ways = JSON.parse(button.dataset.units);
  const found = readNumber(field.value);
  if (!found) return field.focus();
  const at = ways.findIndex(([unit]) => unit === found.unit);
  const plain = at < 0 ? found.number : (found.number - ways[at][2]) / ways[at][1];
  const next = ways[at + 1];
  const four = (value) => String(Number(value.toPrecision(4)));
  field.value = next ? `${four(plain * next[1] + next[2])} ${next[0]}` : four(plain);
  tell(field, "input");
  tell(field, "change");
  field.focus();
  field.setSelectionRange(0, field.value.split(" ")[0].length); // so that a number pad replaces the number and leaves the unit
}

// ---- points of figures, and numbers in sentences

const HELD = ".figure-handle, .yours[data-held]"; // an answer that comes anew brings both anew
const inputOf = ({ dataset }) => dataset.input ?? dataset.held;
const fieldOf = (held) => held.closest(".calc")?.querySelector(`.calc-field[data-input="${inputOf(held)}"] input`);

/** Where one of them stands in its calculator: its input, its figure or none, and the how many-th of those it is. */
function spotOf(held) {
  const section = held.closest(".calc"), input = inputOf(held), figure = held.matches(".yours") ? null : held.closest("[data-figure]")?.dataset.figure;
  const alike = () => [...section.querySelectorAll(HELD)].filter((one) => inputOf(one) === input && one.matches(".yours") === held.matches(".yours")
    && (figure === null || one.closest("[data-figure]")?.dataset.figure === figure) && one.checkVisibility());
  const at = alike().indexOf(held);
  return { section, find: () => alike()[at] ?? alike()[0] };
}

/** A point of a picture along its way. The picture is drawn anew while it moves, so the calculator listens, and the way stays as it was
 *  when the finger came down. */
function holdHandle(event, handle) {
  const field = fieldOf(handle);
  if (!field || event.button) return;
  const { axis } = handle.dataset;
  const [from, to, low, high] = ["from", "to", "low", "high"].map((name) => Number(handle.dataset[name]));
  const picture = handle.ownerSVGElement, back = picture.getScreenCTM().inverse();
  const along = ({ clientX, clientY }) => { const { x, y } = new DOMPoint(clientX, clientY).matrixTransform(back); return axis === "x" ? x : y; };
  const mark = handle.transform.baseVal.getItem(0).matrix;
  const off = along(event) - (axis === "x" ? mark.e : mark.f);
  let changed = false;
  event.preventDefault();
  follow(event, handle.closest(".calc"), (now) => {
    const share = Math.max(0, Math.min(1, (along(now) - off - from) / (to - from)));
    changed = setNumber(field, handle.dataset.scale === "log" ? low * (high / low) ** share : low + (high - low) * share) || changed;
  }, () => { if (changed) tell(field, "change"); });
}

let watch = null; // over what has the focus

/** What has the focus keeps it when the answer comes anew: the same point or number in the new one. */
function keepFocus(held) {
  const { section, find } = spotOf(held);
  watch = new MutationObserver(() => {
    if (held.isConnected) return;
    const again = document.activeElement === document.body || document.activeElement === null ? find() : held;
    if (again) watch.disconnect(); // a plot is drawn after its answer has come
    if (again !== held) again?.focus({ preventScroll: true });
  });
  watch.observe(section, { childList: true, subtree: true });
}

/** A number of a sentence is typed over: each key is one in its field. Enter and leaving end it; Escape takes it back. first: what was
 *  pressed, if a key began it. */
function typeOver(held, first = "") {
  const field = fieldOf(held), { section, find } = spotOf(held);
  const before = field.value, box = held.getBoundingClientRect(), around = section.getBoundingClientRect();
  const line = make("input", { className: "calc-typed", type: "text", value: first || before, autocomplete: "off", inputMode: field.inputMode });
  line.setAttribute("aria-label", held.getAttribute("aria-label"));
  line.style.setProperty("left", `${Math.max(0, Math.min(box.left - around.left, around.width - 120))}px`);
  line.style.setProperty("top", `${box.top + box.height / 2 - around.top}px`);
  const put = (text) => {
    if (field.value === text) return;
    field.value = text;
    showAt(field);
    tell(field, "input");
  };
  let open = true;
  const end = (back) => {
    if (!open) return;
    open = false;
    line.remove();
    if (field.value !== before) tell(field, "change");
    if (back) find()?.focus({ preventScroll: true });
  };
  line.addEventListener("input", () => put(line.value));
  line.addEventListener("blur", () => end(false));
  line.addEventListener("keydown", (event) => {
    if (event.key === "Escape") put(before);
    if (event.key !== "Escape" && event.key !== "Enter") return;
    event.preventDefault();
    end(true);
  });
  section.append(line);
  line.focus({ preventScroll: true });
  if (first) {
    line.setSelectionRange(1, 1);
    put(first);
  } else line.select();
}

// ---- a year that runs

const PACE = 90, DAYS = 3; // ms between two pictures, and what lies between them
let running = null; // {name, stop}

/** From where the input stands to the end of its way, a picture at a time; pressed again, it stops. Who wants nothing to move goes a month on. */
function play(button) {
  const section = button.closest(".calc"), { play: input } = button.dataset;
  if (running) return running();
  const field = section.querySelector(`.calc-field[data-input="${input}"] input`);
  const { high, now } = reachOf(field);
  if (matchMedia("(prefers-reduced-motion: reduce)").matches) {
    if (setNumber(field, now >= high ? 0 : Math.min(high, now + 30))) tell(field, "change");
    return;
  }
  let day = now >= high ? 0 : now;
  const words = () => (running ? "Stop" : "Run the year");
  const said = () => { for (const one of section.querySelectorAll(`[data-play="${input}"]`)) if (one.textContent !== words()) one.textContent = words(); };
  const watch = new MutationObserver(said); // the button comes anew with each picture
  const clock = setInterval(() => {
    if (!section.isConnected || day >= high) return running?.();
    if (section.hasAttribute("data-stale")) return; // the last picture is not there yet
    day = Math.min(high, day + DAYS);
    setNumber(field, day);
  }, PACE);
  running = () => {
    clearInterval(clock);
    watch.disconnect();
    running = null;
    said();
    tell(field, "change");
  };
  watch.observe(section, { childList: true, subtree: true });
  said();
}

const STEPS = { ArrowUp: 1, ArrowDown: -1, PageUp: 10, PageDown: -10 };
const SIDEWAYS = { ArrowRight: 1, ArrowLeft: -1 };
const ENDS = { Home: "low", End: "high" };

/** A key on a point of a figure or on a number of a sentence. */
function keyOn(held, event) {
  const by = STEPS[event.key] ?? SIDEWAYS[event.key], field = fieldOf(held);
  if (!field) return;
  if (by) {
    event.preventDefault(); // the page stays where it is, also at the end of the way
    step(field, by * (event.shiftKey && Math.abs(by) === 1 ? 10 : 1));
  } else if (event.key in ENDS) {
    event.preventDefault();
    toEnd(field, ENDS[event.key]);
  } else if (held.matches(".yours") && /^[\d.,−-]$|^Enter$/.test(event.key)) {
    event.preventDefault();
    typeOver(held, event.key === "Enter" ? "" : event.key);
  }
}

/** Hears everything that is held on any calculator of the page. */
export function beginHold() {
  document.addEventListener("pointerdown", (event) => {
    const { target } = event;
    const rail = target.closest?.(".calc-rail");
    if (running && !target.closest?.("[data-play]")) running();
    if (rail) return holdRail(event, rail);
    const handle = target.closest?.(".figure-handle");
    if (handle) return holdHandle(event, handle);
    const yours = target.closest?.(".yours[data-held]");
    if (yours && fieldOf(yours)) {
      const { section, find } = spotOf(yours);
      event.preventDefault();
      return holdNumber(event, section, fieldOf(yours), (far) => { if (far) find()?.focus({ preventScroll: true }); else typeOver(find() ?? yours); });
    }
    if (target.matches?.(".calc-value-of > input[type=text]") && document.activeElement !== target) holdNumber(event, target, target, (far) => { if (far) target.blur(); });
  });
  document.addEventListener("focusin", ({ target }) => {
    watch?.disconnect();
    if (target.matches?.(HELD)) keepFocus(target);
  });
  document.addEventListener("keydown", (event) => {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const held = event.target.closest?.(HELD);
    if (held) return keyOn(held, event);
    const by = STEPS[event.key];
    if (!by || !event.target.matches?.(".calc-value-of > input[type=text]")) return;
    if (step(event.target, by * (event.shiftKey && Math.abs(by) === 1 ? 10 : 1))) event.preventDefault();
  });
  document.addEventListener("click", ({ target }) => {
    const button = target.closest?.("button.calc-unit");
    if (button) turnUnit(button);
    const runs = target.closest?.("[data-play]");
    if (runs) play(runs);
  });
  for (const what of ["input", "change"]) {
    document.addEventListener(what, ({ target }) => { if (target.matches?.(".calc-value-of > input[type=text]")) showAt(target); });
  }
}
