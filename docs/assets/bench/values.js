// Typed values, targets and their other unit, by the calculations that the pages were made with.
(function (Firedeck) {
  "use strict";
  const Q = Firedeck.quantities;
  const C = Firedeck.calculations;

  const OTHER = { "N.m": "lbf.ft", "lbf.ft": "N.m", "kgf.m": "N.m", "lbf.in": "N.m", "kgf.cm": "N.m", mm: "in", in: "mm", kPa: "psi", psi: "kPa", bar: "psi", "kgf/cm2": "psi" };
  const SHOWN = { deg: "°", um: "µm", "%": " %" };
  const DECIMALS = { "N.m": 1, "lbf.ft": 1, "lbf.in": 0, "kgf.m": 2, "kgf.cm": 0, deg: 0, mm: 3, in: 4, kPa: 0, psi: 0, bar: 1, "kgf/cm2": 1 };

  function say({ value, unit }) {
    const digits = Q.shown(value, DECIMALS[unit] ?? 2);
    const tidy = digits.includes(".") ? digits.replace(/\.?0+$/, "") : digits;
    return `${tidy}${SHOWN[unit] ?? ` ${unit.replaceAll(".", "·")}`}`;
  }

  // A value in its own unit and in the other that readers use.
  const both = (quantity) => (OTHER[quantity.unit] ? `${say(quantity)} (${say(Q.converted(quantity, OTHER[quantity.unit]))})` : say(quantity));

  // A typed target as a quantity; the refusal in words where it is none. range: {low, high} it must lie in, or null.
  function readTarget(text, unit, range) {
    try {
      const quantity = C.entry.readEntry(text, unit, "target");
      if (quantity.value <= 0) return { refusal: "A target is more than zero." };
      if (range) C.tightening.chooseTarget(range.low, range.high, quantity);
      return { quantity };
    } catch (error) {
      if (!error.expected) throw error;
      return { refusal: error.expected };
    }
  }

  const middle = (low, high) => say(C.tightening.chooseTarget(low, high).proposed).replace("·", ".");

  // What to set on the wrench where the reader has a sideways adapter, from the wrench worksheet of this job.
  function wrenchSetting(bench, target) {
    const { length, sideways, angle } = bench.job.readings.wrench || {};
    if (!length || !sideways) return "";
    try {
      const read = (text, unit, field) => C.entry.readEntry(text, unit, field);
      const found = C.wrench.adapterSetting(target, read(length, "mm", "length"), read(sideways, "mm", "sideways"), angle ? read(angle, "deg", "angle") : null);
      return `With the adapter of this job set the wrench to ${both(found.number)}.`;
    } catch (error) {
      return "The adapter of the wrench worksheet cannot be used as it stands; mend it there.";
    }
  }

  Firedeck.values = { say, both, readTarget, middle, wrenchSetting };
})((window.Firedeck = window.Firedeck || {}));
