// Names that people type, and the one they may have meant; twin of generator/reading/problem.py. And what is worked out once.
(function (R, Q) {
  "use strict";
  const LISTED = 40;
  const plain = (word) => word.toLowerCase().replace(/[-_ .]/g, "");

  // For sorting as Python does.
  function byCodePoint(one, other) {
    const [a, b] = [one, other].map((text) => Array.from(text, (sign) => sign.codePointAt(0)));
    const parted = a.findIndex((code, index) => code !== b[index]);
    return parted < 0 ? a.length - b.length : a[parted] - (b[parted] ?? -1);
  }

  // The name spelt most alike, else the shortest that holds the word or is held in it; "" if there is none.
  function nearName(word, names, alike = 0.6) {
    const [wanted, known] = [plain(word), new Map(names.map((name) => [plain(name), name]))];
    const keys = [...known.keys()];
    const found = Q.closest(wanted, keys, alike);
    if (found) return known.get(found);
    const holding = keys.filter((name) => Array.from(wanted).length >= 3 && name.includes(wanted));
    const held = holding.length ? holding : keys.filter((name) => Array.from(name).length >= 4 && wanted.includes(name));
    const [shortest] = held.sort((one, other) => one.length - other.length);
    return shortest === undefined ? "" : known.get(shortest);
  }

  // "did you mean …?" with the closest of the names, or the names themselves.
  function nearest(word, names) {
    const near = nearName(word, names);
    if (near) return `did you mean ${near}?`;
    const [shown, more] = [[...names].sort(byCodePoint).slice(0, LISTED), names.length - LISTED];
    return names.length ? `known here: ${shown.join(", ")}${more > 0 ? ` and ${more} more` : ""}` : "";
  }

  const MOST = 5000;

  // The same function, which answers the same question once: a form asks everything again at every key that is pressed.
  function remembered(make) {
    const known = new Map();
    return (...given) => {
      const key = JSON.stringify(given);
      if (known.size > MOST) known.clear();
      if (!known.has(key)) known.set(key, make(...given));
      return known.get(key);
    };
  }

  Object.assign(R, { remembered, nearName, nearest, byCodePoint });
})(window.Firedeck.record, window.Firedeck.quantities);
