// The schema as whoever walks a record sees it: references resolved, labels, dimension, what stands below. Twin of generator/reading/shape.py.
// Firedeck.recordTables is made from schema/ at the build.
//   Firedeck.record.shape(kind = "engine") -> {node, leaf, title, description, children, others, items, below(part)}
//   Firedeck.record.shapeAt(path, kind = "engine") -> the same or null
(function (Firedeck) {
  "use strict";
  Firedeck.record = Firedeck.record || {};
})((window.Firedeck = window.Firedeck || {}));
