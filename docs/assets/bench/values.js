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

  // What act makes, or the words of its refusal: {found} or {refusal}.
  function attempt(act) {
    try {
      return { found: act() };
    } catch (error) {
      if (!error.expected) throw error;
      return { refusal: `${error.expected[0].toUpperCase()}${error.expected.slice(1)}.` };
    }
  }

  // A typed target as a quantity: {found}, or {refusal} in words.
  const readTarget = (text, unit) => attempt(() => C.entry.readEntry(text, unit, "target"));

  const middle = (low, high) => say(C.tightening.chooseTarget(low, high).proposed).replace("·", ".");

  // What to set on the wrench, from the wrench worksheet of this job: [sentence, …]; empty without adapter and full scale.
  function wrenchSays(bench, target) {
    const typed = bench.job.readings.wrench || {};
    const read = (name, unit) => (typed[name] && typed[name].trim() ? C.entry.readEntry(typed[name], unit, name) : null);
    const { found, refusal } = attempt(() => {
      const [length, sideways, angle, full] = [read("length", "mm"), read("sideways", "mm"), read("angle", "deg"), read("full scale", "N.m")];
      const adapted = length && sideways && sideways.value ? C.wrench.adapterSetting(target, length, sideways, angle).number : null;
      const range = full ? C.wrench.wrenchRange(adapted || target, { full_scale: full }) : null;
      return [adapted && `With the adapter of this job set the wrench to ${both(adapted)}.`,
        range && /^(below|above)/.test(range.verdict) && `${range.reason} ${range.next_step}`].filter(Boolean);
    });
    return refusal ? [`The wrench worksheet of this job cannot be used as it stands; mend it there. ${refusal}`] : found;
  }

  Firedeck.values = { say, both, attempt, readTarget, middle, wrenchSays };
})((window.Firedeck = window.Firedeck || {}));
