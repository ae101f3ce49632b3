// Over http(s): what this device keeps for work without a signal, and how to clear it.
(function (Firedeck) {
  "use strict";
  const { el, button } = Firedeck.elements;
  const KEPT = "firedeck pages";

  async function pages(root) {
    const cache = await caches.open(KEPT);
    const found = (await cache.keys()).map((request) => request.url).filter((url) => url.startsWith(root) && url.endsWith(".html"));
    return found.map((url) => url.slice(root.length)).sort();
  }

  // The page itself came before there was a keeper: keep it and what it loaded now.
  async function keepThis() {
    const cache = await caches.open(KEPT);
    const loaded = performance.getEntriesByType("resource").map((entry) => entry.name).filter((url) => url.startsWith(location.origin));
    await Promise.all([location.href.split("#")[0], ...loaded].map((url) => cache.add(url).catch(() => null)));
  }

  async function start(bench, place) {
    if (!location.protocol.startsWith("http") || !navigator.serviceWorker) return;
    await navigator.serviceWorker.register(new URL("keep.js", bench.root).href);
    await keepThis();
    const list = el("ul");
    const show = async () => list.replaceChildren(...(await pages(bench.root)).map((page) => el("li", {}, page)));
    const clear = async () => {
      await caches.delete(KEPT);
      await show();
    };
    place.append(el("details", { className: "kept" }, el("summary", {}, "Kept on this device for work without a signal"), list, button("Clear what is kept", clear)));
    await show();
  }

  (Firedeck.parts = Firedeck.parts || []).push((bench, place) => { start(bench, place).catch(() => null); });
})((window.Firedeck = window.Firedeck || {}));
