// The JSON model of a record, as the build makes it. Twin of generator/pages/model.py.
//   Firedeck.record.model(record, sources, {invented, changed}) -> model
//   Firedeck.record.revision(record) -> 8 hex digits
(function (Firedeck) {
  "use strict";
  Firedeck.record = Firedeck.record || {};
})((window.Firedeck = window.Firedeck || {}));
