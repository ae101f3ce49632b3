// What the job still lacks. The table is the engine page's own.
//   Firedeck.record.lacks(record) -> [{what, topic, heading, places}]
(function (Firedeck) {
  "use strict";
  Firedeck.record = Firedeck.record || {};
})((window.Firedeck = window.Firedeck || {}));
