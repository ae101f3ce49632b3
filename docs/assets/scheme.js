// Light or dark: as the device says until the reader says otherwise, which is kept on this device.
(function () {
  "use strict";
  const KEY = "firedeck-scheme";
  const LABELS = { default: "Dark", slate: "Light" };  // what the button changes to
  const night = window.matchMedia("(prefers-color-scheme: dark)");
  let chosen = read();

  // The store may be closed to pages from disk; the choice then lasts as long as the page.
  function read() {
    try {
      const found = window.localStorage.getItem(KEY);
      return found in LABELS ? found : null;
    } catch (error) {
      return null;
    }
  }

  function keep(scheme) {
    try {
      window.localStorage.setItem(KEY, scheme);
    } catch (error) {
      // nothing to do: see above
    }
  }

  function shown() {
    return chosen || (night.matches ? "slate" : "default");
  }

  function show() {
    document.body.setAttribute("data-md-color-scheme", shown());
    const button = document.querySelector("button.scheme");
    if (button) button.textContent = LABELS[shown()];
  }

  show();
  night.addEventListener("change", show);
  document.addEventListener("DOMContentLoaded", () => {
    const button = document.querySelector("button.scheme");
    show();
    button.hidden = false;
    button.addEventListener("click", () => {
      chosen = shown() === "slate" ? "default" : "slate";
      keep(chosen);
      show();
    });
  });
})();
