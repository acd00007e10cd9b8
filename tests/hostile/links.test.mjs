// The plan's script under Node: thousands of addresses and stored texts that nobody means well with. What comes out is a plain
// plan or nothing, what goes in comes back letter by letter, and somebody else's address changes nothing of the reader's.

import assert from "node:assert/strict";
import { test } from "node:test";

const PAGE = "https://handbook.example/moisture/adjust.html";
const SCRIPT = new URL("../../scripts/browser/page/plan.js", import.meta.url);
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

/** A page with this address and this stored text; the module is read anew each time, as on a fresh page. */
let turn = 0;
async function opened(hash, stored, { refuse = false } = {}) {
  const url = new URL(PAGE);
  url.hash = hash;
  const kept = new Map(stored === undefined ? [] : [["handbook-plan", stored]]);
  const refused = () => { throw Object.assign(new Error("refused"), { name: refuse }); };
  globalThis.location = { href: url.href, hash: url.hash, origin: url.origin, protocol: url.protocol, pathname: url.pathname };
  globalThis.history = { state: null, replaceState: (state, title, to) => { const now = new URL(to, PAGE); Object.assign(location, { href: now.href, hash: now.hash }); } };
  globalThis.localStorage = refuse ? { getItem: refused, setItem: refused, removeItem: refused } : { getItem: (name) => kept.get(name) ?? null, setItem: (name, text) => kept.set(name, String(text)), removeItem: (name) => kept.delete(name) };
  globalThis.document = { getElementById: () => null };
  globalThis.addEventListener = () => {};
  return { kept, ...(await import(`${SCRIPT}?${turn++}`)) };
}

function isPlain({ values, origins, units }) {
  assert.ok([undefined, "us", "metric"].includes(units));
  for (const texts of [values, origins ?? {}]) {
    assert.equal(typeof texts, "object");
    for (const text of Object.values(texts)) assert.equal(typeof text, "string");
  }
  assert.equal({}.x, undefined);
}

test("any hash is a link with texts in it, or no link", async () => {
  for (let count = 0; count < 1500; count++) {
    const hash = pick(["#plan?", "#plan", "#Plan?", "#mine?", "#"]) + Array.from({ length: random() * 4 }, () => `${word()}=${random() < 0.5 ? encodeURIComponent(word().toWellFormed?.() ?? "x") : word()}`).join(pick(["&", "&&", ";"]));
    const { linked, plan } = await opened(hash);
    const link = linked();
    if (link) {
      assert.ok(["us", "metric"].includes(link.units));
      isPlain(link);
    }
    isPlain(plan.get());
    assert.deepEqual(plan.get().values, {}, "a link that is only opened sets nothing");
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

test("whatever is stored, the plan is plain, takes a change and keeps it", async () => {
  for (let count = 0; count < 1500; count++) {
    const stored = random() < 0.3 ? word() : JSON.stringify({ values: shape(), units: shape(), origins: shape(), time: shape(), [word()]: shape() });
    const { plan, kept } = await opened("", stored);
    isPlain(plan.get());
    plan.set({ "mass: Weight": "5 lb", [word()]: word() });
    isPlain(plan.get());
    assert.equal(plan.get().values["mass: Weight"], "5 lb");
    assert.equal(JSON.parse(kept.get("handbook-plan")).values["mass: Weight"], "5 lb");
  }
});

test("somebody else's address changes nothing that this browser keeps", async () => {
  const mine = JSON.stringify({ time: 5, values: { "mass: Weight": "5 lb" }, origins: {} });
  for (let count = 0; count < 300; count++) {
    const theirs = random() < 0.5 ? JSON.stringify({ time: 9e15, values: { "mass: Weight": word(), [word()]: shape() } }) : word();
    const { plan, kept } = await opened(`#mine?${new URLSearchParams({ plan: theirs, at: word() })}`, mine);
    assert.deepEqual(plan.get().values, { "mass: Weight": "5 lb" });
    assert.equal(kept.get("handbook-plan"), mine);
  }
});

test("storage that is refused or full keeps the plan on the page, and says so", async () => {
  for (const refuse of ["SecurityError", "QuotaExceededError"]) {
    for (let count = 0; count < 200; count++) {
      const { plan } = await opened("", undefined, { refuse });
      const key = `${word().toWellFormed()}: Weight`, text = word();
      plan.set({ [key]: text });
      assert.equal(plan.get().values[key], text);
      assert.ok(["refused", "full"].includes(plan.trouble()));
    }
  }
});
