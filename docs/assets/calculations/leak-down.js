// Leak-down, which no page asks yet. Twin of leak_down in generator/calculations/compression.py.
(function (C, Q) {
  "use strict";
  const { refuse, measured, sized, unitOf } = C.result;
  const { compare, say, sayQuantity } = C.wording;
  const { WITHIN, OVER, judge } = C.limits;
  const LEAK_NEXT = {
    [OVER]: "If the engine can run, run it for three minutes or more and test again; then listen where the air comes out: intake, exhaust, oil filler, coolant, next cylinder.",
    [WITHIN]: "Write the loss down and go on.",
  };

  function leakDown(applied, held, limit) {
    const unit = unitOf(applied, "kPa");
    const [full, left] = [sized(applied, unit, "applied pressure"), measured(held, unit, "held pressure")];
    if (compare(left, full) > 0) refuse("out-of-order", "held pressure", "a cylinder cannot hold more than is applied");
    const loss = Q.quantity((Math.max(full - left, 0) / full) * 100, "%");
    const heldText = `${say(left, unit)} held of ${say(full, unit)}`;
    const found = judge(loss, limit && { ...limit, label: `${limit.label}, ${heldText}` }, "loss");
    const reason = limit ? found.reason : `${heldText} is a loss of ${sayQuantity(loss)}, and this record has no limit for it.`;
    return { ...found, reason, next_step: LEAK_NEXT[found.verdict] || found.next_step };
  }

  Object.assign(C.compression, { leakDown });
})(window.Firedeck.calculations, window.Firedeck.quantities);
