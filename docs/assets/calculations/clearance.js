// The clearance volume behind a ratio, which no page asks yet. Twin of clearance_volume in generator/calculations/cut.py.
(function (C, Q) {
  "use strict";
  const { refuse, measured, sized } = C.result;

  function clearanceVolume(swept, ratio) {
    sized(swept, "cm3", "swept volume");
    const times = measured(ratio, "ratio", "ratio");
    if (times <= 1) refuse("out-of-range", "ratio", "more than 1");
    return Q.quantity(swept.value / (times - 1), swept.unit);
  }

  Object.assign(C.cut, { clearanceVolume });
})(window.Firedeck.calculations, window.Firedeck.quantities);
