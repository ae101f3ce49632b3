// A record as its file will hold it: keys in the order of the schema, statements as the printer writes them, nothing that is not given.
// Everything here works on this, so that what is shown at once is what the file will say.
(function (R) {
  "use strict";
  const { stated } = window.Firedeck.recordTables;
  const WHOLE = /^-?(0|[1-9]\d{0,14})(\.\d{1,15})?$/; // what the reader of the file takes for a number

  // data: any JSON. A key whose value is null or undefined is left out.
  function tidy(data, shape = null, key = "") {
    if (Array.isArray(data)) return data.map((each) => (each == null ? "" : tidy(each, shape && shape.items, key)));
    if (R.isBlock(data)) {
      const keys = ordered(data, shape).filter((name) => data[name] != null);
      return Object.fromEntries(keys.map((name) => [name, tidy(data[name], shape && shape.below(name), name)]));
    }
    if (typeof data === "number") return number(data);
    return typeof data === "string" && stated.includes(key) ? statement(data) : data;
  }

  // Keys of the schema first, in its order, then the writer's own names in theirs.
  function ordered(data, shape) {
    const known = shape ? Object.keys(shape.children) : [];
    return [...known.filter((key) => Object.hasOwn(data, key)), ...Object.keys(data).filter((key) => !known.includes(key))];
  }

  const statement = (text) => R.readStatement(text, "").text || text;

  // The digits of a number in the file: no exponent, at most 15 decimals.
  const digits = (value) => (Math.abs(value) < 1e-6 ? value.toFixed(15).replace(/\.?0+$/, "") : String(value));

  // The number that the file's reader will find; text where it would find none.
  function number(value) {
    if (!Number.isFinite(value)) return String(value);
    const found = digits(Object.is(value, -0) ? 0 : value);
    if (WHOLE.test(found)) return Number(found);
    const shorter = Number(value.toFixed(15));
    return WHOLE.test(digits(shorter)) ? shorter : String(value);
  }

  Object.assign(R, { tidy: (record, kind = "engine") => tidy(record, R.shape(kind)), digits });
})(window.Firedeck.record);
