// Room around the plot: ticks, axis names, key and line labels, all before anything is drawn.

import { DASHES, LINE, SIZE, SYMBOLS, TONES } from "./ink.mjs";
import { linearTicks, logTicks, number, timeTicks, timeWords, widest, wrap } from "./words.mjs";

function numberWords(ticks, kind) {
  const gaps = ticks.slice(1).map((tick, k) => Math.abs(tick - ticks[k])).filter((gap) => gap > 0);
  if (kind === "log") return ticks.map((tick) => number(tick, Math.min(1, 10 ** Math.floor(Math.log10(tick) + 1e-9)) * (Number.isInteger(tick) ? 1 : 0.1)).replace(/(\.\d*?)0+$/, "$1").replace(/\.$/, ""));
  // Given ticks may need more decimals than the gap between them shows (12.5, 37.5): as few as tell them exactly.
  let step = gaps.length ? Math.min(...gaps) : Math.abs(ticks[0]) || 1;
  while (step > 1e-6 && ticks.some((tick) => Math.abs(Number(tick.toFixed(Math.max(0, -Math.floor(Math.log10(step) + 1e-9)))) - tick) > step * 1e-3)) step /= 10;
  return ticks.map((tick) => number(tick, step));
}

/** Ticks and their words; `room` is the length of the axis in pixels. */
export function ticksOf(axis, room, spacing) {
  const count = Math.max(2, Math.floor(room / spacing));
  const ticks = axis.given?.filter((tick) => tick >= axis.low && tick <= axis.high)
    ?? (axis.kind === "log" ? logTicks : axis.kind === "time" ? timeTicks : (low, high) => linearTicks(low, high, count).ticks)(axis.low, axis.high, count);
  return { ticks, words: ticks.length ? (axis.kind === "time" ? timeWords(ticks) : numberWords(ticks, axis.kind)) : [] };
}

/** "Mar 2027", "Apr 2027": the year is written where it begins, and not again. */
function sharedLineOnce(wrapped) {
  if (wrapped.length < 4 || wrapped.some((lines) => lines.length !== 2)) return wrapped;
  return wrapped.map(([first, second], k) => second === wrapped[k - 1]?.[1] ? [first] : [first, second]);
}

/** Categories below the plot: wrapped where they fit, else every nth of a long series, else slanted. */
function categoriesBelow(categories, room) {
  const slotWidth = room / categories.length;
  const wrapped = sharedLineOnce(categories.map((text) => wrap(text, slotWidth - 8, SIZE)));
  if (wrapped.every((lines) => widest(lines, SIZE) <= slotWidth - 6 && lines.length <= 3)) {
    return { ticks: categories, words: wrapped.map((lines) => lines.join("\n")), height: Math.max(...wrapped.map((lines) => lines.length)) * LINE, rotate: 0 };
  }
  if (categories.length > 10) {
    const every = Math.ceil((widest(categories, SIZE) + 8) / slotWidth);
    const ticks = categories.filter((_, k) => k % every === 0);
    return { ticks, words: ticks, height: LINE, rotate: 0 };
  }
  return { ticks: categories, words: categories, height: widest(categories, SIZE) * 0.71 + LINE, rotate: -45, lead: widest([categories[0]], SIZE) * 0.71 - slotWidth / 2 };
}

/** Give each mark its dash, symbol and hatching, so that no two look alike without colour. */
function tellApart(marks) {
  const lines = new Map();
  let bars = 0, dots = 0;
  for (const mark of marks) {
    if (mark.kind === "line" || mark.kind === "area") {
      const look = `${mark.tone} ${mark.dashed}`;
      const before = lines.get(look) ?? 0;
      lines.set(look, before + 1);
      mark.dash = DASHES[(before + (mark.dashed ? 1 : 0)) % DASHES.length];
    }
    if (mark.kind === "bars" || mark.kind === "spans") mark.pattern = bars++ % 6;
    if (mark.kind === "dots") mark.symbol = SYMBOLS[dots++ % SYMBOLS.length];
    if (mark.kind === "stack") mark.series = [...new Set(mark.points.map((point) => point.series))];
  }
}

const WATER = 2; // its place among the tones: blue
/** Tone and hatching of the nth series of a stack. Water is blue in every figure: it changes places with the third. */
export function seriesLook(mark, k) {
  const water = mark.series.findIndex((label) => /^water$/i.test(label));
  const place = water < 0 || water > WATER ? k : k === water ? WATER : k === WATER ? water : k;
  return [TONES[(Math.max(0, TONES.indexOf(mark.tone)) + place) % TONES.length], place % 6];
}

function keyOf(marks, direct) {
  const items = [];
  for (const mark of marks) {
    if (mark.kind === "stack") mark.series.forEach((label, k) => label && items.push({ mark, label, look: seriesLook(mark, k) }));
    else if (mark.kind === "tornado") items.push({ mark, label: "input at its low", look: [mark.tone, 1] }, { mark, label: "input at its high", look: [mark.tone, 0] });
    else if (mark.label && !direct.includes(mark) && /line|area|band|dots|bars|spans|cells/.test(mark.kind)) items.push({ mark, label: mark.label, look: [mark.tone, mark.pattern ?? 0] });
  }
  return items;
}

/** Lay the key's items in rows across the width. */
function flow(items, width) {
  let x = 0, row = 0;
  for (const item of items) {
    item.lines = wrap(item.label, width - 40, SIZE);
    const wide = 30 + widest(item.lines, SIZE) + 16 + (item.mark.kind === "cells" ? 190 : 0);
    if (x > 0 && x + wide > width) { x = 0; row += 1; }
    item.x = x;
    item.row = row;
    x += wide;
    row += item.lines.length - 1;
  }
  return items.length ? row + 1 : 0;
}

const named = (axis) => axis.unit && axis.unit !== "1" ? `${axis.label} (${axis.unit})` : axis.label;

function rowsBeside(axis, width) {
  const words = axis.categories.map((text) => wrap(text, width * 0.3, SIZE));
  return { ticks: axis.categories, words: words.map((lines) => lines.join("\n")), width: widest(words.flat(), SIZE), lines: Math.max(1, ...words.map((lines) => lines.length)) };
}

/** Where lines end on the right they are named there, if there is room. */
function lineLabels(marks, x, width, height) {
  const limit = width < 480 ? 84 : 150;
  const lines = marks.filter((mark) => (mark.kind === "line" || mark.kind === "area") && mark.label && mark.points.some((point) => point.whole));
  for (const mark of lines) {
    mark.end = mark.points.findLast((point) => point.whole);
    mark.words = wrap(mark.label, limit, SIZE);
  }
  const reach = (mark) => x.kind === "band" ? x.categories.indexOf(mark.end.x) / Math.max(1, x.categories.length - 1)
    : x.reversed ? 0 : (mark.end.x - x.low) / (x.high - x.low);
  const room = lines.every((mark) => reach(mark) > 0.97 && widest(mark.words, SIZE) <= limit)
    && lines.reduce((sum, mark) => sum + mark.words.length * LINE, 0) <= height;
  return room ? lines : [];
}

/** Everything about size and place. */
export function layOut({ x, y, marks }, width, asked) {
  const narrow = width < 480;
  tellApart(marks);
  const rows = y.kind === "band" ? rowsBeside(y, width) : null;
  const rowHeight = rows && Math.max(rows.lines * LINE + 4, y.categories.length <= 12 ? 30 : y.categories.length <= 24 ? 22 : 18);
  const height = rows ? Math.max(60, rowHeight * y.categories.length) : Math.min(900, Math.max(120, (asked || 300) * (narrow ? 0.85 : 1)));
  const direct = lineLabels(marks, x, width, height);
  const key = keyOf(marks, direct);
  const keyLines = flow(key, width - 4);
  const up = rows ?? ticksOf(y, height, 46);
  const left = 12 + (rows ? rows.width : widest(up.words, SIZE));
  const end = direct.length ? 12 + 1.12 * Math.max(...direct.map((mark) => widest(mark.words, SIZE))) : 0; // bold
  let right = Math.max(14, end), across;
  if (x.kind === "band") across = categoriesBelow(x.categories, width - left - right);
  else {
    let spacing = 56;
    for (let turn = 0; turn < 6; turn++) {
      across = ticksOf(x, width - left - right, spacing);
      const most = widest(across.words.flatMap((word) => word.split("\n")), SIZE);
      const [first, last] = [x.low, x.high];
      const apart = (width - left - right) * Math.min(1, ...across.ticks.slice(1).map((tick, k) => x.kind === "log" ? Math.log(tick / across.ticks[k]) / Math.log(last / first) : (tick - across.ticks[k]) / (last - first)));
      if (most + 8 <= apart || x.given) break;
      spacing *= 1.35;
    }
    right = Math.max(right, widest((across.words.at(-1) ?? "").split("\n"), SIZE) / 2 + 4);
    across.height = Math.max(1, ...across.words.map((word) => word.split("\n").length)) * LINE;
  }
  const below = wrap(named(x), width - left - right + 20, SIZE), above = wrap(named(y), width - 4, SIZE);
  const ruled = rows && marks.some((mark) => mark.kind === "rule_x" && mark.points.some((point) => point.text)); // named above the rows
  const top = keyLines * (LINE + 4) + (keyLines ? 8 : 0) + (above.length + (ruled ? 1 : 0)) * LINE + (above.length ? 14 : 10);
  const leftMost = Math.max(left, across.lead ? across.lead + 4 : 0);
  const bottom = 12 + across.height + below.length * LINE + 6;
  return {
    width, height: Math.round(top + height + bottom), margins: { left: Math.ceil(leftMost), right: Math.ceil(right), top: Math.ceil(top), bottom: Math.ceil(bottom) },
    key, keyTop: LINE / 2 + 2, direct, up, across, above, below, ruled, narrow,
  };
}
