// A table input: a text field of comma-separated values, which may also be pasted, dropped or opened from a file. Short ones
// are shown as a small table of fields instead; the text field underneath always holds the truth. Rows are counted below the
// heading, as Python counts them when it tells an error.

import { make } from "./element.js";

const MOST_ROWS = 24;

/** [[cell]] of CSV text, blank lines included. */
export function parse(text) {
  text = text.replace(/^\uFEFF/, "").replace(/\r\n?/g, "\n");
  const lines = [[]];
  let cell = "", quoted = false;
  for (let place = 0; place < text.length; place++) {
    const letter = text[place];
    if (quoted && letter === '"' && text[place + 1] === '"') cell += text[++place];
    else if (letter === '"') quoted = !quoted;
    else if (!quoted && letter === ",") { lines.at(-1).push(cell); cell = ""; }
    else if (!quoted && letter === "\n") { lines.at(-1).push(cell); lines.push([]); cell = ""; }
    else cell += letter;
  }
  lines.at(-1).push(cell);
  return lines;
}

const write = (lines) => lines.map((line) => line.map((cell) => (/[",\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell)).join(",")).join("\n");
const isRow = (line) => line.length > 1 || line[0].trim() !== ""; // a line of commas is a row that waits to be filled in

export function attachRows(textarea, changed) {
  const columns = JSON.parse(textarea.dataset.columns);
  const label = textarea.labels[0]?.firstChild.textContent.trim() ?? "";
  const tools = make("div", { className: "calc-rows-tools" });
  const file = make("input", { type: "file", accept: ".csv,.txt,text/csv,text/plain", hidden: true });
  const open = make("button", { type: "button", textContent: "Open a file" });
  const swap = make("button", { type: "button" });
  const place = make("div", { className: "calc-rows" });
  open.setAttribute("aria-label", `Open a file: ${label}`);
  tools.append(open, swap, file);
  textarea.after(place, tools);

  const take = async (chosen) => {
    if (!chosen) return;
    textarea.value = await chosen.text();
    show();
    changed();
  };
  open.onclick = () => file.click();
  file.onchange = () => take(file.files[0]);
  textarea.addEventListener("dragover", (event) => event.preventDefault());
  textarea.addEventListener("drop", (event) => {
    if (!event.dataTransfer.files.length) return;
    event.preventDefault();
    take(event.dataTransfer.files[0]);
  });

  let asText = false;
  swap.onclick = () => { asText = !asText; show(); };

  function control(column, value, name, store) {
    let field;
    if (column.options) {
      field = make("select");
      if (!(value in column.options)) field.append(make("option", { value, textContent: value }));
      for (const [key, words] of Object.entries(column.options)) field.append(make("option", { value: key, textContent: words }));
    } else {
      field = make("input", { type: "text", autocomplete: "off" });
      if (column.suggestions) {
        const list = make("datalist", { id: `${textarea.id}-${column.name}-list` }, ...column.suggestions.map((text) => make("option", { value: text })));
        if (!document.getElementById(list.id)) place.after(list);
        field.setAttribute("list", list.id);
      }
    }
    field.value = value;
    field.setAttribute("aria-label", name);
    field.onchange = (event) => { event.stopPropagation(); store(field.value); };
    return field;
  }

  function show() {
    const lines = parse(textarea.value);
    const first = Math.max(0, lines.findIndex(isRow));
    const names = lines[first].map((cell) => cell.replace(/\s*[([].*$/, "").trim().toLowerCase());
    const chosen = names.map((name) => columns.find((column) => column.name === name));
    const fits = chosen.every(Boolean) && lines.slice(first + 1).filter(isRow).length <= MOST_ROWS;
    const shown = fits && !asText;
    place.hidden = !shown;
    textarea.hidden = shown;
    swap.hidden = !fits;
    swap.textContent = shown ? "Edit as text" : "Edit as a table";
    swap.setAttribute("aria-label", `${swap.textContent}: ${label}`);
    place.replaceChildren();
    if (!shown) return;

    const titles = chosen.map((column, at) => column.label + (/[([]/.test(lines[first][at]) ? ` ${lines[first][at].match(/[([].*$/)[0]}` : ""));
    const save = () => { textarea.value = write(lines); changed(); };
    const head = [make("td"), ...titles.map((title) => make("th", { scope: "col", textContent: title })), make("td")];
    const body = make("tbody");
    const add = make("button", { type: "button", textContent: "Add a row" });
    const table = make("table", { className: "bare" }, make("thead", {}, make("tr", {}, ...head)), body);
    table.setAttribute("aria-label", label);
    table.setAttribute("aria-describedby", textarea.getAttribute("aria-describedby"));

    function draw() {
      body.replaceChildren();
      lines.forEach((line, at) => { if (at > first && isRow(line)) body.append(row(line, at)); });
    }
    function row(line, at) {
      const number = at - first;
      while (line.length < names.length) line.push("");
      const cells = chosen.map((column, nth) => make("td", {}, control(column, line[nth], `${titles[nth]}, row ${number}`, (text) => { line[nth] = text; save(); })));
      const remove = make("button", { type: "button", textContent: "×" });
      remove.setAttribute("aria-label", `Remove row ${number}`);
      remove.onclick = () => {
        const rank = [...body.children].findIndex((shown) => shown.contains(remove));
        lines.splice(at, 1);
        save();
        draw();
        (body.children[Math.min(rank, body.children.length - 1)]?.querySelector("button") ?? add).focus();
      };
      const drawn = make("tr", {}, make("th", { scope: "row", textContent: number }), ...cells, make("td", {}, remove));
      drawn.dataset.row = number;
      return drawn;
    }
    add.onclick = () => {
      while (lines.length > first + 1 && !isRow(lines.at(-1))) lines.pop();
      lines.push(names.map(() => ""));
      textarea.value = write(lines);
      draw();
      body.lastElementChild.querySelector("input, select").focus();
    };
    draw();
    place.append(table, add);
  }

  // What Python tells of a row ("Row 2, mass “abc”: …") is marked there as well as below the table.
  textarea.addEventListener("handbook:told", ({ detail: message }) => {
    for (const marked of place.querySelectorAll("[aria-invalid]")) marked.removeAttribute("aria-invalid");
    for (const [, number, title] of message.matchAll(/\bRow (\d+)(?:, ([^:“]+?))?(?: “|:| \()/g)) {
      const controls = [...place.querySelectorAll(`tr[data-row="${number}"] :is(input, select)`)];
      const named = controls.filter((field) => title && field.getAttribute("aria-label").toLowerCase().startsWith(title.toLowerCase()));
      for (const field of named.length ? named : controls) {
        field.setAttribute("aria-invalid", "true");
        field.setAttribute("aria-describedby", `${textarea.id}-error`);
      }
    }
  });

  show();
  return show;
}
