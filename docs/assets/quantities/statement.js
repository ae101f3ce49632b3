// A printed statement, {form, numbers, unit, characters}: read and printed. Twin of generator/quantities/statement.py.
// unit is a symbol, null only for what is unreadable.
(function (Q) {
  "use strict";
  const LONGEST = 200;
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

  const HOW = 'write for example: 35 N.m · 39.2 to 44.1 N.m · max 0.10 mm · unreadable "005 in."';
  const ANOTHER = /[(,;/|=] *[\d.]|\b(?:or|and) +\d/; // a second number, parted from the first unit by a sign or a word
  const BOUND_WORDS = { "or less": "max", "or under": "max", "or more": "min", "or over": "min" };

  // unit: what stands in the place of a unit, "" for nothing; null if that is not the fault.
  function refuse(message, hint = HOW, unit = null) {
    throw Object.assign(new Error(message), { hint, unit });
  }

  // An Error with hint and unit for what is no statement.
  function parse(text) {
    const length = Array.from(text).length;
    if (length > LONGEST) refuse(`a statement of ${length} characters`, `keep to one statement, at most ${LONGEST} characters`);
    const unreadable = /^unreadable "([^"\x00-\x1f]+)"$/.exec(Q.strip(text));
    if (unreadable) return { form: "unreadable", numbers: [], unit: null, characters: unreadable[1] };
    const tidy = Q.tidied(text).replace(/\u00b1|\+\/-/g, "+-");
    refuseCommas(tidy);
    for (const [name, pattern] of PATTERNS) {
      const match = pattern.exec(tidy);
      if (match) return build(name, match.groups, text);
    }
    return refuse(`${Q.quoted(text)} is not a printed statement`);
  }

  function refuseCommas(text) {
    if (!/\d,\d/.test(text)) return;
    const [joined, point] = [text.replace(/,/g, ""), text.replace(/,/g, ".")].map(Q.quoted);
    const parts = /(?<!\d)[1-9]\d{0,2},\d{3}(?!\d)/.test(text);
    refuse(`a comma in ${Q.quoted(text)}`, parts ? `write ${joined} if it parts thousands, ${point} if it is the decimal point` : `write ${point}: the decimal point is a full stop`);
  }

  function build(name, { a, b, c, bound, unit: given }, text) {
    const unit = unitOf(Q.strip(given), text);
    const numbers = [a, b, c].filter(Boolean).map((digits) => numberOf(digits, text));
    const made = (form, list = numbers) => ({ form, numbers: list, unit, characters: "" });
    if (bound) return made(BOUNDS[bound.toLowerCase()]);
    if (name === "same") return made("tolerance", [numbers[0], numbers[1], numbers[1]]);
    if (name === "range" && Q.order(numbers[0].value, numbers[1].value) > 0) refuse(`${Q.quoted(text)} runs from high to low`, "write the lower bound first");
    return made(name === "apart" ? "tolerance" : name);
  }

  function numberOf(digits, text) {
    try {
      return Q.readNumber(digits);
    } catch (error) {
      return refuse(`${Q.quoted(text)}: ${error.message}`);
    }
  }

  function isUnit(name) {
    return name in Q.UNITS || Q.fold(name) in Q.SPELT;
  }

  function unitOf(name, text) {
    if (!name) refuse(`${Q.quoted(text)} has no unit`, "write the unit that is printed, for example 35 N.m", name);
    if (isUnit(name)) return Q.unitNamed(name).symbol;
    if (ANOTHER.test(name)) refuse(`${Q.quoted(text)} holds two statements`, "write each unit's statement as its own item of the list");
    const more = moreThanUnit(name);
    if (more) refuse(`${Q.quoted(text)} says more than number and unit: ${Q.quoted(more)}`, whereTo(more, text));
    return refuse(`${Q.quoted(text)}: unit ${Q.quoted(name)} is not known`, unitHint(name), name);
  }

  function unitHint(name) {
    const key = Q.fold(name);
    const near = Q.closest(key, Object.keys(Q.SPELT));
    return Q.AMBIGUOUS[key] || (near ? `did you mean ${Q.SPELT[near].symbol}?` : `write one of: ${Object.keys(Q.UNITS).join(", ")}`);
  }

  // What follows a unit that is known; "" if no unit begins the text, or if another unit follows: foot, then pound, is neither.
  function moreThanUnit(name) {
    const words = name.split(" ").filter(Boolean);
    for (let count = words.length - 1; count > 0; count--) {
      if (isUnit(words.slice(0, count).join(" "))) return isUnit(words[count]) ? "" : words.slice(count).join(" ");
    }
    return "";
  }

  function whereTo(more, text) {
    const all = Q.strip(text);
    const plain = Q.strip(all.endsWith(more) ? all.slice(0, -more.length) : all);
    const bound = Object.hasOwn(BOUND_WORDS, more) && BOUND_WORDS[more];
    return bound ? `write ${bound} ${plain}` : `write ${Q.quoted(plain)} here, and the rest under 'when' or 'label'`;
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
