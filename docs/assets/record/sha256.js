// SHA-256 of a text in UTF-8, in hex. Source: FIPS 180-4. The browser's own is not there for a page from disk, and answers later only.
(function (R) {
  "use strict";
  const primes = [];
  for (let n = 2; primes.length < 64; n++) if (primes.every((prime) => n % prime)) primes.push(n);

  // The first 32 bits of the part of a root behind the point, by whole numbers: floor(root * 2^32) without what is before it.
  function fraction(prime, degree) {
    const wanted = BigInt(prime) << BigInt(32 * degree);
    let [low, high] = [0n, 1n << 40n];
    while (high - low > 1n) {
      const middle = (low + high) / 2n;
      if (middle ** BigInt(degree) <= wanted) low = middle;
      else high = middle;
    }
    return Number(low & 0xffffffffn) | 0;
  }

  const START = primes.slice(0, 8).map((prime) => fraction(prime, 2));
  const ROUNDS = primes.map((prime) => fraction(prime, 3));
  const turn = (word, count) => (word >>> count) | (word << (32 - count));

  // The text with a one bit, zeros and its length in bits, to whole blocks of 64 bytes.
  function padded(text) {
    const bytes = new TextEncoder().encode(text);
    const whole = new Uint8Array(Math.ceil((bytes.length + 9) / 64) * 64);
    whole.set(bytes);
    whole[bytes.length] = 0x80;
    new DataView(whole.buffer).setBigUint64(whole.length - 8, BigInt(bytes.length) * 8n);
    return new DataView(whole.buffer);
  }

  function schedule(view, from) {
    const words = Array.from({ length: 16 }, (_, index) => view.getInt32(from + index * 4));
    for (let n = 16; n < 64; n++) {
      const [early, late] = [words[n - 15], words[n - 2]];
      const mixed = (turn(early, 7) ^ turn(early, 18) ^ (early >>> 3)) + (turn(late, 17) ^ turn(late, 19) ^ (late >>> 10));
      words.push((words[n - 16] + words[n - 7] + mixed) | 0);
    }
    return words;
  }

  function block(state, words) {
    let [a, b, c, d, e, f, g, h] = state;
    for (let n = 0; n < 64; n++) {
      const one = (h + (turn(e, 6) ^ turn(e, 11) ^ turn(e, 25)) + ((e & f) ^ (~e & g)) + ROUNDS[n] + words[n]) | 0;
      const other = ((turn(a, 2) ^ turn(a, 13) ^ turn(a, 22)) + ((a & b) ^ (a & c) ^ (b & c))) | 0;
      [h, g, f, e] = [g, f, e, (d + one) | 0];
      [d, c, b, a] = [c, b, a, (one + other) | 0];
    }
    return [a, b, c, d, e, f, g, h].map((word, index) => (word + state[index]) | 0);
  }

  R.sha256 = function (text) {
    const view = padded(text);
    let state = START;
    for (let from = 0; from < view.byteLength; from += 64) state = block(state, schedule(view, from));
    return state.map((word) => (word >>> 0).toString(16).padStart(8, "0")).join("");
  };
})(window.Firedeck.record);
