// A printed statement in a unit that was not printed: limits round inward. Twin of generator/quantities/conversion.py.
// Exact arithmetic and rounding of numbers.py stand here too: nothing else needs them.
(function (Q, counterparts) {
  "use strict";
  const [MOST_TAKEN, MOST_DIGITS_ADDED] = [[1n, 10n], 12];
  const INWARD = { exact: ["nearest"], range: ["up", "down"], max: ["down"], under: ["down"], min: ["up"], over: ["up"] };

  const plus = ([a, b], [c, d]) => Q.exact(a * d + c * b, b * d);
  const minus = (one, [c, d]) => plus(one, [-c, d]);
  const times = ([a, b], [c, d]) => Q.exact(a * c, b * d);
  const over = ([a, b], [c, d]) => Q.exact(a * d, b * c);
  const order = ([a, b], [c, d]) => (a * d < c * b ? -1 : a * d > c * b ? 1 : 0);
  const absolute = ([a, b]) => [a < 0n ? -a : a, b];
  const ten = (power) => (power < 0 ? [1n, 10n ** BigInt(-power)] : [10n ** BigInt(power), 1n]);

  function powerOfTenNotAbove(step) {
    const power = String(step[0]).length - String(step[1]).length;
    return order(ten(power), step) <= 0 ? power : power - 1;
  }

  const floor = ([a, b]) => (a < 0n ? -((-a + b - 1n) / b) : a / b);
  const ROUNDERS = {
    nearest: (value) => (value[0] < 0n ? -1n : 1n) * floor(plus(absolute(value), [1n, 2n])), // halves away from zero
    down: floor,
    up: ([a, b]) => -floor([-a, b]),
  };

  function numberAt(value, power, direction) {
    const count = ROUNDERS[direction](over(value, ten(power)));
    return { text: Q.decimalText(count, power), value: times([count, 1n], ten(power)), step: ten(power), roundedStep: ten(power) };
  }

  const toBase = (value, unit) => times(plus(value, unit.offset), unit.factor);
  const fromBase = (value, unit) => minus(over(value, unit.factor), unit.offset);

  function conversions(statements, descriptive = false) {
    if (!statements.length || !statements[0].unit) return [];
    const systems = statements.filter((each) => each.unit).map((each) => Q.UNITS[each.unit].system);
    const targets = (counterparts[statements[0].unit] || []).filter((symbol) => !systems.includes(Q.UNITS[symbol].system));
    return targets.map((symbol) => convert(statements[0], symbol, descriptive));
  }

  function convert(statement, symbol, descriptive = false) {
    const [source, target] = [Q.UNITS[statement.unit], Q.UNITS[symbol]];
    if (!source || source.dimension !== target.dimension) throw new Error(`${Q.printed(statement)} cannot be expressed in ${symbol}`);
    const form = statement.form === "tolerance" ? "range" : statement.form;
    const ends = form === "range" ? [Q.lowest(statement), Q.highest(statement)] : [statement.numbers[0].value];
    const exact = ends.map((value) => fromBase(toBase(value, source), target));
    const [finest] = statement.numbers.map((number) => number.step).sort(order);
    const power = powerOfTenNotAbove(over(times(finest, source.factor), target.factor));
    // A band without width has no inside to round towards.
    const nominal = descriptive || (form === "range" && !order(exact[0], exact[1]));
    let numbers;
    for (let extra = 0; extra < MOST_DIGITS_ADDED; extra++) {
      numbers = exact.map((value, index) => numberAt(value, power - extra, nominal ? "nearest" : INWARD[form][index]));
      if (nominal || closeEnough(form, exact, numbers, target)) break;
    }
    return { form, numbers, unit: symbol, characters: "" };
  }

  const isSmall = (taken, whole) => order(taken, times(MOST_TAKEN, whole)) <= 0;

  function closeEnough(form, exact, rounded, target) {
    if (form === "exact") return true;
    if (form === "range") {
      const [width, left] = [minus(exact[1], exact[0]), minus(rounded[1].value, rounded[0].value)];
      return left[0] >= 0n && isSmall(minus(width, left), width);
    }
    // A share of a temperature means nothing: its zero is a convention.
    return target.offset[0] !== 0n || isSmall(absolute(minus(exact[0], rounded[0].value)), absolute(exact[0]));
  }

  Object.assign(Q, { plus, minus, times, order, absolute, powerOfTenNotAbove, numberAt, toBase, fromBase, conversions, convert });
})(window.Firedeck.quantities, window.Firedeck.counterparts);
