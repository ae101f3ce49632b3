// Numbers as printed: digits kept, value and step exact. Twin of generator/quantities/numbers.py; rounding stands in conversion.js.
// An exact value is a pair of BigInts in lowest terms, [above the line, below it].
(function (Firedeck) {
  "use strict";
  const NUMBER = String.raw`[+-]?(?:\d+[ -]\d+/\d+|\d+/\d+|\d+\.\d+|\.\d+|\d+)`;
  const PARTS = /^([+-]?)(?:(?:(\d+)[ -])?(\d+)\/(\d+)|(\d*)(?:\.(\d+))?)$/;
  // What Python calls a space; JavaScript's own class differs by a few.
  const SPACE = "[\\t-\\r\\x1c-\\x20\\x85\\xa0\\u1680\\u2000-\\u200a\\u2028\\u2029\\u202f\\u205f\\u3000]";
  const [SPACES, AROUND] = [new RegExp(SPACE, "g"), new RegExp(`^${SPACE}+|${SPACE}+$`, "g")];

  const strip = (text) => text.replace(AROUND, "");
  const tidied = (text) => strip(text.replace(SPACES, " ")).replace(/\u2212/g, "-");
  const withoutZeros = (text) => (text.includes(".") ? text.replace(/\.?0+$/, "") : text);
  const common = (a, b) => (b ? common(b, a % b) : a < 0n ? -a : a);
  const asNumber = ([a, b]) => Number(a) / Number(b);

  function exact(top, bottom) {
    const shared = common(top, bottom) * (bottom < 0n ? -1n : 1n);
    return [top / shared, bottom / shared];
  }

  // {text, value, step, roundedStep}, or an Error for a zero below the line.
  function readNumber(text) {
    const [, given, whole, top, bottom, digits, decimals = ""] = PARTS.exec(strip(text));
    const sign = given === "-" ? "-" : "";
    return bottom ? vulgar(sign, whole, BigInt(top), BigInt(bottom)) : decimal(sign, digits || "0", decimals);
  }

  function vulgar(sign, whole, top, bottom) {
    if (!bottom) throw new Error("a fraction with 0 below the line");
    const size = top + BigInt(whole || 0) * bottom;
    const text = `${sign}${whole ? `${BigInt(whole)} ` : ""}${top}/${bottom}`;
    return { text, value: exact(sign ? -size : size, bottom), step: [1n, bottom], roundedStep: [1n, bottom] };
  }

  function decimal(sign, digits, decimals) {
    const bottom = 10n ** BigInt(decimals.length);
    const whole = String(BigInt(digits));
    const most = whole.length - (whole[0] >= "5" ? 1 : 2); // rounding takes at most a tenth of the number
    const zeros = decimals ? 0 : Math.max(0, Math.min(/0*$/.exec(digits)[0].length, most));
    const text = sign + BigInt(digits) + (decimals && `.${decimals}`);
    return { text, value: exact(BigInt(sign + BigInt(digits + decimals)), bottom), step: [1n, bottom], roundedStep: [10n ** BigInt(zeros), bottom] };
  }

  // count * 10**power with every digit down to the power
  function decimalText(count, power) {
    if (power >= 0) return String(count * 10n ** BigInt(power));
    const digits = String(count < 0n ? -count : count).padStart(1 - power, "0");
    return `${count < 0n ? "-" : ""}${digits.slice(0, power)}.${digits.slice(power)}`;
  }

  // A page may load two bundles.
  Firedeck.quantities = Object.assign(Firedeck.quantities || {}, { NUMBER, SPACES, exact, asNumber, strip, tidied, withoutZeros, readNumber, decimalText });
})((window.Firedeck = window.Firedeck || {}));
