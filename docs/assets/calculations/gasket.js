// Which gasket: by protrusion class, by clearance less measurement, by another measurement. Twin of generator/calculations/gasket.py.
(function (C, Q) {
  "use strict";
  const { refuse, measured, sized, signed, teller } = C.result;
  const { compare, total, sayBeside, sayQuantity, sayRange } = C.wording;
  const [CHOSEN, OUTSIDE, CANNOT_TELL, THICKER] = ["chosen", "not in the table", "cannot tell", "thicker"];
  const told = teller("gasket");
  const BETWEEN = "It lies between two classes: look up in the manual which of them it is.";
  const choice = (result, gasket = null, head = "") => ({ head, gasket, result });

  // readings: {place, value, head}. table: {mark, low, high, thickness, basis}. decides: highest or mean. per: engine or head.
  function byProtrusion(readings, table, decides, per) {
    if (!["engine", "head"].includes(per)) refuse("unknown", "per", "engine or head");
    if (!["highest", "mean"].includes(decides)) refuse("unknown", "decides", "highest or mean");
    if (!readings.length) refuse("too-few", "readings", "at least one reading");
    readings.forEach(({ place, value, head }, n) => {
      signed(value, "mm", `reading ${place}`);
      if (readings.findIndex((other) => other.place === place) < n) refuse("too-many", `reading ${place}`, "one reading a place");
      if (per === "head" && !head) refuse("missing", `head of ${place}`, "the head that covers this place");
    });
    if (per === "engine") return [forHead("", readings, table, decides)];
    const heads = [...new Set(readings.map(({ head }) => head))];
    return heads.map((head) => forHead(head, readings.filter((each) => each.head === head), table, decides));
  }

  function byMeasurement(value, table, what) {
    signed(value, "mm", what);
    return lookUp("", value, table, `${what.slice(0, 1).toUpperCase()}${what.slice(1)} of`);
  }

  // between: "thicker" if the record says to take the thicker of two.
  function byClearance(clearanceLow, clearanceHigh, measurement, table, between = null) {
    const down = signed(measurement, "mm", "measurement");
    const { unit } = measurement;
    const [low, high] = [sized(clearanceLow, "mm", "clearance low"), sized(clearanceHigh, "mm", "clearance high")];
    if (compare(low, high) > 0) refuse("out-of-order", "clearance", "the lower bound first");
    if (between !== null && between !== THICKER) refuse("unknown", "between", "thicker, or nothing if the record does not say");
    const rising = byThickness(table);
    if (compare(high, down) <= 0) {
      const room = `leaves no room for a gasket within a clearance of ${sayQuantity(clearanceHigh)}`;
      return choice(told(OUTSIDE, `The measurement of ${sayQuantity(measurement)} ${room}.`));
    }
    const wanted = `The gasket may be ${sayRange(Q.fromMm(low - down, unit), Q.fromMm(high - down, unit))} thick`;
    const [found, whyNot] = pick(rising, low - down, high - down, between);
    if (found) return fitted(found, wanted, Q.fromMm(Q.mm(found.thickness) + down, unit), high);
    return choice(told(whyNot === NONE ? OUTSIDE : CANNOT_TELL, `${wanted}; ${whyNot}.`));
  }

  // -- by class --

  function forHead(head, readings, table, decides) {
    const { unit } = readings[0].value;
    const values = readings.map(({ value }) => Q.mm(value));
    const [on, count] = [head && ` on head ${head}`, values.length];
    const highest = Math.max(...values);
    const [deciding, words] = decides === "mean"
      ? [total(values) / count, `The mean of ${count} protrusion${count === 1 ? "" : "s"}${on}`]
      : [highest, `The highest protrusion, at ${readings[values.indexOf(highest)].place}${on},`];
    return lookUp(head, Q.fromMm(deciding, unit), table, `${words} is`);
  }

  function lookUp(head, value, table, what) {
    if (!table.length) refuse("too-few", "table", "at least one gasket");
    table.forEach(checkClass);
    const words = `${what} ${sayBeside(value, table[0].low || table[0].high)}`; // in the unit of the table too
    const at = Q.mm(value);
    const isFor = ({ low, high }) => (!low || compare(at, Q.mm(low)) >= 0) && (!high || compare(at, Q.mm(high)) <= 0);
    const found = table.filter(isFor);
    const [row] = found;
    if (found.length === 1) {
      const result = told(CHOSEN, `${words}: gasket ${row.mark}, for ${classSaid(row)}.`, value, row.basis, `Fit gasket ${row.mark}.`);
      return choice(result, row, head);
    }
    if (row) return choice(told(CANNOT_TELL, `${words}: the table has ${found.map(({ mark }) => mark).join(" and ")} for it.`, value, row.basis), null, head);
    const isBetween = table.some(({ high }) => high && Q.mm(high) < at) && table.some(({ low }) => low && Q.mm(low) > at);
    return choice(told(OUTSIDE, `${words}: no gasket of the table is for it.`, value, table[0].basis, isBetween ? BETWEEN : undefined), null, head);
  }

  function checkClass({ mark, low, high }) {
    if (low == null && high == null) refuse("missing", `gasket ${mark}`, "bounds of its class");
    const [bottom, top] = [low, high].map((bound) => (bound == null ? null : signed(bound, "mm", `gasket ${mark}`)));
    if (bottom !== null && top !== null && bottom > top) refuse("out-of-order", `gasket ${mark}`, "the lower bound first");
  }

  function classSaid({ low, high }) {
    if (low && high) return sayRange(low, high);
    return high ? `up to ${sayQuantity(high)}` : `${sayQuantity(low)} and more`;
  }

  // -- by thickness --

  function byThickness(table) {
    if (!table.length) refuse("too-few", "table", "at least one gasket");
    table.forEach(({ mark, thickness }) => sized(thickness, "mm", `thickness of ${mark}`));
    const rising = [...table].sort((one, other) => Q.mm(one.thickness) - Q.mm(other.thickness));
    rising.slice(1).forEach(({ mark, thickness }, n) => {
      if (!compare(Q.mm(thickness), Q.mm(rising[n].thickness))) refuse("too-many", `thickness of ${mark}`, `another thickness than ${rising[n].mark}`);
    });
    return rising;
  }

  const [NONE, NOT_SAID] = ["the table has none for it", "and the record does not say which to take"];

  // The gasket for a band of thickness, or null and why not.
  function pick(rising, low, high, between) {
    const thick = ({ thickness }) => Q.mm(thickness);
    const inside = rising.filter((row) => compare(thick(row), low) >= 0 && compare(thick(row), high) <= 0);
    const thicker = rising.filter((row) => thick(row) > high);
    if (inside.length === 1) return [inside[0]];
    if (!inside.length && !(thicker.length && rising.some((row) => thick(row) < low))) return [null, NONE];
    if (between) return [inside.length ? inside[inside.length - 1] : thicker[0]];
    return [null, `${inside.length ? "more than one of the table would do" : "one of the table is too thin and the next too thick"}, ${NOT_SAID}`];
  }

  function fitted(row, wanted, clearance, high) {
    const { mark, thickness, basis } = row;
    const reason = `${wanted}; ${mark} is ${sayQuantity(Q.fromMm(Q.mm(thickness), clearance.unit))} and leaves a clearance of ${sayQuantity(clearance)}`;
    if (compare(Q.mm(clearance), high) <= 0) return choice(told(CHOSEN, `${reason}.`, clearance, basis, `Fit gasket ${mark}.`), row);
    const step = `Fit gasket ${mark}, the thicker of the two that come near: too little clearance does more harm than too much.`;
    return choice(told(CHOSEN, `${reason}, over the ${sayQuantity(Q.fromMm(high, clearance.unit))} asked for.`, clearance, basis, step), row);
  }

  C.gasket = { byProtrusion, byMeasurement, byClearance };
})(window.Firedeck.calculations, window.Firedeck.quantities);
