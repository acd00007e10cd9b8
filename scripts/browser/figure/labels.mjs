// Where the words on a figure go: beside what they name, over as little as can be.

import { LINE, SIZE, element, ink, writing } from "./ink.mjs";
import { widest } from "./words.mjs";

const overlap = (a, b) => Math.max(0, Math.min(a[2], b[2]) - Math.max(a[0], b[0])) * Math.max(0, Math.min(a[3], b[3]) - Math.max(a[1], b[1]));

/** Keeps account of what is taken and finds each label the place where it covers least. */
export class Places {
  constructor([left, top, right, bottom]) {
    this.bounds = [left, top, right, bottom];
    this.taken = [];
  }

  take(box, weight = 1) {
    this.taken.push([box, weight]);
  }

  /** Take a path of pixel points, in small boxes. */
  takePath(points, weight = 1) {
    points.slice(1).forEach((end, k) => {
      const [start, pieces] = [points[k], Math.min(200, Math.ceil(Math.hypot(end[0] - points[k][0], end[1] - points[k][1]) / 6))];
      for (let piece = 0; piece <= pieces; piece++) {
        const share = pieces ? piece / pieces : 0;
        const [x, y] = [start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share];
        this.take([x - 2, y - 2, x + 2, y + 2], weight);
      }
    });
  }

  /** Best of the candidates [x, y of the middle, anchor]; earlier ones are preferred, all are pushed inside the bounds. */
  put(document, lines, candidates, attributes) {
    const [width, height] = [widest(lines, SIZE), lines.length * LINE];
    const [left, top, right, bottom] = this.bounds;
    let best;
    candidates.forEach(([x, y, anchor = "start"], rank) => {
      const begin = anchor === "start" ? x : anchor === "end" ? x - width : x - width / 2;
      const a = Math.max(left, Math.min(begin, right - width));
      const b = Math.max(top, Math.min(y - height / 2, bottom - height));
      const box = [a, b, a + width, b + height];
      const moved = Math.abs(a - begin) + Math.abs(b - (y - height / 2));
      const cost = rank * 6 + moved * 4 + this.taken.reduce((sum, [other, weight]) => sum + overlap(box, other) * weight, 0);
      if (!best || cost < best.cost) best = { cost, box, anchor };
    });
    const { box, anchor } = best;
    this.take(box, 4);
    const x = anchor === "start" ? box[0] : anchor === "end" ? box[2] : (box[0] + box[2]) / 2;
    return writing(document, lines, x, box[1] + LINE / 2, anchor, attributes);
  }
}

/** Labels in the right margin, each as near the end of its line as its neighbours allow; a thin line leads to those that moved. */
export function endLabels(document, ends, x, top, bottom) {
  const sorted = [...ends].sort((a, b) => a.y - b.y);
  let edge = -Infinity;
  for (const end of sorted) {
    end.height = end.lines.length * LINE;
    end.top = Math.max(top, edge, end.y - end.height / 2);
    edge = end.top + end.height;
  }
  edge = bottom;
  for (const end of sorted.reverse()) {
    end.top = Math.min(end.top, edge - end.height);
    edge = end.top;
  }
  return sorted.reverse().flatMap((end) => {
    const middle = end.top + end.height / 2;
    const leader = Math.abs(middle - end.y) > 6
      ? [element(document, "path", { d: `M${Math.round(end.x + 3)},${Math.round(end.y)}L${Math.round(x - 3)},${Math.round(middle)}`, stroke: ink("muted"), "stroke-width": 0.75, fill: "none" })] : [];
    return [...leader, writing(document, end.lines, x, end.top + LINE / 2, "start", { fill: ink(end.tone), "font-weight": 600 })];
  });
}
