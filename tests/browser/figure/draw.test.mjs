// Every kind of mark draws, says its words, and draws the same twice.   node --test tests/browser/figure/*.test.mjs

import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { test } from "node:test";
import { fileURLToPath } from "node:url";
import { FIGURES } from "../../../scripts/browser/figure/gallery.mjs";
import { render } from "../../../scripts/browser/figure/render.mjs";
import { alone, linearTicks, logTicks, number, timeTicks, timeWords } from "../../../scripts/browser/figure/words.mjs";
import { read } from "../../../scripts/browser/figure/data.mjs";

const KINDS = {
  line: [[0, 1], [1, 3]], area: [[0, 1], [1, 3]], band: [[0, 1, 2], [1, 2, 4]], dots: [[0, 1, "first"], [1, 2]], bars: [[0, 1], [1, -2]],
  stack: [[0, 1, "dry"], [0, 2, "wet"], [1, 1, "dry"]], spans: [["Row", 0, 4, "grow"]], tornado: [["Wage", 1, 3]], cells: [[0, 0, 1], [1, 0, 2], [0, 1, 3]],
  rule_x: [[0.5, "here"]], rule_y: [[1.5, "limit"]], zone_x: [[0, 0.5, "cool"]], zone_y: [[null, 2, "low"]], text: [[0.5, 2, "note"]],
};
const BASE = { kind: "line", points: [[0, 0], [1, 4]] };
const rows = (kind) => kind === "spans" || kind === "tornado";
const beside = (kind) => /^(rule|zone|text)/.test(kind);
const figureOf = (kind, points) => ({
  name: kind, title: "Title", finding: "A finding", x: { label: "Across", unit: "ft" }, y: { label: "Up", unit: "lb", kind: rows(kind) ? "band" : "linear" },
  marks: [...(beside(kind) ? [BASE] : []), { kind, points, label: kind === "stack" ? "" : `label-${kind}` }],
});
const said = (svg) => [...svg.matchAll(/<(?:text|tspan)[^>]*>([^<]+)</g)].map((match) => match[1]);

function sound(svg, what) {
  assert.doesNotMatch(svg, /NaN|undefined|Infinity|null/, what);
  assert.doesNotMatch(svg, /<style|\sstyle=|\sid=|url\(/, what);
  assert.match(svg, /role="img"/, what);
}

for (const [kind, points] of Object.entries(KINDS)) {
  test(`${kind} draws with its words at both widths`, () => {
    for (const width of [360, 680]) {
      const svg = render({ figure: figureOf(kind, points), width });
      sound(svg, kind);
      const words = said(svg).join(" ");
      assert.ok(words.includes("Across (ft)") && words.includes("Up (lb)"), words);
      for (const text of points.flat().filter((part) => typeof part === "string")) assert.ok(words.includes(text), `${kind}: ${text} in ${words}`);
      if (!beside(kind) && !["stack", "tornado"].includes(kind)) assert.ok(words.includes(`label-${kind}`), words);
      if (!beside(kind)) assert.notEqual(svg, render({ figure: figureOf(kind, points.slice(0, -1)), width }), "every point counts");
    }
  });

  test(`${kind} bears no points, one point and missing numbers`, () => {
    for (const some of [[], points.slice(0, 1), [[null, null, null]], [...points, [NaN, NaN, NaN]], [...points, points[0].map(() => null)]]) {
      sound(render({ figure: figureOf(kind, some), width: 360 }), `${kind} ${JSON.stringify(some)}`);
    }
    if (!beside(kind)) assert.ok(said(render({ figure: figureOf(kind, []), width: 360 })).includes("These numbers leave nothing to draw."));
  });
}

test("the gallery is sound and the same twice", () => {
  for (const figure of FIGURES) {
    const once = render({ figure });
    sound(once, figure.name);
    assert.equal(once, render({ figure: structuredClone(figure) }), figure.name);
  }
});

test("axes never hide a point and turn round when low is above high", () => {
  const { y } = read({ ...figureOf("line", [[0, 1], [1, 30]]), y: { low: 0, high: 10 } });
  assert.ok(y.high >= 30 && y.low === 0);
  const turned = read({ ...figureOf("line", [[0, 1], [1, 3]]), y: { low: 12, high: 0 } }).y;
  assert.deepEqual([turned.low, turned.high, turned.reversed], [0, 12, true]);
});

test("a log axis leaves out what has no logarithm", () => {
  const figure = { ...figureOf("dots", [[0, 1], [0.5, 2], [5, 3]]), x: { label: "Opening", unit: "mm", kind: "log" } };
  assert.equal(read(figure).marks[0].points.length, 2);
  sound(render({ figure, width: 680 }), "log");
});

test("a line has a gap where a value is missing", () => {
  const svg = render({ figure: figureOf("line", [[0, 1], [1, 2], [2, null], [3, 1], [4, 2]]), width: 680 });
  const path = [...svg.matchAll(/d="(M[^"]+)"/g)].map((match) => match[1]).find((d) => (d.match(/M/g) ?? []).length === 2);
  assert.ok(path, "two pieces");
});

test("the words for screen readers are title and finding", () => {
  assert.match(render({ figure: figureOf("line", KINDS.line), width: 680 }), /aria-label="Title\. A finding\."/);
  assert.match(render({ figure: { ...figureOf("line", KINDS.line), title: 'A "quoted" & <odd> title' }, width: 680 }), /aria-label="A &quot;quoted&quot; &amp; /);
});

test("lines are told apart without colour", () => {
  const svg = render({ figure: { ...figureOf("line", [[0, 1], [1, 2]]), marks: [1, 2, 3].map((k) => ({ kind: "line", points: [[0, k], [1, k]], label: `line ${k}` })) }, width: 680 });
  assert.equal(new Set([...svg.matchAll(/stroke-dasharray="([^"]+)"/g)].map((match) => match[1])).size, 2);
});

test("numbers are written plainly", () => {
  assert.deepEqual([number(12500, 500), number(0.25, 0.05), number(-3, 1), number(-0.001, 0.1), number(2e7, 1e7), number(1000000, 1e5)], ["12,500", "0.25", "−3", "0.0", "20 million", "1,000,000"]);
  assert.deepEqual([alone(21.1234), alone(0), alone(1234567), alone(-0.5), alone(100)], ["21.1", "0", "1,234,567", "−0.5", "100"]);
});

test("ticks are round", () => {
  assert.deepEqual(linearTicks(0, 26, 6).ticks, [0, 5, 10, 15, 20, 25]);
  assert.deepEqual(linearTicks(-0.3, 0.3, 6).ticks, [-0.3, -0.2, -0.1, 0, 0.1, 0.2, 0.3]);
  assert.deepEqual(logTicks(0.5, 20, 8), [0.5, 1, 2, 5, 10, 20]);
  const months = timeTicks(Date.UTC(2027, 0, 15), Date.UTC(2027, 6, 2), 7);
  assert.deepEqual(timeWords(months), ["Feb\n2027", "Mar", "Apr", "May", "Jun", "Jul"]);
});

test("one process answers line by line and goes on after a figure that it cannot draw", () => {
  const script = fileURLToPath(new URL("../../../scripts/browser/figure/render.mjs", import.meta.url));
  const input = [{ id: 1, figure: figureOf("line", KINDS.line) }, { id: 2, figure: figureOf("pie", [[1, 2]]) }, { id: 3, figure: figureOf("dots", KINDS.dots), width: 360 }];
  const { stdout, status } = spawnSync(process.execPath, [script], { input: input.map((job) => JSON.stringify(job)).join("\n"), encoding: "utf8" });
  const answers = stdout.trim().split("\n").map((text) => JSON.parse(text));
  assert.deepEqual(answers.map((answer) => answer.id), [1, 2, 3]);
  assert.ok(answers[0].svg.includes("figure-narrow") && answers[0].svg.includes("figure-wide"));
  assert.match(answers[1].error, /pie/);
  assert.equal(status, 1);
});
