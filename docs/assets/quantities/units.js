// Units by symbol and by the spellings of manuals. Twin of generator/quantities/units.py, from whose table tables.js is made.
(function (Q, table) {
  "use strict";
  const [UNITS, SPELT, AMBIGUOUS] = [{}, {}, table.ambiguous].map((each) => Object.assign(Object.create(null), each));

  // base value = (value + offset) * factor; size and zero are the two as plain numbers.
  for (const [symbol, dimension, system, ...fractions] of table.units) {
    const [factor, offset] = [...fractions, "0"].map((text) => Q.readNumber(text).value);
    UNITS[symbol] = { symbol, dimension, system, factor, offset, size: Q.asNumber(factor), zero: Q.asNumber(offset) };
  }
  for (const symbol in UNITS) for (const name of [symbol, ...(table.spellings[symbol] || [])]) SPELT[fold(name)] = UNITS[symbol];

  // One key for the spellings that differ only in joints, powers and full stops.
  function fold(text) {
    const joined = text.replace(/²/g, "2").replace(/³/g, "3").replace(/\^/g, "").replace(/[·⋅.-]/g, " ");
    return joined.split(Q.SPACES).filter(Boolean).join(" ");
  }

  // An Error with a hint for what is no unit or may be two.
  function unitNamed(text) {
    const key = fold(text);
    const found = UNITS[text] || SPELT[key];
    if (!found) throw Object.assign(new Error(`the unit ${text} is not known`), { hint: AMBIGUOUS[key] || `write one of: ${Object.keys(UNITS).join(", ")}` });
    return found;
  }

  const unitsOf = (dimension) => Object.keys(UNITS).filter((symbol) => UNITS[symbol].dimension === dimension);

  Object.assign(Q, { UNITS, SPELT, AMBIGUOUS, fold, unitNamed, unitsOf });
})(window.Firedeck.quantities, window.Firedeck.tables);
