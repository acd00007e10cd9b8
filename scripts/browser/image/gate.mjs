// Whether an image answers as CPython does: node gate.mjs FOLDER < lines of cases.py. FOLDER holds the files that a reader gets.
// Texts have to be the same. Where only numbers differ, they may do so in their tenth digit: another libm rounds another way.

import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { createInterface } from "node:readline";

const [folder] = process.argv.slice(2);
const shipped = (pattern) => readFileSync(join(folder, readdirSync(folder).find((name) => pattern.test(name))));
const NUMBER = /-?\d+(?:\.\d+)?(?:e[-+]?\d+)?/g;
const SHOWN = 5; // faults that are told; after them nothing more is asked

/** The worker as it is shipped, started in here. Returns a function that asks it. */
async function start() {
  const waiting = [];
  let hear;
  const self = {
    handbookUnreadable: new Promise(() => {}),
    fetch: async () => new Response(shipped(/^library\..*\.bin$/)),
    addEventListener: (_, listener) => { hear = (data) => listener({ data }); },
  };
  const machine = { ...Object.fromEntries(Object.getOwnPropertyNames(WebAssembly).map((name) => [name, WebAssembly[name]])), instantiateStreaming: (_, imports) => WebAssembly.instantiate(shipped(/^python\..*\.wasm$/), imports) };
  new Function("self", "WebAssembly", "navigator", "postMessage", shipped(/^worker\.[0-9a-f]+\.js$/).toString())(self, machine, {}, (data) => data.arrived || waiting.shift()(data));
  const said = (data) => new Promise((resolve) => { waiting.push(resolve); hear(data); });
  const { failed } = await said({ start: true });
  if (failed) throw new Error(`the image does not start: ${failed}`);
  return (call, args) => said({ id: 1, call, args });
}

/** How near two texts are: "same", "near" where nothing but the tenth digit of numbers differs, else "". */
function likeness(found, wanted) {
  if (found === wanted) return "same";
  if (found.replace(NUMBER, "#") !== wanted.replace(NUMBER, "#")) return "";
  const others = wanted.match(NUMBER), apart = found.match(NUMBER).map((text, index) => [text, others[index]]).filter(([text, other]) => text !== other);
  return apart.every(([text, other]) => Math.abs(text - other) <= 1e-9 * Math.abs(other)) ? "near" : "";
}

const counted = { cases: 0, same: 0, near: 0 };

/** What a case shows: nothing, or how the two differ. */
function difference({ answer, error }, wanted) {
  const found = answer ?? error.trim().split("\n").pop().match(/\w+(?=:|$)/)?.[0] ?? error;
  const like = likeness(found, wanted);
  counted.cases++;
  if (like) {
    counted[like]++;
    return "";
  }
  let at = 0;
  while (found[at] === wanted[at]) at++;
  const part = (text) => text.slice(Math.max(0, at - 60), at + 60);
  return `the image: …${part(found)}…\n  CPython:   …${part(wanted)}…${answer === undefined ? `\n  ${error}` : ""}`;
}

const ask = await start();
const faults = [];
for await (const line of createInterface({ input: process.stdin })) {
  const [call, args, wanted] = JSON.parse(line);
  const fault = difference(await ask(call, args), wanted);
  if (fault) faults.push(`${call} ${args.slice(0, 300)}\n  ${fault}`);
  if (faults.length === SHOWN) break;
}
if (!counted.cases) faults.push("there was no case to compare");
if (faults.length) {
  console.error(`The image does not answer as CPython does in ${faults.length} of the first ${counted.cases} cases:\n${faults.join("\n")}`);
  process.exit(1);
}
console.log(JSON.stringify(counted));
