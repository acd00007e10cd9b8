// The reader's plan: what was set once is used wherever the same input is asked for. Kept in this browser where that is allowed;
// where it is not, and from disk (where a browser may keep each page's things apart), it travels in the address from page to page.
// {units, time, values: {input and label: text with its unit}, origins: {input and label: the calculator that handed it over}}

const KEY = "handbook-plan";
const LINK = "#plan?"; // a shared link: values of one page, by name
const CARRIED = "#mine?"; // the reader's own plan on its way to another page

let memory = { time: 0, values: {}, origins: {} };
let trouble = null; // "refused" or "full", when this browser does not keep the plan

/** A plan out of what was stored or carried, or null. */
function plainPlan(found) {
  if (typeof found?.values !== "object" || !found.values) return null;
  const texts = (of) => Object.fromEntries(Object.entries(of ?? {}).filter(([, text]) => typeof text === "string"));
  return { units: ["us", "metric"].includes(found.units) ? found.units : undefined, time: Number(found.time) || 0, values: texts(found.values), origins: texts(found.origins) };
}

function parsed(text) {
  try {
    return plainPlan(JSON.parse(text));
  } catch {
    return null;
  }
}

/** The browser's store; an error where it keeps nothing (scripts/site/finish.py puts a stand-in there). */
function store() {
  if (localStorage.refused) throw new Error("refused");
  return localStorage;
}

function read() {
  let text = null;
  try {
    text = store().getItem(KEY);
  } catch {
    trouble = "refused";
  }
  const kept = text && parsed(text);
  if (kept && kept.time >= memory.time) memory = kept;
  return memory;
}

const named = (error) => (error.name === "QuotaExceededError" ? "full" : "refused");

function write() {
  memory.time = Math.max(Date.now(), memory.time + 1);
  try {
    store().setItem(KEY, JSON.stringify(memory));
    trouble = null;
  } catch (error) {
    trouble = named(error);
    try {
      history.replaceState(history.state, "", carrying(location.href)); // so that a reload and a bookmark keep it
    } catch (tooLong) {
      console.warn(tooLong); // the plan still lives as long as the page, and goes along with its links
    }
  }
}

const same = (one, other) => JSON.stringify(one) === JSON.stringify(other);

export const plan = {
  get: () => read(),
  /** Values by key; null takes one out. */
  set(changes, origins = {}) {
    const before = read();
    const values = { ...before.values };
    for (const [key, text] of Object.entries(changes)) {
      if (text === null) delete values[key];
      else values[key] = text;
    }
    this.replace({ ...before, values, origins: { ...before.origins, ...origins } });
  },
  /** These values are the reader's own from now on, wherever they came from. */
  own(...keys) {
    const before = read();
    this.replace({ ...before, origins: Object.fromEntries(Object.entries(before.origins).filter(([key]) => !keys.includes(key))) });
  },
  /** What an older edition kept under another name. */
  renamed(was, now) {
    const { values } = read();
    if (was in values) this.set({ [was]: null, [now]: values[now] ?? values[was] });
  },
  units(units) {
    this.replace({ ...read(), units });
  },
  replace(whole) {
    const before = read();
    const next = { ...whole, time: before.time, origins: Object.fromEntries(Object.entries(whole.origins).filter(([key]) => key in whole.values)) };
    if (same(next, before)) return;
    memory = next;
    write();
  },
  trouble() {
    read();
    return trouble;
  },
};

// ---- a link that somebody shared

/** Address of this page that carries values. */
export function linkWith(values, units) {
  return `${location.href.split("#")[0]}${LINK}${new URLSearchParams({ ...values, units })}`;
}

/** Values that the address of this page carries, or null. Python says which of them can be used. */
export function linked() {
  if (!location.hash.startsWith(LINK)) return null;
  const { units, from, currency, mine, ...values } = Object.fromEntries(new URLSearchParams(location.hash.slice(LINK.length)));
  return { values, units: units === "metric" ? "metric" : "us" };
}

export function forgetLink() {
  const page = location.href.split("#")[0];
  history.replaceState(history.state, "", trouble ? carrying(page) : page);
}

// ---- the plan on its way from page to page

/** Whether this browser has room for a text: found out by keeping it for a moment. */
function tryRoom(text) {
  try {
    store().setItem(`${KEY}-room`, text);
    store().removeItem(`${KEY}-room`);
  } catch (error) {
    trouble = named(error);
  }
}

const travels = () => read() && (trouble || location.protocol === "file:");

/** An address of the handbook with the plan in it, in place of what it carried before. */
function carrying(address) {
  const url = new URL(address);
  const { kind, query } = ours(url.hash);
  if (!kind && url.hash) query.set("at", url.hash.slice(1));
  query.set("mine", JSON.stringify(memory));
  url.hash = (kind || CARRIED) + query;
  return url.href;
}

/** Which of our two kinds a hash is, and what it holds. */
function ours(hash) {
  const kind = [LINK, CARRIED].find((one) => hash.startsWith(one)) ?? "";
  return { kind, query: new URLSearchParams(kind && hash.slice(kind.length)) };
}

/** Takes in the plan that this page's address carries, unless what is kept here is newer. */
function arrive() {
  const { kind, query } = ours(location.hash);
  const text = query.get("mine");
  if (!text) return;
  const carried = parsed(text);
  tryRoom(text);
  // Where the browser keeps the plan and a server gives the pages, such an address comes from somebody else: it changes nothing here.
  if (carried && travels() && carried.time > memory.time) {
    memory = carried;
    try {
      store().setItem(KEY, JSON.stringify(memory));
    } catch (error) {
      trouble = named(error);
    }
  }
  const at = query.get("at") ?? "";
  if (!trouble) {
    query.delete("mine");
    history.replaceState(history.state, "", location.href.split("#")[0] + (kind === LINK ? LINK + query : at && `#${at}`));
  }
  if (at) document.getElementById(at)?.scrollIntoView();
}
arrive();

/** A link of the handbook that is about to be followed: what it hands over goes into the plan, and the plan into its address if need be. */
function follow({ target }) {
  const link = target.closest?.("a[href]");
  if (!link) return;
  const { hand, from } = link.dataset;
  if (hand) {
    const { values: set, origins } = read();
    const free = ([key]) => !(key in set) || key in origins; // what the reader set stays
    const values = Object.fromEntries(Object.entries(JSON.parse(hand)).filter(free));
    plan.set(values, Object.fromEntries(Object.keys(values).map((key) => [key, from])));
    link.href = link.href.split("#")[0]; // the values are in the plan now
  }
  const url = new URL(link.href);
  const inside = url.origin === location.origin && url.protocol === location.protocol && url.pathname.endsWith(".html") && !link.hasAttribute("download");
  const here = url.pathname === location.pathname && !url.hash.startsWith(CARRIED) && url.hash;
  if (inside && !here && memory.time && travels()) link.href = carrying(url.href);
}
for (const way of ["click", "auxclick"]) addEventListener(way, follow, true);
