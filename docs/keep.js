// Keeps what was opened, so that it opens again without a signal. Only where the site is served; pages on disk need no keeping.
"use strict";

const KEPT = "firedeck pages";
const PATIENCE = 4000; // ms to wait for a slow network before the kept page is shown

async function fetchAndKeep(request) {
  const answer = await fetch(request);
  if (answer.ok && answer.type === "basic") (await caches.open(KEPT)).put(request, answer.clone());
  return answer;
}

// The newest page if it comes in time, else the kept one; the newest in any case where nothing is kept.
async function answerFor(request) {
  const kept = await caches.match(request, { ignoreSearch: true });
  const fresh = fetchAndKeep(request);
  if (!kept) return fresh;
  const late = new Promise((resolve) => setTimeout(() => resolve(kept), PATIENCE));
  return Promise.race([fresh.catch(() => kept), late]);
}

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));
self.addEventListener("fetch", (event) => {
  const own = new URL(event.request.url).origin === self.location.origin;
  if (event.request.method === "GET" && own) event.respondWith(answerFor(event.request));
});
