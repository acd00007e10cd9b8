// @ts-check
// A table input. Its text field holds what is sent: text that was pasted or saved, or, once a cell was changed, the rows as JSON.
// Python reads and writes all text; here a short table is a small table of fields, and a file is shown as Python understood it
// before it is used. Rows are counted as Python counts them when it tells an error.

import { make } from "./element.js";

/** @typedef {{name: string, label: string, unit: string, options?: Record<string, string>, suggestions?: string[], words?: boolean}} Column */
/** @typedef {{columns: string[], headings: Record<string, string[]>, rows: string[][], numbers?: number[] | null}} Rows */
/** @typedef {{answer: string, words: string}} Option */
/** @typedef {{about: string, words: string, options: Option[], heads?: string[]}} Question */
/** @typedef {{message: string, cells?: [number, string | null][], question?: Question | null}} Told */
/** @typedef {{ok: boolean, errors: Told[], text: string, table: Rows | null, count: number, notes: string[], heads?: string[], first: string[][], dropped?: string[], question?: Question | null, cells?: string[][]}} Read */
/** @typedef {(call: string, more: Record<string, unknown>) => Promise<Read | null>} Ask */

const MOST_BYTES = 8_000_000; // of a file, as in calc/page/block.py
const HEAD = 4096; // bytes of it by which its kind is known
const MOST_LINES = 96; // of a text that may be shown as fields, as in calc/page/controls.py
const SURELY = 20_000; // characters; a shorter text may be of another form, with fewer rows than lines
const LONG = 50_000; // characters; a browser takes a second to lay out a text field of twenty times as many, each time anew

/** The bytes of a file in base64.
 * @param {Blob} file @returns {Promise<string>} */
export function base64(file) {
  return new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.onload = () => resolve(String(reader.result).replace(/^[^,]*,?/, ""));
    reader.onerror = () => reject(reader.error);
    reader.readAsDataURL(file);
  });
}

/** What Python says of the kind of a file, by its first bytes: a picture is told at once. Null where it is no longer wanted.
 * @param {Blob} file @param {string} input @param {Ask} ask @param {() => boolean} wanted @returns {Promise<Read | null>} */
export async function kindOf(file, input, ask, wanted) {
  const data = await base64(file.slice(0, HEAD));
  const kind = wanted() ? await ask("table", { input, data, kind: true }) : null;
  return wanted() ? kind : null;
}

/** @param {number} count */
const rowsInWords = (count) => (count === 1 ? "1 row" : `${count.toLocaleString("en")} rows`);

/** Make a table of a text field. changed: called after each change; ask: Python; stop: what it is doing.
 * @param {HTMLTextAreaElement} textarea @param {() => void} changed @param {Ask} ask @param {() => void} stop @returns {() => void} draws it anew from its text */
export function attachRows(textarea, changed, ask, stop) {
  /** @type {Column[]} */
  const columns = JSON.parse(textarea.dataset.columns ?? "[]");
  const made = { text: textarea.defaultValue, rows: textarea.dataset.rows ?? "null" };
  const label = textarea.labels[0]?.firstChild?.textContent?.trim() ?? "";
  const tools = make("div", { className: "calc-rows-tools" });
  const file = make("input", { type: "file", accept: ".csv,.txt,.tsv,.tab,text/csv,text/plain,text/tab-separated-values", hidden: true });
  const open = make("button", { type: "button", textContent: "Open a file" });
  const swap = make("button", { type: "button" });
  const place = make("div", { className: "calc-rows" });
  const look = make("div", { className: "calc-rows-look", hidden: true });
  open.setAttribute("aria-label", `Open a file: ${label}`);
  look.setAttribute("role", "group");
  look.setAttribute("aria-live", "polite");
  look.setAttribute("aria-label", `What was read: ${label}`);
  tools.append(open, swap, file);
  textarea.after(place, tools, look);

  /** @type {Rows | null} */
  let rows = null;
  let asText = false, turn = 0, asking = false;
  /** @type {Told | null} */
  let told = null;

  // ---- what stands in the field

  /** @param {Rows} table */
  const asJson = ({ columns: names, headings, rows: cells }) => JSON.stringify({ columns: names, headings, rows: cells });
  /** The text is the one that the field was made with. */
  const untouched = () => textarea.value === made.text || textarea.value === textarea.dataset.default && made.text === textarea.dataset.default;

  /** The cells of the small table into the field; where nothing differs from what it was made with, that text.
   * @param {Rows} table @param {boolean} left whether the cell was left; else it is being typed in, and kept at every key */
  function keep(table, left = true) {
    table.numbers = null;
    const same = JSON.parse(made.rows);
    textarea.value = same && asJson(same) === asJson(table) ? made.text : asJson(table);
    if (left) changed();
    else textarea.dispatchEvent(new Event("input", { bubbles: true }));
  }

  /** Another text into the field, with its rows where they are few.
   * @param {string} text @param {Rows | null} table */
  function use(text, table) {
    textarea.value = text;
    rows = table;
    draw();
    changed();
  }

  /** What the field holds now, drawn; what is not known yet is asked of Python. */
  async function show() {
    const now = ++turn;
    look.hidden = true;
    if (untouched()) rows = JSON.parse(made.rows);
    else if (textarea.value.startsWith('{"')) rows = JSON.parse(textarea.value);
    else {
      rows = null;
      draw();
      if (textarea.value.length > SURELY && textarea.value.split("\n", MOST_LINES + 2).length > MOST_LINES + 1) return;
      await undefined; // the form is being made
      const answer = await ask("table", { input: textarea.name, text: textarea.value });
      if (!answer || now !== turn) return;
      rows = answer.table;
    }
    draw();
  }

  // ---- files, and what can mean two things

  /** @param {File | null | undefined} chosen */
  async function take(chosen) {
    if (!chosen) return;
    const now = ++taking;
    if (chosen.size > MOST_BYTES) return say(`${chosen.name} is too large: ${MOST_BYTES / 1e6} MB are the most that can be read.`);
    const end = button("Stop", () => {
      taking++;
      stop();
      say("Stopped: nothing was changed.");
    });
    say(`Reading ${chosen.name} …`);
    look.append(end);
    const kind = await kindOf(chosen, textarea.name, ask, () => now === taking);
    if (!kind) return;
    if (!kind.ok) return refuse(kind);
    const data = await base64(chosen);
    if (now === taking) await read({ data }, {}, chosen.name);
  }
  let taking = 0; // counts files, and stops

  /** @param {Read} answer */
  function refuse({ errors }) {
    look.replaceChildren(...errors.map(({ message }) => make("p", { className: "calc-error", textContent: message })), button("Close", () => { look.hidden = true; }));
  }

  /** @param {string} words */
  function say(words) {
    look.hidden = false;
    look.replaceChildren(make("p", { textContent: words }));
  }

  /** Read a text or a file, and ask what Python asks; a file is shown as it was understood before it is used.
   * @param {{data: string} | {text: string}} what @param {Record<string, unknown>} answers @param {string} [name] of a file */
  async function read(what, answers, name) {
    const now = taking;
    const answer = await ask("table", { input: textarea.name, ...what, answers, read: true });
    if (!answer || now !== taking) return; // stopped, or another file was opened meanwhile
    look.hidden = asking = false;
    if (answer.question) return put(answer.question, (reply) => read(what, { ...answers, ...reply }, name));
    if (!answer.ok) return refuse(answer);
    if (!name) {
      look.hidden = true;
      return use(answer.text, answer.table);
    }
    const yes = button(`Use ${answer.count === 1 ? "this row" : `these ${rowsInWords(answer.count)}`}`, () => {
      look.hidden = true;
      asText = false;
      use(answer.text, answer.table);
      (/** @type {HTMLElement | null} */ (place.querySelector("input, select, button")) ?? textarea).focus();
    });
    const head = make("tr", {}, ...(answer.heads ?? []).map((words) => make("th", { scope: "col", textContent: words })));
    const body = answer.first.map((cells) => make("tr", {}, ...cells.map((words) => make("td", { textContent: words }))));
    const scroll = make("div", { className: "calc-scroll", tabIndex: 0 }, make("table", { className: "bare" }, make("thead", {}, head), make("tbody", {}, ...body)));
    scroll.setAttribute("role", "group");
    scroll.setAttribute("aria-label", "The first rows as understood");
    const more = [...answer.notes, ...(answer.dropped ?? []).slice(0, 5)];
    if ((answer.dropped?.length ?? 0) > 5) more.push(`And ${(answer.dropped?.length ?? 0) - 5} more rows that cannot be read.`);
    look.replaceChildren(
      make("p", { textContent: `${name}: ${rowsInWords(answer.count)}. The first ones as understood:` }), scroll,
      make("ul", { hidden: !more.length }, ...more.map((words) => make("li", { textContent: words }))), yes, button("Leave it", () => { look.hidden = true; }),
    );
    yes.focus();
  }

  /** @param {string} words @param {() => void} pressed */
  function button(words, pressed) {
    return make("button", { type: "button", textContent: words, onclick: pressed });
  }

  /** Ask the reader one question.
   * @param {Question} question @param {(reply: Record<string, unknown>) => void} answered */
  function put(question, answered) {
    look.hidden = false;
    asking = true;
    const words = make("p", { textContent: question.words });
    if (question.about !== "columns") {
      const choices = question.options.map(({ answer, words: said }) => button(said, () => answered({ [question.about]: answer })));
      return look.replaceChildren(words, make("div", { className: "calc-rows-tools" }, ...choices));
    }
    const fields = (question.heads ?? []).map((head) => {
      const choice = make("select", {}, ...question.options.map(({ answer, words }) => make("option", { value: answer, textContent: words })));
      choice.value = "";
      return { head, choice, line: make("label", {}, `“${head}” is `, choice) };
    });
    const go = button("Go on", () => answered({ columns: Object.fromEntries(fields.map(({ head, choice }) => [head, choice.value]).filter(([, name]) => name)) }));
    return look.replaceChildren(words, make("div", { className: "calc-rows-heads" }, ...fields.map(({ line }) => line)), go);
  }

  open.onclick = () => file.click();
  file.onchange = () => { take(file.files?.[0]); file.value = ""; };
  textarea.parentElement?.addEventListener("dragover", (event) => event.preventDefault());
  textarea.parentElement?.addEventListener("drop", (event) => {
    if (!event.dataTransfer?.files.length) return;
    event.preventDefault();
    take(event.dataTransfer.files[0]);
  });
  swap.onclick = async () => {
    asText = !asText;
    if (asText && textarea.value.startsWith('{"')) { // the same as text, as Python writes it
      const answer = await ask("table", { input: textarea.name, text: textarea.value });
      if (!answer) return;
      textarea.value = answer.text;
    }
    if (asText) draw();
    else show();
  };

  // ---- the small table

  /** @param {Column} column @param {string} value @param {string} name @param {(text: string, left: boolean) => void} store */
  function control(column, value, name, store) {
    /** @type {HTMLInputElement | HTMLSelectElement} */
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
    field.dataset.column = column.name;
    if (column.words) field.dataset.words = "";
    field.oninput = (event) => { event.stopPropagation(); store(field.value, false); };
    field.onchange = (event) => { event.stopPropagation(); store(field.value, true); };
    return field;
  }

  /** A long text, once the reader wants to see it. */
  function showText() {
    asText = true;
    draw();
    textarea.focus();
  }

  function draw() {
    const shown = Boolean(rows) && !asText;
    const long = !rows && !asText && textarea.value.length > LONG;
    place.hidden = !(shown || long);
    textarea.hidden = shown || long;
    swap.hidden = !rows;
    swap.textContent = shown ? "Edit as text" : "Edit as a table";
    swap.setAttribute("aria-label", `${swap.textContent}: ${label}`);
    place.replaceChildren();
    if (rows && shown) drawTable(rows);
    if (long) place.append(make("p", { textContent: "This table is too long to show here. All of it is used." }), button("Show it as text", showText));
    mark();
  }

  /** @param {Rows} table */
  function drawTable(table) {
    const chosen = table.columns.map((name) => /** @type {Column} */ (columns.find((column) => column.name === name)));
    const titles = chosen.map(({ name, label: words }) => [words, ...(table.headings[name] ?? []).map((sign) => `(${sign})`)].join(" "));
    const head = [make("td"), ...titles.map((title) => make("th", { scope: "col", textContent: title })), make("td")];
    const body = make("tbody");
    const add = button("Add a row", () => {
      table.rows.push(chosen.map(() => ""));
      table.numbers = null;
      drawRows();
      /** @type {HTMLElement | null | undefined} */ (body.lastElementChild?.querySelector("input, select"))?.focus();
    });
    const drawn = make("table", { className: "bare" }, make("thead", {}, make("tr", {}, ...head)), body);
    drawn.setAttribute("aria-label", label);
    drawn.setAttribute("aria-describedby", textarea.getAttribute("aria-describedby") ?? "");

    function drawRows() {
      body.replaceChildren(...table.rows.map(row));
      mark();
    }

    /** @param {string[]} cells @param {number} at */
    function row(cells, at) {
      const number = table.numbers?.[at] ?? at + 1;
      const parts = chosen.map((column, nth) => {
        const field = control(column, cells[nth] ?? "", `${titles[nth]}, row ${number}`, (text, left) => {
          cells[nth] = text;
          keep(table, left);
        });
        field.addEventListener("paste", (event) => paste(/** @type {ClipboardEvent} */ (event), at, nth));
        return make("td", {}, field);
      });
      const remove = make("button", { type: "button", textContent: "×" });
      remove.setAttribute("aria-label", `Remove row ${number}`);
      remove.onclick = () => {
        table.rows.splice(at, 1);
        keep(table);
        drawRows();
        (body.children[Math.min(at, body.children.length - 1)]?.querySelector("button") ?? add).focus();
      };
      const line = make("tr", {}, make("th", { scope: "row", textContent: String(number) }), ...parts, make("td", {}, remove));
      line.dataset.row = String(number);
      return line;
    }

    /** A block that was copied from a spreadsheet goes into the cells from here on, with new rows where it is longer.
     * @param {ClipboardEvent} event @param {number} at @param {number} nth */
    async function paste(event, at, nth) {
      const text = event.clipboardData?.getData("text/plain") ?? "";
      if (!/[\t\n\r]/.test(text.trim())) return;
      event.preventDefault();
      const answer = await ask("block", { text });
      for (const [down, line] of (answer?.cells ?? []).entries()) {
        table.rows[at + down] ??= chosen.map(() => "");
        for (const [right, cell] of line.entries()) if (nth + right < chosen.length) table.rows[at + down][nth + right] = cell;
      }
      keep(table);
      if (table.rows.length > Number(textarea.dataset.most ?? 24)) show();
      else drawRows();
    }

    drawRows();
    place.append(drawn, add);
  }

  textarea.addEventListener("handbook:filled", () => show());

  // ---- what Python tells

  /** The cells that are meant, marked; whole rows where no column is named. */
  function mark() {
    for (const marked of place.querySelectorAll("[aria-invalid]")) marked.removeAttribute("aria-invalid");
    for (const [number, column] of told?.cells ?? []) {
      const which = column === null ? ":is(input, select)" : `[data-column="${CSS.escape(column)}"]`;
      for (const field of place.querySelectorAll(`tr[data-row="${number}"] ${which}`)) {
        field.setAttribute("aria-invalid", "true");
        field.setAttribute("aria-describedby", `${textarea.id}-error`);
      }
    }
  }

  textarea.addEventListener("handbook:told", (event) => {
    told = /** @type {CustomEvent<Told | null>} */ (event).detail;
    mark();
    const question = told?.question;
    if (question) put(question, (reply) => read({ text: textarea.value }, reply));
    else if (asking) look.hidden = true;
  });

  show();
  return show;
}
