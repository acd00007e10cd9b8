// One figure from its plain data as an SVG element; the same in the page and at build time.

import { areaY, axisX, axisY, gridX, gridY, line, plot, ruleX } from "@observablehq/plot";
import { read, slot } from "./data.mjs";
import { LINE, SIZE, block, element, ink, point as dot, round, writing } from "./ink.mjs";
import { Places, endLabels } from "./labels.mjs";
import { layOut, seriesLook } from "./layout.mjs";
import { alone, widest, widthOf, wrap } from "./words.mjs";

/** Widths at which figures are drawn: for a telephone and for a desk. */
export const WIDTHS = { narrow: 360, wide: 680 };
const NOTHING = "These numbers leave nothing to draw.";

/** Pixel helpers of one drawing. */
function pixels(data, scales, layout) {
  const centre = (name) => (value) => scales[name](value) + (scales[name].bandwidth?.() ?? 0) / 2;
  const frame = {
    left: layout.margins.left, right: layout.width - layout.margins.right, top: layout.margins.top, bottom: layout.height - layout.margins.bottom,
  };
  const inside = (value, low, high) => Math.max(low, Math.min(high, value));
  return {
    frame,
    x: centre("x"), y: centre("y"),
    zone: (name, value) => {
      const [low, high] = name === "x" ? [frame.left, frame.right] : [frame.top, frame.bottom];
      const towards = data[name].reversed !== (name === "y") ? -value : value; // where an open end lies on the screen
      return Number.isFinite(value) ? inside(centre(name)(value), low, high) : towards > 0 ? high : low;
    },
    slot: (name, value, share = 1) => {
      const scale = scales[name];
      if (!scale.bandwidth) return slot(data[name], value, share).map(scale);
      const wide = scale.bandwidth();
      return [scale(value) + wide * (1 - share) / 2, scale(value) + wide * (1 + share) / 2];
    },
    zero: (name) => inside(centre(name)(0) || (name === "y" ? frame.bottom : frame.left), name === "y" ? frame.top : frame.left, name === "y" ? frame.bottom : frame.right),
  };
}

const part = ([from, to], k, of) => [from + (to - from) * k / of, from + (to - from) * (k + 1) / of];

const drawers = {
  zone_x: (document, mark, px) => mark.points.map((p) => zone(document, mark.tone, [px.zone("x", p.x), px.zone("x", p.x2)], [px.frame.top, px.frame.bottom])),
  zone_y: (document, mark, px) => mark.points.map((p) => zone(document, mark.tone, [px.frame.left, px.frame.right], [px.zone("y", p.y), px.zone("y", p.y2)])),
  bars(document, mark, px, data, places) {
    const [across, along] = data.lying ? ["y", "x"] : ["x", "y"];
    const all = data.marks.filter((other) => other.kind === "bars");
    return mark.points.map((p) => {
      const side = part(px.slot(across, p[across], 0.76), all.indexOf(mark), all.length);
      const length = [px.zero(along), px[along](p[along])];
        const [wide, down] = data.lying ? [length, side] : [side, length];
      places.take([Math.min(...wide), Math.min(...down), Math.max(...wide), Math.max(...down)], 2);
      return block(document, wide, down, mark.tone, mark.pattern);
    });
  },
  stack(document, mark, px, data) {
    const [across, along] = data.lying ? ["y", "x"] : ["x", "y"];
    const reached = new Map();
    return mark.series.flatMap((series, k) => mark.points.filter((p) => p.series === series).map((p) => {
      const key = `${p[across]} ${p[along] < 0}`;
      const from = reached.get(key) ?? 0;
      reached.set(key, from + p[along]);
      const length = [from ? px[along](from) : px.zero(along), px[along](from + p[along])];
      const side = px.slot(across, p[across], 0.76);
      return data.lying ? block(document, length, side, ...seriesLook(mark, k)) : block(document, side, length, ...seriesLook(mark, k));
    }));
  },
  spans: (document, mark, px, data, places) => mark.points.flatMap((p) => {
    const [ends, side] = [[px.x(p.x), px.x(p.x2)], px.slot("y", p.y, 0.68)];
    const made = [block(document, ends, side, mark.tone, mark.pattern)];
    places.take([Math.min(...ends), side[0], Math.max(...ends), side[1]], 3);
    if (!p.text) return made;
    const middle = (side[0] + side[1]) / 2;
    if (widthOf(p.text, SIZE) + 8 < Math.abs(ends[1] - ends[0])) {
      const plain = { fill: ink("paper"), stroke: null, "stroke-width": null, "stroke-linejoin": null, "paint-order": null };
      return [...made, writing(document, [p.text], (ends[0] + ends[1]) / 2, middle, "middle", mark.pattern ? {} : plain)];
    }
    return [...made, places.put(document, [p.text], [[Math.max(...ends) + 5, middle, "start"], [Math.min(...ends) - 5, middle, "end"]])];
  }),
  tornado(document, mark, px, data, places) {
    const base = data.marks.find((other) => other.kind === "rule_x")?.points[0]?.x;
    return mark.points.flatMap((p) => {
      const side = px.slot("y", p.y, 0.64), start = px.x(base ?? (p.x + p.x2) / 2), middle = (side[0] + side[1]) / 2;
      const [low, high] = [px.x(p.x), px.x(p.x2)];
      const outer = (value, here, there) => {
        const away = here < there || (here === there && value === p.x) ? -1 : 1;
        return writing(document, [alone(value)], here + away * 5, middle, away < 0 ? "end" : "start");
      };
      return [block(document, [start, low], side, mark.tone, 1), block(document, [start, high], side, mark.tone, 0), outer(p.x, low, high), outer(p.x2, high, low)];
    });
  },
  cells(document, mark, px) {
    const { low, high, levels } = shades(mark);
    const paths = levels.map(() => "");
    for (const p of mark.points) {
      const [[a, b], [c, d]] = [px.slot("x", p.x), px.slot("y", p.y)];
      const [wide, tall] = [round(Math.abs(b - a) + 0.3), round(Math.abs(d - c) + 0.3)]; // a little over, so that no seam shows when scaled
      const level = Math.min(levels.length - 1, Math.floor((p.value - low) / (high - low || 1) * levels.length));
      paths[level] += `M${round(Math.min(a, b))},${round(Math.min(c, d))}h${wide}v${tall}h${-wide}z`;
    }
    return paths.map((d, k) => d && element(document, "path", { d, fill: ink(mark.tone), "fill-opacity": levels[k], "shape-rendering": "crispEdges" })).filter(Boolean);
  },
  dots(document, mark, px, data, places) {
    const scale = mark.points.length > 40 ? 0.8 : mark.tone === "warn" ? 1.25 : 1;
    return mark.points.map((p) => {
      places.take([px.x(p.x) - 5, px.y(p.y) - 5, px.x(p.x) + 5, px.y(p.y) + 5], 3);
      return dot(document, px.x(p.x), px.y(p.y), mark.tone, mark.symbol, scale);
    });
  },
  rule_x: (document, mark, px) => mark.points.map((p) => rule(document, mark, [px.x(p.x), px.frame.top], [px.x(p.x), px.frame.bottom])),
  rule_y: (document, mark, px) => mark.points.map((p) => rule(document, mark, [px.frame.left, px.y(p.y)], [px.frame.right, px.y(p.y)])),
};

const rule = (document, mark, from, to) => element(document, "path", {
  d: `M${from.map(round)}L${to.map(round)}`, stroke: ink(mark.tone === "main" ? "text" : mark.tone), "stroke-width": 1.25, "stroke-dasharray": mark.dashed ? "5 4" : null, fill: "none",
});

function zone(document, tone, [a, b], [c, d]) {
  return element(document, "rect", {
    x: Math.min(a, b), y: Math.min(c, d), width: Math.abs(b - a), height: Math.abs(d - c),
    fill: ink(tone), "fill-opacity": 0.12, stroke: ink(tone), "stroke-opacity": 0.7, "stroke-width": 0.75, "stroke-dasharray": "2 3",
  });
}

/** Seven shades from pale to full; pale is never none, so that a cell differs from no cell. */
function shades(mark) {
  const values = mark.points.map((p) => p.value);
  return { low: Math.min(...values), high: Math.max(...values), levels: [0.06, 0.2, 0.34, 0.48, 0.64, 0.81, 1] };
}

/** Words beside marks, placed after all marks are known. */
function words(document, data, px, places, layout) {
  const { left, right, top, bottom } = px.frame;
  const made = [];
  const put = (mark, text, limit, candidates, tone) => {
    if (text) made.push(places.put(document, wrap(text, limit, SIZE), candidates, { fill: ink(tone ?? (mark.tone === "main" ? "text" : mark.tone)) }));
  };
  const header = new Places([2, top - 18, layout.width - 2, top]); // above the rows of a band axis
  const limit = (right - left) * (layout.narrow ? 0.55 : 0.4);
  for (const mark of data.marks) {
    for (const p of mark.points) {
      if (mark.kind === "rule_y") {
        const y = px.y(p.y);
        put(mark, p.text, right - left - 8, [[right - 4, y - 10, "end"], [left + 4, y - 10, "start"], [right - 4, y + 10, "end"], [left + 4, y + 10, "start"], [(left + right) / 2, y - 10, "middle"]]);
      } else if (mark.kind === "rule_x") {
        const x = px.x(p.x);
        const heights = [top + 10, top + 30, bottom - 12, (top + bottom) / 2];
        if (layout.ruled && p.text) made.push(header.put(document, [p.text], [[x, top - 9, "middle"], [x + 3, top - 9, "start"], [x - 3, top - 9, "end"]], { fill: ink(mark.tone === "main" ? "text" : mark.tone) }));
        else if (!layout.ruled) put(mark, p.text, limit, heights.flatMap((y) => [[x + 5, y, "start"], [x - 5, y, "end"]]));
      } else if (mark.kind === "zone_x") {
        const [a, b] = [px.zone("x", p.x), px.zone("x", p.x2)].sort((m, n) => m - n);
        put(mark, p.text, Math.max(60, b - a - 8), [top + 10, bottom - 12, top + 30].map((y) => [(a + b) / 2, y, "middle"]));
      } else if (mark.kind === "zone_y") {
        const [a, b] = [px.zone("y", p.y), px.zone("y", p.y2)].sort((m, n) => m - n);
        put(mark, p.text, right - left - 8, [a + 10, b - 10, (a + b) / 2].flatMap((y) => [[left + 5, y, "start"], [right - 5, y, "end"], [(left + right) / 2, y, "middle"]]));
      } else if (mark.kind === "text") {
        const [x, y] = [px.x(p.x), px.y(p.y)];
        put(mark, p.text, limit, [[x, y, "middle"], [x, y - 12, "middle"], [x, y + 12, "middle"], [x + 8, y, "start"], [x - 8, y, "end"]]);
      } else if (mark.kind === "dots") {
        const [x, y] = [px.x(p.x), px.y(p.y)];
        const here = mark.points.filter((other) => Math.hypot(px.x(other.x) - x, px.y(other.y) - y) < 3); // one dot to the eye: its names stand together
        if (here[0] !== p) continue;
        put(mark, [...new Set(here.map((other) => other.text))].filter(Boolean).join(", "), limit, [[x + 8, y, "start"], [x, y - 13, "middle"], [x - 8, y, "end"], [x, y + 14, "middle"], [x + 6, y - 12, "start"], [x + 6, y + 13, "start"], [x - 6, y - 12, "end"], [x - 6, y + 13, "end"], [x, y - 26, "middle"], [x, y + 28, "middle"]], "text");
      }
    }
  }
  return made;
}

function keyMark(document, item, y) {
  const { mark, x, look: [tone, pattern] } = item;
  if (mark.kind === "line") return element(document, "path", { d: `M${x},${y}h24`, stroke: ink(tone), "stroke-width": 2.25, "stroke-dasharray": mark.dash, fill: "none" });
  if (mark.kind === "dots") return dot(document, x + 12, y, tone, mark.symbol);
  if (mark.kind === "band" || mark.kind === "area") return element(document, "rect", { x: x + 0.5, y: y - 6, width: 23, height: 12, fill: ink(tone), "fill-opacity": 0.2, stroke: ink(tone), "stroke-width": 0.75, "stroke-dasharray": mark.dash });
  return block(document, [x + 1, x + 23], [y - 6, y + 6], tone, pattern);
}

function key(document, layout) {
  return layout.key.flatMap((item) => {
    const y = layout.keyTop + item.row * (LINE + 4);
    if (item.mark.kind !== "cells") return [keyMark(document, item, y), writing(document, item.lines, item.x + 30, y)];
    const { low, high, levels } = shades(item.mark);
    const start = item.x + widest(item.lines, SIZE) + 12, from = alone(low), box = start + widthOf(from, SIZE) + 4;
    return [writing(document, item.lines, item.x + 2, y), writing(document, [from], start, y),
      ...levels.map((level, k) => element(document, "rect", { x: box + k * 16, y: y - 7, width: 16, height: 14, fill: ink(item.mark.tone), "fill-opacity": level, "shape-rendering": "crispEdges" })),
      writing(document, [alone(high)], box + levels.length * 16 + 5, y)];
  });
}

/** Marks that the charting library draws: lines, areas and bands, with gaps where a value is missing. */
function runs(mark) {
  const at = { x: "x", z: null };
  const lone = mark.points.filter((p, k) => p.whole && !mark.points[k - 1]?.whole && !mark.points[k + 1]?.whole);
  const points = mark.points.map((p) => p.whole ? p : { ...p, y: NaN, y2: NaN });
  const stroke = { stroke: ink(mark.tone), strokeLinejoin: "round", strokeLinecap: "butt" };
  if (mark.kind === "band") {
    return [areaY(points, { ...at, y1: "y", y2: "y2", fill: ink(mark.tone), fillOpacity: 0.18 }),
      ...["y", "y2"].map((y) => line(points, { ...at, y, ...stroke, strokeWidth: 0.75, strokeOpacity: 0.8 })),
      ruleX(lone, { x: "x", y1: "y", y2: "y2", stroke: ink(mark.tone), strokeWidth: 6, strokeOpacity: 0.35 })];
  }
  const path = line(points, { ...at, y: "y", ...stroke, strokeWidth: 2.25, strokeDasharray: mark.dash ?? undefined });
  return [path];
}

function lonePoints(document, mark, px) {
  if (mark.kind === "band") return [];
  return mark.points.filter((p, k) => p.whole && !mark.points[k - 1]?.whole && !mark.points[k + 1]?.whole)
    .map((p) => dot(document, px.x(p.x), px.y(p.y), mark.tone, "circle"));
}

function scaleOf(axis) {
  const shared = { label: null, axis: null };
  if (axis.kind === "band") return { ...shared, type: "band", domain: axis.categories, padding: 0.08 };
  return { ...shared, type: axis.kind === "time" ? "utc" : axis.kind, domain: axis.reversed ? [axis.high, axis.low] : [axis.low, axis.high] };
}

function axes(data, { across, up }) {
  const text = { fill: ink("text"), fontSize: SIZE, lineHeight: LINE / SIZE, fontVariant: null };
  const grid = { stroke: ink("grid"), strokeOpacity: 1 };
  const ticks = { stroke: ink("muted"), tickSize: 5, ...text, label: null };
  return [
    data.x.kind === "band" ? null : gridX(across.ticks, grid),
    data.y.kind === "band" ? null : gridY(up.ticks, grid),
    axisX(across.ticks, { ...ticks, text: across.words, tickRotate: across.rotate || undefined, textAnchor: across.rotate ? "end" : undefined }),
    axisY(up.ticks, { ...ticks, text: up.words, tickSize: 0 }),
  ];
}

const layer = (make) => (index, scales, values, dimensions, context) => {
  const group = element(context.document, "g");
  group.append(...make(context.document, scales));
  return group;
};

const ARROWS = { x: "M-4,-4L-8,0L-4,4M4,-4L8,0L4,4", y: "M-4,-4L0,-8L4,-4M-4,4L0,8L4,4" };

/** Where the words of a handle stand: [x, y of the middle, anchor]. They go inwards. */
function besideHandle({ x, y }, px) {
  const [left, top] = [px.x(x), px.y(y)];
  const towards = left > (px.frame.left + px.frame.right) / 2 ? -1 : 1;
  return [left + towards * 15, Math.max(top - 15, px.frame.top + 4), towards > 0 ? "start" : "end"];
}

/** Mark and words of each handle are taken before other words look for their place. */
function takeHandles(data, px, places) {
  for (const handle of data.handles) {
    const [x, y, anchor] = besideHandle(handle, px), wide = 1.08 * widthOf(handle.text, SIZE); // bold
    const begin = anchor === "start" ? x : x - wide;
    places.take([begin, y - LINE / 2, begin + wide, y + LINE / 2], 4);
    places.take([px.x(handle.x) - 10, px.y(handle.y) - 10, px.x(handle.x) + 10, px.y(handle.y) + 10], 4);
  }
}

/** Points that are the reader's: where an input lies, and the way along which it is drawn (scripts/browser/page/hold.js). */
function handles(document, data, px) {
  return data.handles.map((handle) => {
    const { input, axis, x, y, from, to, low, high, label, text, now } = handle;
    const [left, top] = [px.x(x), px.y(y)];
    const words = writing(document, [text], ...besideHandle(handle, px), { class: "handle-words", fill: null, stroke: null, "stroke-width": null });
    const mark = element(document, "g", {
      class: "figure-handle", "data-input": input, "data-axis": axis, "data-from": px[axis](from), "data-to": px[axis](to), "data-low": String(low), "data-high": String(high), // as text: a number would be rounded to the pixel
      "data-scale": data[axis].kind === "log" ? "log" : null, tabindex: 0, role: "slider", "aria-label": label,
      "aria-orientation": axis === "x" ? "horizontal" : "vertical", "aria-valuemin": String(low), "aria-valuemax": String(high), "aria-valuenow": String(now), "aria-valuetext": text,
      transform: `translate(${round(left)} ${round(top)})`,
    }, element(document, "circle", { class: "handle-reach", r: 22 }), element(document, "circle", { class: "handle-mark", r: 9 }), element(document, "path", { class: "handle-arrows", d: ARROWS[axis] }));
    const both = element(document, "g", {}, words, mark);
    return both;
  });
}

function picture(document, data, layout) {
  let px, places;
  const ready = (scales) => {
    px ??= pixels(data, scales, layout);
    places ??= new Places([px.frame.left + 1, px.frame.top - 2, layout.width - 2, px.frame.bottom - 1]);
  };
  const drawn = (kinds) => layer((owner, scales) => {
    ready(scales);
    return data.marks.filter((mark) => kinds.test(mark.kind)).flatMap((mark) => drawers[mark.kind](owner, mark, px, data, places));
  });
  const tornado = data.marks.some((mark) => mark.kind === "tornado");
  const inset = tornado ? Math.max(...data.marks.filter((mark) => mark.kind === "tornado").flatMap((mark) => mark.points.flatMap((p) => [p.x, p.x2]).map((value) => widthOf(alone(value), SIZE)))) + 6 : 0;
  const areas = data.marks.filter((mark) => mark.kind === "area").map((mark) => areaY(mark.points.map((p) => p.whole ? p : { ...p, y: NaN }), {
    x: "x", z: null, y1: data.y.kind === "log" ? data.y.low : 0, y2: "y", fill: ink(mark.tone), fillOpacity: 0.2,
  }));
  const finish = layer((owner, scales) => {
    ready(scales);
    for (const mark of data.marks) {
      if (mark.kind === "line" || mark.kind === "area") places.takePath(mark.points.filter((p) => p.whole).map((p) => [px.x(p.x), px.y(p.y)]));
    }
    takeHandles(data, px, places);
    const ends = layout.direct.map((mark) => ({ lines: mark.words, tone: mark.tone, x: px.x(mark.end.x), y: px.y(mark.end.y) }));
    return [
      ...data.marks.flatMap((mark) => mark.points[0] && /line|area|band/.test(mark.kind) ? lonePoints(owner, mark, px) : []),
      ...endLabels(owner, ends, px.frame.right + 8, px.frame.top - 4, px.frame.bottom + 4),
      ...words(owner, data, px, places, layout),
      ...key(owner, layout),
      ...handles(owner, data, px),
      ...(layout.above.length ? [writing(owner, layout.above, 2, px.frame.top - 16 - (layout.ruled ? LINE : 0) - (layout.above.length - 1) * LINE, "start")] : []),
      ...(layout.below.length ? [writing(owner, layout.below, (px.frame.left + px.frame.right) / 2, layout.height - 4 - LINE / 2 - (layout.below.length - 1) * LINE, "middle")] : []),
    ];
  });
  const { left, right, top, bottom } = layout.margins;
  return plot({
    document, className: "figure-plot", width: layout.width, height: layout.height, marginLeft: left, marginRight: right, marginTop: top, marginBottom: bottom,
    x: { ...scaleOf(data.x), insetLeft: inset, insetRight: inset }, y: scaleOf(data.y),
    marks: [drawn(/^zone/), ...axes(data, layout), drawn(/^cells/), drawn(/^(bars|stack|spans|tornado)/), ...data.marks.filter((mark) => mark.kind === "band").flatMap(runs), ...areas,
      drawn(/^rule/), ...data.marks.filter((mark) => /^(line|area)$/.test(mark.kind)).flatMap(runs), drawn(/^dots/), finish],
  });
}

function emptyFrame(document, figure, width) {
  const height = 160;
  const svg = element(document, "svg", { width, height, viewBox: `0 0 ${width} ${height}` });
  svg.append(element(document, "rect", { x: 1, y: 1, width: width - 2, height: height - 2, fill: "none", stroke: ink("grid") }),
    writing(document, [NOTHING], width / 2, height / 2, "middle"));
  return svg;
}

/** The figure as an SVG element. `width` in pixels decides the layout; the picture then scales with its container. */
export function draw(figure, { document, width = WIDTHS.wide }) {
  const data = read(figure);
  const across = Math.max(280, Math.round(width));
  const svg = data.empty ? emptyFrame(document, figure, across) : picture(document, data, layOut(data, across, figure.height));
  for (const style of [...svg.querySelectorAll("style")]) style.remove(); // its rules are in figure.css: a strict policy forbids style elements
  for (const labelled of [...svg.querySelectorAll("[aria-label],[aria-hidden]")].filter((part) => part.getAttribute("class") !== "figure-handle")) for (const name of ["aria-label", "aria-hidden", "aria-description"]) labelled.removeAttribute(name);
  for (const [name, value] of Object.entries({
    class: `figure-plot ${across < 480 ? "figure-narrow" : "figure-wide"}`, role: data.handles.length && !data.empty ? "group" : "img", fill: "currentColor", "font-family": "system-ui, sans-serif", "font-size": SIZE,
    "aria-label": [figure.title, figure.finding].filter(Boolean).map((text) => text.replace(/[.\s]+$/, "")).join(". ") + ".",
  })) svg.setAttribute(name, value);
  return svg;
}

/** Both layouts in one element; figure.css shows the one that fits. */
export function drawBoth(figure, { document }) {
  const both = document.createElement("div");
  both.className = "figure-drawn";
  both.append(...Object.values(WIDTHS).map((width) => draw(figure, { document, width })));
  return both;
}
