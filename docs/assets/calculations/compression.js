// Compression readings against the record's own rules; practice and patterns beside them. Twin of generator/calculations/compression.py.
(function (C, Q) {
  "use strict";
  const { refuse, measured, sized, signed, checkBounds, next: { compression: NEXT }, teller, isOwn, unitOf } = C.result;
  const { compare, total, listing, say, sayQuantity } = C.wording;
  const [MINIMUM, SPREAD, PERCENT] = ["minimum", "spread", ["of highest", "below mean"]];
  const { WITHIN, OVER, UNDER, NO_LIMIT, NO_NUMBER, PRACTICE, judge, weightiest } = C.limits;
  const [SPARK, DIESEL] = ["spark", "compression"]; // how it ignites
  const [NOT_COMPUTED, DOES_NOT_APPLY] = ["not computed", "does not apply"];
  const WEIGHT = [UNDER, OVER, NOT_COMPUTED, NO_NUMBER, NO_LIMIT, PRACTICE, WITHIN, DOES_NOT_APPLY];
  const told = teller("compression");
  const wetNext = (names) => `Put about a tablespoon of oil into ${names} and test again.`;
  const dieselNext = (names) => `Test ${names} for leakage; no oil goes into the cylinder of a diesel.`;
  // What a rule measures of one cylinder.
  const MEASURES = {
    [MINIMUM]: (pressure) => pressure,
    [SPREAD]: (pressure, { highest }) => highest - pressure,
    "of highest": (pressure, { highest }) => (pressure / highest) * 100,
    "below mean": (pressure, { mean }) => ((mean - pressure) / mean) * 100,
  };

  // rows: names of all cylinders along each bank. cylinders: {name, dry, wet}. rules: {kind, limit}. division: of the gauge.
  function judgeCompression(rows, ignition, cylinders, rules, division = null, patternBasis = "") {
    const test = testOf(rows.flat(), ignition, cylinders);
    const judged = rules.map((rule) => [isOwn(rule.limit), judgeRule(rule, test)]);
    const [own, practice] = [true, false].map((mine) => judged.filter(([each]) => each === mine).map(([, one]) => one));
    const ours = rules.filter((rule) => isOwn(rule.limit));
    const patterns = patternsOf(rows, test, ours.length ? ours : rules, division, patternBasis);
    return { result: overall(own, test), rules: own, practice, patterns };
  }

  // The minimum at an altitude, linear between the rows of the record's table, as a limit.
  // rows: {altitude, minimum, also}; also: the same altitude in the other units that are printed beside it.
  function altitudeMinimum(label, rows, altitude, basis = "") {
    if (rows.length < 2) refuse("too-few", label, "a table needs two rows or more");
    const unit = unitOf(rows[0].minimum, "kPa");
    const points = rows.map((row) => [signed(row.altitude, "m", "altitude"), measured(row.minimum, unit, label)]);
    if (points.slice(1).some(([upper], n) => compare(points[n][0], upper) >= 0)) {
      refuse("out-of-order", label, "the altitudes of the table must rise from row to row");
    }
    const [height, last] = [signed(altitude, "m", "altitude"), rows.length - 1];
    const printed = ({ altitude: main, also = [] }) => [main, ...also];
    const heights = (row) => printed(row).map((each) => signed(each, "m", "altitude"));
    if (compare(height, Math.min(...heights(rows[0]))) < 0 || compare(height, Math.max(...heights(rows[last]))) > 0) {
      const ends = [rows[0], rows[last]].map((row) => printed(row).map(sayQuantity).join(" / "));
      refuse("out-of-range", "altitude", `the table covers ${ends.join(" to ")} and says nothing outside`);
    }
    const inside = Math.min(Math.max(height, points[0][0]), points[last][0]);
    return { label, low: Q.quantity(between(points, inside), unit), high: null, strict: false, basis, own: true };
  }

  function between(points, height) {
    const printed = points.find(([there]) => compare(height, there) === 0); // the rows themselves come back as printed
    if (printed) return printed[1];
    const n = points.findIndex(([there]) => compare(height, there) < 0);
    const [[lower, low], [upper, high]] = [points[n - 1], points[n]];
    return low + ((high - low) * (height - lower)) / (upper - lower);
  }

  // -- the readings --

  function testOf(order, ignition, cylinders) {
    checkNames(order, ignition, cylinders);
    const unit = unitOf(cylinders[0].dry, "kPa");
    const dry = new Map(cylinders.map(({ name, dry: value }) => [name, measured(value, unit, `No. ${name}`)]));
    const oiled = cylinders.filter(({ wet }) => wet);
    const wet = new Map(oiled.map(({ name, wet: value }) => [name, measured(value, unit, `No. ${name} wet`)]));
    const read = order.filter((name) => dry.has(name));
    const all = read.map((name) => dry.get(name));
    return { order, unit, dry, wet, ignition, read, highest: Math.max(...all), mean: total(all) / all.length };
  }

  function checkNames(order, ignition, cylinders) {
    if (!order.length || !cylinders.length) refuse("too-few", "cylinders", "give at least one cylinder and one reading");
    if (new Set(order).size < order.length) refuse("too-many", "rows", "name every cylinder once");
    if (![SPARK, DIESEL].includes(ignition)) refuse("unknown", "ignition", `say ${SPARK} or ${DIESEL}`);
    if (cylinders.length > order.length) refuse("too-many", "cylinders", `${cylinders.length} readings for ${order.length} cylinders`);
    const seen = new Set();
    for (const { name, wet } of cylinders) {
      if (!order.includes(name)) refuse("unknown", "cylinders", `there is no No. ${name} in this engine`);
      if (seen.has(name)) refuse("too-many", `No. ${name}`, "give one reading a cylinder");
      if (wet && ignition === DIESEL) refuse("refused", `No. ${name} wet`, "no wet test on a diesel; compare its cylinders or test it for leakage");
      seen.add(name);
    }
  }

  // -- the rules --

  const judgedBy = (kind, found, cylinders = []) => ({ kind, result: found, cylinders });

  function judgeRule(rule, test) {
    const { kind, limit } = rule;
    if (!Object.keys(MEASURES).includes(kind)) refuse("unknown", limit.label, `a rule is one of ${Object.keys(MEASURES).join(", ")}`);
    checkBounds(limit, PERCENT.includes(kind) ? "%" : test.unit);
    if (limit.low || limit.high) return hindered(rule, test) || compared(rule, test);
    return judgedBy(kind, told(isOwn(limit) ? NO_NUMBER : PRACTICE, `${limit.label}: the source gives no number.`, null, limit.basis));
  }

  // A rule that compares cylinders, where there is nothing to compare.
  function hindered({ kind, limit }, { order, read, highest }) {
    const without = (verdict, why) => judgedBy(kind, told(verdict, `${limit.label}: ${why}.`, null, limit.basis));
    if (kind === MINIMUM) return null;
    if (order.length === 1) return without(DOES_NOT_APPLY, "one cylinder has nothing to be compared with");
    if (read.length < order.length) return without(NOT_COMPUTED, `it compares all cylinders, and ${read.length} of ${order.length} ${read.length === 1 ? "is" : "are"} read`);
    return !highest && kind !== SPREAD ? without(DOES_NOT_APPLY, "no cylinder shows any compression") : null;
  }

  function compared(rule, test) {
    const { kind, limit } = rule;
    const failing = test.read.filter((name) => fails(rule, test, test.dry.get(name)));
    const low = failing.filter((name) => !isHigh(rule, test, name));
    const high = failing.length > 0 && !low.length;
    const names = low.length ? low : failing.length ? failing : test.read;
    const pressure = Math[high ? "max" : "min"](...names.map((name) => test.dry.get(name)));
    const deciding = names.find((name) => test.dry.get(name) === pressure);
    const named = failing.length ? names : [deciding];
    const which = named.length === 1 ? "" : `, the ${high ? "highest" : "lowest"}`;
    const label = `${limit.label}, ${numbered(named)}${which} at ${say(pressure, test.unit)}`;
    const found = judge(measure(rule, test, pressure), { ...limit, label }, limit.label, { signed: true });
    return judgedBy(kind, { ...found, next_step: nextOf(found.verdict, names, high, test) }, failing);
  }

  // What the rule measures of one cylinder, in the unit of its limit.
  function measure({ kind, limit }, test, pressure) {
    const number = MEASURES[kind](pressure, test);
    return PERCENT.includes(kind) ? Q.quantity(number, "%") : Q.converted(Q.quantity(number, test.unit), unitOf(limit.low || limit.high, test.unit));
  }

  const verdictOf = (rule, test, pressure) => judge(measure(rule, test, pressure), { ...rule.limit, own: true }, rule.limit.label, { signed: true }).verdict;
  const fails = (rule, test, pressure) => verdictOf(rule, test, pressure) !== WITHIN;
  // By standing above a normal range; every other failing is a low one.
  const isHigh = (rule, test, name) => rule.kind === MINIMUM && verdictOf(rule, test, test.dry.get(name)) === OVER;
  const numbered = (names) => `No${names.length > 1 ? "s" : ""}. ${listing(names)}`;

  function nextOf(verdict, names, high, test) {
    const numbers = numbered(names);
    if (NEXT[verdict]) return NEXT[verdict];
    if (high) return `Check the gauge, and look for carbon or liquid in ${numbers}.`;
    if (test.ignition === DIESEL) return dieselNext(numbers);
    return names.every((name) => test.wet.has(name)) ? `See below what the oil says of ${numbers}.` : wetNext(numbers);
  }

  function overall(own, { read, dry, unit }) {
    if (own.length) return weightiest(own.map((one) => one.result), WEIGHT);
    const readings = listing(read.map((name) => say(dry.get(name), unit)));
    return told(NO_LIMIT, `${readings} ${read.length === 1 ? "was" : "were"} read, and this record has no rule for them.`);
  }

  // -- the patterns --

  function patternsOf(rows, test, rules, division, basis) {
    const { order, unit, read, dry, wet, highest, ignition } = test;
    const pattern = (kind, cylinders, reason, step = NEXT[kind]) => ({ kind, cylinders, reason, next_step: step, basis });
    const smallest = division ? measured(division, unit, "division") : 0;
    const usable = rules.filter((rule) => (rule.limit.low || rule.limit.high) && !hindered(rule, test));
    const broken = (name) => usable.filter((rule) => fails(rule, test, dry.get(name)) && !isHigh(rule, test, name));
    const low = read.filter((name) => broken(name).length);
    const pressures = (names) => listing(names.map((name) => say(dry.get(name), unit)));
    if (low.length > 1 && low.length === order.length) {
      return [pattern("all low", order, `All ${order.length} cylinders are low, the highest at ${say(highest, unit)}: look for one cause common to them.`)];
    }
    // while some are unread, all may be low
    const runs = read.length === order.length ? runsOf(rows, low) : [];
    const together = runs.map((run) => pattern(
      "neighbours low", run, `${numbered(run)} are neighbours and low, ${pressures(run)}: the head gasket may leak between them.`));
    const one = (name) => {
      if (!wet.has(name)) return pattern("one low", [name], `No. ${name} is low, ${pressures([name])}.`, (ignition === DIESEL ? dieselNext : wetNext)(`No. ${name}`));
      const kind = oil(dry.get(name), wet.get(name), broken(name), test, smallest);
      return pattern(kind, [name], `No. ${name}: ${kind}, ${pressures([name])} dry and ${say(wet.get(name), unit)} wet.`);
    };
    return [...together, ...low.filter((name) => wet.has(name) || !runs.flat().includes(name)).map(one)];
  }

  // Stretches of two or more low cylinders side by side in one row.
  function runsOf(rows, low) {
    const runs = rows.flatMap((row) => row.reduce((found, name) => {
      if (low.includes(name)) found[found.length - 1].push(name);
      else found.push([]);
      return found;
    }, [[]]));
    return runs.filter((run) => run.length > 1);
  }

  // Lifted: it keeps every rule that it broke dry. Not lifted: no rise that the gauge can show.
  function oil(dry, wet, broken, test, smallest) {
    if (compare(wet - dry, smallest) <= 0) return "oil does not lift it";
    return broken.some((rule) => fails(rule, test, wet)) ? "oil lifts it part of the way" : "oil lifts it";
  }

  C.compression = { judgeCompression, altitudeMinimum };
})(window.Firedeck.calculations, window.Firedeck.quantities);
