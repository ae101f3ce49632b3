// A printed statement, {form, numbers, unit, characters}: read and printed. Twin of generator/quantities/statement.py, whose
// refusals say more. unit is a symbol, null only for what is unreadable.
(function (Q) {
  "use strict";
  const LONGEST = 200;
  const [LEAST, MOST] = [[1n, 10n ** 12n], [10n ** 12n, 1n]];
  const SPELT = {
    max: ["max", "max.", "maximum", "not over", "<=", "\u2264", "up to"], min: ["min", "min.", "minimum", "at least", ">=", "\u2265"],
    under: ["under", "less than", "below", "<"], over: ["over", "more than", "above", ">"],
  };
  const BOUNDS = Object.fromEntries(Object.entries(SPELT).flatMap(([bound, words]) => words.map((word) => [word, bound])));

  const raw = String.raw;
  const PLAIN = raw`(?:\d+[ -]\d+/\d+|\d+/\d+|\d+\.\d+|\.\d+|\d+)`;
  const [A, B, UNIT] = [`(?<a>${Q.NUMBER})`, `(?<b>${PLAIN})`, raw`(?<unit>[^\d /.].*|)`];
  const WORDS = Object.keys(BOUNDS).sort((one, other) => other.length - one.length).join("|").replace(/\./g, "\\.");
  const TO = raw`(?:to\b|\.\.\.|[\u2013\u2014-](?=[ \d.]))`;
  // Every space is a plain one here. 2-7/8 in is a mixed fraction, not a range.
  const PATTERNS = [
    ["bound", raw`(?<bound>${WORDS}) *${A} *${UNIT}`],
    ["range", raw`(?!\d+-\d+/\d+ *[^\d -])${A} *${TO} *(?<b>${Q.NUMBER}) *${UNIT}`],
    ["same", raw`${A} *\+- *${B} *${UNIT}`],
    ["apart", raw`${A} *\+ *${B} *- *(?<c>${PLAIN}) *${UNIT}`],
    ["trailing", raw`${A} *(?<unit>[^\d /.].*?) +(?<bound>max\.?|min\.?|maximum|minimum)`],
    ["exact", raw`${A} *${UNIT}`],
  ].map(([name, text]) => [name, new RegExp(`^(?:${text})$`, name === "bound" || name === "trailing" ? "i" : "")]);

  function refuse(message, hint = "write for example: 35 N.m · 39.2 to 44.1 N.m · max 0.10 mm") {
    throw Object.assign(new Error(message), { hint });
  }

  // An Error with a hint for what is no statement.
  function parse(text) {
    if (Array.from(text).length > LONGEST) refuse("too long for one statement", `keep to ${LONGEST} characters`);
    const unreadable = /^unreadable "([^"\x00-\x1f]+)"$/.exec(Q.strip(text));
    if (unreadable) return { form: "unreadable", numbers: [], unit: null, characters: unreadable[1] };
    const tidy = Q.tidied(text).replace(/\u00b1|\+\/-/g, "+-");
    if (/\d,\d/.test(tidy)) refuse(`a comma in ${tidy}`, `write ${tidy.replace(/,/g, ".")} if it is the decimal point, ${tidy.replace(/,/g, "")} if it parts thousands`);
    for (const [name, pattern] of PATTERNS) {
      const match = pattern.exec(tidy);
      if (match) return build(name, match.groups, tidy);
    }
    return refuse(`${tidy} is not a printed statement`);
  }

  function build(name, { a, b, c, bound, unit: given }, text) {
    if (!given) refuse(`${text} has no unit`, "write the unit that is printed, for example 35 N.m");
    const unit = Q.unitNamed(given).symbol;
    const numbers = [a, b, c].filter(Boolean).map(Q.readNumber);
    const made = (form, list = numbers) => ({ form, numbers: list, unit, characters: "" });
    if (numbers.some(({ value }) => value[0] && !(Q.order(LEAST, Q.absolute(value)) <= 0 && Q.order(Q.absolute(value), MOST) <= 0))) {
      refuse("a number above 1000000000000 or below 0.000000000001", "look at the digits: nothing here is so large or so small");
    }
    if (bound) return made(BOUNDS[bound.toLowerCase()]);
    if (name === "same") return made("tolerance", [numbers[0], numbers[1], numbers[1]]);
    if (name === "range" && Q.order(numbers[0].value, numbers[1].value) > 0) refuse(`${text} runs from high to low`, "write the lower bound first");
    return made(name === "apart" ? "tolerance" : name);
  }

  // The lowest and the highest value stated, exact, in the unit; null where nothing bounds it.
  function lowest({ form, numbers }) {
    if (form === "tolerance") return Q.minus(numbers[0].value, numbers[2].value);
    return ["max", "under", "unreadable"].includes(form) ? null : numbers[0].value;
  }

  function highest({ form, numbers }) {
    if (form === "tolerance") return Q.plus(numbers[0].value, numbers[1].value);
    return ["min", "over", "unreadable"].includes(form) ? null : numbers[numbers.length - 1].value;
  }

  function printed({ form, numbers, unit, characters }) {
    if (form === "unreadable") return `unreadable "${characters}"`;
    const [value, plus, minus] = numbers.map((number) => number.text);
    const texts = { exact: value, range: `${value} to ${plus}`, tolerance: `${value} ${plus === minus ? "+-" + plus : `+${plus} -${minus}`}` };
    return `${texts[form] || `${form} ${value}`} ${unit}`;
  }

  Object.assign(Q, { parse, lowest, highest, printed });
})(window.Firedeck.quantities);
