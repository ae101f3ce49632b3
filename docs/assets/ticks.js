// Ticks of the procedure, kept on this device. All pages opened from disk share
// one store, so the key holds the page's own path.
(function () {
  "use strict";
  var boxes = document.querySelectorAll("input[data-tick]");
  if (!boxes.length) return;
  var key = "firedeck-ticks:" + location.pathname;

  function read() {
    try {
      return JSON.parse(window.localStorage.getItem(key)) || {};
    } catch (error) {
      return {};
    }
  }

  function write(ticks) {
    try {
      window.localStorage.setItem(key, JSON.stringify(ticks));
      return true;
    } catch (error) {
      return false;
    }
  }

  var ticks = read();
  var keeps = write(ticks);
  var notice = document.querySelector(".unsaved");
  if (notice) notice.hidden = keeps;
  boxes.forEach(function (box) {
    box.checked = ticks[box.dataset.tick] === true;
    box.addEventListener("change", function () {
      ticks[box.dataset.tick] = box.checked;
      if (!write(ticks) && notice) notice.hidden = false;
    });
  });
})();
