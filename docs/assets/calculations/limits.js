// A reading, or several with a spread, against one or two bounds. Twin of generator/calculations/limits.py.
(function (C, Q) {
  "use strict";
  const { refuse, measured, signed: anySign, checkBounds, teller, isOwn } = C.result;
  const { compare, say, sayBeside, sayQuantity, boundsText } = C.wording;
  const [WITHIN, OVER, UNDER, NO_LIMIT, NO_NUMBER, PRACTICE] = ["within", "over", "under", "no limit", "no number", "practice only"];
  const WEIGHT = [OVER, UNDER, NO_NUMBER, NO_LIMIT, PRACTICE, WITHIN];
  const told = teller("limits");

  function judge(reading, limit, field = "reading", { signed = false } = {}) {
    if (!limit || (limit.low == null && limit.high == null)) return withoutNumber(reading, limit, field, signed);
    const { label, basis } = limit;
    checkBand(limit, unitOf(reading));
    const [verdict, bound] = side(reading, limit, field, signed);
    if (isOwn(limit)) return told(verdict, `${label}: ${words(reading, verdict, bound, limit)}`, reading, basis);
    const against = `${sayBeside(reading, bound)} against ${boundsText(limit)}`;
    return told(PRACTICE, `${label}: ${against}, a rule of practice and not this engine's limit.`, reading, basis);
  }

  function judgeSeveral(readings, limit, spread = null, field = "readings", options = {}) {
    const twice = readings.find(({ name }, n) => readings.findIndex((other) => other.name === name) < n);
    if (twice) refuse("too-many", field, `two readings for ${twice.name}; give one`);
    if (!readings.length) refuse("too-few", field, "give at least one reading");
    if (spread && readings.length < 2) refuse("too-few", field, "a spread needs two readings or more");
    const each = readings.map(({ name, value }) => {
      const found = judge(value, limit, `${field}: ${name}`, options);
      return { ...found, reason: `${name}: ${found.reason}` };
    });
    const ofAll = spread ? judgeSpread(readings, spread, field, options) : null;
    return { each, spread: ofAll, result: weightiest(ofAll ? [...each, ofAll] : each, WEIGHT) };
  }

  // The first of those whose verdict weighs most.
  const weightiest = (results, weight) => results.reduce((one, other) => (weight.indexOf(other.verdict) < weight.indexOf(one.verdict) ? other : one));

  function judgeSpread(readings, limit, field, { signed = false }) {
    checkBounds(limit, readings[0].value.unit);
    const { unit } = limit.high || limit.low || readings[0].value;
    const values = readings.map(({ name, value }) => measured(value, unit, `${field}: ${name}`, { negative: signed }));
    return judge(Q.quantity(Math.max(...values) - Math.min(...values), unit), limit, field);
  }

  const unitOf = (reading) => (Q.isQuantity(reading) ? reading.unit : "its unit");

  function checkBand(limit, unit) {
    checkBounds(limit, unit);
    const { low, high, label, strict } = limit;
    const order = low && high ? compare(anySign(low, high.unit, label), high.value) : -1;
    if (order > 0 || (!order && strict)) refuse("out-of-order", label, "the lower bound must be below the upper one");
  }

  function withoutNumber(reading, limit, field, signed) {
    measured(reading, unitOf(reading), field, { negative: signed });
    const text = `${sayQuantity(reading)} was measured, and`;
    if (!limit) return told(NO_LIMIT, `${text} this record has no limit for it.`, reading);
    return told(isOwn(limit) ? NO_NUMBER : PRACTICE, `${limit.label}: ${text} the source gives no number to hold it against.`, reading, limit.basis);
  }

  // The verdict by numbers, and the bound that decides: the one passed, or the nearest.
  function side(reading, { low, high, strict }, field, signed) {
    const kept = [];
    for (const [verdict, bound, wrong] of [[OVER, high, 1], [UNDER, low, -1]]) {
      if (!bound) continue;
      const value = measured(reading, bound.unit, field, { negative: signed });
      const order = compare(value, bound.value);
      if (order === wrong || (!order && strict)) return [verdict, bound];
      kept.push([Math.abs(value - bound.value) * Q.UNITS[bound.unit].size, bound]); // they may be printed in two units
    }
    return [WITHIN, kept.length > 1 && kept[1][0] < kept[0][0] ? kept[1][1] : kept[0][1]];
  }

  function words(reading, verdict, bound, limit) {
    const [value, text, bounds] = [Q.to(reading, bound.unit), sayBeside(reading, bound), boundsText(limit)];
    if (!compare(value, bound.value)) return `${text} is exactly on the bound, which is ${verdict === WITHIN ? "" : "not "}allowed (${bounds}).`;
    const gap = say(Math.abs(value - bound.value), bound.unit);
    return `${text} is ${verdict} the limit (${bounds}) by ${gap}.`;
  }

  C.limits = { WITHIN, OVER, UNDER, NO_LIMIT, NO_NUMBER, PRACTICE, judge, judgeSeveral, weightiest };
})(window.Firedeck.calculations, window.Firedeck.quantities);
