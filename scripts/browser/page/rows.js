// A table input: a text field of comma-separated values, which may also be pasted, dropped or opened from a file. Short ones
// are shown as a small table of fields instead; the text field underneath always holds the truth.

const MOST_ROWS = 24;

/** [[cell]] of CSV text. */
export function parse(text) {
  const rows = [[]];
  let cell = "", quoted = false;
  for (let place = 0; place < text.length; place++) {
    const letter = text[place];
    if (quoted && letter === '"' && text[place + 1] === '"') cell += text[++place];
    else if (letter === '"') quoted = !quoted;
    else if (!quoted && letter === ",") { rows.at(-1).push(cell); cell = ""; }
    else if (!quoted && letter === "\n") { rows.at(-1).push(cell); rows.push([]); cell = ""; }
    else cell += letter;
  }
  rows.at(-1).push(cell);
  return rows.filter((row) => row.some((item) => item.trim()));
}

const write = (rows) => rows.map((row) => row.map((cell) => (/[",\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell)).join(",")).join("\n");

function make(tag, properties = {}, ...children) {
  const element = Object.assign(document.createElement(tag), properties);
  element.append(...children);
  return element;
}

export function attachRows(textarea, changed) {
  const columns = JSON.parse(textarea.dataset.columns);
  const tools = make("div", { className: "calc-rows-tools" });
  const file = make("input", { type: "file", accept: ".csv,.txt,text/csv,text/plain", hidden: true });
  const open = make("button", { type: "button", textContent: "Open a file" });
  const swap = make("button", { type: "button" });
  const table = make("div", { className: "calc-rows" });
  tools.append(open, swap, file);
  textarea.after(table, tools);

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

  function control(column, value, label, store) {
    let field;
    if (column.options) {
      field = make("select");
      if (!(value in column.options)) field.append(make("option", { value, textContent: value }));
      for (const [key, words] of Object.entries(column.options)) field.append(make("option", { value: key, textContent: words }));
    } else {
      field = make("input", { type: "text", autocomplete: "off" });
      if (column.suggestions) {
        const list = make("datalist", { id: `${textarea.id}-${column.name}-list` }, ...column.suggestions.map((text) => make("option", { value: text })));
        if (!document.getElementById(list.id)) table.after(list);
        field.setAttribute("list", list.id);
      }
    }
    field.value = value;
    field.setAttribute("aria-label", label);
    field.onchange = (event) => { event.stopPropagation(); store(field.value); };
    return field;
  }

  function show() {
    const [head, ...rows] = parse(textarea.value);
    const names = head?.map((cell) => cell.replace(/\s*[([].*$/, "").trim().toLowerCase()) ?? [];
    const fits = rows.length <= MOST_ROWS && names.length > 0 && names.every((name) => columns.some((column) => column.name === name));
    const shown = fits && !asText;
    table.hidden = !shown;
    textarea.hidden = shown;
    swap.hidden = !fits;
    swap.textContent = shown ? "Edit as text" : "Edit as a table";
    table.replaceChildren();
    if (!shown) return;
    const save = () => { textarea.value = write([head, ...rows]); changed(); };
    const titles = names.map((name, place) => columns.find((column) => column.name === name).label + (/[([]/.test(head[place]) ? ` ${head[place].match(/[([].*$/)[0]}` : ""));
    const body = rows.map((row, line) => {
      while (row.length < names.length) row.push("");
      const remove = make("button", { type: "button", textContent: "×" });
      remove.setAttribute("aria-label", `Remove row ${line + 1}`);
      remove.onclick = () => { rows.splice(line, 1); save(); show(); };
      const cells = names.map((name, place) => make("td", {}, control(columns.find((column) => column.name === name), row[place], `${titles[place]}, row ${line + 1}`, (text) => { row[place] = text; save(); })));
      return make("tr", {}, ...cells, make("td", {}, remove));
    });
    const add = make("button", { type: "button", textContent: "Add a row" });
    add.onclick = () => { rows.push(names.map(() => "")); textarea.value = write([head, ...rows, names.map(() => "")]); redraw(); };
    const redraw = () => { drawBody(); table.querySelector("tbody tr:last-child input, tbody tr:last-child select")?.focus(); };
    const tbody = make("tbody", {}, ...body);
    function drawBody() {
      const row = rows.at(-1), line = rows.length - 1;
      const cells = names.map((name, place) => make("td", {}, control(columns.find((column) => column.name === name), row[place], `${titles[place]}, row ${line + 1}`, (text) => { row[place] = text; save(); })));
      tbody.append(make("tr", {}, ...cells, make("td")));
    }
    table.append(make("table", {}, make("thead", {}, make("tr", {}, ...titles.map((title) => make("th", { scope: "col", textContent: title })), make("td"))), tbody), add);
  }
  show();
  return show;
}
