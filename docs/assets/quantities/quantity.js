// A value with its unit, {value, unit}, and how it is shown. Twin of generator/quantities/quantity.py.
(function (Q) {
  "use strict";
  function quantity(value, unit) {
    if (!Q.UNITS[unit] || !Number.isFinite(value)) throw new Error(`${value} ${unit} is no quantity`);
    return { value, unit };
  }

  function to({ value, unit }, wanted) {
    const [here, there] = [Q.UNITS[unit], Q.UNITS[wanted]];
    if (here.dimension !== there.dimension) throw new Error(`${unit} measures ${here.dimension}, ${wanted} measures ${there.dimension}`);
    return here === there ? value : ((value + here.zero) * here.size) / there.size - there.zero;
  }

  // Decimal text of a value, halves away from zero on its shortest decimal text, in whole numbers of any length
  function shown(value, decimals) {
    const [, sign, whole, part, power = 0] = /^(-?)(\d+)\.?(\d*)(?:e(.+))?$/.exec(String(value));
    const shift = Number(power) - part.length + decimals;
    const [digits, unit] = [BigInt(whole + part), 10n ** BigInt(Math.abs(shift))];
    const count = shift < 0 ? (2n * digits + unit) / (2n * unit) : digits * unit;
    return Q.decimalText(sign ? -count : count, -decimals);
  }

  Object.assign(Q, {
    quantity, to, shown,
    isQuantity: (each) => each !== null && typeof each === "object" && Number.isFinite(each.value) && each.unit in Q.UNITS,
    dimensionOf: ({ unit }) => Q.UNITS[unit].dimension,
    mm: (each) => to(each, "mm"),
    fromMm: (value, unit) => quantity(to({ value, unit: "mm" }, unit), unit),
    converted: (each, unit) => quantity(to(each, unit), unit),
  });
})(window.Firedeck.quantities);
