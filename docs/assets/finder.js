// The finder of the home page. The list in the page is its only data: it works
// from disk, and without this script the whole list is still there.
(function () {
  "use strict";
  const form = document.getElementById("finder");
  if (!form) return;

  const found = document.getElementById("found");
  const none = document.getElementById("none-found");
  const groups = Array.from(document.querySelectorAll("section.group"), (section) => ({
    section: section, list: section.querySelector("ul"), holds: null,
  }));
  const unsaid = groups.find((group) => group.section.id === "unsaid");
  const KEYS = ["layout", "cylinders", "fuel", "application"];
  // What people type for a word of the records.
  const ALSO = {
    layout: { "in-line": "straight", "opposed": "flat" },
    fuel: { "gasoline": "petrol" },
    cylinders: { 1: "one single", 2: "two twin", 3: "three", 4: "four", 5: "five", 6: "six", 8: "eight", 10: "ten", 12: "twelve", 16: "sixteen" },
  };

  // Letters and digits only, so that "TM 10-3930-653-14&P", "tm10 3930" and an id of this site meet.
  function pieces(text) {
    const plain = text.toLowerCase().normalize("NFKD").replace(/\p{M}/gu, "");
    return (plain.match(/[\p{L}\p{N}]+/gu) || []).filter((piece) => piece !== "and");
  }

  // Every word of a text, whole and in its pieces: "fork-lift" gives forklift, fork, lift.
  function wordsOf(text) {
    return text.split(/\s+/).flatMap((word) => [pieces(word).join(""), ...pieces(word)]).filter(Boolean);
  }

  function alsoCalled(item) {
    const said = item.dataset;
    const words = KEYS.map((key) => (ALSO[key] || {})[said[key]] || "");
    if (said.layout === "vee" && said.cylinders) words.push("v" + said.cylinders);
    return words.join(" ");
  }

  function entryOf(item, home) {
    const text = item.querySelector(".engine").textContent + " " + item.querySelector(".facts").textContent;
    return {
      item: item, home: home, said: Object.assign({}, item.dataset), note: null,
      words: " " + wordsOf(text + " " + alsoCalled(item)).join(" "),
      run: pieces(text).join(""),
    };
  }

  const entries = groups.flatMap((group) => Array.from(group.list.children, (item) => entryOf(item, group)));

  function hasNumber(entry, text) {
    return text.length >= 3 && /\p{N}/u.test(text) && entry.run.includes(text);
  }

  // A number anywhere in a number, in one go or in parts; a word from its beginning.
  function hasWords(entry, words) {
    return hasNumber(entry, words.join("")) || words.every((word) => entry.words.includes(" " + word) || hasNumber(entry, word));
  }

  // null: does not match. Otherwise the keys chosen by on which the record is silent.
  function silentOn(entry, wanted) {
    const chosen = KEYS.filter((key) => wanted[key]);
    if (chosen.some((key) => entry.said[key] && entry.said[key] !== wanted[key])) return null;
    if (!hasWords(entry, wanted.words)) return null;
    return chosen.filter((key) => !entry.said[key]);
  }

  function wantedNow() {
    const wanted = Object.fromEntries(KEYS.map((key) => [key, form.elements[key].value]));
    wanted.words = form.elements.words.value.split(/\s+/).map((word) => pieces(word).join("")).filter(Boolean);
    return wanted;
  }

  function setNote(entry, silent) {
    const text = silent.length ? "Not in this record: " + silent.join(", ") + "." : "";
    if (!entry.note && text) {
      entry.note = document.createElement("p");
      entry.note.className = "silent";
    }
    if (!entry.note) return;
    entry.note.textContent = text;
    if (text) entry.item.insertBefore(entry.note, entry.item.querySelector(".short"));
    else entry.note.remove();
  }

  function place(group, items) {
    const same = group.holds && group.holds.length === items.length && items.every((item, index) => item === group.holds[index]);
    if (!same) group.list.replaceChildren(...items);
    group.holds = items;
    group.section.hidden = items.length === 0;
  }

  function counted(number, one, many) {
    return number + " " + (number === 1 ? one : many);
  }

  function countWords(real, invented, open, any) {
    const parts = [];
    if (real) parts.push(counted(real, "engine", "engines"));
    if (invented) parts.push(counted(invented, "invented engine", "invented engines"));
    const verb = any ? "" : real + invented === 1 ? " matches" : " match";
    const first = parts.length ? parts.join(" and ") + verb + "." : open ? "No engine matches for certain." : "No engine matches.";
    const apart = { 0: "", 1: " 1 record does not say; it stands apart below." };
    return first + (apart[open] === undefined ? " " + open + " records do not say; they stand apart below." : apart[open]);
  }

  function show() {
    const wanted = wantedNow();
    const lists = new Map(groups.map((group) => [group, []]));
    for (const entry of entries) {
      const silent = silentOn(entry, wanted);
      if (silent) lists.get(silent.length ? unsaid : entry.home).push(entry.item);
      if (silent) setNote(entry, silent);
    }
    lists.forEach((items, group) => place(group, items));
    const count = (id) => groups.filter((group) => group.section.id === id).reduce((sum, group) => sum + group.holds.length, 0);
    const any = !wanted.words.length && !KEYS.some((key) => wanted[key]);
    none.hidden = count("real") + count("invented") + count("unsaid") > 0;
    // Said again only when it changed, or a screen reader would read it at every key.
    const words = countWords(count("real"), count("invented"), count("unsaid"), any);
    if (found.textContent !== words) found.textContent = words;
  }

  // What is sought stands in the address, so that Back, a reload or a bookmark finds it again.
  let waiting = 0;

  function keep() {
    window.clearTimeout(waiting);
    const state = new URLSearchParams();
    ["words", ...KEYS].forEach((key) => form.elements[key].value && state.set(key, form.elements[key].value));
    const text = state.toString();
    if (text !== location.hash.slice(1)) history.replaceState(null, "", text ? "#" + text : location.href.split("#")[0]);
  }

  function fill(state) {
    ["words", ...KEYS].forEach((key) => {
      const field = form.elements[key];
      field.value = state.get(key) || "";
      if (field.selectedIndex < 0) field.value = "";  // a word that is no choice here
    });
    show();
  }

  function recall() {
    fill(new URLSearchParams(location.hash.slice(1)));
  }

  form.addEventListener("input", () => {
    show();
    window.clearTimeout(waiting);
    waiting = window.setTimeout(keep, 300);
  });
  form.addEventListener("change", keep);
  form.addEventListener("reset", (event) => {
    event.preventDefault();
    fill(new URLSearchParams());
    keep();
    form.elements.words.focus();
  });
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    keep();
    const first = document.querySelector("section.group:not([hidden]) .engine") || none.querySelector("a");
    first.focus();
  });
  window.addEventListener("hashchange", () => { if (!location.hash || location.hash.includes("=")) recall(); });
  document.querySelector(".unscripted").hidden = true;
  form.hidden = false;
  recall();
})();
