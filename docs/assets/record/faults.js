// What can be said at once of a record that is being typed. `check` remains the judge: it knows the standards, the other engines
// and what figures of one engine must fit each other.
//   Firedeck.record.faults(record, sources, {invented, ids}) -> [{at, path, rule, message, hint}]
//   Firedeck.record.sourceFaults(source) -> the same
(function (Firedeck) {
  "use strict";
  Firedeck.record = Firedeck.record || {};
})((window.Firedeck = window.Firedeck || {}));
