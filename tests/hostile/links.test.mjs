// The state of the page under Node: thousands of addresses and stored texts that nobody means well with. What comes out is a plain
// state or nothing, what goes in comes back letter by letter, and somebody else's address changes nothing of the reader's.

import assert from "node:assert/strict";
import { test } from "node:test";

const PAGE = "https://handbook.example/moisture/adjust.html";
const TOP = new URL("../", PAGE);
const OURS = `handbook ${TOP.pathname} `; // before the name of each item that is kept
const NASTY = [
  "", "=", "&", "&&&===", "%", "%E0%A4%A", "%00", "\0", "\u202e", "\ud800", "é", "<img src=x onerror=alert(1)>", "javascript:alert(1)", "__proto__", "constructor", "toString", "units", "plan", "at", "from", "currency",
  "__proto__[x]=1", "a[]=1", "#", "#plan?", "#mine?", "?", "//", "\\", '"', "'", "`${1}`", "1e999", "null", "{", "[", "[[[[", "x".repeat(100_000), "+", "%2B", "\n", "\r\n", "𝟙𝟚", "👩‍🌾", " ", "mass=1&mass=2", "--><script>",
];

/** The same random numbers on every run (mulberry32). */
function chance(seed) {
  return () => {
    seed = (seed + 0x6d2b79f5) | 0;
    let mixed = Math.imul(seed ^ (seed >>> 15), 1 | seed);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}
const random = chance(20270301);
const pick = (from) => from[Math.floor(random() * from.length)];
const word = () => (random() < 0.6 ? pick(NASTY) : String.fromCharCode(...Array.from({ length: 1 + random() * 6 }, () => random() * 0xffff)));
const shape = (depth = 0) => pick([null, true, 7, word(), word(), depth < 3 ? [shape(depth + 1)] : 0, depth < 3 ? { [word()]: shape(depth + 1), values: shape(depth + 1) } : {}]);

/** A page with this address and these stored texts; the modules are read anew each time, as on a fresh page. */
let bundle;
async function opened(hash, stored = {}, { refuse = false, protocol } = {}) {
  const url = new URL(PAGE);
  url.hash = hash;
  const kept = new Map(Object.entries(stored));
  const refused = () => { throw Object.assign(new Error("refused"), { name: refuse }); };
  const store = () => (refuse
    ? { length: 0, key: refused, getItem: refused, setItem: refused, removeItem: refused }
    : { get length() { return kept.size; }, key: (place) => [...kept.keys()][place] ?? null, getItem: (name) => kept.get(name) ?? null, setItem: (name, text) => kept.set(name, String(text)), removeItem: (name) => kept.delete(name) });
  const page = {
    location: { href: url.href, hash: url.hash, origin: url.origin, protocol: protocol ?? url.protocol, pathname: url.pathname },
    history: { state: null, replaceState: (state, title, to) => { const now = new URL(to, PAGE); Object.assign(page.location, { href: now.href, hash: now.hash }); } },
    localStorage: store(),
    sessionStorage: { length: 0, key: () => null, getItem: () => null, setItem: () => {} },
    document: { getElementById: () => null, addEventListener: () => {} },
    addEventListener: () => {},
    console: { warn: () => {} },
    setTimeout: () => 0, clearTimeout: () => {},
  };
  page.globalThis = page;
  bundle ??= await built();
  const parts = new Function(...Object.keys(page), `${bundle}; return parts;`)(...Object.values(page));
  parts.state.begin(TOP);
  parts.arrive();
  return { kept, ...parts };
}

/** state.js and address.js as one script, as a page gets them. */
async function built() {
  const { build } = await import(new URL("../../scripts/browser/node_modules/esbuild/lib/main.js", import.meta.url));
  const folder = new URL("../../scripts/browser/page/", import.meta.url).pathname;
  const stdin = { contents: 'export { state } from "./state.js"; export { arrive, linked, linkWith } from "./address.js";', resolveDir: folder };
  const { outputFiles } = await build({ stdin, bundle: true, format: "iife", globalName: "parts", write: false, target: "es2022" });
  return outputFiles[0].text;
}

const MAPS = ["plan", "value", "asked", "kept", "linked", "undo"];

/** A link, or a snapshot of the state: nothing in it but texts and names of units. */
function isPlain({ values, units }) {
  assert.ok([undefined, "us", "metric"].includes(units));
  assert.equal(typeof values, "object");
  for (const value of Object.values(values)) {
    for (const text of typeof value === "string" ? [value] : [value.text, value.plan ?? "", value.origin ?? "", value.units ?? ""]) assert.equal(typeof text, "string");
  }
  assert.equal({}.x, undefined);
}

test("any hash is a link with texts in it, or no link", async () => {
  for (let count = 0; count < 1500; count++) {
    const hash = pick(["#plan?", "#plan", "#Plan?", "#mine?", "#"]) + Array.from({ length: random() * 4 }, () => `${word()}=${random() < 0.5 ? encodeURIComponent(word().toWellFormed?.() ?? "x") : word()}`).join(pick(["&", "&&", ";"]));
    const { linked, state } = await opened(hash);
    const link = linked();
    if (link) {
      assert.ok(["us", "metric"].includes(link.units));
      isPlain(link);
    }
    isPlain(state.snapshot());
    assert.deepEqual(state.snapshot().values, {}, "a link that is only opened sets nothing");
  }
});

test("what a link carries comes back letter by letter", async () => {
  const { linkWith } = await opened("");
  for (let count = 0; count < 1500; count++) {
    const values = Object.fromEntries(Array.from({ length: random() * 5 }, () => [word().toWellFormed(), word().toWellFormed()]).filter(([name]) => !["units", "from", "currency", "__proto__"].includes(name)));
    const address = linkWith(values, pick(["us", "metric"]));
    const { linked } = await opened(new URL(address).hash);
    assert.deepEqual({ ...linked().values }, values);
  }
});

test("whatever is stored, the state is plain, takes a change and keeps it, and gives it back", async () => {
  for (let count = 0; count < 1500; count++) {
    const item = () => (random() < 0.3 ? word() : JSON.stringify([shape(), pick([shape(), { text: word(), plan: shape(), units: shape() }, [[[word(), shape()]]]])]));
    const stored = Object.fromEntries(Array.from({ length: random() * 5 }, () => [`${OURS}${pick(MAPS)} ${word()}`, item()]));
    if (random() < 0.5) stored["handbook-plan"] = random() < 0.3 ? word() : JSON.stringify({ values: shape(), units: shape(), origins: shape(), time: shape() });
    const { state, kept } = await opened("", stored);
    isPlain(state.snapshot());
    const before = state.snapshot();
    state.change((put) => {
      put("value", "mass: Weight", { text: "5 lb" });
      put("value", word(), { text: word() });
      put(word(), word(), shape());
    });
    isPlain(state.snapshot());
    assert.equal(state.value("mass: Weight").text, "5 lb");
    assert.equal(JSON.parse(kept.get(`${OURS}value mass: Weight`))[1].text, "5 lb");
    state.undo();
    assert.deepEqual(state.snapshot().values, before.values);
  }
});

test("each item is kept by itself: what one tab writes into one leaves all others alone", async () => {
  const first = await opened("");
  first.state.change((put) => put("value", "mass: Weight", { text: "not a weight" }));
  const second = await opened("", Object.fromEntries(first.kept));
  first.state.change((put) => put("value", "depth: Depth", { text: "9 in" }));
  second.state.change((put) => put("value", "length: Length", { text: "8 ft" }));
  const third = await opened("", { ...Object.fromEntries(first.kept), ...Object.fromEntries(second.kept) });
  const { values } = third.state.snapshot();
  assert.deepEqual(Object.keys(values).sort(), ["depth: Depth", "length: Length", "mass: Weight"]);
  assert.equal(values["mass: Weight"].text, "not a weight");
});

test("typing is one change until the field is left, and every change can be taken back", async () => {
  const { state } = await opened("");
  for (const text of ["1", "12", "12 ", "12 f"]) state.type("length: Length", { text });
  state.left();
  state.type("length: Length", { text: "7" });
  state.restore({ values: {}, asked: {}, kept: {}, linked: {} });
  assert.deepEqual(state.snapshot().values, {});
  assert.deepEqual(state.undo(), ["value length: Length"]);
  assert.equal(state.value("length: Length").text, "7");
  state.undo();
  assert.equal(state.value("length: Length").text, "12 f");
  state.undo();
  assert.equal(state.value("length: Length"), null);
  assert.ok(!state.canUndo);
});

test("two copies of the handbook on one host keep two plans", async () => {
  const { state, kept } = await opened("");
  state.change((put) => put("value", "mass: Weight", { text: "5 lb" }));
  const other = Object.fromEntries([...kept].map(([name, text]) => [name.replace(OURS, "handbook /other/ "), text]));
  assert.deepEqual((await opened("", other)).state.snapshot().values, {});
  assert.equal((await opened("", Object.fromEntries(kept))).state.value("mass: Weight").text, "5 lb");
});

test("a plan that an earlier edition kept is found", async () => {
  const { state } = await opened("", { "handbook-plan": JSON.stringify({ time: 5, units: "metric", values: { "mass: Weight": "5 kg" }, origins: { "mass: Weight": "feed.recipe" } }) });
  assert.deepEqual(state.snapshot(), { values: { "mass: Weight": { text: "5 kg", plan: "5 kg", origin: "feed.recipe" } }, asked: {}, kept: {}, linked: {}, units: "metric" });
});

test("somebody else's address changes nothing that this browser keeps", async () => {
  const mine = { [`${OURS}value mass: Weight`]: '[5,{"text":"5 lb"}]' };
  for (let count = 0; count < 300; count++) {
    const theirs = random() < 0.5 ? JSON.stringify([["value mass: Weight", 9e15, { text: word() }], [word(), 9e15, shape()]]) : word();
    const { state, kept } = await opened(`#mine?${new URLSearchParams({ mine: theirs, at: word() })}`, mine);
    assert.deepEqual(state.snapshot().values, { "mass: Weight": { text: "5 lb" } });
    assert.deepEqual(Object.fromEntries(kept), mine);
  }
});

test("from disk an address carries the state, each item where it is newer", async () => {
  const mine = { [`${OURS}value mass: Weight`]: '[5,{"text":"5 lb"}]', [`${OURS}value depth: Depth`]: '[9,{"text":"9 in"}]' };
  const theirs = JSON.stringify([["value mass: Weight", 7, { text: "7 lb" }], ["value depth: Depth", 7, { text: "7 in" }]]);
  const { state } = await opened(`#mine?${new URLSearchParams({ mine: theirs })}`, mine, { protocol: "file:" });
  assert.deepEqual(Object.values(state.snapshot().values).map(({ text }) => text), ["7 lb", "9 in"]);
});

test("storage that is refused or full keeps the state on the page, and says so", async () => {
  for (const refuse of ["SecurityError", "QuotaExceededError"]) {
    for (let count = 0; count < 200; count++) {
      const { state } = await opened("", {}, { refuse });
      const key = `${word().toWellFormed()}: Weight`, text = word();
      state.change((put) => put("value", key, { text }));
      assert.equal(state.value(key).text, text);
      assert.ok(["refused", "full"].includes(state.trouble));
    }
  }
});
