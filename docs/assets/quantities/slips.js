// The likely slip behind two printed units that disagree: the one change that makes them agree. Twin of generator/quantities/slips.py.
(function (Q) {
  "use strict";
  const ROUNDED_CONVERSION = [1n, 1000n];
  const GALLONS = ["gal(US)", "gal(imp)", "qt(US)", "qt(imp)", "pt(US)", "floz(US)"];
  const POWERS = [[1, "ten"], [-1, "ten"], [2, "a hundred"], [-2, "a hundred"], [3, "a thousand"], [-3, "a thousand"]];
  const DIGITS = [..."0123456789"];
  const isDigit = (sign) => sign >= "0" && sign <= "9";
  const agree = (one, other) => Q.agreement([one, other]).verdict === Q.AGREE;
  const quantityText = (each) => Q.printed(each).slice(0, -each.unit.length - 1);
  const base = (number, symbol) => Q.toBase(number.value, Q.UNITS[symbol]);
  const parts = (one, other) => one.numbers.map((number, index) => Q.absolute(Q.minus(base(number, one.unit), base(other.numbers[index], other.unit))));
  const bothWays = (one, other) => [[other, one], [one, other]];

  // In words; "" if the units agree or no single slip explains it.
  function likelySlip(statements) {
    for (const [one, other] of disagreeing(statements)) {
      for (const [kind, find] of SLIPS) {
        const words = find(one, other);
        if (words.length) return `${kind}: ${words.join(", or ")}`;
      }
      return "";
    }
    return "";
  }

  // Pairs of one kind and one form that disagree; of others no change of digits or units could make one statement.
  function disagreeing(statements) {
    const readable = statements.filter((each) => each.unit);
    const pairs = readable.flatMap((one, index) => readable.slice(index + 1).map((other) => [one, other]));
    const kind = (each) => `${each.form} of ${Q.UNITS[each.unit].dimension}`;
    return pairs.filter(([one, other]) => kind(one) === kind(other) && Q.agreement([one, other]).verdict === Q.DISAGREE);
  }

  function tenTimes(one, other) {
    return POWERS.filter(([power]) => {
      const factor = power < 0 ? [1n, 10n ** BigInt(-power)] : [10n ** BigInt(power), 1n];
      const scaled = ({ text, ...exact }) => ({ text, ...Object.fromEntries(Object.entries(exact).map(([key, each]) => [key, Q.times(each, factor)])) });
      return agree(one, { ...other, numbers: other.numbers.map(scaled) });
    }).map(([, how]) => `one of the two is ${how} times off`);
  }

  function exchanged(one, other) {
    if (!agree({ ...one, unit: other.unit }, { ...other, unit: one.unit })) return [];
    return [`${quantityText(one)} may be ${other.unit} and ${quantityText(other)} may be ${one.unit}`];
  }

  function anotherUnit(one, other) {
    return bothWays(one, other).flatMap(([each, keep]) => Q.unitsOf(Q.UNITS[each.unit].dimension)
      .filter((unit) => unit !== each.unit && unit !== keep.unit && agree(keep, { ...each, unit }))
      .map((unit) => `${quantityText(each)} may be ${unit} and not ${each.unit}`));
  }

  const anotherGallon = (one, other) => (GALLONS.includes(one.unit) || GALLONS.includes(other.unit) ? anotherUnit(one, other) : []);

  // On each side the spelling that makes the pair agree and comes nearest to the other unit.
  const respelt = (spellings) => (one, other) => bothWays(one, other).flatMap(([each, keep]) => {
    const found = each.numbers.flatMap((number, index) => (number.text.includes("/") ? [] : spellings(number.text).map((text) => {
      const numbers = each.numbers.map((own, n) => (n === index ? Q.readNumber(text) : own));
      return { changed: { ...each, numbers }, words: `${number.text} may be ${text} ${each.unit}` };
    }))).filter(({ changed }) => agree(keep, changed)).map(({ changed, words }) => ({ apart: parts(keep, changed).reduce(Q.plus), words }));
    found.sort((a, b) => Q.order(a.apart, b.apart) || (a.words < b.words ? -1 : 1));
    return found.slice(0, 1).map(({ words }) => words);
  });

  // Two neighbouring digits exchanged, be there a point between them or not.
  function swaps(text) {
    const places = [...text].flatMap((sign, index) => (isDigit(sign) ? [index] : []));
    return places.slice(1).flatMap((right, n) => {
      const signs = [...text];
      [signs[places[n]], signs[right]] = [text[right], text[places[n]]];
      return text[places[n]] === text[right] ? [] : [signs.join("")];
    });
  }

  // A digit more before the point: a lost decimal only coarsens a number, a lost whole digit makes it another.
  function longer(text) {
    const whole = text.split(".")[0];
    const places = Array.from({ length: whole.length + 1 }, (_, place) => place).slice(/^[+-]/.test(text) ? 1 : 0);
    return places.flatMap((place) => DIGITS.map((digit) => text.slice(0, place) + digit + text.slice(place)));
  }

  const oneDigit = (text) => [...text].flatMap((sign, place) => (isDigit(sign)
    ? DIGITS.filter((digit) => digit !== sign).map((digit) => text.slice(0, place) + digit + text.slice(place + 1)) : []));

  // Both carry so nearly the same value that one was converted with a rounded factor.
  function rounded(one, other) {
    const near = parts(one, other).every((apart, index) =>
      Q.order(apart, Q.times(ROUNDED_CONVERSION, Q.absolute(base(one.numbers[index], one.unit)))) <= 0);
    return near ? ["the two are nearly the same"] : [];
  }

  // The commonest first.
  const SLIPS = [
    ["the decimal point", tenTimes], ["the units exchanged", exchanged], ["another gallon", anotherGallon], ["another unit", anotherUnit],
    ["digits transposed", respelt(swaps)], ["a digit lost", respelt(longer)], ["converted with a rounded factor", rounded],
    ["one digit", respelt(oneDigit)],
  ];

  Object.assign(Q, { likelySlip });
})(window.Firedeck.quantities);
