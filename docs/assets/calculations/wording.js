// How numbers are compared and said. Twin of generator/calculations/wording.py; the decimals come with tables.js.
(function (C, Q, decimals) {
  "use strict";
  const [RELATIVE, ABSOLUTE, OTHERS, MOST, PRINTED] = [1e-9, 1e-12, 3, 15, 4];

  function compare(one, other) {
    const near = Math.max(Math.abs(one), Math.abs(other)) * RELATIVE;
    return Math.abs(one - other) <= Math.max(near, ABSOLUTE) ? 0 : one < other ? -1 : 1;
  }

  const total = (values) => values.reduce((sum, each) => sum + each, 0);
  const isNothing = (text) => !/[1-9]/.test(text);

  function numberText(value, wanted) {
    let places = wanted;
    while (isNothing(Q.shown(value, places)) && Math.abs(value) > ABSOLUTE && places < MOST) places++;
    return Q.withoutZeros(Q.shown(value, places));
  }

  const usual = (unit) => decimals[unit] ?? OTHERS;

  // A value of few digits was printed or typed, and is said whole.
  function placesOf(value, unit) {
    for (let places = usual(unit); places < MOST; places++) {
      const text = Q.shown(value, places);
      if (text.replace(".", "").replace(/^[-0]+|[-0]+$/g, "").length > PRINTED) break;
      if (compare(Number(text), value) === 0) return places;
    }
    return usual(unit);
  }

  const say = (value, unit) => `${numberText(value, placesOf(value, unit))} ${unit}`;
  const sayNumber = ({ value, unit }) => numberText(value, placesOf(value, unit));
  const sayQuantity = ({ value, unit }) => say(value, unit);
  const sayRange = (low, high) => `${low.unit === high.unit ? sayNumber(low) : sayQuantity(low)} to ${sayQuantity(high)}`;

  function sayApart(value, other, unit) {
    let places = placesOf(value, unit);
    while (compare(value, other) !== 0 && Q.shown(value, places) === Q.shown(other, places) && places < MOST) places++;
    return `${numberText(value, places)} ${unit}`;
  }

  function sayBeside(quantity, bound) {
    const there = sayApart(Q.to(quantity, bound.unit), bound.value, bound.unit);
    return quantity.unit === bound.unit ? there : `${sayQuantity(quantity)} (${there})`;
  }

  function boundsText({ low, high, strict }) {
    if (low && high) return sayRange(low, high) + (strict ? ", ends not allowed" : "");
    if (high) return `${strict ? "under" : "max"} ${sayQuantity(high)}`;
    return low ? `${strict ? "over" : "min"} ${sayQuantity(low)}` : "no number";
  }

  const listing = (names) => (names.length < 2 ? names.join("") : `${names.slice(0, -1).join(", ")} and ${names[names.length - 1]}`);

  C.wording = { compare, total, numberText, say, sayNumber, sayQuantity, sayRange, sayBeside, boundsText, listing };
})(window.Firedeck.calculations, window.Firedeck.quantities, window.Firedeck.tables.decimals);
