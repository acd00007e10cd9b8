// What the reader set: one plain state for all pages and tabs. Everything in it is an item of its own, with the time of its last
// change, and the newest wins. It is written the moment it changes, at every key, by itself: nothing that is wrong with one item
// keeps another from being kept, and a tab that ends in the middle of a word has lost nothing.
//
//   map    key                        value
//   plan   units, currency            "us" or "metric"; the sign of the money in which prices were set
//   value  plan key of an input       Value
//   asked  calculator, form, field    text in a field that is no input (aim, what moves it, how sure)
//   kept   calculator                 the question whose answer is kept beside the next one
//   linked address of a shared link   names of the inputs that were set after the link was opened
//   undo   stack                      what stood before each change, the last one at the end
//
// Nothing here knows the page, Python, units or words.
// @ts-check

import { brief } from "./long.js";

/** @typedef {"us" | "metric"} Units */
/** As it stands in the field, in which system of units, with its unit as Python wrote it once it was read (`plan`), and the
 *  calculator that handed it over.
 *  @typedef {{ text: string, units?: Units, plan?: string, origin?: string }} Value */
/** @typedef {{ values: Record<string, string>, units: Units }} Question */
/** @typedef {{ time: number, value: any }} Item */
/** @typedef {{ units?: Units, currency?: string, values: Record<string, Value>, asked: Record<string, string>, kept: Record<string, Question>, linked: Record<string, string[]> }} Snapshot */

const OLD = "handbook-plan"; // where earlier editions kept a plan
const STORAGES = /** @type {const} */ (["localStorage", "sessionStorage"]); // the second follows a tab from page to page at once, where the first may lag
const MOST_UNDONE = 300_000; // characters of what can be taken back
const LONG_UNDONE = 20_000; // of them that are written a moment later
const RECORDED = new Set(["plan", "value"]); // changes that the reader can take back

let prefix = "handbook / ";
/** @type {Map<string, Item>} */
const items = new Map();
/** @type {"refused" | "full" | null} */
let trouble = null;
/** @type {Set<(ids: Set<string>, here: boolean) => void>} */
const listeners = new Set();
let last = 0; // time of the newest change
/** @type {Map<string, any> | null} */
let before = null; // what stood before the change that is being made
/** @type {string | null} */
let open = null; // the field that is being typed in: all of it is one change

const same = (/** @type {any} */ one, /** @type {any} */ other) => brief(one ?? null) === brief(other ?? null);
const isUnits = (/** @type {any} */ found) => found === "us" || found === "metric";
const isText = (/** @type {any} */ found) => typeof found === "string";
const isTexts = (/** @type {any} */ found) => typeof found === "object" && found && Object.values(found).every(isText);

/** What may stand in each map, so that whatever is stored or carried cannot surprise the page. */
const FITS = {
  plan: (/** @type {any} */ value, /** @type {string} */ key) => (key === "units" ? isUnits(value) : key === "currency" && isText(value) && value.length < 9),
  value: (/** @type {any} */ value) => typeof value === "object" && isText(value.text) && [value.plan ?? "", value.origin ?? ""].every(isText) && (value.units === undefined || isUnits(value.units)),
  asked: isText,
  kept: (/** @type {any} */ value) => isTexts(value.values) && isUnits(value.units),
  linked: (/** @type {any} */ value) => Array.isArray(value) && value.every(isText),
  undo: (/** @type {any} */ value) => Array.isArray(value) && value.every((group) => Array.isArray(group) && group.every((pair) => Array.isArray(pair) && fits(pair[0], pair[1]))),
};

/** @param {any} id @param {any} value @returns {boolean} */
function fits(id, value) {
  if (!isText(id)) return false;
  const [map] = id.split(" ", 1);
  return Object.hasOwn(FITS, map) && (value === null || Boolean(FITS[/** @type {keyof typeof FITS} */ (map)](value, id.slice(map.length + 1))));
}

/** The newer of two items is taken; tells whether that changed anything.
 *  @param {string} id @param {Item} item */
function take(id, item) {
  const known = items.get(id);
  if ((known && known.time >= item.time) || !fits(id, item.value)) return false;
  items.set(id, item);
  last = Math.max(last, item.time);
  return !same(known?.value, item.value);
}

// ---- where it is kept

/** A store of the browser; an error where it keeps nothing (scripts/site/finish.py puts a stand-in there).
 *  @param {"localStorage" | "sessionStorage"} name @returns {Storage} */
function store(name) {
  const found = globalThis[name];
  if (!found || "refused" in found) throw new Error("refused");
  return found;
}

const named = (/** @type {any} */ error) => (error.name === "QuotaExceededError" ? "full" : "refused");

/** @param {string | null} text @returns {Item | null} */
function parsed(text) {
  try {
    const [time, value] = JSON.parse(text ?? "");
    return { time: Number(time) || 0, value: value ?? null };
  } catch {
    return null;
  }
}

/** @param {string} id */
function write(id) {
  const { time, value } = /** @type {Item} */ (items.get(id));
  const text = JSON.stringify([time, value]);
  for (const name of STORAGES) {
    try {
      store(name).setItem(prefix + id, text);
      if (name === "localStorage") trouble = null;
    } catch (error) {
      if (name === "localStorage" && !id.startsWith("undo")) trouble = named(error);
    }
  }
}

/** Everything that the browser keeps, as far as it is newer than what is known here. Tells which items changed. */
function read() {
  const ids = new Set();
  for (const name of STORAGES) {
    try {
      const storage = store(name);
      for (let place = 0; place < storage.length; place++) {
        const key = storage.key(place) ?? "";
        const item = key.startsWith(prefix) && parsed(storage.getItem(key));
        if (item && take(key.slice(prefix.length), item)) ids.add(key.slice(prefix.length));
      }
    } catch {
      if (name === "localStorage") trouble = "refused";
    }
  }
  return ids;
}

/** The plan that an earlier edition kept for every handbook of the host, where this one has none of its own. */
function readOld() {
  if (items.size) return;
  try {
    merge(fromOld(JSON.parse(store("localStorage").getItem(OLD) ?? "null")));
  } catch {
    // nothing kept, or nothing that can be read
  }
}

/** Items of a plan as earlier editions wrote it: {units, time, values: {key: text with its unit}, origins}.
 *  @param {any} plan @returns {[string, number, any][]} */
function fromOld(plan) {
  if (typeof plan?.values !== "object" || !plan.values) return [];
  const time = Number(plan.time) || 0;
  const values = Object.entries(plan.values).filter(([, text]) => isText(text));
  return [["plan units", time, plan.units], ...values.map(([key, text]) => /** @type {[string, number, any]} */ ([`value ${key}`, time, { text, plan: text, origin: plan.origins?.[key] }]))];
}

/** Items that came from elsewhere, each taken where it is the newest; tells whether any was.
 *  @param {[string, number, any][]} found */
function merge(found) {
  const ids = new Set();
  for (const [id, time, value] of found) {
    if (isText(id) && Number.isFinite(time) && take(id, { time, value: value ?? null })) ids.add(id);
  }
  for (const id of ids) write(id);
  return ids;
}

/** @param {Set<string>} ids @param {boolean} here whether this page made the change */
function tell(ids, here) {
  if (ids.size) for (const listener of listeners) listener(ids, here);
}

/** Look again at what the browser keeps: another page may have changed it while this one slept. */
function refresh() {
  tell(read(), false);
}

/** One item changes.
 *  @param {string} id @param {any} value null takes it out @param {boolean} [now] whether it is written at once */
function put(id, value, now = true) {
  const was = items.get(id)?.value ?? null;
  if (same(was, value) || !fits(id, value)) return;
  if (before && !before.has(id) && RECORDED.has(id.split(" ", 1)[0])) before.set(id, was);
  last = Math.max(Date.now(), last + 1);
  items.set(id, { time: last, value });
  if (now) write(id);
  else undoneWaits ??= setTimeout(writeUndone);
}

const stack = () => /** @type {[string, any][][]} */ (items.get("undo stack")?.value ?? []);

/** @param {[string, any][][]} groups */
function putStack(groups) {
  let size = JSON.stringify(groups).length;
  while (size > MOST_UNDONE && groups.length > 1) size -= JSON.stringify(groups.shift()).length;
  put("undo stack", groups, size < LONG_UNDONE);
}

/** @type {ReturnType<typeof setTimeout> | undefined} */
let undoneWaits;

/** What can be taken back of a logbook is as long as the logbook: it is written when the next question is on its way to Python. */
function writeUndone() {
  if (undoneWaits === undefined) return;
  clearTimeout(undoneWaits);
  undoneWaits = undefined;
  write("undo stack");
}

export const state = {
  /** Read what is kept for the handbook whose top this is: two of them on one host keep two plans.
   *  @param {URL} top */
  begin(top) {
    prefix = `handbook ${top.pathname} `;
    read();
    readOld();
    addEventListener("storage", ({ key, newValue }) => {
      const item = key?.startsWith(prefix) && parsed(newValue);
      const id = key?.slice(prefix.length) ?? "";
      if (item && take(id, item)) tell(new Set([id]), false);
    });
    addEventListener("pagehide", writeUndone);
    addEventListener("pageshow", refresh);
    addEventListener("focus", refresh);
    document.addEventListener("visibilitychange", refresh);
  },

  /** Hear of every change: which items, and whether this page made it. Returns what ends it.
   *  @param {(ids: Set<string>, here: boolean) => void} listener */
  hear(listener) {
    listeners.add(listener);
    return () => { listeners.delete(listener); };
  },

  /** @param {string} map @param {string} key */
  get: (map, key) => items.get(`${map} ${key}`)?.value ?? null,
  /** @returns {Units | undefined} */
  get units() {
    return items.get("plan units")?.value ?? undefined;
  },
  /** @param {string | undefined} key @returns {Value | null} */
  value: (key) => items.get(`value ${key}`)?.value ?? null,

  /** When an item was changed last [ms]; 0 for none.
   *  @param {string} map @param {string} key */
  time: (map, key) => items.get(`${map} ${key}`)?.time ?? 0,

  /** One item, without a way back.
   *  @param {string} map @param {string} key @param {any} value */
  put(map, key, value) {
    put(`${map} ${key}`, value);
    tell(new Set([`${map} ${key}`]), true);
  },

  /** Everything that `act` changes is one change, which the reader can take back.
   *  @param {(put: (map: string, key: string, value: any) => void) => void} act */
  change(act) {
    const ids = new Set();
    open = null;
    before = new Map();
    try {
      act((map, key, value) => {
        put(`${map} ${key}`, value);
        ids.add(`${map} ${key}`);
      });
    } finally {
      const group = [...before];
      before = null;
      if (group.length) putStack([...stack(), group]);
    }
    tell(ids, true);
  },

  /** A key was pressed in a field. All that is typed until it is left, or another is typed in, is one change.
   *  @param {string} key @param {Value | null} value */
  type(key, value) {
    if (open === key) {
      put(`value ${key}`, value);
      return tell(new Set([`value ${key}`]), true);
    }
    this.change((put) => put("value", key, value));
    open = key;
  },

  /** The field is left. */
  left() {
    open = null;
  },

  /** The last change is taken back; returns the items that it was about, none when there is nothing to take back. */
  undo() {
    const groups = [...stack()];
    open = null;
    while (groups.length) {
      const group = /** @type {[string, any][]} */ (groups.pop());
      const changed = group.filter(([id, value]) => !same(items.get(id)?.value, value));
      for (const [id, value] of changed) put(id, value);
      putStack(groups);
      if (!changed.length) continue;
      tell(new Set(changed.map(([id]) => id)), true);
      return changed.map(([id]) => id);
    }
    return [];
  },
  get canUndo() {
    return stack().length > 0;
  },

  /** All of it, plain.
   *  @returns {Snapshot} */
  snapshot() {
    /** @type {any} */
    const found = { values: {}, asked: {}, kept: {}, linked: {} };
    for (const [id, { value }] of items) {
      const [map] = id.split(" ", 1), key = id.slice(map.length + 1);
      if (value === null || map === "undo") continue;
      if (map === "plan") found[key] = value;
      else Object.defineProperty(found[map === "value" ? "values" : map], key, { value: structuredCloned(value), enumerable: true, configurable: true, writable: true });
    }
    return found;
  },

  /** As it was, or as a file has it: one change.
   *  @param {Snapshot} wanted */
  restore(wanted) {
    const now = this.snapshot();
    this.change((put) => {
      for (const key of /** @type {const} */ (["units", "currency"])) put("plan", key, wanted[key] ?? null);
      for (const [map, name] of /** @type {const} */ ([["value", "values"], ["asked", "asked"], ["kept", "kept"], ["linked", "linked"]])) {
        for (const key of new Set([...Object.keys(now[name]), ...Object.keys(wanted[name] ?? {})])) put(map, key, Object.hasOwn(wanted[name] ?? {}, key) ? wanted[name][key] : null);
      }
    });
  },

  /** "refused" or "full" where this browser does not keep what is set. */
  get trouble() {
    return trouble;
  },

  // ---- on its way to another page, where the browser does not keep it for that one

  /** Whether there is anything to take along. */
  get any() {
    return [...items.values()].some(({ value }) => value !== null);
  },
  /** All items but what can be taken back, as text. */
  packed: () => JSON.stringify([...items].filter(([id]) => !id.startsWith("undo ")).map(([id, { time, value }]) => [id, time, value])),
  /** Take in what was packed, each item where it is newer; older editions packed a plan.
   *  @param {string} text */
  unpack(text) {
    try {
      const found = JSON.parse(text);
      tell(merge(Array.isArray(found) ? /** @type {any} */ (found.filter(Array.isArray)) : fromOld(found)), false);
    } catch {
      // nothing that can be read
    }
  },
  /** Whether the browser has room for a text: found out by keeping it for a moment.
   *  @param {string} text */
  tryRoom(text) {
    try {
      store("localStorage").setItem(`${prefix}room`, text);
      store("localStorage").removeItem(`${prefix}room`);
    } catch (error) {
      trouble = named(error);
    }
  },
};

/** A copy; some engines lack the browser's own.
 *  @param {any} value */
const structuredCloned = (value) => JSON.parse(JSON.stringify(value));
