// Whether the units printed side by side say the same. Twin of generator/quantities/agreement.py.
(function (Q) {
  "use strict";
  const [AGREE, ROUNDING, DISAGREE] = ["agree", "agree if trailing zeros are rounding", "disagree"];
  const WORST_LAST = [AGREE, ROUNDING, DISAGREE];
  const ENDS = { range: ["low end", "high end"], tolerance: ["value", "upper tolerance", "lower tolerance"] };
  const DIGITS = 6;
  const found = (verdict, says = "") => ({ verdict, says });
  const worst = (each) => each.reduce((one, other) => (WORST_LAST.indexOf(other.verdict) > WORST_LAST.indexOf(one.verdict) ? other : one));

  function agreement(statements) {
    const readable = statements.filter((each) => each.unit);
    return worst([found(AGREE), ...readable.flatMap((one, index) => readable.slice(index + 1).map((other) => pair(one, other)))]);
  }

  function pair(one, other) {
    const [unit, otherUnit] = [Q.UNITS[one.unit], Q.UNITS[other.unit]];
    const texts = `${Q.printed(one)} and ${Q.printed(other)}`;
    if (unit.dimension !== otherUnit.dimension) return found(DISAGREE, `${texts} are not of one kind`);
    if (one.form !== other.form) return found(DISAGREE, `${texts} do not say the same: ${one.form}, ${other.form}`);
    return worst((ENDS[one.form] || [""]).map((end, index) => ends(end, one.numbers[index], unit, other.numbers[index], otherUnit)));
  }

  function ends(end, a, unit, b, otherUnit) {
    const difference = end.endsWith("tolerance"); // a tolerance of a temperature has no zero point
    const meet = (step) => overlap(interval(a, a[step], unit, difference), interval(b, b[step], otherUnit, difference));
    return meet("step") ? found(AGREE) : found(meet("roundedStep") ? ROUNDING : DISAGREE, words(end, a, unit, b, otherUnit));
  }

  const overlap = ([low, high], [otherLow, otherHigh]) => Q.order(low, otherHigh) <= 0 && Q.order(otherLow, high) <= 0;

  function interval(number, step, unit, difference) {
    const half = Q.times(step, [1n, 2n]);
    return [Q.minus(number.value, half), Q.plus(number.value, half)].map((end) => (difference ? Q.times(end, unit.factor) : Q.toBase(end, unit)));
  }

  function words(end, a, unit, b, otherUnit) {
    const there = Q.fromBase(Q.toBase(a.value, unit), otherUnit);
    const { symbol } = otherUnit;
    return `${end && end + ": "}${a.text} ${unit.symbol} is ${about(there)} ${symbol}, printed ${b.text} ${symbol}`;
  }

  function about(value) {
    if (!value[0]) return "0";
    return Q.withoutZeros(Q.numberAt(value, Q.powerOfTenNotAbove(Q.absolute(value)) - DIGITS + 1, "nearest").text);
  }

  Object.assign(Q, { AGREE, ROUNDING, DISAGREE, agreement });
})(window.Firedeck.quantities);
