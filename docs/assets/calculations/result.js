// Limits in, a result or one typed error out. Twin of generator/calculations/result.py.
// Inputs and results are plain objects with the fields of the Python classes; null or absent: not given.
(function (Firedeck) {
  "use strict";
  const { quantities: Q, tables: { next } } = Firedeck;

  class InputError extends Error {
    constructor(code, field, expected) {
      super(`${field}: ${expected}`);
      Object.assign(this, { code, field, expected });
    }
  }

  function refuse(code, field, expected) {
    throw new InputError(code, field, expected);
  }

  // The value in `unit`, or an InputError for anything that cannot be used.
  function measured(value, unit, field, { zero = true, negative = false } = {}) {
    if (value == null) refuse("missing", field, `give a value in ${unit}`);
    if (!Q.isQuantity(value)) refuse("wrong-unit", field, `a bare number has no meaning; give it with its unit, for example ${unit}`);
    const dimension = Q.dimensionOf(value);
    if (dimension !== Q.UNITS[unit].dimension) refuse("wrong-unit", field, `${value.unit} measures ${dimension}; give a value in ${unit}`);
    const number = Q.to(value, unit);
    const size = Math.abs(number);
    if (size > 1e60 || (!zero && size && size < 1e-60)) refuse("out-of-range", field, "that is no size that can be measured");
    if (number < 0 && !negative) refuse("negative", field, "it cannot be below zero");
    if (!number && !zero) refuse("zero", field, "it must be more than zero");
    return number;
  }

  // Refuses a bound that cannot be used; unit: what to ask for where it has none of its own.
  function checkBounds({ label, low, high }, unit) {
    for (const bound of [low, high]) if (bound != null) measured(bound, Q.isQuantity(bound) ? bound.unit : unit, label, { negative: true });
  }

  // A page may load two bundles.
  Firedeck.calculations = Object.assign(Firedeck.calculations || {}, {
    result: {
      InputError, refuse, measured, checkBounds,
      sized: (value, unit, field) => measured(value, unit, field, { zero: false }), // more than zero
      signed: (value, unit, field) => measured(value, unit, field, { negative: true }),
      next,
      // How a module tells its results, with the next step of each verdict.
      teller: (module) => (verdict, reason, number = null, basis = "", step = next[module][verdict]) => ({ verdict, reason, next_step: step, number, basis }),
      isOwn: (limit) => limit.own !== false,
      // The unit of a value; `other` where it measures nothing of that kind.
      unitOf: (value, other) => (Q.isQuantity(value) && Q.dimensionOf(value) === Q.UNITS[other].dimension ? value.unit : other),
    },
  });
})(window.Firedeck);
