// A record as the canonical text of its file: what `fmt` leaves unchanged and `check` reads. Twin of generator/drafting/canonical.py.
//   Firedeck.record.yaml(record) -> text
//   Firedeck.record.sourceYaml(source) -> text
(function (Firedeck) {
  "use strict";
  Firedeck.record = Firedeck.record || {};
})((window.Firedeck = window.Firedeck || {}));
