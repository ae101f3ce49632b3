// Over http(s) only: this page and what it loaded are kept for work without a signal. From disk everything is there anyway.
(function () {
  "use strict";
  if (!location.protocol.startsWith("http") || !navigator.serviceWorker) return;
  const keeper = new URL("../keep.js", document.currentScript.src).href;

  async function start() {
    await navigator.serviceWorker.register(keeper);
    const { active } = await navigator.serviceWorker.ready;
    const loaded = performance.getEntriesByType("resource").map((entry) => entry.name).filter((url) => url.startsWith(new URL("./", keeper).href));
    active.postMessage([location.href.split("#")[0], ...loaded.filter((url) => url !== keeper)]);
  }

  addEventListener("load", () => start().catch(() => null)); // a browser that refuses keeps nothing, and the page works on
})();
