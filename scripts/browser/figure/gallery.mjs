// A look at every kind of mark: writes an HTML file (light or dark) with one likely figure each.
//   node gallery.mjs out.html [dark]

import { readFileSync, writeFileSync } from "node:fs";
import { render } from "./render.mjs";

const range = (count, make) => Array.from({ length: count }, (_, k) => make(k));
const day = (from, days) => new Date(Date.parse(from) + days * 864e5).toISOString().slice(0, 10);
const months = range(18, (k) => `${"Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split(" ")[(k + 2) % 12]} ${k + 2 < 12 ? 2027 : 2028}`);
const cash = [-6200, -7100, -7900, -8600, -9100, -9400, -9250, -8700, -7900, -6800, -5500, -4100, -2600, -1000, 700, 2500, 4300, 6200];
const bed = (hour, depth) => 61 + 9 * Math.exp(-depth / 3.2) * Math.sin((hour - 9) * Math.PI / 12 - depth / 3.2);

/** Demonstration figures: made-up numbers in likely sizes. */
export const FIGURES = [
  { name: "rate", title: "Cocoons against temperature", finding: "Breeding peaks near 68 °F in these numbers", x: { label: "Bed temperature", unit: "°F" }, y: { label: "Cocoons per worm per week", low: 0 }, marks: [
    { kind: "zone_x", points: [[64, 72, "breeding room"]], tone: "good" },
    { kind: "band", points: range(19, (k) => { const t = 50 + 2 * k, m = 4 * Math.exp(-(((t - 68) / 10) ** 2)); return [t, m * 0.7, m * 1.3]; }), label: "likely range" },
    { kind: "line", points: range(19, (k) => { const t = 50 + 2 * k; return [t, 4 * Math.exp(-(((t - 68) / 10) ** 2))]; }), label: "typical" },
    { kind: "dots", points: [[59, 1.9, "study A"], [68, 3.8, "study B"], [77, 2.0, "study C"]], label: "published", tone: "second" },
    { kind: "dots", points: [[59, 2.3], [68, 4.6], [77, 1.4]], label: "farm records", tone: "third" }] },
  { name: "ramp", title: "Output over the first half-year", finding: "Sales begin in week 13", x: { label: "Week", low: 0, high: 26 }, y: { label: "Worms sold", unit: "lb/week" }, marks: [
    { kind: "band", points: range(27, (k) => [k, Math.max(0, k - 14) * 0.9, Math.max(0, k - 11) * 1.9]), label: "9 in 10 runs" },
    { kind: "line", points: range(27, (k) => [k, Math.max(0, k - 12) * 1.4]), label: "typical" },
    { kind: "line", points: range(27, (k) => [k, 12]), label: "orders", tone: "second", dashed: true },
    { kind: "rule_x", points: [[13, "first sale"]], tone: "muted", dashed: true }] },
  { name: "batches", title: "Batches", finding: "Three trays rest in each stage", x: { label: "", kind: "time" }, y: { label: "", kind: "band" }, marks: [
    { kind: "spans", points: range(6, (k) => [`Batch ${k + 1}`, day("2027-03-01", 7 * k), day("2027-03-01", 7 * k + 21), "breed"]), label: "breeding" },
    { kind: "spans", points: range(6, (k) => [`Batch ${k + 1}`, day("2027-03-01", 7 * k + 21), day("2027-03-01", 7 * k + 84), "grow"]), label: "growing out", tone: "second" },
    { kind: "rule_x", points: [["2027-04-12", "today"]], tone: "warn" }] },
  { name: "cash", title: "Cash month by month", finding: "The lowest point is 9,400 in the sixth month", x: { label: "Month", kind: "band" }, y: { label: "Cash in hand", unit: "$" }, marks: [
    { kind: "bars", points: months.map((m, k) => [m, cash[k]]) }, { kind: "rule_y", points: [[0, ""]] },
    { kind: "dots", points: [[months[5], -9400, "lowest: −$9,400"]], tone: "warn" }] },
  { name: "moves", title: "What moves the cost", finding: "Labour moves it most", x: { label: "Cost of a pound of worms", unit: "$/lb" }, y: { label: "", kind: "band" }, marks: [
    { kind: "tornado", points: [["Labour per pound", 14.2, 31.5], ["Wage", 17.1, 26.9], ["Cocoons per worm per week", 25.2, 18.1], ["Feed cost", 20.2, 22.4], ["Equipment life", 21.9, 20.8]] },
    { kind: "rule_x", points: [[21.1, "as entered: 21.1"]] }] },
  { name: "cells", title: "Bed temperature", finding: "Below 6 in the day is hardly felt", x: { label: "Hour", low: 0, high: 48, ticks: [0, 6, 12, 18, 24, 30, 36, 42, 48] }, y: { label: "Depth", unit: "in", low: 12, high: 0 }, marks: [
    { kind: "cells", points: range(48, (h) => range(7, (d) => [h + 0.5, 2 * d, bed(h, 2 * d)])).flat(), label: "Bed temperature (°F)", tone: "second" }] },
  { name: "depths", title: "Bed temperature by depth", finding: "The core swings by two degrees", x: { label: "Time", kind: "time" }, y: { label: "Temperature", unit: "°F" }, marks: [
    ...[0, 2, 6, 12].map((d, k) => ({ kind: "line", label: d ? `${d} in deep` : "surface", tone: ["warn", "second", "main", "third"][k], points: range(49, (h) => [new Date(Date.parse("2027-07-10T00:00Z") + h * 36e5).toISOString(), bed(h, d)]) })),
    { kind: "zone_y", points: [[68, null, "too warm to breed"]], tone: "warn" }] },
  { name: "control", title: "Moisture checks", finding: "Two checks lie outside the limits", x: { label: "Check" }, y: { label: "Bed moisture", unit: "%" }, marks: [
    { kind: "line", points: [74, 76, 75, 73, 77, 78, 76, 83, 75, 74, 72, 76, 77, 66, 73, 75].map((v, k) => [k + 1, v]), tone: "muted" },
    { kind: "dots", points: [74, 76, 75, 73, 77, 78, 76, 83, 75, 74, 72, 76, 77, 66, 73, 75].map((v, k) => [k + 1, v]) },
    { kind: "dots", points: [[8, 83, "after the storm"], [14, 66, "fan left on"]], tone: "warn", label: "outside the limits" },
    { kind: "rule_y", points: [[81, "upper limit 81"], [69, "lower limit 69"]], tone: "warn", dashed: true }, { kind: "rule_y", points: [[75, "mean 75"]], tone: "muted" }] },
  { name: "sieve", title: "Sieve curve", finding: "Four fifths pass the coarse deck", x: { label: "Opening", unit: "mm", kind: "log" }, y: { label: "Passing", unit: "%", low: 0, high: 100 }, marks: [
    { kind: "line", points: range(40, (k) => { const s = 0.5 * 1.1 ** k; return [s, 100 * (1 - Math.exp(-((s / 4) ** 1.2)))]; }), label: "fitted" },
    { kind: "dots", points: [[0.5, 9], [1, 17], [2, 34], [3.15, 54], [6.3, 81], [12.5, 98]], label: "sieved", tone: "second" },
    { kind: "rule_x", points: [[3.15, "⅛ in"], [6.3, "¼ in"]], dashed: true }] },
  { name: "stack", title: "Bedding before and after", finding: "Water makes the difference", x: { label: "", kind: "band" }, y: { label: "Mass", unit: "lb" }, marks: [
    { kind: "stack", points: [["before", 18, "dry matter"], ["before", 22, "water"], ["after", 18, "dry matter"], ["after", 22, "water"], ["after", 32, "water to add"]] }] },
  { name: "area", title: "Herd", finding: "Growth slows as the bed fills", x: { label: "Week" }, y: { label: "Worms", unit: "lb" }, marks: [
    { kind: "area", points: range(53, (k) => [k, 80 / (1 + 9 * Math.exp(-k / 8))]), label: "in the bed" }, { kind: "text", points: [[30, 20, "half full by week 18"]] }] },
  { name: "empty", title: "Nothing", finding: "No numbers", x: { label: "Week" }, y: { label: "Worms" }, marks: [{ kind: "line", points: [[null, null]] }] },
];

if (import.meta.url === `file://${process.argv[1]}`) {
  const [, , file, scheme] = process.argv;
  const css = readFileSync(new URL("figure.css", import.meta.url), "utf8");
  writeFileSync(file, `<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>Figures</title>
<style>${css} body{font:16px/1.5 system-ui,sans-serif;margin:16px auto;max-width:720px;padding:0 16px;background:var(--fig-paper);color:var(--fig-text)} figure{margin:0 0 28px}</style>
<body${scheme === "dark" ? ' data-md-color-scheme="slate"' : ""}>${FIGURES.map((figure) => `<figure><figcaption><b>${figure.title}</b> ${figure.finding}.</figcaption>${render({ figure })}</figure>`).join("\n")}</body></html>`);
}
