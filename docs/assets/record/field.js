// One figure while it is typed: why a text is no statement, and whether its units agree. The words are those of the check.
//   readStatement(text, dimension) -> {statement, text}, with {rule, message, hint} for what is refused; statement is left out where there is none
//   readFigure(texts, {dimension, descriptive}) -> {refusals, verdict, says, slip, conversions}
(function (R, Q) {
  "use strict";
  const FRACTION = /[\u00bc-\u00be\u2150-\u215e]/;

  const readStatement = R.remembered((text, dimension = "") => {
    let statement;
    try {
      statement = Q.parse(text);
    } catch (error) {
      if (!error.hint) throw error;
      return { rule: "statement", message: error.message, hint: hintOf(error, dimension, text) };
    }
    const found = { statement, text: Q.printed(statement) };
    const measured = statement.unit ? Q.UNITS[statement.unit].dimension : dimension;
    if (!dimension || measured === dimension) return found;
    const hint = `look at the page again, or move the figure to its own key; units for ${dimension}: ${Q.unitsOf(dimension).join(", ")}`;
    return { ...found, rule: "unit-kind", message: `${found.text} measures ${measured}; ${dimension} was expected here`, hint };
  });

  // The units of the dimension that belongs here instead of all units. Twin of _hint in generator/record/facts.py.
  function hintOf({ hint, unit }, dimension, text) {
    const spelt = FRACTION.test(text) ? text.replace(/(\d)\s*(?=[\u00bc-\u00be\u2150-\u215e])/g, "$1 ").normalize("NFKC").replace(/\u2044/g, "/") : text;
    if (spelt !== text) return `write the fraction with a stroke: ${spelt}`;
    if (unit === null || !dimension) return hint;
    const units = Q.unitsOf(dimension);
    const near = units.find((each) => hint === `did you mean ${each}?`) || R.nearName(unit, units);
    const listed = `units for ${dimension}: ${units.join(", ")}`;
    if (unit && !near && !/^(write one of|did you mean)/.test(hint)) return hint;
    return near ? `did you mean ${near}? (${listed})` : `write the unit that is printed; ${listed}`;
  }

  // What its units say together; texts that are no statement are left out.
  const together = R.remembered((texts, descriptive) => {
    const printed = texts.flatMap((text) => readStatement(text, "").statement || []);
    const agreement = Q.agreement(printed);
    const parted = agreement.verdict === Q.DISAGREE;
    return { printed, agreement, slip: parted ? Q.likelySlip(printed) : "", conversions: parted ? [] : Q.conversions(printed, descriptive) };
  });

  // texts: what is printed, unit by unit. refusals: [{index, message, hint}]; the rest is said of those that can be read.
  function readFigure(texts, { dimension = "", descriptive = false } = {}) {
    const refusals = texts.flatMap((text, index) => {
      const { message, hint } = readStatement(text, dimension);
      return message ? [{ index, message, hint }] : [];
    });
    const { agreement, slip, conversions } = together(texts, descriptive);
    return { refusals, ...agreement, slip, conversions: refusals.length ? [] : conversions.map(Q.printed) };
  }

  Object.assign(R, { readStatement, readFigure, together });
})(window.Firedeck.record, window.Firedeck.quantities);
