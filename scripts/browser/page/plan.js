// The reader's plan: what was set once is used wherever the same input is asked for. Kept in this browser where that is allowed,
// else for as long as the page is open; it travels in the address of a shared link. {units, values: {input and label: text with its unit}}

const KEY = "handbook-plan";
let memory = { values: {} };

function read() {
  try {
    const kept = JSON.parse(localStorage.getItem(KEY) ?? "null");
    if (kept && typeof kept.values === "object" && kept.values) memory = { units: kept.units, values: Object.fromEntries(Object.entries(kept.values).filter(([, text]) => typeof text === "string")) };
  } catch {
    // storage refused or unreadable: the plan lives as long as the page
  }
  return memory;
}

function write() {
  try {
    localStorage.setItem(KEY, JSON.stringify(memory));
  } catch {
    // storage refused or full: as above
  }
}

export const plan = {
  get: () => read(),
  set(changes, units) {
    const { values } = read();
    for (const [name, text] of Object.entries(changes)) {
      if (text === null) delete values[name];
      else values[name] = text;
    }
    memory = { units: units ?? memory.units, values };
    write();
  },
  clear() {
    memory = { values: {} };
    write();
  },
};

const MARK = "#plan?";

/** Address of this page that carries values. */
export function linkWith(values, units) {
  const query = new URLSearchParams({ ...values, units });
  return `${location.href.split("#")[0]}${MARK}${query}`;
}

/** Values that the address of this page carries, or null. */
export function linked() {
  if (!location.hash.startsWith(MARK)) return null;
  const values = Object.fromEntries(new URLSearchParams(location.hash.slice(MARK.length)));
  const units = values.units === "metric" ? "metric" : "us";
  delete values.units;
  return { values, units };
}

export function forgetLink() {
  history.replaceState(history.state, "", location.href.split("#")[0]);
}
