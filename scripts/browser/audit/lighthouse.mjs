// Lighthouse over pages: one JSON line for each with its scores (0 to 100), its times and whatever kept a score below 100.
//
//     node lighthouse.mjs <address> <categories, with commas> <page> …

import lighthouse from "lighthouse";
import { launch } from "chrome-launcher";

const TIMES = ["first-contentful-paint", "largest-contentful-paint", "total-blocking-time", "cumulative-layout-shift", "speed-index"];
const SHOWN = 4; // places of one fault

const [address, categories, ...pages] = process.argv.slice(2);

function where(item) {
  return item.node?.snippet ?? item.source?.url ?? item.url ?? item.description ?? item.label ?? "";
}

/** Audits that weigh in a category and did not pass, with the first places where they failed. */
function faults({ categories: judged, audits }) {
  const failed = Object.values(judged).flatMap(({ auditRefs }) => auditRefs).filter(({ id, weight }) => weight > 0 && audits[id].score !== null && audits[id].score < 1);
  return failed.map(({ id }) => [audits[id].title, audits[id].displayValue, ...(audits[id].details?.items ?? []).slice(0, SHOWN).map(where)].filter(Boolean).join(" · "));
}

const chrome = await launch({ chromePath: process.env.HANDBOOK_CHROMIUM || undefined, chromeFlags: ["--headless=new", "--no-sandbox"] });
try {
  for (const page of pages) {
    const { lhr } = await lighthouse(address + page, { port: chrome.port, onlyCategories: categories.split(","), logLevel: "error" });
    const scores = Object.fromEntries(Object.entries(lhr.categories).map(([name, { score }]) => [name, score === null ? null : Math.round(100 * score)]));
    const times = Object.fromEntries(TIMES.filter((id) => lhr.audits[id]).map((id) => [id, lhr.audits[id].numericValue]));
    console.log(JSON.stringify({ page, scores, times, faults: faults(lhr), error: lhr.runtimeError?.message }));
  }
} finally {
  await chrome.kill();
}
