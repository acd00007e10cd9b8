// Words and numbers on a figure: how wide they are, how they wrap, how a number or a day is written.

const NARROW = "iljtfrI.,:;'|!()[] ·-";
const WIDE = "mwMW@%—−+=";

/** Width of a text in pixels, estimated (there is no font to measure at build time) and rather too wide than too narrow. */
export function widthOf(text, size) {
  let total = 0;
  for (const letter of String(text)) {
    total += NARROW.includes(letter) ? 0.37 : WIDE.includes(letter) ? 0.92 : /[A-Z]/.test(letter) ? 0.7 : /\d/.test(letter) ? 0.64 : 0.6;
  }
  return total * size;
}

export const widest = (lines, size) => Math.max(0, ...lines.map((line) => widthOf(line, size)));

/** Lines of a text, broken at spaces so that each fits the width where its words do. */
export function wrap(text, width, size) {
  const lines = [];
  for (const word of String(text ?? "").split(/\s+/).filter(Boolean)) {
    const longer = lines.length ? `${lines.at(-1)} ${word}` : word;
    if (lines.length && widthOf(longer, size) <= width) lines[lines.length - 1] = longer;
    else lines.push(word);
  }
  return lines;
}

/** A number as a reader writes it: 12,500 · 0.25 · −3; decimals follow the step between neighbours. */
export function number(value, step) {
  if (Math.abs(value) >= 1e7) return `${number(value / 1e6, step / 1e6)} million`;
  const decimals = Math.min(8, Math.max(0, -Math.floor(Math.log10(step) + 1e-9)));
  const [whole, part] = Math.abs(value).toFixed(decimals).split(".");
  const grouped = whole.replace(/\B(?=(\d{3})+$)/g, ",");
  const digits = part ? `${grouped}.${part}` : grouped;
  return value < 0 && /[1-9]/.test(digits) ? `−${digits}` : digits;
}

/** A number that stands alone, to three figures. */
export function alone(value) {
  if (value === 0) return "0";
  const step = 10 ** (Math.floor(Math.log10(Math.abs(value))) - 2);
  const text = number(value, Math.min(step, 1));
  return text.includes(".") ? text.replace(/\.?0+$/, "") : text;
}

const MONTHS = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split(" ");
const HOUR = 3600e3, DAY = 24 * HOUR;

/** Words under each time tick; the second line gives the larger unit where it begins. */
export function timeWords(ticks) {
  const step = ticks.length > 1 ? ticks[1] - ticks[0] : DAY;
  let last = "";
  return ticks.map((tick) => {
    const day = new Date(tick);
    const date = `${day.getUTCDate()} ${MONTHS[day.getUTCMonth()]}`;
    const year = String(day.getUTCFullYear());
    if (step >= 360 * DAY) return year;
    const [small, large] = step < DAY ? [day.toISOString().slice(11, 16), date]
      : step < 28 * DAY ? [date, year] : [MONTHS[day.getUTCMonth()], year];
    const text = large === last ? small : `${small}\n${large}`;
    last = large;
    return text;
  });
}

/** About `count` round numbers from low to high. */
export function linearTicks(low, high, count) {
  const rough = (high - low) / Math.max(1, count);
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = power * [1, 2, 5, 10].find((factor) => factor * power >= rough * 0.999);
  const ticks = [];
  for (let k = Math.ceil(low / step - 1e-9); k <= high / step + 1e-9; k++) ticks.push(Number((k * step).toPrecision(12)));
  return { ticks, step };
}

/** Tick values on a log axis: 1, 2 and 5 of every decade where there is room, else the decades. */
export function logTicks(low, high, count) {
  const series = (factors) => {
    const ticks = [];
    for (let decade = Math.floor(Math.log10(low)); decade <= Math.ceil(Math.log10(high)); decade++) {
      for (const factor of factors) ticks.push(Number((factor * 10 ** decade).toPrecision(12)));
    }
    return ticks.filter((tick) => tick >= low * 0.999999 && tick <= high * 1.000001);
  };
  return [[1, 2, 5], [1, 3], [1]].map(series).find((ticks) => ticks.length <= Math.max(2, count)) ?? series([1]);
}

/** Whole hours, days, Mondays, months or years, about `count` of them. */
export function timeTicks(low, high, count) {
  const most = Math.max(2, count);
  for (const step of [1, 2, 3, 6, 12, 24, 48, 96, 168, 336].map((hours) => hours * HOUR)) {
    if ((high - low) / step > most) continue;
    const offset = step >= 7 * DAY ? 4 * DAY : 0; // 1970-01-05 was a Monday
    const ticks = [];
    for (let tick = Math.ceil((low - offset) / step) * step + offset; tick <= high; tick += step) ticks.push(tick);
    return ticks;
  }
  for (const months of [1, 2, 3, 6, 12, 24, 60, 120, 240, 600, 1200]) {
    if ((high - low) / (months * 30.4 * DAY) > most) continue;
    const ticks = [];
    const first = new Date(low);
    for (let month = Math.floor((first.getUTCFullYear() * 12 + first.getUTCMonth()) / months) * months; ; month += months) {
      const tick = Date.UTC(Math.floor(month / 12), month % 12);
      if (tick > high) return ticks;
      if (tick >= low) ticks.push(tick);
    }
  }
  return [low, high];
}
