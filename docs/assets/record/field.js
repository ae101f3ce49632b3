// One figure while it is typed: what is no statement, and whether its units agree.
//   Firedeck.record.readStatement(text, dimension) -> {statement, text} or {message, hint}
//   Firedeck.record.readFigure(texts, {dimension, descriptive}) -> {refusals, verdict, says, slip, conversions}
(function (Firedeck) {
  "use strict";
  Firedeck.record = Firedeck.record || {};
})((window.Firedeck = window.Firedeck || {}));
