// The service worker: hands out the copy of the handbook that this browser keeps. It keeps files and does nothing else.
//
// All files of one build are one set, named by their hashes (scripts/site/offline.py writes them in). A newer build is fetched
// whole beside the old one, each file checked against its hash, before it may take over; it takes over when every page of the old
// one is closed, or when the reader asks for it. A fetch that breaks off leaves the old set as it was; the next one goes on from there.

import { copyResponse } from "workbox-core/copyResponse.js";
import { PrecacheController } from "workbox-precaching/PrecacheController.js";
import { PrecacheRoute } from "workbox-precaching/PrecacheRoute.js";
import { registerRoute } from "workbox-routing/registerRoute.js";
import { setCatchHandler } from "workbox-routing/setCatchHandler.js";

const { version, day, files } = __COPY__; // files: {path: hash}
const MISSING = "missing.html";
const BARE = "<!doctype html><html lang=en><meta charset=utf-8><title>Not in this copy</title><p>This page is not in the copy that this browser keeps, and there is no network to get it.</p>";
const HASHED = /\.[0-9a-f]{12}\./; // our own files, whose name says the contents: one entry serves every build
const LARGE = /\.wasm$|\.bin$|\.zip$|\/worker\./; // checked when Python fails to start (mend, below); all others whenever they are handed out
const scope = self.registration.scope;
const OLD = `${scope}?old`; // under this name stands the list of files that the sets before this one have left

const controller = new PrecacheController({
  plugins: [{
    // What the browser's own cache has is asked after, and fetched again only where the server has something else by now: also for
    // hashed names, since a sign-in page of some network may have come under any name.
    requestWillFetch: async ({ request, event }) => (event?.type === "install" ? new Request(request, { cache: "no-cache" }) : request),
    cachedResponseWillBeUsed: ({ request, cachedResponse }) => sound(request, cachedResponse),
  }],
});
controller.addToCacheList(Object.entries(files).map(([url, integrity]) => ({ url, integrity, revision: HASHED.test(url) ? null : integrity })));
const kept = () => caches.open(controller.strategy.cacheName);

async function hash(response) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", await response.arrayBuffer()));
  return `sha256-${btoa(String.fromCharCode(...digest))}`;
}

/** A kept file, or nothing when its bytes are not the ones that were kept: then it is lost, and fetched again. */
async function sound(request, response) {
  const integrity = controller.getIntegrityForCacheKey(request.url ?? request);
  if (!response || !integrity || LARGE.test(new URL(response.url || request.url).pathname)) return response;
  if ((await hash(response.clone())) === integrity) return response;
  await (await kept()).delete(request);
  return null;
}

// ---- the set is fetched, takes over, and is cleared of what went before

self.addEventListener("install", (event) => event.waitUntil(controller.install(event).then(whole).catch(noRoom)));
self.addEventListener("activate", (event) => event.waitUntil(note().then(() => self.clients.claim()).then(() => clear(0))));

/** What went wrong is thrown on; where it was that this browser has no room, pages are told. */
async function noRoom(error) {
  const { quota = Infinity, usage = 0 } = (await navigator.storage?.estimate?.()) ?? {};
  if (error.name === "QuotaExceededError" || quota - usage < 1e6) {
    for (const page of await self.clients.matchAll({ type: "window", includeUncontrolled: true })) page.postMessage({ full: true });
  }
  throw error;
}

/** A set may wait to take over only when every file of it is there. */
async function whole() {
  if ((await lacking(false)).length) throw new Error("a file went missing while the others were fetched");
}

/** What is there beside this set when it takes over belongs to older ones. What comes later belongs to a newer one and is left alone. */
async function note() {
  const cache = await kept();
  const ours = new Set(controller.getURLsToCacheKeys().values());
  const old = (await cache.keys()).map(({ url }) => url).filter((url) => !ours.has(url));
  await cache.put(OLD, new Response(JSON.stringify(old)));
}

/** Files of older sets go when no page but these is left that may still need them. */
async function clear(pages) {
  const windows = await self.clients.matchAll({ type: "window", includeUncontrolled: true });
  if (windows.filter(({ url }) => url.startsWith(scope)).length > pages) return;
  const cache = await kept();
  const old = await cache.match(OLD);
  for (const url of (await old?.json()) ?? []) await cache.delete(url);
  await cache.delete(OLD);
}

// ---- files are handed out

registerRoute(new PrecacheRoute(controller, { ignoreURLParametersMatching: [/./] }));

// The list of pages that the theme wants before it moves between pages without loading them anew.
registerRoute(({ url }) => url.href === `${scope}sitemap.xml`, async () => {
  const pages = Object.keys(files).filter((name) => name.endsWith(".html"));
  const list = pages.map((name) => `<url><loc>${new URL(name, scope)}</loc></url>`).join("\n");
  return new Response(`<?xml version="1.0" encoding="UTF-8"?>\n<urlset>\n${list}\n</urlset>\n`, { headers: { "Content-Type": "application/xml" } });
});

// A page that was open before the newer set took over still asks for files under their old hashes.
registerRoute(({ url }) => url.href.startsWith(`${scope}assets/`) && HASHED.test(url.pathname), async ({ request }) => (await (await kept()).match(request.url)) ?? fetch(request));

const isPage = ({ request, url }) => request.mode === "navigate" && /(\/|\.html|\/[^./]+)$/.test(url.pathname);
registerRoute(isPage, ({ request }) => fetch(request));

/** Neither kept nor on the network as it was when it was kept: as it is there now, else a page that says so. */
setCatchHandler(async ({ request, url }) => {
  try {
    return await fetch(request);
  } catch {
    if (!isPage({ request, url })) return Response.error();
  }
  const page = new URL(MISSING, scope);
  if (url.pathname !== page.pathname && (await controller.matchPrecache(page.href))) {
    page.searchParams.set("page", url.href.slice(scope.length));
    return Response.redirect(page);
  }
  return new Response(BARE, { status: 503, headers: { "Content-Type": "text/html" } });
});

// ---- pages ask

/** Paths of files that are not kept; with `all`, also of those whose bytes are not the ones that were kept. */
async function lacking(all) {
  const cache = await kept();
  const paths = [];
  for (const [path, integrity] of Object.entries(files)) {
    const response = await cache.match(controller.getCacheKeyForURL(path));
    if (!response || (all && (await hash(response)) !== integrity)) paths.push(path);
  }
  return paths;
}

/** Fetch again what is lost or damaged; returns the paths that could not be had. */
async function mend() {
  const cache = await kept();
  const lost = [];
  for (const path of await lacking(true)) {
    const key = controller.getCacheKeyForURL(path);
    await cache.delete(key);
    try {
      const response = await fetch(path, { integrity: files[path], cache: "reload" });
      if (!response.ok) throw new TypeError(`${path}: ${response.status}`);
      await cache.put(key, response.redirected ? await copyResponse(response) : response);
    } catch {
      lost.push(path);
    }
  }
  return lost;
}

const answers = {
  about: async () => ({ version, day, files: Object.keys(files).length, lost: await lacking(false) }),
  mend: async () => ({ lost: await mend() }),
  "take over": () => self.skipWaiting(),
  clear: () => clear(1),
};
self.addEventListener("message", (event) => {
  const answer = Object.hasOwn(answers, event.data?.ask) && answers[event.data.ask];
  if (answer) event.waitUntil(Promise.resolve(answer(event)).then((told) => event.ports[0]?.postMessage(told ?? null)));
});
