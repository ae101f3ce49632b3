// Texts as Python's messages show them, and the name spelt most alike.
(function (Q) {
  "use strict";
  const ESCAPES = { "\\": "\\\\", "\n": "\\n", "\r": "\\r", "\t": "\\t" };
  const UNSHOWN = /[\p{C}\p{Z}]/u;

  function escaped(sign) {
    if (sign === " " || !UNSHOWN.test(sign)) return sign;
    const code = sign.codePointAt(0);
    const [letter, digits] = code < 0x100 ? ["x", 2] : code < 0x10000 ? ["u", 4] : ["U", 8];
    return `\\${letter}${code.toString(16).padStart(digits, "0")}`;
  }

  // A text in quotes, as repr gives it.
  function quoted(text) {
    const mark = text.includes("'") && !text.includes('"') ? '"' : "'";
    return mark + Array.from(text, (sign) => (sign === mark ? `\\${sign}` : ESCAPES[sign] || escaped(sign))).join("") + mark;
  }

  // How many signs two texts share: the longest run in common, then the same on both sides of it.
  function shared(one, other) {
    let [size, start, there] = [0, 0, 0];
    let runs = [];
    one.forEach((sign, i) => {
      const next = [];
      other.forEach((each, j) => {
        if (each !== sign) return;
        next[j] = (runs[j - 1] || 0) + 1;
        if (next[j] > size) [size, start, there] = [next[j], i - next[j] + 1, j - next[j] + 1];
      });
      runs = next;
    });
    if (!size) return 0;
    return size + shared(one.slice(0, start), other.slice(0, there)) + shared(one.slice(start + size), other.slice(there + size));
  }

  // The name most like the word, as difflib finds it; "" where none is alike enough.
  function closest(word, names, alike = 0.6) {
    const wanted = Array.from(word);
    let best = ["", alike];
    for (const name of names) {
      const signs = Array.from(name);
      const share = (2 * shared(signs, wanted)) / (signs.length + wanted.length || 1);
      if (share > best[1] || (share === best[1] && name > best[0])) best = [name, share];
    }
    return best[0];
  }

  Object.assign(Q, { quoted, closest });
})(window.Firedeck.quantities);
