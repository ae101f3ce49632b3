// Keeps what was opened, so that it opens again without a signal. Only where the site is served; pages on disk need no keeping.
"use strict";

const KEPT = "firedeck pages " + self.registration.scope; // two copies of the site may stand on one host
const PATIENCE = 4000; // ms to wait for a slow network before the kept page is shown
const SHELL = ["./", "index.html", "procedure.html", "reading-a-figure.html", "assets/finder.js",
  "assets/tables.js", "assets/bench.js", "assets/gasket.js", "assets/kept.js"];

// Whoever opens one page of an engine needs the others at the bench.
function withItsKind(url) {
  const [, id] = /\/(?:engines|procedure|sheets)\/([^/]+)\.html$/.exec(new URL(url).pathname) || [];
  const kind = id ? [`engines/${id}.html`, `procedure/${id}.html`, `sheets/${id}.html`, `api/engines/${id}.js`] : [];
  return [url, ...kind.map((path) => self.registration.scope + path)];
}

// Fetch and keep, one by one: what is missing or cut off keeps nothing else away.
async function keep(urls) {
  const cache = await caches.open(KEPT);
  await Promise.all([...new Set(urls.flatMap(withItsKind))].map((url) => cache.add(url).catch(() => null)));
}

async function fetchAndKeep(request) {
  const answer = await fetch(request);
  if (answer.ok && answer.type === "basic") await (await caches.open(KEPT)).put(request, answer.clone());
  return answer;
}

const NOT_KEPT = "<!DOCTYPE html><html lang='en'><meta charset='utf-8'><meta name='viewport' content='width=device-width'><title>Not kept</title>"
  + "<h1>No signal, and this page is not kept on this device</h1><p>Only what was opened before opens without a signal. <a href='SCOPE'>Engines</a></p>";
const notKept = () => new Response(NOT_KEPT.replace("SCOPE", self.registration.scope), { status: 503, headers: { "Content-Type": "text/html" } });

// The newest page if it comes in time, else the kept one.
async function answerFor(request) {
  const cache = await caches.open(KEPT);
  const kept = await cache.match(request);
  const fresh = fetchAndKeep(request).catch(async (error) => {
    const held = kept || await cache.match(request); // while a page is being renewed it is not found for a moment
    if (held) return held;
    if (request.mode === "navigate") return notKept();
    throw error;
  });
  if (!kept) return fresh;
  return Promise.race([fresh, new Promise((resolve) => setTimeout(() => resolve(kept), PATIENCE))]);
}

self.addEventListener("install", (event) => event.waitUntil(keep(SHELL.map((path) => self.registration.scope + path)).then(() => self.skipWaiting())));
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));
self.addEventListener("fetch", (event) => {
  if (event.request.method === "GET" && event.request.url.startsWith(self.registration.scope)) event.respondWith(answerFor(event.request));
});
// A page tells what it was made of: it may have come before there was a keeper.
self.addEventListener("message", (event) => event.waitUntil(keep(event.data).then(() => event.source.postMessage("kept"))));
