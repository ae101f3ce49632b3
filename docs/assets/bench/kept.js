// Over http(s): what this device keeps for work without a signal, and how to clear it. offline.js and keep.js do the keeping.
(function (Firedeck) {
  "use strict";
  const { el, button } = Firedeck.elements;

  function start(bench, place) {
    if (!location.protocol.startsWith("http") || !navigator.serviceWorker || !window.caches) return;
    const name = "firedeck pages " + bench.root;
    const list = el("ul"), said = el("p", { role: "status" });
    const show = async () => {
      const urls = (await (await caches.open(name)).keys()).map((request) => request.url).filter((url) => url.endsWith(".html")).sort();
      list.replaceChildren(...urls.map((url) => el("li", {}, url.slice(bench.root.length))));
      said.textContent = urls.length ? "" : "Nothing is kept. What you open from now on is kept again.";
    };
    const clear = async () => {
      await caches.delete(name);
      await show();
    };
    navigator.serviceWorker.addEventListener("message", show);
    place.append(el("details", { className: "kept", ontoggle: show }, el("summary", {}, "Kept on this device for work without a signal"), said, list, button("Clear what is kept", clear)));
    show();
  }

  Firedeck.parts.push(start);
})((window.Firedeck = window.Firedeck || {}));
