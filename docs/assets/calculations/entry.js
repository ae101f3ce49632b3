// What a person types in a field, as a quantity. Twin of generator/calculations/entry.py.
(function (C, Q) {
  "use strict";
  const { refuse } = C.result;
  const LONGEST = 60;
  const SPLIT = new RegExp(String.raw`^(${Q.NUMBER}|[+-]?\d*,\d+) *((?:[A-Za-z%°µμ":].*)?)$`);
  const HOW = "write one number, for example 0.05 or 2 7/8";

  function readEntry(text, unit, field) {
    const [digits, name] = parts(text, field);
    return Q.quantity(number(digits, field), unitOf(Q.strip(name), unit, field));
  }

  // A sum of money, the one input without a unit.
  function readAmount(text, field) {
    const [digits, name] = parts(text, field);
    if (name) refuse("not-a-number", field, "write the amount alone, for example 120.50");
    return number(digits, field);
  }

  function parts(text, field) {
    const tidy = Q.tidied(text);
    if (!tidy) refuse("missing", field, HOW);
    const match = Array.from(tidy).length <= LONGEST && SPLIT.exec(tidy);
    if (!match || /^e[+-]?\d/i.test(match[2])) refuse("not-a-number", field, HOW);
    return [match[1], match[2]];
  }

  function number(digits, field) {
    if (/^[+-]?0*[1-9]\d{0,2},\d{3}$/.test(digits)) {
      const [joined, point] = ["", "."].map((sign) => digits.replace(",", sign));
      refuse("ambiguous", field, `write ${joined} if the comma parts thousands, ${point} if it is the decimal point`);
    }
    try {
      const { text, value } = Q.readNumber(digits.replace(",", "."));
      return text.includes("/") ? Q.asNumber(value) : Number(text);
    } catch {
      refuse("not-a-number", field, HOW);
    }
  }

  function unitOf(name, unit, field) {
    if (!name) return unit;
    const { dimension } = Q.UNITS[unit];
    let found;
    try {
      found = Q.unitNamed(name);
    } catch (error) {
      const twofold = error.hint.startsWith("write one of") ? "" : ` (${error.hint})`;
      refuse("unknown", field, `the unit ${name} is not known; write one of ${Q.unitsOf(dimension).join(", ")}${twofold}`);
    }
    if (found.dimension !== dimension) refuse("wrong-unit", field, `${found.symbol} measures ${found.dimension}; give a value in ${unit}`);
    return found.symbol;
  }

  C.entry = { readEntry, readAmount };
})(window.Firedeck.calculations, window.Firedeck.quantities);
