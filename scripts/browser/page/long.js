// Long texts, a logbook of years above all. What is asked again and again with such a text says its number instead: Python is given
// each of them once, and of one that differs little from another only the difference (calc/page/long.py is the other end).
// @ts-check

/** What stands in the place of a part of another text; places and lengths in letters, as Python counts them.
 *  @typedef {{ of: number, start: number, end: number, put: string, length: number }} Change */

const LONG = 20_000, LONGEST = 4_000_000; // characters; a longer text is a file that is read once
const MOST = 4_000_000; // characters of texts that are known by their numbers, of more than a few
const HELD = 4; // texts that Python keeps
const LITTLE = 0.5; // of a text; a change that is longer is none
const NAME = "long text", NAMES = "long texts"; // as in long.py

/** @param {unknown} part @returns {part is string} */
export const isLong = (part) => typeof part === "string" && part.length >= LONG;

let last = 0;
/** Those that were asked for last, the newest first. @type {{ number: number, text: string }[]} */
const known = [];

/** The number of a long text: one for one text.
 *  @param {string} text */
function numberOf(text) {
  const at = known.findIndex((one) => one.text === text);
  const [found] = at < 0 ? [{ number: ++last, text }] : known.splice(at, 1);
  known.unshift(found);
  for (let all = known.reduce((sum, one) => sum + one.text.length, 0); known.length > HELD && all > MOST;) all -= known.pop()?.text.length ?? 0;
  return found.number;
}

/** A value as JSON, its long texts by their numbers: the same for what is the same.
 *  @param {unknown} value @returns {string} */
export const brief = (value) => JSON.stringify(value, (_, part) => (isLong(part) ? { [NAME]: numberOf(part) } : part));

// ---- a letter beyond the first 65,536 is one to Python, and two halves to a script

const PAIRS = /[\ud800-\udbff][\udc00-\udfff]/g;
const isHalf = (/** @type {string} */ letter, /** @type {RegExp} */ which) => which.test(letter);

/** How many letters stand before a place. @param {string} text @param {number} place */
const letters = (text, place) => place - (text.slice(0, place).match(PAIRS)?.length ?? 0);

/** The place before which so many letters stand. @param {string} text @param {number} count */
function placeOf(text, count) {
  if (letters(text, text.length) === text.length) return count;
  let place = 0;
  for (let seen = 0; seen < count; seen++) place += /** @type {number} */ (text.codePointAt(place)) > 0xffff ? 2 : 1;
  return place;
}

/** What makes one text of another, whose number is given.
 *  @param {number} of @param {string} old @param {string} text @returns {Change} */
export function changeOf(of, old, text) {
  const most = Math.min(old.length, text.length);
  let start = 0, end = 0;
  while (start < most && old.charCodeAt(start) === text.charCodeAt(start)) start++;
  if (isHalf(text.charAt(start - 1), /[\ud800-\udbff]/)) start--;
  while (end < most - start && old.charCodeAt(old.length - 1 - end) === text.charCodeAt(text.length - 1 - end)) end++;
  if (end && isHalf(text.charAt(text.length - end), /[\udc00-\udfff]/)) end--;
  return { of, start: letters(old, start), end: letters(old, old.length - end), put: text.slice(start, text.length - end), length: letters(text, text.length) };
}

/** What one Python was given: another one begins with nothing. */
export class Given {
  /** By number, the one that was asked for last at the end. @type {Map<number, string>} */
  texts = new Map();

  /** What is asked, as JSON, its long texts by their numbers; those that Python lacks are told with it. `unpacked` reads the answer to
   *  it, whatever was asked meanwhile. Bytes of a file are no text that comes again.
   *  @param {Record<string, unknown>} args @returns {{ packed: string, unpacked: (answer: string) => any }} */
  pack(args) {
    /** @type {[number, string | Change][]} */
    const fresh = [];
    const asked = JSON.parse(JSON.stringify(args, (key, part) => {
      if (!isLong(part) || part.length > LONGEST || key === "data") return part;
      const number = numberOf(part);
      if (!this.texts.has(number)) fresh.push([number, this.#told(part)]);
      this.texts.delete(number);
      this.texts.set(number, part);
      return { [NAME]: number };
    }));
    for (const number of [...this.texts.keys()].slice(0, -HELD)) this.texts.delete(number);
    const held = new Map(this.texts);
    return { packed: JSON.stringify({ ...asked, [NAMES]: { fresh, held: [...held.keys()] } }), unpacked: (answer) => unpacked(answer, held) };
  }

  /** A text that Python lacks: how it differs from one that it has, or the whole.
   *  @param {string} text */
  #told(text) {
    const [least] = [...this.texts].map(([number, old]) => changeOf(number, old, text)).sort((one, other) => one.put.length - other.put.length);
    return least && least.put.length < LITTLE * text.length ? least : text;
  }
}

/** What Python answered, with its long texts: those that it held then, as they were or with a change.
 *  @param {string} answer @param {Map<number, string>} held @returns {any} */
function unpacked(answer, held) {
  return JSON.parse(answer, (_, part) => {
    const text = part && typeof part === "object" ? held.get(part[NAME]) : undefined;
    if (text === undefined) return part;
    return part.put === undefined ? text : text.slice(0, placeOf(text, part.start)) + part.put + text.slice(placeOf(text, part.end));
  });
}
