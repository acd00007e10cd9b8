// Reading a figure: points become numbers (or are left out), axes learn where they begin and end.

import { linearTicks } from "./words.mjs";

/** What the places of a point mean, by kind of mark. x and x2 lie on the x axis, y and y2 on the y axis. */
const PLACES = {
  line: ["x", "y"], area: ["x", "y"], band: ["x", "y", "y2"], dots: ["x", "y", "text"], bars: ["x", "y"],
  stack: ["x", "y", "series"], spans: ["y", "x", "x2", "text"], tornado: ["y", "x", "x2"], cells: ["x", "y", "value"],
  rule_x: ["x", "text"], rule_y: ["y", "text"], zone_x: ["x", "x2", "text"], zone_y: ["y", "y2", "text"], text: ["x", "y", "text"],
};
const ROWS = ["spans", "tornado"];
const BARS = ["bars", "stack"];
const SLOTTED = ["bars", "stack", "cells"]; // drawn as wide as the step between neighbours
const RUNS = ["line", "area", "band"]; // a missing value is a gap, not a point left out
const BESIDE = ["rule_x", "rule_y", "zone_x", "zone_y", "text"]; // not data: alone they make no figure

export const isRun = (mark) => RUNS.includes(mark.kind);
const axisOf = (place) => ({ x: "x", x2: "x", y: "y", y2: "y" })[place];
const finite = (value) => typeof value === "string" ? value !== "" : Number.isFinite(value);

function toNumber(raw, kind) {
  if (raw === null || raw === undefined || raw === "") return NaN;
  if (kind === "band") return String(raw);
  if (kind === "time" && typeof raw === "string") return Date.parse(/T\d/.test(raw) && !/(Z|[+-]\d\d:?\d\d)$/.test(raw) ? `${raw}Z` : raw);
  const value = Number(raw);
  return kind === "log" && value <= 0 ? NaN : value;
}

function readMark(mark, kinds) {
  const places = PLACES[mark.kind];
  if (!places) throw new Error(`A figure cannot draw a mark of kind "${mark.kind}".`);
  const zone = mark.kind.startsWith("zone");
  const points = (mark.points ?? []).map((raw) => {
    const point = {};
    places.forEach((place, k) => {
      const value = (Array.isArray(raw) ? raw : [raw])[k];
      const axis = axisOf(place);
      if (axis) point[place] = zone && value == null ? (place.length > 1 ? Infinity : -Infinity) : toNumber(value, kinds[axis]);
      else if (place === "value") point.value = toNumber(value);
      else point[place] = value == null ? "" : String(value);
    });
    point.whole = places.every((place) => place === "text" || place === "series" || (zone ? !Number.isNaN(point[place]) : finite(point[place])));
    return point;
  });
  return {
    kind: mark.kind, label: mark.label ?? "", tone: mark.tone ?? "main", dashed: Boolean(mark.dashed),
    points: isRun(mark) ? points : points.filter((point) => point.whole),
  };
}

/** Smallest distance between neighbours, on the axis as it is drawn (log axis: in logarithms). */
function stepOf(values, kind) {
  const sorted = [...new Set(values)].map((value) => kind === "log" ? Math.log(value) : value).sort((a, b) => a - b);
  const steps = sorted.slice(1).map((value, k) => value - sorted[k]);
  return steps.length ? Math.min(...steps) : kind === "time" ? 24 * 3600e3 : kind === "log" ? Math.LN2 : 1;
}

function shift(value, by, kind) {
  return kind === "log" ? value * Math.exp(by) : value + by;
}

/** From and to of the slot that a bar or cell at this value fills, as a share of the step. */
export function slot(axis, value, share = 1) {
  return [shift(value, -axis.step * share / 2, axis.kind), shift(value, axis.step * share / 2, axis.kind)];
}

/** All the sums that stacked bars reach, one for each slot and sign. */
function stackEnds(mark, across, along) {
  const sums = new Map();
  for (const point of mark.points) {
    const key = `${point[across]} ${point[along] < 0}`;
    sums.set(key, (sums.get(key) ?? 0) + point[along]);
  }
  return [...sums.values()];
}

function extent(name, kind, given, marks, lying) {
  const across = lying ? "y" : "x";
  const ends = [given.low, given.high].map((end) => toNumber(end, kind));
  const fixed = ends.map(Number.isFinite);
  const values = [], slotted = [];
  for (const mark of marks) {
    const along = BARS.includes(mark.kind) && name !== across;
    if (SLOTTED.includes(mark.kind) && !along && (mark.kind === "cells" || name === across)) slotted.push(...mark.points.map((point) => point[name]));
    if (mark.kind.startsWith("zone") && fixed[0] && fixed[1]) continue;
    if (along && mark.kind === "stack") values.push(...stackEnds(mark, across, name));
    else values.push(...mark.points.flatMap((point) => Object.keys(point).filter((place) => axisOf(place) === name).map((place) => point[place])));
    if ((along || (mark.kind === "area" && name === "y")) && kind === "linear") values.push(0);
  }
  const step = slotted.length ? stepOf(slotted, kind) : 0;
  for (const value of slotted) values.push(shift(value, -step / 2, kind), shift(value, step / 2, kind));
  const known = values.filter(Number.isFinite);
  const seen = [Math.min(...known), Math.max(...known)];
  // The given ends are kept unless the data lie beyond them: a figure never hides a point.
  const reversed = fixed[0] && fixed[1] && ends[0] > ends[1];
  if (reversed) ends.reverse();
  let [low, high] = [Math.min(fixed[0] ? ends[0] : Infinity, seen[0]), Math.max(fixed[1] ? ends[1] : -Infinity, seen[1])];
  if (!Number.isFinite(low)) low = Number.isFinite(high) ? (kind === "log" ? high / 10 : high - 1) : kind === "log" ? 1 : 0;
  if (!Number.isFinite(high)) high = kind === "log" ? low * 10 : low + 1;
  if (!(high > low)) {
    const pad = kind === "log" ? Math.LN2 : kind === "time" ? 12 * 3600e3 : Math.abs(low) * 0.1 || 1;
    [low, high] = [shift(low, -pad, kind), shift(high, pad, kind)];
  }
  const tight = kind !== "linear" || (name === "x" && marks.some((mark) => isRun(mark) || ["cells", "spans"].includes(mark.kind) || (BARS.includes(mark.kind) && !lying)))
    || (name === "y" && marks.some((mark) => mark.kind === "cells"));
  // Words beside a point need air above and below it.
  const air = kind === "linear" && name === "y" && marks.some((mark) => mark.kind === "dots" && mark.points.some((point) => point.text)) ? (high - low) * 0.08 : 0;
  if (!fixed[0] && low !== 0) low -= air;
  if (!fixed[1] && high !== 0) high += air;
  if (!tight) {
    const { step: round } = linearTicks(low, high, 6);
    if (!fixed[0] || low < ends[0]) low = Math.floor(low / round + 1e-9) * round;
    if (!fixed[1] || high > ends[1]) high = Math.ceil(high / round - 1e-9) * round;
  }
  return { low, high, reversed, step };
}

function readAxis(name, kind, given, marks, lying) {
  const axis = { name, kind, label: given.label ?? "", unit: given.unit ?? "" };
  if (kind === "band") {
    const all = marks.flatMap((mark) => mark.points.map((point) => point[name])).filter((value) => typeof value === "string" && value !== "");
    return Object.assign(axis, { categories: [...new Set(all)] });
  }
  const ticks = Array.isArray(given.ticks) ? given.ticks.map((tick) => toNumber(tick, kind)).filter(Number.isFinite) : null;
  return Object.assign(axis, { given: ticks?.length ? ticks : null }, extent(name, kind, given, marks, lying));
}

/** The figure with its marks as numbers and its axes settled; `empty` when there is nothing to see. */
export function read(figure) {
  const raw = figure.marks ?? [];
  const kinds = { x: figure.x?.kind ?? "linear", y: raw.some((mark) => ROWS.includes(mark.kind)) ? "band" : figure.y?.kind ?? "linear" };
  const lying = kinds.y === "band" && kinds.x !== "band"; // bars lie down when the categories are on the y axis
  const marks = raw.map((mark) => readMark(mark, kinds));
  const empty = !marks.some((mark) => !BESIDE.includes(mark.kind) && mark.points.some((point) => point.whole));
  return {
    marks, empty, lying, handles: figure.handles ?? [],
    x: readAxis("x", kinds.x, figure.x ?? {}, marks, lying),
    y: readAxis("y", kinds.y, figure.y ?? {}, marks, lying),
  };
}
