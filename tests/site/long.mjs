// The page's end of what it tells Python, for test_long_texts.py. A line on stdin is {ask: args}, {answer: text of Python's answer, to:
// number of what was asked} or {anew: true}, as when Python was ended; each but the last is answered with a line.
import { createInterface } from "node:readline";
import { Given } from "../../scripts/browser/page/long.js";

let given = new Given();
const asked = [];
const say = (/** @type {unknown} */ found) => process.stdout.write(`${JSON.stringify(found)}\n`);
for await (const line of createInterface({ input: process.stdin })) {
  const { ask, answer, to, anew } = JSON.parse(line);
  if (anew) given = new Given();
  else if (ask) say(asked[asked.push(given.pack(ask)) - 1].packed);
  else say(asked[to].unpacked(answer));
}
