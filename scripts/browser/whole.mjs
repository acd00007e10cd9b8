// The whole handbook as one page to print: every article of the finished site in the order of its contents, calculators as
// label and value with their prepared answers, links turned into places of this page. It needs no script.
//
//     node whole.mjs <folder of the site> <name of the page> <policy> < {text of a table: its columns, headings, rows}; writes the page

import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { posix } from "node:path";
import { parseHTML } from "linkedom";

const [site, target, policy] = process.argv.slice(2);
const tables = JSON.parse(readFileSync(0, "utf8"));
const read = (name) => parseHTML(readFileSync(`${site}/${name}`, "utf8")).document;

// What only a screen can use, and what the rest of the page says already.
const ON_SCREEN_ONLY = [
  "script", "style", "button", "template", ".headerlink", ".on-page", ".sure-key", ".calc-actions", ".calc-explorers", ".calc-unable", ".calc-status", ".calc-summary", ".calc-error", ".calc-hint", ".calc-leads", ".calc-words",
  ".calc-plotted", ".calc-text-equivalent", ".figure-narrow", "[data-copy-state]", "[data-copy-buttons]", "[data-live]", "[hidden]",
].join(", ");
const REFERS = ["for", "headers", "list", "aria-describedby", "aria-labelledby", "aria-controls"]; // attributes that hold ids
const MOST = 40, SHOWN = 12; // rows of a wide table that are printed whole, and those of a longer one that are: a logbook stands on four pages
const LONG = 14; // rows of a narrow table from which on it goes into columns
const LEFT_OUT = ["plan.html", "method/intact.html", "records/posters.html"]; // nothing to read without a script; drawings that stand in their chapters

const index = read("index.html");
const title = index.querySelector(".head-name").textContent.trim();

/** [{title, page, inside: […]}] of the contents that every page has. */
function contents(list) {
  return [...list.children].map((item) => {
    const link = item.querySelector(":scope > a"), inside = item.querySelector(":scope > ul");
    return { title: link.textContent.trim(), page: link.getAttribute("href"), inside: inside ? contents(inside) : [] };
  });
}

const kept = (entries) => entries.filter(({ page }) => !LEFT_OUT.includes(page)).map((entry) => ({ ...entry, inside: kept(entry.inside) }));
const order = kept(contents(index.querySelector("nav.book > ul")));
const flat = (entries, depth = 0) => entries.flatMap((entry) => [{ ...entry, depth }, ...flat(entry.inside, depth + 1)]);
const pages = flat(order).filter(({ page }) => page);
const slug = (page) => page.replace(/\.html$/, "").replaceAll("/", "-");

const { document } = parseHTML("<!doctype html><html lang=\"en\"><head></head><body></body></html>");

function make(tag, properties = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(properties)) element.setAttribute(name, value);
  element.append(...children);
  return element;
}

/** What stands in a table to fill in, as a table. Its text was read by Python (scripts/site/whole.py). */
function rowsOf(area) {
  const columns = JSON.parse(area.dataset.columns);
  const read = tables[area.textContent];
  if (!read?.rows.length) return area.textContent.trim() && !read ? area.textContent.trim() : "none";
  const used = read.columns.map((_, at) => read.rows.some((row) => row[at]));
  const title = (name) => [columns.find((column) => column.name === name).label, ...(read.headings[name] ?? []).map((mark) => `(${mark})`)].join(" ");
  const line = (cells, tag) => make("tr", {}, ...cells.filter((_, at) => used[at]).map((cell) => make(tag, tag === "th" ? { scope: "col" } : {}, cell)));
  const width = used.filter(Boolean).length;
  const shown = width > 3 && read.rows.length > MOST ? read.rows.slice(0, SHOWN) : read.rows;
  const rest = read.rows.length - shown.length;
  const more = rest ? [make("tr", {}, make("td", { colspan: `${width}` }, `… and ${rest} rows more, in the handbook itself`))] : [];
  return make("table", {}, make("thead", {}, line(read.columns.map(title), "th")), make("tbody", {}, ...shown.map((row) => line(row, "td")), ...more));
}

/** A form as a list of what was filled in. */
function given(form) {
  const list = make("dl", { class: "calc-given" });
  for (const field of form.querySelectorAll(".calc-field")) {
    const control = field.querySelector("input, select, textarea");
    const value = control.localName === "select" ? control.querySelector("option[selected]")?.textContent ?? ""
      : control.localName === "textarea" ? (control.dataset.columns ? rowsOf(control) : control.textContent.trim()) : control.getAttribute("value") ?? "";
    const label = field.querySelector("label");
    const unit = field.querySelector(".calc-unit")?.textContent ?? "";
    const name = label.firstChild.textContent.trim();
    const wide = typeof value !== "string" || value.length > 40;
    const long = wide && typeof value !== "string" && value.querySelectorAll("tr").length > LONG && value.querySelectorAll("tr:first-child th").length <= 3;
    list.append(make("div", wide ? { class: `calc-given-wide${long ? " calc-given-long" : ""}` } : {}, make("dt", {}, name), make("dd", {}, value === "" ? "–" : value, typeof value === "string" && value && unit ? ` ${unit}` : "")));
  }
  return list;
}

/** A fold, opened for good. */
function unfolded(fold) {
  const summary = fold.querySelector("summary");
  const rest = [...fold.childNodes].filter((part) => part !== summary);
  const kind = [fold.getAttribute("class"), fold.hasAttribute("open") && "whole-open"].filter(Boolean).join(" ");
  const [outer, inner] = fold.closest(".calc, .calc-figure, .materials") ? [`whole-fold ${kind}`, "whole-fold-title"] : [`admonition ${kind}`, "admonition-title"];
  return make("div", { class: outer.trim() }, make("p", { class: inner }, ...summary.childNodes), ...rest);
}

let key; // what the marks of certainty mean: once for the whole book
const places = new Set(); // every id of the page that is made

function chapter({ page, title: words, depth }) {
  const article = read(page).querySelector("article");
  for (const part of article.querySelectorAll("form.calc-form")) part.replaceWith(given(part));
  key ??= article.querySelector(".sure-key")?.cloneNode(true);
  for (const part of article.querySelectorAll(ON_SCREEN_ONLY)) part.remove();
  for (const part of article.querySelectorAll("p")) if (/^Next:/.test(part.textContent.trim())) part.remove(); // in a book the next page follows
  for (const part of [...article.querySelectorAll("details")].reverse()) part.replaceWith(unfolded(part));
  for (const part of article.querySelectorAll("p, header, div")) if (!part.children.length && !part.textContent.trim() && !part.id) part.remove();
  for (const part of article.querySelectorAll("section.calc")) part.removeAttribute("aria-labelledby"); // one calculator may stand on two pages: no landmark
  const mine = slug(page);
  for (const part of article.querySelectorAll("*")) {
    for (const name of [...part.getAttributeNames()]) {
      const value = part.getAttribute(name);
      if (name === "id") part.setAttribute(name, `${mine}--${value}`);
      else if (REFERS.includes(name)) part.setAttribute(name, value.split(/\s+/).map((id) => `${mine}--${id}`).join(" "));
      else if (name === "tabindex" || name === "download" || name.startsWith("data-")) part.removeAttribute(name);
      else if (/url\(#/.test(value)) part.setAttribute(name, value.replace(/url\(#/g, `url(#${mine}--`));
      else if (name === "src") part.setAttribute(name, posix.join(posix.dirname(page), value));
    }
  }
  // A part of a page is a part of a chapter: its headings go down by the depth in the contents, and one more for the title of the book.
  for (const part of article.querySelectorAll("h1, h2, h3, h4, h5, h6")) {
    const level = Math.min(6, Number(part.localName[1]) + depth + 1);
    const heading = make(`h${level}`, {}, ...part.childNodes);
    for (const name of part.getAttributeNames()) heading.setAttribute(name, part.getAttribute(name));
    part.replaceWith(heading);
  }
  const section = make("section", { id: mine, class: depth ? "whole-page" : "whole-page whole-chapter", "aria-label": words }, ...article.childNodes);
  places.add(mine);
  for (const part of section.querySelectorAll("[id]")) places.add(part.id);
  return { page, section };
}

const chapters = pages.map(chapter);
const known = new Map(pages.map(({ page }) => [page, slug(page)]));

for (const { page, section } of chapters) {
  for (const link of section.querySelectorAll("a[href]")) {
    const href = link.getAttribute("href");
    if (/^[a-z]+:/i.test(href)) continue;
    const [path, fragment = ""] = href.split("#");
    const there = path ? posix.join(posix.dirname(page), path) : page;
    const inside = known.get(there);
    const exact = `${inside}--${fragment}`;
    if (inside) link.setAttribute("href", `#${fragment && places.has(exact) ? exact : inside}`);
    else if (existsSync(`${site}/${there}`)) link.setAttribute("href", there + (fragment ? `#${fragment}` : ""));
    else link.replaceWith(...link.childNodes); // what comes later in the build, such as the file of the whole handbook
  }
}

const listed = (entries) => make("ol", {}, ...entries.map(({ title: words, page, inside }) => make("li", {}, page ? make("a", { href: `#${slug(page)}` }, words) : words, ...(inside.length ? [listed(inside)] : []))));
const version = index.querySelector("[data-version]");
const terms = version?.parentElement.textContent.replace(/\s+/g, " ").trim() ?? "";
const cover = make("header", { class: "whole-cover" }, make("img", { src: index.querySelector(".head-name img").getAttribute("src"), alt: "", width: "64", height: "64" }), make("h1", {}, title),
  make("p", {}, index.querySelector('meta[name="description"]').getAttribute("content")), make("p", { class: "whole-terms" }, terms), ...(key ? [key] : []),
  make("p", { class: "whole-screen" }, "This page is made for paper: use the print command of your browser. ", make("a", { href: "index.html" }, "Back to the handbook"), "."));
const nav = make("nav", { class: "whole-contents", "aria-label": "Contents" }, make("h2", {}, "Contents"), listed(order));
const main = make("main", { class: "page md-typeset whole" }, cover, nav, ...chapters.map(({ section }) => section));

const sheets = [...index.querySelectorAll('link[rel="stylesheet"]')].map((link) => link.outerHTML).join("");
const description = `${title}, all of it on one page to print: every chapter, with the calculators' answers, figures, working and sources.`;
const escape = (text) => text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll('"', "&quot;");
writeFileSync(`${site}/${target}`, `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="${policy}"><meta name="viewport" content="width=device-width,initial-scale=1">
<title>${escape(title)}: all of it to print</title><meta name="description" content="${escape(description)}"><meta name="robots" content="noindex"><link rel="icon" href="${index.querySelector('link[rel="icon"]').getAttribute("href")}">${sheets}</head>
<body dir="ltr">${main.outerHTML}</body></html>
`);
process.stdout.write(`${pages.length}\n`);
