// What everything on a figure is drawn with: colours that follow the theme, elements, hatching.

const COLOURS = {
  main: "#1f6f50", second: "#a3541a", third: "#3f5fa8", muted: "#646b68", warn: "#b3261e", good: "#4f7d12",
  text: "#26302c", grid: "#d9dedb", paper: "#ffffff",
};
export const TONES = ["main", "second", "third", "good", "warn", "muted"];
export const DASHES = [null, "7 4", "2 3", "9 3 2 3", "4 2", "12 4"];
export const SYMBOLS = ["circle", "square", "triangle", "diamond2", "cross", "star"];
export const SIZE = 13; // of all text, in pixels
export const LINE = 16; // from one line of text to the next

/** A colour of the theme, with the light one where no theme is set. */
export const ink = (name) => `var(--fig-${name in COLOURS ? name : "main"}, ${COLOURS[name] ?? COLOURS.main})`;

export const round = (value) => Math.round(value * 100) / 100 + 0;

export function element(document, name, attributes = {}, ...children) {
  const made = document.createElementNS("http://www.w3.org/2000/svg", name);
  for (const [key, value] of Object.entries(attributes)) {
    if (value !== null && value !== undefined) made.setAttribute(key, typeof value === "number" ? round(value) : value);
  }
  made.append(...children);
  return made;
}

/** Lines of text with a rim of paper, so that they stay readable on top of marks. (x, y) is the middle of the first line. */
export function writing(document, lines, x, y, anchor = "start", attributes = {}) {
  const text = element(document, "text", {
    x, y, dy: "0.35em", "text-anchor": anchor, fill: ink("text"), stroke: ink("paper"),
    "stroke-width": 3, "stroke-linejoin": "round", "paint-order": "stroke", ...attributes,
  });
  if (lines.length === 1) text.append(lines[0]);
  else lines.forEach((line, k) => text.append(element(document, "tspan", { x, y: y + k * LINE, dy: "0.35em" }, line)));
  if (lines.length > 1) for (const name of ["x", "y", "dy"]) text.removeAttribute(name);
  return text;
}

/** Hatching inside a rectangle as one path: patterns would need ids, and colour alone is lost in print. */
function hatching(left, top, right, bottom, pattern) {
  const gap = 6;
  let path = "";
  const from = (value) => Math.ceil(value / gap) * gap;
  const stroke = (...ends) => { path += `M${round(ends[0])},${round(ends[1])}L${round(ends[2])},${round(ends[3])}`; };
  if (pattern === 1 || pattern === 4) {
    for (let c = from(left + top); c < right + bottom; c += gap) {
      const [a, b] = [Math.max(left, c - bottom), Math.min(right, c - top)];
      stroke(a, c - a, b, c - b);
    }
  }
  if (pattern === 2 || pattern === 4) {
    for (let c = from(left - bottom); c < right - top; c += gap) {
      const [a, b] = [Math.max(left, c + top), Math.min(right, c + bottom)];
      stroke(a, a - c, b, b - c);
    }
  }
  if (pattern === 3) for (let y = from(top); y < bottom; y += gap) stroke(left, y, right, y);
  if (pattern === 5) for (let x = from(left); x < right; x += gap) stroke(x, top, x, bottom);
  return path;
}

/** A filled rectangle; `pattern` 0 is plain, 1 to 5 are hatched. */
export function block(document, [left, right], [top, bottom], tone, pattern = 0) {
  [left, right] = [Math.min(left, right), Math.max(left, right)];
  [top, bottom] = [Math.min(top, bottom), Math.max(top, bottom)];
  const group = element(document, "g");
  group.append(element(document, "rect", {
    x: left, y: top, width: right - left, height: bottom - top, fill: ink(tone), stroke: ink(tone), "stroke-width": 1,
  }));
  const path = pattern ? hatching(left, top, right, bottom, pattern) : "";
  if (path) group.append(element(document, "path", { d: path, stroke: ink("paper"), "stroke-width": 1.75, fill: "none" }));
  return group;
}

const SHAPES = {
  square: "M-4,-4h8v8h-8z", triangle: "M0,-5L5,4H-5Z", diamond2: "M0,-5.5L5.5,0L0,5.5L-5.5,0Z",
  cross: "M-5,-1.5h3.5v-3.5h3v3.5h3.5v3h-3.5v3.5h-3v-3.5h-3.5z", star: "M0,-5.5L1.6,-1.6L5.5,0L1.6,1.6L0,5.5L-1.6,1.6L-5.5,0L-1.6,-1.6Z",
};

/** The mark of one point. */
export function point(document, x, y, tone, symbol, scale = 1) {
  const look = { fill: ink(tone), stroke: ink("paper"), "stroke-width": 1 };
  if (symbol === "circle") return element(document, "circle", { cx: x, cy: y, r: 4.25 * scale, ...look });
  return element(document, "path", { d: SHAPES[symbol], transform: `translate(${round(x)},${round(y)})${scale === 1 ? "" : ` scale(${scale})`}`, ...look });
}
