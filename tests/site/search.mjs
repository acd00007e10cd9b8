// The built site's search, asked as a reader asks it: the theme's own worker, with the index it fetches.
// node search.mjs SITE, with {"queries": […]} on stdin; prints `found`, for each query the groups that are shown, best first:
// [[page, section, section, …], …], as locations; and `lost`, words that the index offers and does not have. Every search
// that begins like one of those would find nothing.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { createContext, runInContext } from "node:vm";

const [site] = process.argv.slice(2);
const { queries } = JSON.parse(readFileSync(0, "utf8"));
const workers = join(site, "assets", "javascripts", "workers");
const code = readFileSync(join(workers, readdirSync(workers).find((name) => name.startsWith("search."))), "utf8");

let heard, answered;
const inside = {
  console,
  URL,
  addEventListener: (kind, hear) => { if (kind === "message") heard = hear; },
  postMessage: (message) => answered(message),
  importScripts: () => Promise.resolve(),
};
inside.self = inside;
runInContext(code, createContext(inside));

const ask = (data) => new Promise((resolve) => {
  answered = resolve;
  heard({ data });
});

let made;
const { build } = inside.lunr.Builder.prototype;
inside.lunr.Builder.prototype.build = function () { return (made = build.call(this)); };
const index = JSON.parse(readFileSync(join(site, "search", "search_index.json"), "utf8"));
await ask({ type: 0, data: { ...index, options: { suggest: false } } });
const found = [];
for (const query of queries) {
  const { data } = await ask({ type: 2, data: query });
  found.push(data.items.slice(0, 5).map((group) => group.map(({ location }) => location)));
}
const lost = made.tokenSet.toArray().filter((word) => !Object.hasOwn(made.invertedIndex, word));
process.stdout.write(JSON.stringify({ found, lost }));
